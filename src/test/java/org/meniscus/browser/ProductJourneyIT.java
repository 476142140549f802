package org.meniscus.browser;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;

import java.time.LocalDate;
import java.util.Comparator;

import com.microsoft.playwright.Page;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.TenantContext;
import org.meniscus.product.Price;
import org.meniscus.product.ProductRecord;
import org.meniscus.product.ProductService;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;

class ProductJourneyIT extends BrowserTest {

	@Autowired
	TestCompanies companies;

	@Autowired
	ProductService productService;

	TestCompanies.TestUser owner;

	CompanyId company;

	LocalDate today;

	@BeforeEach
	void newCompany() {
		owner = companies.newCompany(UnitSystem.US);
		company = owner.user().company();
		today = TenantContext.runAs(company, () -> productService.today(company));
	}

	@Test
	void productIsAddedChangedAndArchived() {
		Page page = signedIn(DESKTOP_WIDTH, false, "/products/new");
		page.getByText("Muriatic acid, about 31 %").click();
		assertThat(page.locator("#strength")).hasValue("31.45");
		page.fill("#name", "<b>Acid</b> from the depot");
		page.fill("#strength", "131");
		page.fill("#pack", "a few");
		page.fill("#price", "7.999");
		page.fill("#labelMax", "-1");
		page.click("main button.primary");
		assertThat(page.locator("#strength-error")).hasText("Please enter a figure from 0.01 to 100.");
		assertThat(page.locator("#pack-error")).hasText("Please enter a number.");
		assertThat(page.locator("#price-error")).hasText("At most 2 digits after the point.");
		assertThat(page.locator("#labelMax-error")).containsText("Please enter a figure from");
		assertThat(page.locator("#pack")).hasValue("a few");
		assertThat(page.locator("#name")).hasValue("<b>Acid</b> from the depot");
		page.fill("#strength", "31,45");
		page.fill("#pack", "4");
		page.fill("#price", "28.60");
		page.fill("#labelMax", "1");
		page.selectOption("#labelUnit", "QT");
		page.click("main button.primary");
		assertThat(page.locator("h1")).hasText("<b>Acid</b> from the depot");
		assertThat(page.locator("dl.facts")).containsText("1 qt in 10,000 gal");
		assertThat(page.locator("dl.facts")).containsText("$28.60");
		assertThat(page.locator("dl.facts")).containsText("$7.15 a gal");

		page.locator(".page-head >> text=Edit").click();
		assertThat(page.locator("#labelMax")).hasValue("1");
		assertThat(page.locator("#labelUnit")).hasValue("QT");
		assertThat(page.locator("#pack")).hasValue("4");
		page.fill("#name", "Depot acid");
		page.uncheck("#onTruck");
		page.click("main button.primary");
		assertThat(page.locator(".notice")).hasText("Saved.");
		assertThat(page.locator("dl.facts")).containsText("not on the trucks");
		page.click("text=Retire this product");
		assertThat(page.locator("h1 .tag")).hasText("retired");
		page.click("text=All products");
		assertThat(page.locator("table")).not().containsText("Depot acid");
		page.click("text=Show retired products too");
		page.click("text=Depot acid");
		page.click("text=Take it back into use");
		assertThat(page.locator("h1 .tag")).hasCount(0);
	}

	@Test
	void liquidChlorineIsEnteredWithItsDelivery() {
		Page page = signedIn(PHONE_WIDTH, false, "/products/" + of(ProductKind.LIQUID_CHLORINE_125).id() + "/edit");
		page.fill("#deliveredOn", today.plusDays(1).toString());
		page.selectOption("#storage", "HOT");
		page.click("main button.primary");
		assertThat(page.locator("#deliveredOn-error")).hasText("This day is still to come.");
		assertThat(page.locator("#storage")).hasValue("HOT");
		page.fill("#deliveredOn", today.minusDays(40).toString());
		page.click("main button.primary");
		assertThat(page.locator("dl.facts")).containsText("kept in a hot truck or shed, about 95 °F");
		assertThat(page.locator("dl.facts")).containsText("after 40 days a dose counts 6.8 trade %");
		assertThat(page.locator("p.warning")).containsText("too old to trust");
		assertAccessibleAndSave(page, "product-delivery");
		page.navigate(url("/products/" + of(ProductKind.CAL_HYPO_65).id() + "/edit"));
		assertThat(page.locator("#deliveredOn")).hasCount(0);
	}

	@ParameterizedTest
	@CsvSource({ PHONE_WIDTH + ", true", PHONE_WIDTH + ", false", DESKTOP_WIDTH + ", true", DESKTOP_WIDTH + ", false" })
	void productHasAScoopAndAPlanPreference(int width, boolean dark) {
		ProductRecord calHypo = of(ProductKind.CAL_HYPO_65);
		String look = width + (dark ? "-dark" : "-light");
		Page page = signedIn(width, dark, "/products/" + calHypo.id() + "/edit");
		assertThat(page.locator("#preference-NONE")).isChecked();
		page.fill("#scoop", "400");
		page.check("#preference-FIRST");
		page.click("main button.primary");
		assertThat(page.locator("#scoop-error")).hasText("Please enter a figure from 0.02 to 176.");
		assertThat(page.locator("#preference-FIRST")).isChecked();
		assertAccessibleAndSave(page, "product-form-" + look);
		page.fill("#scoop", "15");
		page.click("main button.primary");
		assertThat(page.locator("dl.facts")).containsText("15 oz");
		assertThat(page.locator("dl.facts")).containsText("First choice");
		assertAccessibleAndSave(page, "product-" + look);
		page.navigate(url("/products/" + of(ProductKind.HOUSEHOLD_BLEACH).id() + "/edit"));
		assertThat(page.locator("label[for=scoop]")).containsText("One level cup or cap holds, fl oz");
		page.check("#preference-NEVER");
		page.click("main button.primary");
		page.navigate(url("/products"));
		assertThat(page.locator("tr", new Page.LocatorOptions().setHasText(calHypo.details().name())).locator(".tag"))
			.hasText("first choice");
		assertThat(page.locator("tr", new Page.LocatorOptions().setHasText("Plain unscented bleach")).locator(".tag"))
			.hasText("never in plans");
		assertThat(page.locator("table .tag")).hasCount(2);
		assertAccessibleAndSave(page, "products-" + look);
	}

	@Test
	void concurrentEditIsRejectedAndInputIsKept() {
		ProductRecord salt = of(ProductKind.SALT);
		Page page = signedIn(DESKTOP_WIDTH, false, "/products/" + salt.id() + "/edit");
		TenantContext.runAs(company, () -> productService.change(company, salt.id(), salt.version(), salt.details()));
		page.fill("#name", "Salt of the second");
		page.click("main button.primary");
		assertThat(page.locator(".problems")).containsText("Somebody else changed this");
		assertThat(page.locator("#name")).hasValue("Salt of the second");
		org.assertj.core.api.Assertions.assertThat(of(ProductKind.SALT).details().name()).isEqualTo(salt.details().name());
		page.click("main button.primary");
		assertThat(page.locator("h1")).hasText("Salt of the second");
	}

	@Test
	void pricesAreListedByDate() {
		ProductRecord salt = of(ProductKind.SALT);
		Page page = signedIn(PHONE_WIDTH, false, "/products/" + salt.id());
		price(page, today.minusDays(40).toString(), "8.10");
		assertThat(page.locator("#prices .notice")).hasText("The price has been added.");
		price(page, today.plusDays(30).toString(), "9.30");
		assertThat(page.locator("tr", new Page.LocatorOptions().setHasText("$9.30"))).containsText("not yet");
		// the typical price of today still stands until the own one takes its place
		assertThat(page.locator("tr.current")).containsText("typical");
		price(page, today.toString(), "8.75");
		assertThat(page.locator("tr.current")).containsText("$8.75");
		assertThat(page.locator("dl.facts")).containsText("$8.75");
		assertThat(page.locator("#prices tbody tr")).hasCount(3);

		price(page, today.toString(), "8.80");
		assertThat(page.locator("#validFrom-error")).containsText("There is already a price from");
		assertThat(page.locator("#validFrom-error")).containsText("$8.75");
		assertThat(page.locator("#price")).hasValue("8.80");
		price(page, "1999-12-31", "8.80");
		assertThat(page.locator("#validFrom-error")).containsText("Please enter a day from Jan 1, 2000");
		price(page, today.plusDays(1).toString(), "-1");
		assertThat(page.locator("#price-error")).containsText("Please enter a figure from 0");
		price(page, "", "");
		assertThat(page.locator("#validFrom-error")).hasText("Please fill this in.");
		assertThat(page.locator("#price-error")).hasText("Please fill this in.");
		assertAccessibleAndSave(page, "product-price-refused-" + PHONE_WIDTH);

		page.locator("tr.current button").click();
		assertThat(page.locator("tr.current")).containsText("$8.10");
		org.assertj.core.api.Assertions.assertThat(TenantContext.runAs(company, () -> productService.priceHistory(company, salt.id())))
			.extracting(Price::cents)
			.containsExactly(930, 810);
	}

	private static void price(Page page, String day, String money) {
		page.fill("#validFrom", day);
		page.fill("#price", money);
		page.click("text=Add this price");
	}

	private ProductRecord of(ProductKind kind) {
		return TenantContext.runAs(company, () -> productService.products(company, true))
			.stream()
			.filter(product -> product.details().kind() == kind)
			.min(Comparator.comparing(product -> product.details().name()))
			.orElseThrow();
	}

	private Page signedIn(int width, boolean dark, String path) {
		Page page = open(width, dark);
		signIn(page, owner.email(), TestCompanies.PASSWORD);
		page.navigate(url(path));
		return page;
	}

	private void assertAccessibleAndSave(Page page, String name) {
		screenshot(page, name);
		assertAccessible(page);
		assertFits(page);
	}

}
