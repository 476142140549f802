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
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.season.SeasonValue;
import org.meniscus.water.season.State;

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

	/** From here on scale is a reason for new water, below it one for acid, CH ppm: row high_ch of the trade table. */
	private static final double SCALING_CH = 600;

	/** Scale is a matter of acid again from here down, ppm; common practice, no source. */
	private static final double UNSCALED_CH = 500;

	private static final double HALF = 0.5;

	/** Codes of cautions that ask for several drains begin so. */
	private static final String PARTED = "drain.a-third-";

	private static final List<Level> SIDE_EFFECTS = List.of(Level.PH, Level.TA, Level.CH, Level.SALT);

	/** Less is not worth a visit; common practice, no source. */
	private static final double LEAST_SHARE = 1.0 / 6;

	/** The same where water is scarce: within the error of the tests; common practice, no source. */
	private static final double LEAST_OF_SCARCE = 0.1;

	/** A small soft-sided pool is refilled rather than drained in part from here, CYA ppm. */
	private static final double SOFT_SIDED_CYA = 60;

	/** Indoors no CYA is wanted; below this it is let be. Common practice, no source. */
	private static final double INDOOR_CYA = 30;

	/** Dissolved solids above those of the fill water, ppm: start-up value + 1500, ANSI/APSP-11, from memory. */
	private static final double SOLIDS_ABOVE_FILL = 1500;

	/** Bare plaster cracks in air hotter than 85 °F; common practice, no source. */
	private static final double PLASTER_CELSIUS = (85 - 32) / 1.8;

	/** The level may stand anywhere from target to limit afterwards. */
	private record Cause(Level level, double now, double limit, double target, double fill, boolean fillKnown) {

		double share(double wanted) {
			return Math.max(0, Math.min(1, (this.now - wanted) / (this.now - this.fill)));
		}

		/** What this cause says of a drain that may be larger or smaller than it alone would take. */
		Reason reason(double share) {
			double own = Math.min(share, share(this.target));
			return Reason.of("replace." + Wording.code(this.level), Term.of(this.level, this.now),
					Term.of(this.level, this.now + own * (this.fill - this.now)), new Term.Share(own));
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

	/** @param season what CYA and CH are worth; null where none prices them: then levels are brought to their ideal range */
	static Recommendation recommend(PlanRequest request, Assessment assessment, PoolWater water, double litres,
			@Nullable SeasonValue season) {
		List<Reason> notes = new ArrayList<>();
		return new Recommendation(replacement(request, assessment, water, litres, season, notes), notes);
	}

	private static @Nullable WaterReplacement replacement(PlanRequest request, Assessment assessment, PoolWater water, double litres,
			@Nullable SeasonValue season, List<Reason> notes) {
		PoolFacts pool = request.pool();
		List<Cause> causes = new ArrayList<>();
		boolean scarce = request.policy().costs().waterScarce();
		cya(request, assessment, causes);
		high(request, assessment, Level.CH, causes, notes);
		if (pool.sanitizer() == Sanitizer.SALT_CELL) {
			high(request, assessment, Level.SALT, causes, notes);
		}
		else {
			solids(request, assessment, causes, notes);
		}
		boolean spa = pool.body() == BodyOfWater.SPA;
		if (scarce) {
			if (!spa && leastShare(causes) < LEAST_OF_SCARCE) {
				causes.clear();
			}
			save(request, causes, notes);
		}
		testAgainFirst(request.readings(), causes, notes);
		boolean foam = spa && request.situation() == Situation.FOAM;
		double paying = (causes.isEmpty() && notes.isEmpty() && season != null && !scarce) ? payingShare(request, water, season) : 0;
		if (causes.isEmpty() && !foam && paying == 0) {
			return null;
		}
		// A spa is emptied: a part of its little water is no less work.
		double share = spa ? 1 : (paying > 0) ? paying : scarce ? leastShare(causes) : leastCostShare(causes, state(water), season);
		List<Reason> reasons = new ArrayList<>(causes.stream().map(cause -> cause.reason(share)).toList());
		if (paying > 0) {
			reasons.add(Reason.of("replace.pays", Term.of(Level.CYA, water.water().cyanuricAcid()),
					Term.of(Level.CH, water.water().calciumHardness()), new Term.Share(share)));
		}
		side(pool, water, water.afterReplacing(pool.fill(), share), causes, reasons);
		if (foam) {
			reasons.add(Reason.of("replace.foam"));
		}
		boolean fillKnown = causes.stream().allMatch(Cause::fillKnown);
		boolean testedToday = causes.stream().allMatch(cause -> request.readings().value(cause.level()) != null);
		return new WaterReplacement(reasons, share, -Math.log(1 - Math.min(share, MAX_SHARE)), share * litres, spa ? 1 : drains(share),
				water.afterReplacing(pool.fill(), share).levels(),
				cautions(pool, share, request.readings().celsius(), fillKnown, testedToday));
	}

	/** Scarce water: what builds up above its ideal range is met with another product before it asks for other water. */
	private static void save(PlanRequest request, List<Cause> causes, List<Reason> notes) {
		for (Level level : List.of(Level.CYA, Level.CH)) {
			Double now = request.effectiveReadings().value(level);
			Range range = request.pool().targets().range(level);
			if (now != null && range != null && now > range.idealHigh() && request.pool().body() == BodyOfWater.POOL
					&& request.pool().sanitizer().usesChlorine() && causes.stream().noneMatch(cause -> cause.level() == level)) {
				notes.add(Reason.of("replace.save-" + Wording.code(level), Term.of(level, now),
						Term.of(level, replacedFrom(request, range, level))));
			}
		}
	}

	/** Above it scarce water is replaced: at least {@link #LEAST_OF_SCARCE} of it, or no dose is possible. */
	private static double replacedFrom(PlanRequest request, Range range, Level level) {
		if (level == Level.CYA) {
			return Math.min(cyaLimit(request, range) / (1 - LEAST_OF_SCARCE), request.policy().cyaPerFc() * request.policy().fcCeiling());
		}
		Double fill = request.pool().fill().value(level);
		return (range.acceptableHigh() - LEAST_OF_SCARCE * ((fill != null) ? fill : 0)) / (1 - LEAST_OF_SCARCE);
	}

	/** What else the fill water brings along, where it is known and a test could tell. */
	private static void side(PoolFacts pool, PoolWater now, PoolWater after, List<Cause> causes, List<Reason> reasons) {
		for (Level level : SIDE_EFFECTS) {
			Double before = now.levels().value(level);
			Double then = after.levels().value(level);
			boolean cause = causes.stream().anyMatch(other -> other.level() == level);
			if (before != null && then != null && !cause && pool.fill().value(level) != null
					&& Math.abs(then - before) > TestPrecision.usual(level).standardDeviation(before)) {
				reasons.add(Reason.of("replace.side", Term.of(level), Term.of(level, before), Term.of(level, then)));
			}
		}
	}

	/** Water is not replaced on a strip of today: what it shows is tested again first. */
	private static void testAgainFirst(Readings readings, List<Cause> causes, List<Reason> notes) {
		for (Cause cause : List.copyOf(causes)) {
			if (readings.value(cause.level()) != null && !readings.tests().decidesDrain(cause.level())) {
				causes.remove(cause);
				notes.add(Reason.of("replace.drops-first", Term.of(cause.level()), Term.of(cause.level(), cause.now())));
			}
		}
	}

	/** What just brings every level inside its limit. */
	private static double leastShare(List<Cause> causes) {
		return causes.stream().mapToDouble(cause -> cause.share(cause.limit())).max().orElse(0);
	}

	/** Of what brings every level inside its limit and at most to its target, the share that costs least in the time ahead. */
	private static double leastCostShare(List<Cause> causes, State state, @Nullable SeasonValue season) {
		double least = leastShare(causes);
		double most = 0;
		for (Cause cause : causes) {
			most = Math.max(most, cause.share(cause.target()));
		}
		// Less is within the error of the tests.
		most = Math.max(most, LEAST_SHARE);
		if (season == null) {
			return most;
		}
		double best = most;
		least = Math.min(most, Math.max(least, LEAST_SHARE));
		for (double share : new double[]{ least, ONE_DRAIN, HALF }) {
			if (share >= least - 1e-9 && share <= most && season.netCostOfReplacing(state, share, drains(share)) < season
				.netCostOfReplacing(state, best, drains(best))) {
				best = share;
			}
		}
		return best;
	}

	/**
	 * The share whose replacing costs no more than it saves, where no level asks for it by itself; zero for none. It has to pay where CYA is
	 * lower than tested by the error of a test, too.
	 */
	private static double payingShare(PlanRequest request, PoolWater water, SeasonValue season) {
		Double cya = request.readings().cya();
		if (cya == null || request.situation() != Situation.ROUTINE || !request.readings().tests().decidesDrain(Level.CYA)) {
			return 0;
		}
		State tested = state(water);
		State lower = new State(Math.max(0, tested.cya() - request.readings().tests().precision(Level.CYA).standardDeviation(cya)),
				tested.ch());
		double best = 0;
		for (double share : new double[]{ ONE_DRAIN, HALF }) {
			boolean better = best == 0 || season.netCostOfReplacing(tested, share, drains(share)) < season.netCostOfReplacing(tested, best,
					drains(best));
			if (better && season.paysToReplace(tested, share, drains(share)) && season.paysToReplace(lower, share, drains(share))) {
				best = share;
			}
		}
		return best;
	}

	private static State state(PoolWater water) {
		return new State(water.water().cyanuricAcid(), water.water().calciumHardness());
	}

	/** Drains of at most a third that come to this share. */
	private static int drains(double share) {
		return Math.max(1, (int) Math.ceil(Math.log(1 - Math.min(share, MAX_SHARE)) / Math.log(1 - ONE_DRAIN) - 1e-9));
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
		double cyaForCeiling = Assessor.cyaToHold(request.policy());
		Double minimum = assessment.fcMinimum();
		boolean noDosePossible = minimum != null && Assessor.minimumPassesCeiling(minimum, ceiling);
		boolean scarce = request.policy().costs().waterScarce();
		double limit = cyaLimit(request, range);
		if (cya > limit + 1e-9 || noDosePossible) {
			double target = pool.indoor() ? Math.max(range.idealHigh(), INDOOR_CYA / 2) : Math.min(range.idealHigh(), cyaForCeiling);
			if (cya > target) {
				double enough = (scarce && !noDosePossible) ? limit : Math.min(limit, cyaForCeiling);
				causes.add(new Cause(Level.CYA, cya, Math.max(target, enough), target, 0, true));
			}
		}
	}

	/** Above it water is replaced, ppm. */
	private static double cyaLimit(PlanRequest request, Range range) {
		boolean refilled = request.pool().surface() == Surface.SOFT_SIDED && !request.policy().costs().waterScarce();
		return request.pool().indoor() ? Math.max(INDOOR_CYA, range.acceptableHigh())
				: refilled ? Math.min(SOFT_SIDED_CYA, range.acceptableHigh()) : range.acceptableHigh();
	}

	/** Dissolved solids alone are no reason: only that far above the fill water and with water that is cloudy, foams or stings. */
	private static void solids(PlanRequest request, Assessment assessment, List<Cause> causes, List<Reason> notes) {
		Double solids = request.readings().tds();
		Double known = request.pool().fill().value(Level.TDS);
		double fill = (known != null) ? known : AssumedLevels.FILL_SALT;
		double limit = fill + SOLIDS_ABOVE_FILL;
		if (solids == null || solids <= limit + 1e-9) {
			return;
		}
		if (request.situation() == Situation.CLOUDY || request.situation() == Situation.FOAM
				|| PoolCondition.COMBINED_HIGH.holds(request, assessment)) {
			causes.add(new Cause(Level.TDS, solids, limit, limit, fill, known != null));
		}
		else {
			notes.add(Reason.of("note.solids-alone", Term.of(Level.TDS, solids), Term.of(Level.TDS, limit)));
		}
	}

	private static void high(PlanRequest request, Assessment assessment, Level level, List<Cause> causes, List<Reason> notes) {
		PoolFacts pool = request.pool();
		Double now = request.effectiveReadings().value(level);
		Range range = pool.targets().range(level);
		if (now == null || range == null) {
			return;
		}
		LevelState index = assessment.state(Level.SATURATION_INDEX);
		boolean scaling = level == Level.CH && now >= Math.max(range.idealHigh(), SCALING_CH) && index != null
				&& index.state() == LevelState.State.OUT_OF_RANGE && index.direction() == LevelState.Direction.HIGH;
		double limit = (level == Level.CH && !request.policy().costs().waterScarce()) ? SeasonValue.hardnessLimit(range)
				: range.acceptableHigh();
		// Scarce water is kept: less pH and alkalinity stop the scale.
		if (now <= limit + 1e-9 && (!scaling || request.policy().costs().waterScarce())) {
			return;
		}
		Double fill = pool.fill().value(level);
		double fillLevel = (fill != null) ? fill : (level == Level.CH) ? 0 : AssumedLevels.FILL_SALT;
		if (fillLevel >= range.idealHigh() - 1e-9) {
			notes.add(Reason.of("replace.fill-no-help", Term.of(level), Term.of(level, now), Term.of(level, fillLevel)));
			return;
		}
		// Salt and solids cost nothing that a season would weigh against new water.
		double enough = request.policy().costs().waterScarce() ? limit : (level != Level.CH) ? range.idealHigh()
				: scaling ? Math.min(limit, Math.max(range.idealHigh(), UNSCALED_CH)) : limit;
		causes.add(new Cause(level, now, enough, range.idealHigh(), fillLevel, fill != null));
	}

	/** Of the first drain: where the shell or liner suffers from a large one, a third. */
	double firstShare() {
		return inParts() ? ONE_DRAIN : this.share;
	}

	/** Whether one drain may not take it all. */
	public boolean inParts() {
		return this.cautions.stream().anyMatch(caution -> caution.code().startsWith(PARTED));
	}

	/** Why no more than a third goes at once: ground water under a liner or a shell without weight, heat on bare plaster; null for no reason. */
	private static @Nullable String parted(PoolFacts pool, double share, @Nullable Double celsius) {
		if (share <= ONE_DRAIN + 1e-9 || pool.body() == BodyOfWater.SPA) {
			return null;
		}
		return pool.surface().lined() ? "liner" : (pool.surface() == Surface.FIBREGLASS) ? "fibreglass"
				: (pool.surface().cementBound() && celsius != null && celsius >= PLASTER_CELSIUS) ? "heat" : null;
	}

	private static List<Reason> cautions(PoolFacts pool, double share, @Nullable Double celsius, boolean fillKnown,
			boolean testedToday) {
		List<Reason> cautions = new ArrayList<>();
		if (!testedToday) {
			cautions.add(Reason.of("drain.test-first"));
		}
		boolean spa = pool.body() == BodyOfWater.SPA;
		String parted = parted(pool, share, celsius);
		if (parted != null) {
			cautions.add(Reason.of(PARTED + parted, new Term.Number(drains(share), 0)));
		}
		else if (share > ONE_DRAIN && !spa) {
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
