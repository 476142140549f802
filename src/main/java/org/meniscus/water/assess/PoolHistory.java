package org.meniscus.water.assess;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.ChlorineDemand;
import org.meniscus.water.demand.ChlorineDemandEstimator;
import org.meniscus.water.demand.CyaEstimate;
import org.meniscus.water.demand.DemandInterval;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.demand.PhDriftEstimator;
import org.meniscus.water.demand.PhInterval;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.demand.PoolKind;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.AssumedLevels;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingBounds;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.Volume;

/**
 * What was found and done at one pool, read as intervals between visits. Levels that a visit did not test stand as they were last
 * known, with what was dosed since; CYA as estimated from all its tests.
 */
public final class PoolHistory {

	/** A longer gap holds too much that nobody recorded. */
	private static final int MAX_INTERVAL_DAYS = 21;

	/** Number of newest intervals from which the level the pool is kept at is estimated. */
	private static final int RECENT_INTERVALS = 4;

	private static final int WEEK = 7;

	/** Start pH of a week's drift; the middle of the usual range. */
	private static final double USUAL_PH = 7.5;

	/** Smaller drifts are not reported, pH a week. */
	private static final double MIN_DRIFT = 0.05;

	/**
	 * One visit.
	 *
	 * @param day counted from any day
	 * @param waterReplaced share replaced before dosing, null when none was
	 */
	public record Visit(long day, Readings readings, Situation situation, List<RecordedDose> doses, @Nullable Double waterReplaced) {

		public Visit {
			Objects.requireNonNull(readings);
			Objects.requireNonNull(situation);
			doses = List.copyOf(doses);
		}

	}

	/** Tablets put in on a day, as FC. */
	private record TabletDose(long day, double fc) {

		double dissolvedBetween(long from, long to) {
			long overlap = Math.min(to, day + DissolvingTablets.DISSOLVING_DAYS) - Math.max(from, day);
			return Math.max(0, overlap) * fc / DissolvingTablets.DISSOLVING_DAYS;
		}

	}

	/** A visit left behind. @param water the water then, null when unknown @param fcDosed FC dosed, ppm */
	private record WaterAfterVisit(Visit visit, @Nullable Water water, double fcDosed, double celsius) {
	}

	private final PoolFacts pool;

	/** Null when nobody has said. */
	private final @Nullable Volume volume;

	private final List<DemandInterval> intervals = new ArrayList<>();

	private final List<PhInterval> phIntervals = new ArrayList<>();

	private final List<TabletDose> tablets = new ArrayList<>();

	private Readings lastKnown = Readings.none();

	/** Null until it was tested between the marks. */
	private @Nullable CyaEstimate cyaEstimate;

	private long lastDay;

	private @Nullable WaterAfterVisit lastVisit;

	/** @param visits oldest first, today's with what was found so far */
	public PoolHistory(PoolFacts pool, List<Visit> visits) {
		this.pool = visits.isEmpty() ? pool : pool.withSetting(visits.get(visits.size() - 1).readings());
		this.volume = pool.volume();
		visits.forEach(this::add);
	}

	/** Forecast from the visits; without them, or without a volume, what is expected of a pool of its kind. */
	public PoolForecast forecast() {
		if (!pool.sanitizer().usesChlorine()) {
			return PoolForecast.expected(pool);
		}
		Water now = PoolWater.of(pool, lastKnown).water();
		PoolKind kind = PoolForecast.poolKind(pool, now.temperature().celsius());
		ChlorineDemand demand = ChlorineDemandEstimator.of(kind, intervals, now.temperature().celsius(), now.cyanuricAcid());
		double fed = (kind.feed() == PoolKind.Feed.CELL) ? 0 : demand.supply();
		PoolForecast expected = PoolForecast.expected(pool);
		return expected.withDemand(demand)
			.withPhDrift(PhDriftEstimator.of(kind, phIntervals, fed))
			.withSeason(expected.daysToSeasonEnd(), demand.use(usualFc()).middle(), Map.of())
			.withTablets(dissolvingTablets());
	}

	/** Null where a plan does not decide on tablets: nobody may put a floater there, or what fills the feeder is not on record. */
	private @Nullable DissolvingTablets dissolvingTablets() {
		boolean planned = pool.sanitizer() == Sanitizer.FLOATER || (pool.sanitizer() == Sanitizer.TABLET_FEEDER && !tablets.isEmpty());
		if (!planned) {
			return null;
		}
		DissolvingTablets dissolving = DissolvingTablets.NONE;
		for (TabletDose fed : tablets) {
			double left = (lastVisit != null) ? fed.dissolvedBetween(lastVisit.visit().day(), fed.day() + DissolvingTablets.DISSOLVING_DAYS)
					: 0;
			if (left > 0) {
				dissolving = new DissolvingTablets(dissolving.undissolved() + left,
						dissolving.perDay() + fed.fc() / DissolvingTablets.DISSOLVING_DAYS);
			}
		}
		return dissolving;
	}

	/** The water as the last visit left it; empty when unknown. */
	public Optional<Water> waterAfterLastVisit() {
		return Optional.ofNullable(lastVisit).map(WaterAfterVisit::water);
	}

	/** The same to be read: chlorine used or held, and the drift of pH. Empty where free chlorine is not what disinfects. */
	public List<Reason> describe() {
		if (!pool.sanitizer().usesChlorine()) {
			return List.of();
		}
		PoolForecast forecast = forecast();
		return List.of(describeChlorine(forecast.demand()), describePh(forecast));
	}

	private Reason describeChlorine(ChlorineDemand demand) {
		boolean held = ChlorineDemandEstimator.estimatesSupply(PoolForecast.poolKind(pool, AssumedLevels.CELSIUS), intervals);
		Band band = held ? demand.after(usualFc(), 0, WEEK) : demand.use(usualFc());
		String code = "outlook." + (held ? "held" : "use") + (demand.learnt() ? "-learnt" : "-expected");
		Term low = new Term.Number(band.low(), Level.FC.decimals());
		Term high = new Term.Number(band.high(), Level.FC.decimals());
		return demand.learnt() ? Reason.of(code, Term.of(Level.FC, band.middle()), low, high, new Term.Number(demand.intervals(), 0))
				: Reason.of(code, Term.of(Level.FC, band.middle()), low, high);
	}

	private Reason describePh(PoolForecast forecast) {
		Water now = PoolWater.of(pool, lastKnown).water().withPh(USUAL_PH).withFreeChlorine(usualFc());
		OptionalDouble expected = forecast.phDrift().expectedPh(now, 0, WEEK);
		if (expected.isEmpty()) {
			return Reason.of("outlook.ph-unknown");
		}
		double change = expected.getAsDouble() - USUAL_PH;
		if (Math.abs(change) < MIN_DRIFT) {
			return Reason.of("outlook.ph-holds");
		}
		return Reason.of((change > 0) ? "outlook.ph-rises" : "outlook.ph-falls", new Term.Difference(Level.PH, Math.abs(change)),
				Term.of(Level.PH, USUAL_PH));
	}

	/** FC the pool is kept at: lately in the mean of both ends, before that the middle of its range. */
	private double usualFc() {
		if (intervals.isEmpty()) {
			Range range = pool.targets().range(Level.FC);
			return (range != null) ? 0.5 * (range.idealLow() + range.idealHigh()) : 3;
		}
		return intervals.subList(Math.max(0, intervals.size() - RECENT_INTERVALS), intervals.size())
			.stream()
			.mapToDouble(interval -> 0.5 * (interval.startFc() + interval.endFc()))
			.average()
			.orElseThrow();
	}

	private void add(Visit visit) {
		if (!isPossible(visit.readings())) {
			// The test was entered wrongly.
			lastVisit = null;
			return;
		}
		CyaEstimate estimate = estimateCya(visit);
		Readings found = updateLastKnown((estimate != null) ? visit.readings().toBuilder().cya(estimate.ppm()).build() : visit.readings());
		double celsius = PoolWater.of(pool, found).water().temperature().celsius();
		WaterAfterVisit before = lastVisit;
		long days = (before != null) ? visit.day() - before.visit().day() : 0;
		if (before != null && before.water() != null && days >= 1 && days <= MAX_INTERVAL_DAYS) {
			addInterval(before, before.water(), visit, days, 0.5 * (before.celsius() + celsius));
		}
		lastVisit = applyDoses(visit, found, celsius);
		lastKnown = updateLastKnown(found, lastVisit.water());
		cyaEstimate = (estimate != null && lastVisit.water() != null) ? estimate.withPpm(lastVisit.water().cyanuricAcid()) : estimate;
		lastDay = visit.day();
	}

	/** Today's by all tests so far; null when it was never tested, or stood beyond the marks. */
	private @Nullable CyaEstimate estimateCya(Visit visit) {
		CyaEstimate today = (cyaEstimate == null) ? null
				: cyaEstimate.withPpm(cyaEstimate.ppm() + fcOfTablets(lastDay, visit.day()) * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE)
					.predict(visit.day() - lastDay, (lastKnown.celsius() != null) ? lastKnown.celsius() : AssumedLevels.CELSIUS);
		Double tested = visit.readings().cya();
		if (tested == null) {
			return today;
		}
		if (visit.readings().cyaQualifier() != ReadingQualifier.EXACT) {
			return null;
		}
		return (today == null) ? CyaEstimate.of(tested) : today.update(tested);
	}

	/** What tablets brought, ppm. */
	private double fcOfTablets(long from, long to) {
		return tablets.stream().mapToDouble(one -> one.dissolvedBetween(from, to)).sum();
	}

	private void addInterval(WaterAfterVisit before, Water start, Visit visit, long days, double celsius) {
		Double tested = before.visit().readings().fc();
		Double found = visit.readings().fc();
		if (tested == null || found == null || found < 0) {
			return;
		}
		boolean unusual = !usual(before.visit().situation()) || !usual(visit.situation()) || visit.readings().site().unusual();
		double fed = fcOfTablets(before.visit().day(), visit.day());
		Double made = PoolForecast.cellSupply(pool, visit.readings().toBuilder().celsius(celsius).build());
		double left = start.freeChlorine();
		double deviation = ChlorineDemandEstimator.startDeviation(tested, before.fcDosed());
		intervals.add(new DemandInterval(days, left, deviation, found, fed + ((made != null) ? made * days : 0), celsius,
				start.cyanuricAcid(), unusual));
		Double ph = visit.readings().ph();
		if (ph != null && ph > 0 && ph < 14 && !unusual && knowsPh(before.visit().readings())
				&& visit.readings().phQualifier() == ReadingQualifier.EXACT) {
			phIntervals.add(new PhInterval(start, left - found, fed, days, ph));
		}
	}

	private boolean knowsPh(Readings start) {
		return start.ph() != null && start.phQualifier() == ReadingQualifier.EXACT && (start.ta() != null || lastKnown.ta() != null);
	}

	private static boolean usual(Situation situation) {
		return situation == Situation.ROUTINE || situation == Situation.WEEKLY_REFRESH;
	}

	/**
	 * The water just after the doses; null in the record when unknown: readings that contradict each other, a dose of unknown
	 * strength or beyond any pool, a chlorine remover.
	 */
	private WaterAfterVisit applyDoses(Visit visit, Readings found, double celsius) {
		if (volume == null) {
			return new WaterAfterVisit(visit, null, 0, celsius);
		}
		double litres = volume.litres();
		PoolWater water = PoolWater.of(pool, found);
		if (water.contradictory()) {
			return new WaterAfterVisit(visit, null, 0, celsius);
		}
		if (visit.waterReplaced() != null) {
			water = water.afterReplacing(pool.fill(), visit.waterReplaced());
		}
		double fcDosed = 0;
		double added = 0;
		for (RecordedDose dose : visit.doses()) {
			Product product = Product.usual("", dose.kind()).withStrength(dose.strength(), dose.basis());
			ActiveIngredient ingredient = dose.kind().ingredient();
			if (ingredient.removesChlorine() || (ingredient.chlorine() && !product.strengthKnown())) {
				return new WaterAfterVisit(visit, null, 0, celsius);
			}
			if (ingredient == ActiveIngredient.TRICHLOR && dose.kind().form() == PhysicalForm.TABLET) {
				tablets.add(new TabletDose(visit.day(), ProductEffects.concentration(product, dose.amount(), litres)));
			}
			else if (ingredient.chlorine() || ProductEffects.computable(product)) {
				added += ProductEffects.concentration(product, dose.amount(), litres);
				if (added > PoolWater.MAX_ADDED) {
					return new WaterAfterVisit(visit, null, 0, celsius);
				}
				double before = water.water().freeChlorine();
				water = water.after(product, dose.amount(), litres);
				fcDosed += Math.max(0, water.water().freeChlorine() - before);
			}
		}
		return new WaterAfterVisit(visit, water.water(), fcDosed, celsius);
	}

	/** Every reading is one that a test can show. */
	private boolean isPossible(Readings readings) {
		for (Level level : readings.tested()) {
			Double value = readings.value(level);
			ReadingBounds bounds = ReadingBounds.of(level, pool.body());
			if (value != null && bounds != null && !(value >= bounds.hardMin() && value <= bounds.hardMax())) {
				return false;
			}
		}
		return true;
	}

	/** Readings with what stands in place of what was not tested. */
	private Readings updateLastKnown(Readings tested) {
		return tested.toBuilder()
			.ta(or(tested.ta(), lastKnown.ta()))
			.ch(or(tested.ch(), lastKnown.ch()))
			.cya(or(tested.cya(), lastKnown.cya()), (tested.cya() != null) ? tested.cyaQualifier() : lastKnown.cyaQualifier())
			.salt(or(tested.salt(), lastKnown.salt()))
			.borate(or(tested.borate(), lastKnown.borate()))
			.celsius(or(tested.celsius(), lastKnown.celsius()))
			.build();
	}

	/** What stands from now on: what was known, moved by what was dosed. */
	private static Readings updateLastKnown(Readings found, @Nullable Water dosed) {
		if (dosed == null) {
			return found;
		}
		return found.toBuilder()
			.ta((found.ta() != null) ? Double.valueOf(dosed.totalAlkalinity()) : null)
			.ch((found.ch() != null) ? Double.valueOf(dosed.calciumHardness()) : null)
			.cya((found.cya() != null) ? Double.valueOf(dosed.cyanuricAcid()) : null)
			.salt((found.salt() != null) ? Double.valueOf(dosed.salt()) : null)
			.borate((found.borate() != null) ? Double.valueOf(dosed.borate()) : null)
			.build();
	}

	private static @Nullable Double or(@Nullable Double tested, @Nullable Double fallback) {
		return (tested != null) ? tested : fallback;
	}

}
