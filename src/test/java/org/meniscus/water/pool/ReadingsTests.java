package org.meniscus.water.pool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.water.units.Volume;

/** Readings, ranges and what a pool is, by their definitions. */
class ReadingsTests {

	/** TC = FC + CC, whichever two were tested; CC is never below zero. */
	@ParameterizedTest
	@CsvSource({ "2, 0.5, , 0.5, 2.5", "2, , 2.6, 0.6, 2.6", "2, , 1.8, 0, 1.8", "2, 0.5, 3, 0.5, 3", ", 0.5, , 0.5,", "2, , , ,",
			", , 3, , 3" })
	void combinedAndTotalChlorineFollowFromTheOtherTwo(@Nullable Double fc, @Nullable Double cc, @Nullable Double tc,
			@Nullable Double combined, @Nullable Double total) {
		Readings readings = Readings.builder().fc(fc).cc(cc).tc(tc).build();
		same(readings.combined(), combined);
		same(readings.total(), total);
		same(readings.value(Level.CC), combined);
		same(readings.value(Level.TC), total);
	}

	private static void same(@Nullable Double value, @Nullable Double expected) {
		if (expected == null) {
			assertThat(value).isNull();
		}
		else {
			assertThat(value).isCloseTo(expected, within(1e-12));
		}
	}

	@Test
	void onlyTestedLevelsCountAsTested() {
		Readings readings = Readings.builder().fc(2.0).ph(7.5).cya(30.0, ReadingQualifier.BELOW).build();
		assertThat(readings.tested()).containsExactly(Level.FC, Level.PH, Level.CYA);
		assertThat(readings.qualifier(Level.CYA)).isEqualTo(ReadingQualifier.BELOW);
		assertThat(readings.qualifier(Level.PH)).isEqualTo(ReadingQualifier.EXACT);
		assertThat(readings.toBuilder().build()).isEqualTo(readings);
		assertThat(readings.value(Level.HOCL)).isNull();
		assertThat(Readings.none().tested()).isEmpty();
	}

	@ParameterizedTest
	@CsvSource({ "BELOW, <", "ABOVE, >", "EXACT, ''" })
	void qualifierIsReadFromItsSign(ReadingQualifier qualifier, String sign) {
		assertThat(qualifier.sign()).isEqualTo(sign);
		assertThat(ReadingQualifier.ofSign(sign)).isEqualTo(qualifier);
		assertThat(ReadingQualifier.ofSign(null)).isEqualTo(ReadingQualifier.EXACT);
		assertThatIllegalArgumentException().isThrownBy(() -> ReadingQualifier.ofSign("="));
	}

	@ParameterizedTest
	@EnumSource(Situation.class)
	void incidentsAreStoolBloodAndDeadAnimals(Situation situation) {
		assertThat(situation.incident()).isEqualTo(switch (situation) {
			case CONTAMINATION, DIARRHOEA, BLOOD, DEAD_ANIMAL -> true;
			default -> false;
		});
	}

	/** Small: a spa, a soft-sided pool, or less than 6,000 US gal. */
	@ParameterizedTest
	@CsvSource({ "POOL, PLASTER, 6000, false", "POOL, PLASTER, 5999, true", "SPA, PLASTER, 8000, true", "POOL, SOFT_SIDED, 8000, true" })
	void smallWatersAreKnown(BodyOfWater body, Surface surface, double gallons, boolean small) {
		PoolFacts pool = PoolFacts.of(Volume.ofUsGallons(gallons), VolumeCertainty.MEASURED, body, surface, false,
				Sanitizer.CHLORINE_BY_HAND);
		assertThat(pool.small()).isEqualTo(small);
	}

}
