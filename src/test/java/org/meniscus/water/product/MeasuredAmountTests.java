package org.meniscus.water.product;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.water.product.MeasuredAmount.Measure;
import org.meniscus.water.product.MeasuredAmount.Part;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.UnitSystem;

/** Amounts in what a technician has in hand. */
class MeasuredAmountTests {

	private static final double JUG = 2.5 * 3785.411784;

	@Test
	void aWholeJugWhenNearTowardTheSafeSide() {
		Product jugs = Product.usual("jug", ProductKind.LIQUID_CHLORINE_125).withPrice(JUG, 900L);
		MeasuredAmount near = MeasuredAmount.up(0.97 * JUG, jugs, UnitSystem.US);
		assertThat(near.counted()).isEqualTo(new MeasuredAmount.Counted(1, MeasuredAmount.Count.PACKAGE));
		assertThat(near.amount()).isEqualTo(JUG);
		assertThat(MeasuredAmount.down(0.97 * JUG, jugs, UnitSystem.US).counted()).as("never more than asked").isNull();
		assertThat(MeasuredAmount.down(2.03 * JUG, jugs, UnitSystem.US).amount()).isEqualTo(2 * JUG);
		assertThat(MeasuredAmount.up(0.9 * JUG, jugs, UnitSystem.US).counted()).as("too far from a whole one").isNull();
	}

	@Test
	void scoopsInHalvesAndTabletsWhole() {
		Product granular = Product.usual("granular", ProductKind.DICHLOR_56).withScoop(180.0);
		MeasuredAmount scoops = MeasuredAmount.down(500, granular, UnitSystem.METRIC);
		assertThat(scoops.counted()).isEqualTo(new MeasuredAmount.Counted(2.5, MeasuredAmount.Count.SCOOP));
		assertThat(scoops.amount()).isCloseTo(450, within(1e-9));
		assertThat(MeasuredAmount.down(10_000, granular, UnitSystem.METRIC).counted()).as("nobody counts 55 scoops").isNull();
		assertThat(MeasuredAmount.down(50, granular, UnitSystem.METRIC).amount()).as("less than half a scoop is weighed").isEqualTo(50);
		Product tablets = Product.usual("tablets", ProductKind.TRICHLOR_TAB);
		assertThat(MeasuredAmount.down(700, tablets, UnitSystem.US).counted())
			.isEqualTo(new MeasuredAmount.Counted(3, MeasuredAmount.Count.TABLET));
	}

	/** Marks of kitchen scales and jugs: common practice, no source. Each mark holds from its lower end on. */
	@ParameterizedTest
	@CsvSource({ "G, 19.9, 0.5", "ML, 19.9, 1", "G, 20, 1", "G, 99, 1", "G, 100, 5", "G, 499, 5", "G, 500, 10", "G, 999, 10", "G, 1000, 50",
			"G, 9999, 50", "G, 10000, 250" })
	void metricMarksWidenWithTheAmount(AmountUnit unit, double amount, double mark) {
		assertThat(MeasuredAmount.step(amount, unit, UnitSystem.METRIC)).isEqualTo(mark);
	}

	@ParameterizedTest
	@CsvSource({ "G, 1, 0.05", "G, 3.99, 0.05", "G, 4, 0.25", "G, 7.9, 0.25", "G, 8, 0.5", "G, 15.9, 0.5", "G, 16, 1", "G, 79, 1",
			"G, 80, 4",
			"G, 399, 4",
			"G, 400, 16", "ML, 4, 0.25", "ML, 8, 0.5", "ML, 16, 1", "ML, 63, 1", "ML, 64, 4", "ML, 255, 4",
			"ML, 256, 16" })
	void usMarksWidenWithTheAmount(AmountUnit unit, double ounces, double markInOunces) {
		double ounce = (unit == AmountUnit.G) ? 28.349523125 : 29.5735295625;
		assertThat(MeasuredAmount.step(ounces * ounce, unit, UnitSystem.US)).isCloseTo(markInOunces * ounce, within(1e-9));
	}

	@Test
	void lessThanAnOunceIsWeighedInGrams() {
		assertThat(MeasuredAmount.step(28, AmountUnit.G, UnitSystem.US)).isEqualTo(0.5);
		assertThat(MeasuredAmount.down(2.9, AmountUnit.G, UnitSystem.US).parts()).containsExactly(new Part(2.5, Measure.G));
		assertThat(MeasuredAmount.up(28.2, Product.usual("p", ProductKind.DICHLOR_56), UnitSystem.US).parts())
			.containsExactly(new Part(1, Measure.OZ));
	}

	@Test
	void smallLiquidsAreSpooned() {
		assertThat(MeasuredAmount.step(10, AmountUnit.ML, UnitSystem.US)).as("a quarter of a teaspoon").isCloseTo(4.92892159375 / 4,
				within(1e-9));
		assertThat(MeasuredAmount.up(9, Product.usual("p", ProductKind.LIQUID_CHLORINE_10), UnitSystem.US).parts())
			.containsExactly(new Part(2, Measure.TSP));
		assertThat(MeasuredAmount.down(37, AmountUnit.ML, UnitSystem.US).parts()).as("beside a whole ounce")
			.containsExactly(new Part(1, Measure.FL_OZ), new Part(1.5, Measure.TSP));
		assertThat(MeasuredAmount.down(3.5 * 29.5735295625, AmountUnit.ML, UnitSystem.US).parts())
			.containsExactly(new Part(3, Measure.FL_OZ), new Part(3, Measure.TSP));
	}

	/** A dose that a ceiling rounds down still comes near it. Above what is spooned and weighed in grams. */
	@Test
	void noMarkIsFurtherThanASixteenthOfTheAmount() {
		Random random = new Random(7);
		for (int n = 0; n < 5_000; n++) {
			double amount = 28.4 * Math.exp(7 * random.nextDouble());
			for (AmountUnit unit : AmountUnit.values()) {
				for (UnitSystem units : UnitSystem.values()) {
					assertThat(MeasuredAmount.step(amount, unit, units)).as("%s of %s", amount, unit)
						.isLessThanOrEqualTo(amount / 16 * (1 + 1e-9));
				}
			}
		}
	}

	@Test
	void amountsAreReadInTheUnitsOnTheScale() {
		assertThat(MeasuredAmount.down(36 * 28.349523125, AmountUnit.G, UnitSystem.US).parts()).containsExactly(new Part(2, Measure.LB),
				new Part(4, Measure.OZ));
		assertThat(MeasuredAmount.down(32 * 28.349523125, AmountUnit.G, UnitSystem.US).parts()).containsExactly(new Part(2, Measure.LB));
		assertThat(MeasuredAmount.down(184 * 29.5735295625, AmountUnit.ML, UnitSystem.US).parts()).containsExactly(new Part(1, Measure.GAL),
				new Part(1, Measure.QT), new Part(24, Measure.FL_OZ));
		assertThat(MeasuredAmount.down(1250, AmountUnit.G, UnitSystem.METRIC).parts()).containsExactly(new Part(1.25, Measure.KG));
		assertThat(MeasuredAmount.down(1000, AmountUnit.ML, UnitSystem.METRIC).parts()).containsExactly(new Part(1, Measure.L));
		assertThat(MeasuredAmount.down(995, AmountUnit.ML, UnitSystem.METRIC).parts()).containsExactly(new Part(990, Measure.ML));
		assertThat(MeasuredAmount.down(0.05, AmountUnit.G, UnitSystem.US).isZero()).isTrue();
	}

	/** Whatever is asked: never more when rounding down, never less when up, and what is read off adds up to what goes in. */
	@ParameterizedTest
	@EnumSource(ProductKind.class)
	void roundedAmountsKeepToTheirSideAndAddUp(ProductKind kind) {
		Random random = new Random(kind.ordinal());
		for (int n = 0; n < 500; n++) {
			Product product = Product.usual("p", kind).withScoop(random.nextBoolean() ? 120.0 : null);
			UnitSystem units = random.nextBoolean() ? UnitSystem.US : UnitSystem.METRIC;
			double exact = Math.pow(10, 4.5 * random.nextDouble());
			MeasuredAmount down = MeasuredAmount.down(exact, product, units);
			MeasuredAmount up = MeasuredAmount.up(exact, product, units);
			assertThat(down.amount()).isLessThanOrEqualTo(exact + 1e-6);
			assertThat(up.amount()).isGreaterThanOrEqualTo(exact - 1e-6);
			assertThat(up.isZero()).isFalse();
			assertThat(down.isZero()).isEqualTo(down.amount() == 0);
			for (MeasuredAmount rounded : List.of(down, up)) {
				double read = rounded.parts().stream().mapToDouble(part -> part.count() * part.measure().size()).sum();
				double half = (rounded.counted() == null) ? 1e-3 : 0.5 * MeasuredAmount.step(rounded.amount(), kind.unit(), units) + 1e-3;
				assertThat(read).as("%s of %s", rounded, kind).isCloseTo(rounded.amount(), within(half));
				assertThat(rounded.unit()).isEqualTo(kind.unit());
				assertMarks(rounded, units);
			}
			if (down.counted() == null && up.counted() == null) {
				assertThat(up.amount() - down.amount()).isLessThanOrEqualTo(MeasuredAmount.step(exact, kind.unit(), units) + 1e-6);
			}
		}
	}

	/** No part is a whole one of the next larger measure. */
	private static void assertMarks(MeasuredAmount rounded, UnitSystem units) {
		for (Part part : rounded.parts()) {
			double most = switch (part.measure()) {
				case OZ -> 16;
				case FL_OZ -> 32;
				case QT -> 4;
				case G -> (units == UnitSystem.US) ? 28.35 : 1000;
				case ML -> 1000;
				case TSP -> 6;
				default -> Double.MAX_VALUE;
			};
			assertThat(part.count()).as("%s", rounded).isLessThan(most + 1e-6);
			assertThat(part.measure().name()).isIn(units == UnitSystem.US ? List.of("LB", "OZ", "G", "GAL", "QT", "FL_OZ", "TSP")
					: List.of("KG", "G", "L", "ML"));
		}
	}

	/** Twelve scoops are counted, thirteen weighed; half a scoop is the least. */
	@Test
	void scoopsAreCountedFromAHalfToADozen() {
		Product granular = Product.usual("granular", ProductKind.DICHLOR_56).withScoop(100.0);
		assertThat(MeasuredAmount.down(50, granular, UnitSystem.METRIC).counted()).isEqualTo(scoops(0.5));
		assertThat(MeasuredAmount.down(49, granular, UnitSystem.METRIC).counted()).isNull();
		assertThat(MeasuredAmount.down(1200, granular, UnitSystem.METRIC).counted()).isEqualTo(scoops(12));
		assertThat(MeasuredAmount.down(1250, granular, UnitSystem.METRIC).counted()).isNull();
		assertThat(MeasuredAmount.down(420, granular, UnitSystem.METRIC).parts()).as("4 scoops of 100 g")
			.containsExactly(new Part(400, Measure.G));
	}

	private static MeasuredAmount.Counted scoops(double count) {
		return new MeasuredAmount.Counted(count, MeasuredAmount.Count.SCOOP);
	}

	/** A bag of 1.5 kg is emptied whole, one of 1.4 kg is what a price is given for; within a twentieth of what is asked. */
	@Test
	void onlyLargePackagesAreEmptiedWhole() {
		Product bag = Product.usual("bag", ProductKind.DICHLOR_56).withPrice(1500, 900L);
		assertThat(MeasuredAmount.down(1500, bag, UnitSystem.METRIC).counted()).isNotNull();
		assertThat(MeasuredAmount.down(1500 / 0.951, bag, UnitSystem.METRIC).counted()).as("a twentieth less").isNotNull();
		assertThat(MeasuredAmount.down(1500 / 0.949, bag, UnitSystem.METRIC).counted()).isNull();
		Product small = Product.usual("small", ProductKind.DICHLOR_56).withPrice(1400, 900L);
		assertThat(MeasuredAmount.down(1400, small, UnitSystem.METRIC).counted()).isNull();
	}

	/** Five tablets of 227 g are 1,135 g: read to the nearest mark of a scale, 1.15 kg or 40 oz. */
	@Test
	void tabletsAreAlsoToldByWeight() {
		Product tablets = Product.usual("tablets", ProductKind.TRICHLOR_TAB);
		assertThat(MeasuredAmount.down(5.9 * 227, tablets, UnitSystem.METRIC).parts()).containsExactly(new Part(1.15, Measure.KG));
		assertThat(MeasuredAmount.down(5.9 * 227, tablets, UnitSystem.US).parts()).containsExactly(new Part(2, Measure.LB),
				new Part(8, Measure.OZ));
	}

	@ParameterizedTest
	@EnumSource(ActiveIngredient.class)
	void ingredientsAreOfOneKind(ActiveIngredient ingredient) {
		assertThat(ingredient.alkali()).isEqualTo(switch (ingredient) {
			case SODA_ASH, BICARBONATE, BORAX -> true;
			default -> false;
		});
		assertThat(ingredient.acid()).isEqualTo(ingredient == ActiveIngredient.MURIATIC_ACID || ingredient == ActiveIngredient.DRY_ACID);
		assertThat(ingredient.stabilizedChlorine())
			.isEqualTo(ingredient == ActiveIngredient.DICHLOR || ingredient == ActiveIngredient.TRICHLOR);
		assertThat(ingredient.removesChlorine()).isEqualTo(switch (ingredient) {
			case ASCORBIC_ACID, THIOSULFATE, SULFITE, SODIUM_BROMIDE -> true;
			default -> false;
		});
	}

	@Test
	void impossibleProductsAreRejected() {
		Product usual = Product.usual("p", ProductKind.CAL_HYPO_65);
		assertThatIllegalArgumentException().isThrownBy(() -> usual.withStrength(0.0, null));
		assertThatIllegalArgumentException().isThrownBy(() -> usual.withStrength(1.01, null));
		assertThatIllegalArgumentException().isThrownBy(() -> usual.withPrice(0, 100L));
		assertThatIllegalArgumentException().isThrownBy(() -> usual.withPrice(1000, -1L));
		assertThatIllegalArgumentException().isThrownBy(() -> usual.withScoop(0.0));
		assertThatIllegalArgumentException().isThrownBy(() -> usual.withLabelMaxPerM3(0.0));
		assertThatIllegalArgumentException().isThrownBy(() -> usual.withTabletGrams(0.0));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> new Product("p", ProductKind.CAL_HYPO_65, "p", 0.65, null, 0.0, 1000, null, null,
					null, null, true, null, ProductPreference.NONE, null));
		assertThat(usual.withStrength(1.0, null).strength()).isEqualTo(1);
		assertThat(usual.withPrice(1000, 0L).priceCents()).isZero();
	}

}
