package org.meniscus.report;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.water.assess.Assessment;
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

	@ParameterizedTest
	@EnumSource(ActiveIngredient.class)
	void everyProductHasAReasonInEverySituation(ActiveIngredient family) {
		for (Situation situation : Situation.values()) {
			assertThat(why(family, situation, GOOD).ingredient()).isEqualTo(family);
		}
	}

	private static DoseReason why(ActiveIngredient family, Situation situation, Readings readings) {
		return DoseReason.of(family, situation, Assessment.of(POOL, readings, TreatmentPolicy.withCeiling(4)).states());
	}

}
