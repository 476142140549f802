package org.meniscus.water.plan;

import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;

/** What part of a {@link SituationProcedure} may depend on: the pool, its readings, who is coming. Limits: common practice, no source. */
@FunctionalInterface
interface PoolCondition {

	PoolCondition ALWAYS = (request, assessment) -> true;

	PoolCondition INDOOR = (request, assessment) -> request.pool().indoor();

	PoolCondition OUTDOOR = INDOOR.not();

	PoolCondition SPA = (request, assessment) -> request.pool().body() == BodyOfWater.SPA;

	PoolCondition POOL = SPA.not();

	/** The sun reaches the water, and a cover keeps it out. */
	PoolCondition SUNLIT = OUTDOOR.and(POOL);

	PoolCondition SALT_CELL = (request, assessment) -> request.pool().sanitizer() == Sanitizer.SALT_CELL;

	PoolCondition USES_CHLORINE = (request, assessment) -> request.pool().sanitizer().usesChlorine();

	PoolCondition BIGUANIDE = (request, assessment) -> request.pool().sanitizer() == Sanitizer.BIGUANIDE;

	/** Ozone makes bromate of bromide: row sodium_bromide of the never-mix table. */
	PoolCondition BROMIDE_BESIDE_OZONE = (request, assessment) -> request.pool().sanitizer() == Sanitizer.BROMINE
			&& request.pool().equipment().systems().contains(Equipment.SecondSystem.OZONE);

	PoolCondition DRAIN_UNSEEN = (request, assessment) -> Boolean.FALSE.equals(request.readings().drainVisible());

	/** Something brings chlorine between visits. */
	PoolCondition FED = (request, assessment) -> request.pool().sanitizer() != Sanitizer.CHLORINE_BY_HAND;

	PoolCondition WASTE_VALVE = (request, assessment) -> request.pool().hasWasteValve();

	/** Plaster and the like without paint: takes a steel brush and a tablet. */
	PoolCondition BARE_CEMENT = (request, assessment) -> request.pool().surface().cementBound()
			&& request.pool().surface() != Surface.PAINTED;

	PoolCondition SWIMMERS_EXPECTED = (request, assessment) -> request.swimWithinHours() != null;

	/** Carbonate is coming out: the saturation index is above its ideal range. */
	PoolCondition SCALING = (request, assessment) -> isAboveIdeal(assessment, Level.SATURATION_INDEX);

	PoolCondition HARDNESS_HIGH = (request, assessment) -> isAboveIdeal(assessment, Level.CH);

	/** Below what is to be held. */
	PoolCondition FC_LOW = (request, assessment) -> {
		Double fc = request.readings().fc();
		Double toHold = assessment.fcToHold();
		return fc != null && toHold != null && fc < toHold - 1e-9;
	};

	PoolCondition PH_LOW = (request, assessment) -> isOutOfRange(assessment, Level.PH, LevelState.Direction.LOW);

	PoolCondition PH_HIGH = (request, assessment) -> isOutOfRange(assessment, Level.PH, LevelState.Direction.HIGH);

	PoolCondition TA_LOW = (request, assessment) -> isOutOfRange(assessment, Level.TA, LevelState.Direction.LOW);

	/** Above what people may swim in: it is treated on any visit. */
	PoolCondition COMBINED_HIGH = (request, assessment) -> {
		Double combined = request.readings().combined();
		return request.pool().sanitizer().usesChlorine() && combined != null && combined > SwimReadiness.COMBINED_LIMIT + 1e-9;
	};

	PoolCondition COMBINED_UNTESTED = (request, assessment) -> request.pool().sanitizer().usesChlorine()
			&& request.readings().combined() == null;

	/** FC is too low or CC so high that chlorine is being used up. */
	PoolCondition CHLORINE_LACKING = (request, assessment) -> FC_LOW.holds(request, assessment)
			|| COMBINED_HIGH.holds(request, assessment);

	/** Further above what people may swim in than a test may be wrong, and 1 ppm: something feeds too much. */
	PoolCondition FC_TOO_HIGH = (request, assessment) -> {
		Double fc = request.readings().fc();
		return fc != null && request.pool().sanitizer().usesChlorine()
				&& fc > request.policy().swimCeiling() + 1 + request.readings().tests().precision(Level.FC).standardDeviation(fc);
	};

	/** A colour test of pH reads too high above it. */
	PoolCondition PH_READABLE = (request, assessment) -> {
		Double fc = request.readings().fc();
		return fc == null || fc <= ReadingCheck.FC_PH_INTERFERENCE;
	};

	/** CYA below which the sun takes most of the chlorine of a day, ppm; common practice, no source. */
	double SHIELDING_CYA = 20;

	/** Without stabilizer the sun takes most of the chlorine of a day. */
	PoolCondition CHLORINE_UNSHIELDED = (request, assessment) -> {
		Double cya = request.readings().cya();
		return cya != null && cya < SHIELDING_CYA && SUNLIT.holds(request, assessment);
	};

	/** TA above 90 ppm keeps pH of a salt pool climbing. */
	PoolCondition ALKALINITY_LIFTS_CELL_PH = SALT_CELL.and((request, assessment) -> {
		Double ta = request.readings().ta();
		return ta != null && ta > 90 && isAboveIdeal(assessment, Level.PH);
	});

	/** Tablets have eaten up the alkalinity. */
	PoolCondition TABLETS_ATE_ALKALINITY = (request, assessment) -> request.readings().ta() != null
			&& TA_LOW.holds(request, assessment) && isBelowIdeal(assessment, Level.PH) && request.pool().sanitizer().usesTablets();

	/** Tested, and within what the pool may have: 500 ppb. */
	PoolCondition PHOSPHATE_NOT_HIGH = tested(Level.PHOSPHATE)
		.and((request, assessment) -> !isOutOfRange(assessment, Level.PHOSPHATE, LevelState.Direction.HIGH));

	/** More copper, iron or manganese than stays dissolved. */
	PoolCondition METAL_HIGH = (request, assessment) -> isOutOfRange(assessment, Level.COPPER, LevelState.Direction.HIGH)
			|| isOutOfRange(assessment, Level.IRON, LevelState.Direction.HIGH)
			|| isOutOfRange(assessment, Level.MANGANESE, LevelState.Direction.HIGH);

	/**
	 * Metal is held by a sequestrant before anything that makes it fall out. New plaster is its maker's, a leak loses what goes in, and iron
	 * and manganese stains are lifted first.
	 */
	PoolCondition METAL_TO_HOLD = (request, assessment) -> request.situation() == Situation.STAINS_COPPER
			|| (METAL_HIGH.holds(request, assessment) && !BIGUANIDE.holds(request, assessment) && !request.situation().chlorineWaits()
					&& request.situation() != Situation.NEW_PLASTER && request.situation() != Situation.LEAK_SUSPECTED);

	/** More ammonia than a test may show where there is none. */
	PoolCondition AMMONIA_PRESENT = (request, assessment) -> isOutOfRange(assessment, Level.AMMONIA, LevelState.Direction.HIGH);

	/** Replacing water may cost less than the chlorine it takes: above 2 ppm, or not tested. */
	PoolCondition AMMONIA_MAY_BE_MUCH = (request, assessment) -> {
		Double ammonia = request.readings().value(Level.AMMONIA);
		return ammonia == null || ammonia > 2;
	};

	/**
	 * Phosphate is taken out only where chlorine is right and the water clear, never beside metal that a sequestrant has to hold, nor in a
	 * spa, whose water is changed.
	 */
	PoolCondition LANTHANUM_TODAY = POOL.and(along(ProductKind.LANTHANUM)).and((request, assessment) -> {
		Double fc = request.readings().fc();
		Double minimum = assessment.fcMinimum();
		Double ta = request.effectiveReadings().ta();
		boolean chlorine = minimum == null || (fc != null && fc >= minimum - 1e-9 && !COMBINED_HIGH.holds(request, assessment));
		return isOutOfRange(assessment, Level.PHOSPHATE, LevelState.Direction.HIGH) && chlorine
				&& Boolean.TRUE.equals(request.readings().drainVisible()) && !METAL_HIGH.holds(request, assessment)
				&& (ta == null || ta >= TraceDosing.TA_FOR_LANTHANUM);
	});

	/** Clouds that chlorine clears. */
	PoolCondition CLOUDS_NEED_CHLORINE = (request, assessment) -> {
		Double minimum = assessment.fcToHold();
		return minimum != null && SwimReadiness.lacksChlorine(request.readings(), minimum);
	};

	/** Indoors nobody shocks with people in the hall and no sun breaks chloramines; with people soon in the water likewise. */
	PoolCondition OXIDIZER_FOR_COMBINED = (request, assessment) -> {
		Double hours = request.swimWithinHours();
		boolean onTruck = request.products()
			.stream()
			.anyMatch(product -> product.onTruck() && product.kind().ingredient() == ActiveIngredient.MONOPERSULFATE
					&& ProductEffects.computable(product));
		return onTruck && !FC_LOW.holds(request, assessment) && !AMMONIA_PRESENT.holds(request, assessment)
				&& (request.pool().indoor() || (hours != null && hours < 8));
	};

	PoolCondition SHOCK_FOR_COMBINED = USES_CHLORINE.and(OXIDIZER_FOR_COMBINED.not());

	static PoolCondition tested(Level level) {
		return (request, assessment) -> request.readings().value(level) != null;
	}

	static PoolCondition along(ProductKind kind) {
		return (request, assessment) -> request.products().stream().anyMatch(product -> product.kind() == kind && product.onTruck());
	}

	boolean holds(PlanRequest request, Assessment assessment);

	default PoolCondition not() {
		return (request, assessment) -> !holds(request, assessment);
	}

	default PoolCondition and(PoolCondition other) {
		return (request, assessment) -> holds(request, assessment) && other.holds(request, assessment);
	}

	private static boolean isAboveIdeal(Assessment assessment, Level level) {
		LevelState state = assessment.state(level);
		return state != null && state.direction() == LevelState.Direction.HIGH;
	}

	private static boolean isBelowIdeal(Assessment assessment, Level level) {
		LevelState state = assessment.state(level);
		return state != null && state.direction() == LevelState.Direction.LOW;
	}

	private static boolean isOutOfRange(Assessment assessment, Level level, LevelState.Direction direction) {
		return assessment.is(level, LevelState.State.OUT_OF_RANGE, direction);
	}

}
