package org.meniscus.water.product;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.pool.Level;

/** Side effects by stoichiometry: molar masses of the abridged IUPAC atomic masses, worked by hand as the comments show. */
class RecordedDoseTests {

	/**
	 * Per 10 mg/L of free chlorine once used up. CYA: 129.075/212.70 trichlor, 129.075/141.80 dichlor; CH: 100.086/141.80; TA:
	 * -50.043/70.90 per mg/L Cl2 less what the product brought; salt: 58.44/70.90, twice that for hypochlorite with its chloride.
	 */
	@ParameterizedTest
	@CsvSource(nullValues = "-", value = { "TRICHLOR_TAB, 6.068, -, -7.058, 8.243", "DICHLOR_56, 9.103, -, -3.529, 8.243",
			"CAL_HYPO_65, -, 7.058, -, 8.243" })
	void chlorineLeavesItsCompanions(ProductKind kind, Double cya, Double ch, Double ta, Double salt) {
		double litres = 50_000;
		double strength = 0.65;
		double grams = 10 * litres / 1000 / strength;
		Map<Level, Double> changes = new RecordedDose(kind, strength, StrengthBasis.PURITY, grams).lasting(litres).orElseThrow();
		near(changes, Level.CYA, cya);
		near(changes, Level.CH, ch);
		near(changes, Level.TA, ta);
		near(changes, Level.SALT, salt);
	}

	@Test
	void liquidChlorineLeavesSaltOnly() {
		// 12.5 trade %: 125 g/L, so 4 L in 50 m³ are 10 mg/L
		RecordedDose dose = new RecordedDose(ProductKind.LIQUID_CHLORINE_125, 0.125, StrengthBasis.TRADE, 4000);
		assertThat(dose.chlorine(50_000)).hasValue(10.0);
		Map<Level, Double> changes = dose.lasting(50_000).orElseThrow();
		assertThat(changes).containsOnlyKeys(Level.SALT);
		near(changes, Level.SALT, 16.485);
	}

	/** Handbook arithmetic: TA per mg/L 50.043/36.458 HCl, 50.043/120.054 NaHSO4, 50.043/84.006 NaHCO3, 100.086/105.988 Na2CO3. */
	@ParameterizedTest
	@CsvSource({ "MURIATIC_3145, 0.3145, -1.3726", "DRY_ACID_93, 0.932, -0.41684", "BICARB, 0.995, 0.59571", "SODA_ASH, 0.99, 0.94431" })
	void acidsAndBasesMoveAlkalinity(ProductKind kind, double strength, double perMilligram) {
		double density = (kind == ProductKind.MURIATIC_3145) ? 1.16 : 1;
		double amount = 10 * 50.0 / strength / density;
		Map<Level, Double> changes = new RecordedDose(kind, strength, StrengthBasis.PURITY, amount).lasting(50_000).orElseThrow();
		assertThat(changes.get(Level.TA)).isCloseTo(10 * perMilligram, within(0.001));
	}

	/** Calcium chloride: 100.086/110.98 CH per mg/L CaCl2; cyanuric acid: itself; monopersulfate: 1.5 x 50.043/152.16 of TA. */
	@Test
	void theOthers() {
		near(one(ProductKind.CAL_CHLORIDE_77, 0.77), Level.CH, 9.018 * 0.77);
		near(one(ProductKind.CYA, 0.99), Level.CYA, 9.9);
		near(one(ProductKind.SALT, 0.995), Level.SALT, 9.95);
		near(one(ProductKind.MPS, 0.428), Level.TA, -4.933 * 0.428);
		assertThat(one(ProductKind.CLARIFIER, 0.1)).isEmpty();
	}

	@Test
	void withoutAStrengthNothingIsClaimed() {
		assertThat(new RecordedDose(ProductKind.TRICHLOR_TAB, null, null, 200).lasting(50_000)).isEmpty();
		assertThat(new RecordedDose(ProductKind.LIQUID_CHLORINE_125, 0.125, null, 200).lasting(50_000)).as("125 or 141 g/L").isEmpty();
	}

	/** Ten grams of product in a cubic metre. */
	private static Map<Level, Double> one(ProductKind kind, double strength) {
		return new RecordedDose(kind, strength, StrengthBasis.PURITY, 10).lasting(1000).orElseThrow();
	}

	private static void near(Map<Level, Double> changes, Level level, Double expected) {
		if (expected == null) {
			assertThat(changes).doesNotContainKey(level);
		}
		else {
			assertThat(changes.get(level)).as(level.name()).isCloseTo(expected, within(0.002));
		}
	}

}
