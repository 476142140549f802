package org.meniscus.report;

import static org.assertj.core.api.Assertions.assertThat;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.units.Volume;

class DoseReasonTests {

	/** 50 m³, so that 1 g/m³ takes 50 g. */
	private static final PoolFacts POOL = PoolFacts.of(Volume.ofLitres(50_000), VolumeCertainty.MEASURED, BodyOfWater.POOL, Surface.PLASTER,
			false,
			Sanitizer.CHLORINE_BY_HAND);

	private static final Readings GOOD = Readings.builder().fc(3.0).ph(7.5).cya(40.0).build();

	@Test
	void whyNamesTheReadingThatAskedForIt() {
		Readings readings = Readings.builder().fc(0.5).ph(7.9).ta(60.0).cya(10.0).build();
		assertThat(why(ActiveIngredient.MURIATIC_ACID, Situation.ROUTINE, readings).level()).extracting("level").isEqualTo(Level.PH);
		assertThat(why(ActiveIngredient.SODIUM_HYPOCHLORITE, Situation.ROUTINE, readings).level()).extracting("level").isEqualTo(Level.FC);
		assertThat(why(ActiveIngredient.BICARBONATE, Situation.ROUTINE, readings).level()).extracting("level").isEqualTo(Level.TA);
		assertThat(why(ActiveIngredient.SODA_ASH, Situation.ROUTINE, readings).level()).as("pH is high: soda ash was not for it, TA is low")
			.extracting("level")
			.isEqualTo(Level.TA);
		assertThat(why(ActiveIngredient.CALCIUM_CHLORIDE, Situation.ROUTINE, readings).level()).as("CH was not tested").isNull();
		assertThat(why(ActiveIngredient.MURIATIC_ACID, Situation.ROUTINE, GOOD).level()).as("pH was fine").isNull();
	}

	@Test
	void whyNamesTheSituationOnlyForWhatAnswersIt() {
		assertThat(why(ActiveIngredient.CALCIUM_HYPOCHLORITE, Situation.GREEN_ALGAE_HEAVY, GOOD).situation())
			.isEqualTo(Situation.GREEN_ALGAE_HEAVY);
		assertThat(why(ActiveIngredient.MURIATIC_ACID, Situation.GREEN_ALGAE_HEAVY, GOOD).situation()).isNull();
		assertThat(why(ActiveIngredient.MONOPERSULFATE, Situation.GREEN_ALGAE_LIGHT, GOOD).situation()).as("never the answer to algae")
			.isNull();
		assertThat(why(ActiveIngredient.MONOPERSULFATE, Situation.WEEKLY_REFRESH, GOOD).situation()).isEqualTo(Situation.WEEKLY_REFRESH);
	}

	/** What the trade gives each product for: products.csv and situations.csv of src/test/resources/trade. */
	@ParameterizedTest
	@CsvSource({ "SODIUM_HYPOCHLORITE, fc low, FC", "SODIUM_HYPOCHLORITE, cc high, CC", "DICHLOR, cya low, CYA",
			"SODIUM_HYPOCHLORITE, cya low,",
			"MONOPERSULFATE, cc high, CC", "MONOPERSULFATE, fc low,", "MURIATIC_ACID, ph high, PH", "DRY_ACID, ta high, TA",
			"MURIATIC_ACID, ph low,", "SODA_ASH, ph low, PH", "BORAX, ph low, PH", "BICARBONATE, ta low, TA", "BICARBONATE, ta high,",
			"CALCIUM_CHLORIDE, ch low, CH", "CYANURIC_ACID, cya low, CYA", "CYANURIC_ACID, fc low,", "THIOSULFATE, fc high, FC",
			"SULFITE, fc low,", "LANTHANUM, phosphate high, PHOSPHATE", "SEQUESTRANT, iron high, IRON", "CLARIFIER, fc low," })
	void everyProductIsForItsOwnReading(ActiveIngredient ingredient, String found, @Nullable Level level) {
		Readings.Builder readings = GOOD.toBuilder().ta(100.0).ch(280.0).cc(0.0).phosphate(50.0);
		switch (found) {
			case "fc low" -> readings.fc(0.2);
			case "fc high" -> readings.fc(12.0);
			case "cc high" -> readings.cc(1.0);
			case "ph low" -> readings.ph(7.0);
			case "ph high" -> readings.ph(8.0);
			case "ta low" -> readings.ta(40.0);
			case "ta high" -> readings.ta(220.0);
			case "ch low" -> readings.ch(100.0);
			case "cya low" -> readings.cya(10.0);
			case "iron high" -> readings.trace(Level.IRON, 0.5);
			case "phosphate high" -> readings.phosphate(900.0);
			default -> throw new IllegalArgumentException(found);
		}
		LevelState off = why(ingredient, Situation.ROUTINE, readings.build()).level();
		assertThat((off != null) ? off.level() : null).isEqualTo(level);
	}

	@ParameterizedTest
	@CsvSource({ "TRICHLOR, GREEN_ALGAE_LIGHT, true", "COPPER_ALGAECIDE, GREEN_ALGAE_LIGHT, true", "POLYQUAT_ALGAECIDE, PINK_SLIME, true",
			"QUAT_ALGAECIDE, MUSTARD_ALGAE, true", "QUAT_ALGAECIDE, CLOUDY, false", "CLARIFIER, CLOUDY, true", "FLOCCULANT, CLOUDY, true",
			"CLARIFIER, HIGH_COMBINED_CHLORINE, false", "DICHLOR, AFTER_HEAVY_USE, true", "MONOPERSULFATE, AFTER_HEAVY_USE, true",
			"BROMINE_TABLETS, BLOOD, true", "SODIUM_BROMIDE, FLOOD, true", "MONOPERSULFATE, BLOOD, false", "SEQUESTRANT, STAINS_IRON, true",
			"ASCORBIC_ACID, STAINS_COPPER, true", "TRICHLOR, STAINS_IRON, false", "LANTHANUM, HIGH_PHOSPHATE, true",
			"CLARIFIER, HIGH_PHOSPHATE, false", "SALT, CELL_START, true", "TRICHLOR, CELL_START, false", "TRICHLOR, NEW_PLASTER, false",
			"TRICHLOR, WEEKLY_REFRESH, false" })
	void situationIsNamedForWhatTreatsIt(ActiveIngredient ingredient, Situation situation, boolean named) {
		assertThat(why(ingredient, situation, GOOD).situation()).isEqualTo(named ? situation : null);
	}

	@ParameterizedTest
	@EnumSource(ActiveIngredient.class)
	void everyProductHasAReasonInEverySituation(ActiveIngredient ingredient) {
		for (Situation situation : Situation.values()) {
			assertThat(why(ingredient, situation, GOOD).ingredient()).isEqualTo(ingredient);
		}
	}

	private static DoseReason why(ActiveIngredient ingredient, Situation situation, Readings readings) {
		return DoseReason.of(ingredient, situation, Assessment.of(POOL, readings, TreatmentPolicy.withCeiling(4)).states());
	}

}
