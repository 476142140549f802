package org.meniscus.water.pool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import java.util.Objects;

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

	/** Algae and slimes are killed by chlorine alone; on iron and manganese stains it would fix them: rows of the trade's situations. */
	@ParameterizedTest
	@EnumSource(Situation.class)
	void growthsAndStainsThatChlorineWouldFixAreKnown(Situation situation) {
		assertThat(situation.growth()).isEqualTo(situation.rows().stream().anyMatch(row -> row.matches("algae_.*|pink_slime")));
		assertThat(situation.chlorineWaits()).isEqualTo(situation.rows().stream().anyMatch(row -> row.matches("stain_(iron|manganese)")));
	}

	@ParameterizedTest
	@CsvSource({ "PLASTER, true, false", "PEBBLE, true, false", "TILE, true, false", "PAINTED, true, false", "VINYL, false, true",
			"FIBREGLASS, false, false", "SOFT_SIDED, false, true" })
	void cementAndLinersAreToldApart(Surface surface, boolean cement, boolean lined) {
		assertThat(surface.cementBound()).isEqualTo(cement);
		assertThat(surface.lined()).isEqualTo(lined);
	}

	@ParameterizedTest
	@CsvSource({ "CHLORINE_BY_HAND, true, false", "FLOATER, true, true", "TABLET_FEEDER, true, true", "SALT_CELL, true, false",
			"BROMINE, false, false", "BIGUANIDE, false, false" })
	void chlorineAndTabletsFollowFromTheSanitizer(Sanitizer sanitizer, boolean chlorine, boolean tablets) {
		assertThat(sanitizer.usesChlorine()).isEqualTo(chlorine);
		assertThat(sanitizer.usesTablets()).isEqualTo(tablets);
	}

	/** Only a pool with a cell starts one, only cement is plastered, a spa is not, and stabilizer is missed where chlorine is used. */
	@ParameterizedTest
	@CsvSource({ "CELL_START, POOL, PLASTER, SALT_CELL, true", "CELL_START, POOL, PLASTER, FLOATER, false",
			"NEW_PLASTER, POOL, PEBBLE, FLOATER, true", "NEW_PLASTER, POOL, VINYL, FLOATER, false",
			"NEW_PLASTER, SPA, PLASTER, FLOATER, false", "STABILIZER_GONE, POOL, VINYL, FLOATER, true",
			"STABILIZER_GONE, POOL, VINYL, BROMINE, false", "FOAM, SPA, FIBREGLASS, BROMINE, true" })
	void situationsFitThePoolsTheyCanHappenAt(Situation situation, BodyOfWater body, Surface surface, Sanitizer sanitizer, boolean fits) {
		PoolFacts pool = PoolFacts.of(Volume.ofLitres(50_000), VolumeCertainty.MEASURED, body, surface, false, sanitizer);
		assertThat(situation.fits(pool)).isEqualTo(fits);
	}

	/** 60 to 80 ideal: lifted below 70. The four limits are in order and finite. */
	@Test
	void rangesAreInOrderAndLiftedFromHalfway() {
		assertThat(new Range(60, 80, 120, 180, "made up").halfwayLow()).isEqualTo(70);
		assertThat(new Range(5, 5, 5, 5, "made up").halfwayLow()).isEqualTo(5);
		assertThatIllegalArgumentException().isThrownBy(() -> new Range(81, 80, 120, 180, "made up"));
		assertThatIllegalArgumentException().isThrownBy(() -> new Range(60, 121, 120, 180, "made up"));
		assertThatIllegalArgumentException().isThrownBy(() -> new Range(60, 80, 181, 180, "made up"));
		assertThatIllegalArgumentException().isThrownBy(() -> new Range(60, 80, 120, Double.NaN, "made up"));
		assertThatIllegalArgumentException().isThrownBy(() -> new Range(60, 80, 120, Double.POSITIVE_INFINITY, "made up"));
		assertThatIllegalArgumentException().isThrownBy(() -> new Range(Double.NEGATIVE_INFINITY, 80, 120, 180, "made up"));
	}

	@Test
	void whatIsUnknownIsAbsentAndNotZero() {
		Levels levels = new Levels(Map.of(Level.CYA, 0.0, Level.PH, 7.5));
		assertThat(levels.value(Level.PH)).isEqualTo(7.5);
		assertThat(levels.value(Level.CYA)).isZero();
		assertThat(levels.value(Level.TA)).isNull();
		assertThat(levels.value(Level.CYA, 40)).isZero();
		assertThat(levels.value(Level.TA, 100)).isEqualTo(100);
	}

	/** Fill water carries no stabilizer, borate or chlorine; dissolved solids are counted as its salt; what nobody tested is not known. */
	@Test
	void fillWaterBringsWhatWasTestedAndNoStabilizer() {
		FillWater fill = new FillWater(7.8, 110.0, 220.0, 300.0);
		assertThat(fill.value(Level.PH)).isEqualTo(7.8);
		assertThat(fill.value(Level.TA)).isEqualTo(110);
		assertThat(fill.value(Level.CH)).isEqualTo(220);
		assertThat(fill.value(Level.SALT)).isEqualTo(300).isEqualTo(fill.value(Level.TDS));
		for (Level level : new Level[]{ Level.CYA, Level.BORATE, Level.FC, Level.CC }) {
			assertThat(fill.value(level)).isZero();
			assertThat(FillWater.unknown().value(level)).isZero();
		}
		assertThat(fill.value(Level.PHOSPHATE)).isNull();
		assertThat(FillWater.unknown().value(Level.CH)).isNull();
	}

	/** As tests are read: chlorine and pH to a tenth, hardness, stabilizer and salt to whole ppm; worked out ones as they are quoted. */
	@ParameterizedTest
	@CsvSource({ "FC, PPM, 1", "PH, PH, 1", "TA, PPM, 0", "CYA, PPM, 0", "SALT, PPM, 0", "PHOSPHATE, PPB, 0", "COPPER, PPM, 2",
			"AMMONIA, PPM, 2", "TEMPERATURE, CELSIUS, 0",
			"HOCL, PPM, 3", "SATURATION_INDEX, INDEX, 2" })
	void levelsAreStatedInTheirDigits(Level level, Level.Unit unit, int decimals) {
		assertThat(level.unit()).isEqualTo(unit);
		assertThat(level.decimals()).isEqualTo(decimals);
	}

	@Test
	void tracesAreKeptByLevelAndTakenBack() {
		Readings readings = Readings.builder().phosphate(600.0).trace(Level.COPPER, 0.3).trace(Level.IRON, 0.2).trace(Level.IRON, null)
			.build();
		assertThat(readings.value(Level.PHOSPHATE)).isEqualTo(600);
		assertThat(readings.value(Level.COPPER)).isEqualTo(0.3);
		assertThat(readings.tested()).containsExactly(Level.PHOSPHATE, Level.COPPER);
		assertThat(readings.toBuilder().ph(7.5).build().traces()).isEqualTo(readings.traces());
	}

	/** The table asks about a fall of CH by more than 15 % and a rise by more than 50 ppm: 60 of 400 here, 50 there. */
	@Test
	void changesAreAskedAboutByShareOrByUnits() {
		ReadingBounds ch = Objects.requireNonNull(ReadingBounds.of(Level.CH, BodyOfWater.POOL));
		assertThat(Objects.requireNonNull(ch.fall()).limit(400)).isCloseTo(60, within(1e-12));
		assertThat(Objects.requireNonNull(ch.rise()).limit(400)).isEqualTo(50);
	}

}
