package org.meniscus.product;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Currency;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.function.Supplier;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.product.StorageTemperature;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;

@IntegrationTest
class ProductServiceIT {

	private static final LocalDate MAY = LocalDate.of(2026, 5, 1);

	private static final LocalDate JUNE = LocalDate.of(2026, 6, 1);

	@Autowired
	ProductService service;

	@Autowired
	TestCompanies companies;

	@Autowired
	CompanyService companyService;

	private CompanyId company;

	@BeforeEach
	void newCompany() {
		company = companies.newCompany(UnitSystem.US).user().company();
	}

	@Test
	void newCompanyHasEveryProductKindWithATypicalPrice() {
		List<ProductRecord> products = inCompany(() -> service.products(company, true));
		assertThat(products).extracting(product -> product.details().kind())
			.containsExactlyInAnyOrderElementsOf(EnumSet.allOf(ProductKind.class));
		assertThat(inCompany(() -> service.prices(company, LocalDate.of(2100, 1, 1))).values()).hasSameSizeAs(products)
			.allMatch(Price::typical);
		assertThat(inCompany(() -> service.findAll(company, MAY))).filteredOn(Product::onTruck)
			.extracting(Product::kind)
			.contains(ProductKind.LIQUID_CHLORINE_125, ProductKind.CAL_HYPO_65, ProductKind.MURIATIC_3145)
			.doesNotContain(ProductKind.SODIUM_BROMIDE);
	}

	/** Trade table: calcium hypochlorite 2.30 to 4.00 USD a pound; 50 lb at the middle is 157.50 (own arithmetic). */
	@Test
	void typicalPriceIsTheMiddleOfTheRangeForThePackage() {
		ProductRecord calHypo = of(ProductKind.CAL_HYPO_65);
		assertThat(calHypo.details().packageAmount()).isCloseTo(50 * 453.59237, within(0.01));
		assertThat(inCompany(() -> service.priceHistory(company, calHypo.id()))).extracting(Price::cents).containsExactly(15750);
		assertThat(calHypo.details().strengthPercent()).isEqualTo(65);
	}

	@Test
	void liquidChlorineHasTheStrengthItsAgeLeavesOnTheDay() {
		ProductRecord liquid = of(ProductKind.LIQUID_CHLORINE_125);
		inCompany(() -> service.change(company, liquid.id(), liquid.version(),
				liquid.details().withDelivery(new Delivery(MAY, StorageTemperature.SHADE))));
		assertThat(of(ProductKind.LIQUID_CHLORINE_125).details().delivery()).isEqualTo(new Delivery(MAY, StorageTemperature.SHADE));
		Product fresh = inCompany(() -> service.find(company, liquid.id(), MAY)).orElseThrow();
		assertThat(fresh.strength()).isEqualTo(0.125);
		assertThat(inCompany(() -> service.find(company, liquid.id(), MAY.minusDays(9)))).contains(fresh);
		Product monthOld = inCompany(() -> service.findAll(company, JUNE)).stream().filter(one -> one.id().equals(fresh.id())).findFirst()
			.orElseThrow();
		assertThat(monthOld).isEqualTo(fresh.aged(31, StorageTemperature.SHADE));
		assertThat(Objects.requireNonNull(monthOld.strength())).isBetween(0.09, 0.11);
	}

	@Test
	void companyInAnotherCurrencyHasNoTypicalPrices() {
		CompanyId euro = companyService.signUp(new CompanyService.SignUp("Piscinas Ebro", UnitSystem.METRIC, ZoneId.of("Europe/Madrid"),
				Currency.getInstance("EUR"), "Ana Gil", "owner-" + UUID.randomUUID() + "@example.org", TestCompanies.PASSWORD))
			.company();
		assertThat(TenantContext.runAs(euro, () -> service.products(euro, false))).isNotEmpty();
		assertThat(TenantContext.runAs(euro, () -> service.prices(euro, LocalDate.of(2100, 1, 1)))).isEmpty();
	}

	@Test
	void costUsesThePriceValidThatDayAndIsEmptyWithoutOne() {
		ProductId acid = add(1000);
		inCompany(() -> service.setPrice(company, acid, MAY, 1000));
		inCompany(() -> service.setPrice(company, acid, JUNE, 1200));
		assertThat(cost(acid, 500, MAY.minusDays(1))).isEmpty();
		assertThat(cost(acid, 500, MAY)).hasValue(500);
		assertThat(cost(acid, 500, JUNE.minusDays(1))).hasValue(500);
		assertThat(cost(acid, 500, JUNE)).hasValue(600);
		assertThat(inCompany(() -> service.find(company, acid, MAY.minusDays(1))).orElseThrow().priceCents()).isNull();
		assertThat(inCompany(() -> service.find(company, acid, JUNE)).orElseThrow().priceCents()).isEqualTo(1200);
	}

	@Test
	void costIsRoundedHalfUp() {
		ProductId acid = add(1000);
		inCompany(() -> service.setPrice(company, acid, MAY, 1000));
		assertThat(cost(acid, 0.5, MAY)).hasValue(1);
		assertThat(cost(acid, 0.49, MAY)).hasValue(0);
		assertThat(cost(acid, 333.5, MAY)).hasValue(334);
		inCompany(() -> service.setPrice(company, acid, MAY, 0));
		assertThat(cost(acid, 500, MAY)).hasValue(0);
	}

	@Test
	void priceOfTheSameDayIsReplacedAndCanBeRemoved() {
		ProductId acid = add(1000);
		inCompany(() -> service.setPrice(company, acid, MAY, 1000));
		inCompany(() -> service.setPrice(company, acid, MAY, 1100));
		assertThat(inCompany(() -> service.priceHistory(company, acid))).containsExactly(new Price(MAY, 1100, false));
		inCompany(() -> service.removePrice(company, acid, MAY));
		assertThat(cost(acid, 500, JUNE)).isEmpty();
	}

	/** 500 mL of a gallon jug at 10.00 and of a four-gallon case at 36.00: own arithmetic, rounded half up. */
	@Test
	void priceKeepsThePackageItWasSetFor() {
		ProductId acid = add(3785.41);
		inCompany(() -> service.setPrice(company, acid, MAY, 1000));
		ProductRecord seen = inCompany(() -> service.product(company, acid));
		inCompany(() -> service.change(company, acid, seen.version(), packed(seen.details(), 15141.64)));
		assertThat(cost(acid, 500, MAY)).hasValue(132);
		assertThat(inCompany(() -> service.find(company, acid, MAY)).orElseThrow().priceCents()).isEqualTo(4000);
		inCompany(() -> service.addPrice(company, acid, JUNE, 3600));
		assertThat(cost(acid, 500, MAY)).hasValue(132);
		assertThat(cost(acid, 500, JUNE)).hasValue(119);
		assertThat(inCompany(() -> service.priceHistory(company, acid))).extracting(Price::packageAmount).containsExactly(null, 3785.41);
	}

	@Test
	void secondPriceForTheSameDayIsRejected() {
		ProductId acid = add(1000);
		assertThat(inCompany(() -> service.addPrice(company, acid, MAY, 1000))).isEmpty();
		assertThat(inCompany(() -> service.addPrice(company, acid, MAY, 1000))).isEmpty();
		assertThat(inCompany(() -> service.addPrice(company, acid, MAY, 1100))).hasValue(new Price(MAY, 1000, false));
		assertThat(cost(acid, 1000, MAY)).hasValue(1000);
	}

	@Test
	void ownPriceReplacesTypicalPriceOfTheSameDay() {
		ProductRecord calHypo = of(ProductKind.CAL_HYPO_65);
		LocalDate today = inCompany(() -> service.today(company));
		assertThat(inCompany(() -> service.addPrice(company, calHypo.id(), today, 14900))).isEmpty();
		assertThat(inCompany(() -> service.priceHistory(company, calHypo.id()))).containsExactly(new Price(today, 14900, false));
	}

	@Test
	void changeWithAStaleVersionIsRejectedAndTheFirstChangeStays() {
		ProductId acid = add(1000);
		ProductRecord seen = inCompany(() -> service.product(company, acid));
		inCompany(() -> service.change(company, acid, seen.version(), named(seen.details(), "First")));
		assertThatThrownBy(() -> inCompany(() -> service.change(company, acid, seen.version(), named(seen.details(), "Second"))))
			.isInstanceOf(StaleVersion.class);
		assertThat(inCompany(() -> service.product(company, acid)).details().name()).isEqualTo("First");
	}

	@Test
	void scoopAndPreferenceArePassedToTheTreatmentProduct() {
		ProductRecord calHypo = of(ProductKind.CAL_HYPO_65);
		assertThat(calHypo.details().scoop()).isNull();
		assertThat(calHypo.details().preference()).isEqualTo(ProductPreference.NONE);
		inCompany(() -> service.change(company, calHypo.id(), calHypo.version(),
				calHypo.details().withScoop(425.24).withPreference(ProductPreference.FIRST)));
		ProductRecord changed = of(ProductKind.CAL_HYPO_65);
		assertThat(changed.details()).isEqualTo(calHypo.details().withScoop(425.24).withPreference(ProductPreference.FIRST));
		assertThat(inCompany(() -> service.findAll(company, MAY))).filteredOn(product -> product.kind() == ProductKind.CAL_HYPO_65)
			.singleElement()
			.satisfies(product -> {
				assertThat(product.scoop()).isEqualTo(425.24);
				assertThat(product.preference()).isEqualTo(ProductPreference.FIRST);
			});
		inCompany(
				() -> service.change(company, changed.id(), changed.version(), calHypo.details().withPreference(ProductPreference.NEVER)));
		Product never = inCompany(() -> service.find(company, calHypo.id(), MAY)).orElseThrow();
		assertThat(never.scoop()).isNull();
		assertThat(never.preference()).isEqualTo(ProductPreference.NEVER);
	}

	@Test
	void productOfAnotherCompanyIsNotFound() {
		ProductId acid = add(1000);
		CompanyId other = companies.newCompany(UnitSystem.US).user().company();
		assertThatThrownBy(() -> TenantContext.runAs(other, () -> service.product(other, acid))).isInstanceOf(NotFound.class);
		assertThatThrownBy(() -> TenantContext.runAs(other, () -> service.setPrice(other, acid, MAY, 1))).isInstanceOf(NotFound.class);
		assertThat(TenantContext.runAs(other, () -> service.costCents(other, acid, 1, MAY))).isEmpty();
	}

	private ProductId add(double millilitres) {
		ProductId id = new ProductId(UUID.randomUUID());
		inCompany(() -> service.add(company, id, new ProductDetails(ProductKind.MURIATIC_3145, "Acid", 31.45, StrengthBasis.PURITY, null,
				millilitres, null, null, null, null, null, true, ProductPreference.NONE, null)));
		return id;
	}

	private ProductRecord of(ProductKind kind) {
		return inCompany(() -> service.products(company, false)).stream().filter(one -> one.details().kind() == kind).findFirst()
			.orElseThrow();
	}

	private java.util.OptionalLong cost(ProductId product, double amount, LocalDate on) {
		return inCompany(() -> service.costCents(company, product, amount, on));
	}

	private static ProductDetails packed(ProductDetails details, double amount) {
		return new ProductDetails(details.kind(), details.name(), details.strengthPercent(), details.basis(), details.density(), amount,
				details.labelMaxPerM3(), details.labelPerPpm(), details.tabletGrams(), details.scoop(), details.cautions(),
				details.onTruck(),
				details.preference(), details.delivery());
	}

	private static ProductDetails named(ProductDetails details, String name) {
		return new ProductDetails(details.kind(), name, details.strengthPercent(), details.basis(), details.density(),
				details.packageAmount(), details.labelMaxPerM3(), details.labelPerPpm(), details.tabletGrams(), details.scoop(),
				details.cautions(),
				details.onTruck(), details.preference(), details.delivery());
	}

	private <T> T inCompany(Supplier<T> work) {
		return TenantContext.runAs(company, work);
	}

	private void inCompany(Runnable work) {
		TenantContext.runAs(company, work);
	}

}
