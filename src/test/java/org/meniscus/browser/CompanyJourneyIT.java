package org.meniscus.browser;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import java.time.MonthDay;

import com.microsoft.playwright.Page;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.company.TreatmentSettings;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.assess.MinimumRule;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;

class CompanyJourneyIT extends BrowserTest {

	@Autowired
	TestCompanies companies;

	@Autowired
	CompanyService companyService;

	@ParameterizedTest
	@ValueSource(ints = { PHONE_WIDTH, DESKTOP_WIDTH })
	void ownerChangesTheCompanyAndConcurrentEditIsRejected(int width) {
		TestCompanies.TestUser owner = companies.newCompany(UnitSystem.US);
		Page page = open(width, width == DESKTOP_WIDTH);
		signIn(page, owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/company"));
		screenshot(page, "company-" + width);
		Page beside = openSecondDevice(width);
		signIn(beside, owner.email(), TestCompanies.PASSWORD);
		beside.navigate(url("/company"));

		page.fill("#name", "");
		page.locator("#name").press("Enter");
		assertThat(page.locator("#name-error")).containsText("Please fill this in");
		page.fill("#name", "Ozvarra Pool Care");
		page.selectOption("#units", "METRIC");
		page.locator("#name").press("Enter");
		assertThat(page.locator("[role=status]")).containsText("Saved.");

		beside.fill("#name", "Ozvarra Pools & Spas");
		beside.locator("#name").press("Enter");
		assertThat(beside.locator("[role=alert]")).containsText("Somebody else changed this");
		assertThat(beside.locator("#name")).hasValue("Ozvarra Pools & Spas");
		screenshot(beside, "company-stale-" + width);
		CompanySettings stored = companyService.settings(owner.user().company());
		assertThat(stored.name()).isEqualTo("Ozvarra Pool Care");
		assertThat(stored.units()).isEqualTo(UnitSystem.METRIC);

		beside.locator("#name").press("Enter");
		assertThat(beside.locator("header.top")).containsText("Ozvarra Pools & Spas");
		assertThat(companyService.settings(owner.user().company()).units()).as("compared and saved again").isEqualTo(UnitSystem.US);
	}

	@ParameterizedTest
	@CsvSource({ PHONE_WIDTH + ", true", PHONE_WIDTH + ", false", DESKTOP_WIDTH + ", true", DESKTOP_WIDTH + ", false" })
	void ownerChangesTreatmentSettings(int width, boolean dark) {
		TestCompanies.TestUser owner = companies.newCompany(UnitSystem.US);
		String look = width + (dark ? "-dark" : "-light");
		Page page = open(width, dark);
		signIn(page, owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/company"));
		page.click("text=How treatment plans are made");
		assertThat(page.locator("#holdProbability")).hasValue("90");
		assertThat(page.locator("#minimumRule-CYA_RATIO")).isChecked();
		assertThat(page.locator("label[for=waterPrice]")).containsText("1,000 gal");
		assertAccessibleAndSave(page, "treatment-" + look);

		page.fill("#fcSwimCeiling", "12");
		page.fill("#holdProbability", "nearly sure");
		page.fill("#waterPrice", "-1");
		page.selectOption("#seasonMonth", "April");
		page.fill("#seasonDay", "31");
		page.click("main button.primary");
		assertThat(page.locator("#fcSwimCeiling-error")).hasText("Please enter a figure from 1 to 10.");
		assertThat(page.locator("#holdProbability-error")).hasText("Please enter a number.");
		assertThat(page.locator("#holdProbability")).hasValue("nearly sure");
		assertThat(page.locator("#waterPrice-error")).hasText("Please enter a figure from 0 to 10,000,000.");
		assertThat(page.locator("#seasonDay-error")).hasText("April has 30 days.");
		assertThat(page.locator("#seasonMonth")).hasValue("4");
		assertAccessibleAndSave(page, "treatment-refused-" + look);

		page.fill("#fcSwimCeiling", "3,5");
		page.fill("#holdProbability", "95");
		page.check("#minimumRule-HYPOCHLOROUS_ACID");
		page.fill("#waterPrice", "7.20");
		page.fill("#seasonDay", "30");
		page.click("main button.primary");
		assertThat(page.locator("[role=status]")).containsText("Saved.");
		TreatmentSettings rules = companyService.settings(owner.user().company()).treatment();
		assertThat(rules.fcSwimCeiling()).isEqualTo(3.5);
		assertThat(rules.holdProbability()).isEqualTo(0.95);
		assertThat(rules.minimumRule()).isEqualTo(MinimumRule.HYPOCHLOROUS_ACID);
		// 7.20 for 1,000 US gal, which are 3.785411784 m³; kept to a ten-thousandth of a cent
		assertThat(rules.costs().waterPerM3()).isEqualTo(190.2039);
		assertThat(rules.costs().drainLabor()).isEqualTo(9000);
		assertThat(rules.seasonEnd()).isEqualTo(MonthDay.of(4, 30));
		assertThat(page.locator("#waterPrice")).hasValue("7.20");
		assertThat(page.locator("#minimumRule-HYPOCHLOROUS_ACID")).isChecked();
		assertThat(page.locator("#seasonMonth")).hasValue("4");
	}

	private void assertAccessibleAndSave(Page page, String name) {
		screenshot(page, name);
		assertAccessible(page);
		assertFits(page);
	}

}
