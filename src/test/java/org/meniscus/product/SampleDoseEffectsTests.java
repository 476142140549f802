package org.meniscus.product;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.pool.Level;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.Mass;
import org.meniscus.water.units.Volume;

class SampleDoseEffectsTests {

	private static final double LITRES = Volume.ofUsGallons(10_000).litres();

	/**
	 * ppm FC of a pound (a gallon of liquid) in 10,000 US gal, and ppm CYA and CH left for each ppm FC. Trade figures, common
	 * practice: the pounds and gallons from mass and volume alone (own arithmetic, 453.6 g × strength / 37,854 L), the shares by
	 * molar mass of C3H3N3O3 129.07, Cl2 70.91 and CaCO3 100.09 (dichlor 1/2 × 129.07/70.91, hypochlorite 1/2 × 100.09/70.91).
	 */
	@ParameterizedTest
	@CsvSource({ "CAL_HYPO_65, 7.79, 0, 0.706", "DICHLOR_56, 6.71, 0.910, 0", "LIQUID_CHLORINE_125, 12.5, 0, 0" })
	void chlorineProductsAddStabilizerAndHardnessInProportion(ProductKind kind, double freeChlorine, double stabilizer, double hardness) {
		double amount = (kind == ProductKind.LIQUID_CHLORINE_125) ? Volume.ofUsGallons(1).millilitres() : Mass.ofPounds(1).grams();
		SampleDoseEffects effects = SampleDoseEffects.of(Product.usual("1", kind), amount, LITRES).orElseThrow();
		assertThat(effects.freeChlorine()).isCloseTo(freeChlorine, within(0.02));
		assertThat(effects.lasting().getOrDefault(Level.CYA, 0.0) / effects.freeChlorine()).isCloseTo(stabilizer, within(0.002));
		assertThat(effects.lasting().getOrDefault(Level.CH, 0.0) / effects.freeChlorine()).isCloseTo(hardness, within(0.002));
	}

	/** Hypochlorite raises pH and gives it back when it is used up; dichlor lowers it in the end. Directions: common practice, no source. */
	@Test
	void phIsGivenBeforeAndAfterTheChlorineIsSpent() {
		SampleDoseEffects liquid = SampleDoseEffects.of(Product.usual("1", ProductKind.LIQUID_CHLORINE_125), 2000, LITRES).orElseThrow();
		assertThat(liquid.phAfter()).isGreaterThan(7.55);
		assertThat(liquid.phAfterChlorineSpent()).isLessThan(liquid.phAfter());
		SampleDoseEffects dichlor = SampleDoseEffects.of(Product.usual("1", ProductKind.DICHLOR_56), 1000, LITRES).orElseThrow();
		assertThat(dichlor.phAfterChlorineSpent()).isLessThan(7.5);
	}

	/** 25.6 fl oz of 31.45 % acid take 10 ppm TA from 10,000 US gal: the trade's usual figure, common practice. */
	@Test
	void acidLowersAlkalinityAndAddsNoChlorine() {
		SampleDoseEffects acid = SampleDoseEffects
			.of(Product.usual("1", ProductKind.MURIATIC_3145), 25.6 * Volume.MILLILITRES_PER_US_FLUID_OUNCE, LITRES)
			.orElseThrow();
		assertThat(acid.freeChlorine()).isZero();
		assertThat(acid.phAfterChlorineSpent()).isNull();
		assertThat(acid.lasting().get(Level.TA)).isCloseTo(-10, within(0.2));
		assertThat(acid.phAfter()).isLessThan(7.5);
	}

	@Test
	void productsWithoutStrengthOrDosedByLabelHaveNoComputedEffects() {
		assertThat(SampleDoseEffects.of(Product.usual("1", ProductKind.CAL_HYPO_65).withStrength(null, null), 100, LITRES)).isEmpty();
		assertThat(SampleDoseEffects.of(Product.usual("1", ProductKind.TRICHLOR_TAB), 100, LITRES)).isEmpty();
		assertThat(SampleDoseEffects.of(Product.usual("1", ProductKind.CLARIFIER), 100, LITRES)).isEmpty();
	}

}
