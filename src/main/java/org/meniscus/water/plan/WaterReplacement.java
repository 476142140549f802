package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.AssumedLevels;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;

/**
 * Advice to replace water because no product lowers a level. Share of one batch = (now - target)/(now - fill); filling while draining
 * takes -ln(1 - share) pool volumes (perfect mixing). When it is advised: trade table {@code situations.csv}, column
 * {@code water_replacement_only_cure_when}.
 *
 * @param reasons the levels that ask for it, as data
 * @param share share of the pool to drain and refill in one batch
 * @param flowThroughVolumes pool volumes to let through when filling while draining, for the same result
 * @param litres the batch
 * @param drainCount how many drains of at most a third reach the same result
 * @param after levels expected after refilling
 * @param cautions of draining this pool
 */
public record WaterReplacement(List<Reason> reasons, double share, double flowThroughVolumes, double litres, int drainCount, Levels after,
		List<Reason> cautions) {

	/** Shares above this are a full drain in practice. */
	private static final double MAX_SHARE = 0.95;

	/** One drain of several takes at most this share. */
	private static final double ONE_DRAIN = 1.0 / 3;

	/** Left by a ceiling that FC must stay under for a while: CYA is brought to three quarters of what the ceiling allows. */
	private static final double CEILING_SHARE = 0.75;

	/** A small soft-sided pool is refilled rather than drained in part from here, CYA ppm. */
	private static final double SOFT_SIDED_CYA = 60;

	/** Indoors no CYA is wanted; below this it is let be. Common practice, no source. */
	private static final double INDOOR_CYA = 30;

	/** Bare plaster cracks in air hotter than 85 °F; common practice, no source. */
	private static final double PLASTER_CELSIUS = (85 - 32) / 1.8;

	private record Cause(Level level, double now, double target, double fill, boolean fillKnown) {

		double share() {
			return (this.now - this.target) / (this.now - this.fill);
		}

	}

	public WaterReplacement {
		reasons = List.copyOf(reasons);
		cautions = List.copyOf(cautions);
	}

	/**
	 * What replacing water is good for here.
	 *
	 * @param replacement null when dosing solves it
	 * @param notes what cannot be solved with this fill water
	 */
	record Recommendation(@Nullable WaterReplacement replacement, List<Reason> notes) {

		Recommendation {
			notes = List.copyOf(notes);
		}

	}

	static Recommendation recommend(PlanRequest request, Assessment assessment, PoolWater water, double litres) {
		List<Reason> notes = new ArrayList<>();
		return new Recommendation(replacement(request, assessment, water, litres, notes), notes);
	}

	private static @Nullable WaterReplacement replacement(PlanRequest request, Assessment assessment, PoolWater water, double litres,
			List<Reason> notes) {
		PoolFacts pool = request.pool();
		List<Cause> causes = new ArrayList<>();
		cya(request, assessment, causes);
		high(pool, request.effectiveReadings(), assessment, Level.CH, causes, notes);
		if (pool.sanitizer() == Sanitizer.SALT_CELL) {
			high(pool, request.effectiveReadings(), assessment, Level.SALT, causes, notes);
		}
		else {
			high(pool, request.effectiveReadings(), assessment, Level.TDS, causes, notes);
		}
		boolean spa = pool.body() == BodyOfWater.SPA;
		boolean foam = spa && request.situation() == Situation.FOAM;
		if (causes.isEmpty() && !foam) {
			return null;
		}
		// A spa is emptied: a part of its little water is no less work.
		double share = spa ? 1 : 0;
		List<Reason> reasons = new ArrayList<>();
		boolean fillKnown = true;
		boolean testedToday = true;
		for (Cause cause : causes) {
			testedToday &= request.readings().value(cause.level()) != null;
			share = Math.max(share, Math.min(1, cause.share()));
			fillKnown &= cause.fillKnown();
			reasons.add(Reason.of("replace." + Wording.code(cause.level()), Term.of(cause.level(), cause.now()),
					Term.of(cause.level(), cause.target()), new Term.Share(Math.min(1, cause.share()))));
		}
		if (foam) {
			reasons.add(Reason.of("replace.foam"));
		}
		double effectiveShare = Math.min(share, MAX_SHARE);
		int drains = (int) Math.ceil(Math.log(1 - effectiveShare) / Math.log(1 - ONE_DRAIN) - 1e-9);
		return new WaterReplacement(reasons, share, -Math.log(1 - effectiveShare), share * litres, Math.max(1, drains),
				water.afterReplacing(pool.fill(), share).levels(), cautions(pool, share, fillKnown, testedToday));
	}

	private static void cya(PlanRequest request, Assessment assessment, List<Cause> causes) {
		PoolFacts pool = request.pool();
		Double cya = request.effectiveReadings().cya();
		Range range = pool.targets().range(Level.CYA);
		if (cya == null || range == null || !pool.sanitizer().usesChlorine()
				|| request.readings().cyaQualifier() == ReadingQualifier.BELOW) {
			return;
		}
		double ceiling = request.policy().fcCeiling();
		double cyaForCeiling = CEILING_SHARE * request.policy().cyaPerFc() * ceiling;
		Double minimum = assessment.fcMinimum();
		boolean noDosePossible = minimum != null && Assessor.minimumReachesCeiling(minimum, ceiling);
		double limit = pool.indoor() ? Math.max(INDOOR_CYA, range.acceptableHigh())
				: (pool.surface() == Surface.SOFT_SIDED) ? Math.min(SOFT_SIDED_CYA, range.acceptableHigh()) : range.acceptableHigh();
		if (cya > limit + 1e-9 || noDosePossible) {
			double target = pool.indoor() ? Math.max(range.idealHigh(), INDOOR_CYA / 2) : Math.min(range.idealHigh(), cyaForCeiling);
			if (cya > target) {
				causes.add(new Cause(Level.CYA, cya, target, 0, true));
			}
		}
	}

	private static void high(PoolFacts pool, Readings readings, Assessment assessment, Level level, List<Cause> causes,
			List<Reason> notes) {
		Double now = readings.value(level);
		Range range = pool.targets().range(level);
		if (now == null || range == null) {
			return;
		}
		LevelState index = assessment.state(Level.SATURATION_INDEX);
		boolean scaling = level == Level.CH && now > range.idealHigh() && index != null && index.state() == LevelState.State.OUT_OF_RANGE
				&& index.direction() == LevelState.Direction.HIGH;
		double limit = (level == Level.CH) ? 0.5 * (range.idealHigh() + range.acceptableHigh()) : range.acceptableHigh();
		if (now <= limit + 1e-9 && !scaling) {
			return;
		}
		Double fill = pool.fill().value(level);
		double fillLevel = (fill != null) ? fill : (level == Level.CH) ? 0 : AssumedLevels.FILL_SALT;
		if (fillLevel >= range.idealHigh() - 1e-9) {
			notes.add(Reason.of("replace.fill-no-help", Term.of(level), Term.of(level, now), Term.of(level, fillLevel)));
			return;
		}
		causes.add(new Cause(level, now, range.idealHigh(), fillLevel, fill != null));
	}

	private static List<Reason> cautions(PoolFacts pool, double share, boolean fillKnown, boolean testedToday) {
		List<Reason> cautions = new ArrayList<>();
		if (!testedToday) {
			cautions.add(Reason.of("drain.test-first"));
		}
		boolean spa = pool.body() == BodyOfWater.SPA;
		if (share > ONE_DRAIN && !spa) {
			cautions.add(Reason.of("drain.in-parts"));
		}
		cautions.add(Reason.of(spa ? "drain.spa" : pool.surface().lined() ? "drain.liner"
				: (pool.surface() == Surface.FIBREGLASS) ? "drain.fibreglass" : "drain.groundwater"));
		if (pool.surface().cementBound() && !spa) {
			cautions.add(Reason.of("drain.plaster-heat", Term.of(Level.TEMPERATURE, PLASTER_CELSIUS)));
		}
		cautions.add(Reason.of("drain.power-off"));
		cautions.add(Reason.of("drain.where-to"));
		if (!fillKnown) {
			cautions.add(Reason.of("drain.fill-unknown"));
		}
		cautions.add(Reason.of("drain.test-after"));
		return cautions;
	}

}
