package org.meniscus.visit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.UnitSystem;

/** One number and one unit for what went in. The avoirdupois pound is 453.59237 g, the US gallon 3785.411784 mL (NIST Handbook 44, appendix C). */
class DoseUnitsTests {

	private static final Product TABLETS = Product.usual("tabs", ProductKind.TRICHLOR_TAB).withTabletGrams(227.0);

	private static final Product BLEACH = Product.usual("bleach", ProductKind.LIQUID_CHLORINE_125);

	private static String shown(double amount, Product product, UnitSystem units) {
		DoseUnits.DoseQuantity entry = DoseUnits.of(product, units).quantity(amount);
		return entry.count().toPlainString() + " " + entry.unit().name();
	}

	@ParameterizedTest(name = "{0} g is {1}")
	@CsvSource({ "681, 3 TABLET", "567.5, 2.5 TABLET", "227, 1 TABLET", "113.5, 0.5 TABLET", "4540, 20 TABLET", "681.004, 3 TABLET" })
	void wholeAndHalfTabletsAreCountedInAnyUnitSystem(double grams, String entry) {
		assertThat(shown(grams, TABLETS, UnitSystem.US)).isEqualTo(entry);
		assertThat(shown(grams, TABLETS, UnitSystem.METRIC)).isEqualTo(entry);
	}

	@Test
	void otherAmountsOfATabletProductAreWeighed() {
		assertThat(shown(600, TABLETS, UnitSystem.METRIC)).isEqualTo("600 G");
		assertThat(shown(453.59237, TABLETS, UnitSystem.US)).isEqualTo("1 LB");
		assertThat(shown(681.02, TABLETS, UnitSystem.METRIC)).as("more than storing rounds away").isEqualTo("681.02 G");
		assertThat(shown(3, TABLETS, UnitSystem.METRIC)).as("less than half of one").isEqualTo("3 G");
		assertThat(shown(681, TABLETS.withTabletGrams(200.0), UnitSystem.METRIC)).as("tablets weigh something else by now")
			.isEqualTo("681 G");
	}

	@Test
	void storedAmountRoundedToHundredthsIsStillCountedInTablets() {
		// 8 oz is 226.796185 g; product and dose are stored to hundredths.
		Product eightOunces = TABLETS.withTabletGrams(226.80);
		for (int halves = 1; halves <= 60; halves++) {
			double stored = Math.rint(halves / 2.0 * 226.80 * 100) / 100;
			assertThat(DoseUnits.of(eightOunces, UnitSystem.US).quantity(stored).count().doubleValue()).isEqualTo(halves / 2.0);
		}
	}

	@Test
	void onlyTabletProductsAreCounted() {
		assertThat(names(TABLETS, UnitSystem.US)).containsExactly("TABLET", "LB", "OZ", "G");
		assertThat(names(TABLETS, UnitSystem.METRIC)).containsExactly("TABLET", "KG", "G");
		assertThat(names(TABLETS.withTabletGrams(null), UnitSystem.US)).containsExactly("LB", "OZ", "G");
		assertThat(names(Product.usual("dry", ProductKind.CAL_HYPO_65).withTabletGrams(227.0), UnitSystem.US)).containsExactly("LB", "OZ",
				"G");
		assertThat(names(BLEACH, UnitSystem.US)).containsExactly("GAL", "QT", "FL_OZ", "TSP");
		assertThat(DoseUnits.of(BLEACH, UnitSystem.US).find("TABLET")).isEmpty();
		assertThat(DoseUnits.of(TABLETS, UnitSystem.US).find("KG")).as("a unit of other companies").isEmpty();
		assertThat(DoseUnits.of(TABLETS, UnitSystem.US).find("TABLET").orElseThrow().size()).isEqualTo(227);
	}

	@Test
	void unknownProductIsMeasuredByWeightOrVolume() {
		assertThat(DoseUnits.of("tabs", AmountUnit.G, List.of(BLEACH, TABLETS), UnitSystem.US).tablet()).isEqualTo(227.0);
		assertThat(DoseUnits.of("gone", AmountUnit.G, List.of(BLEACH, TABLETS), UnitSystem.US).tablet()).isNull();
	}

	@ParameterizedTest
	@CsvSource({ "1020.5829, 2.25 LB", "99.223330938, 3.5 OZ", "14.1747615625, 0.5 OZ", "2.5, 2.5 G", "27.5, 27.5 G", "30, 1.058 OZ" })
	void solidsAreWeighedInPoundsAndOunces(double grams, String entry) {
		assertThat(shown(grams, Product.usual("dry", ProductKind.CAL_HYPO_65), UnitSystem.US)).isEqualTo(entry);
	}

	@ParameterizedTest
	@EnumSource(UnitSystem.class)
	void displayedQuantityConvertsBackToTheAmount(UnitSystem units) {
		for (double amount : new double[]{ 0.5, 12, 113.5, 400, 681, 1892.706, 5000 }) {
			for (Product product : List.of(TABLETS, BLEACH)) {
				DoseUnits.DoseQuantity entry = DoseUnits.of(product, units).quantity(amount);
				double size = DoseUnits.of(product, units).find(entry.unit().name()).orElseThrow().size();
				// half of the last of three decimals
				assertThat(entry.count().doubleValue() * size).isCloseTo(amount, within(0.0005 * size + 1e-9));
			}
		}
	}

	private static List<String> names(Product product, UnitSystem units) {
		return DoseUnits.of(product, units).all().stream().map(DoseUnits.DoseUnit::name).toList();
	}

}
