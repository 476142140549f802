package org.meniscus.water.drift;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.units.XorShiftRandom;

/** Takes the members of a {@link ForecastEnsemble} through its days, one by one. */
final class EnsembleSimulation {

	/** So that the rain to come is not that of the weeks before. */
	private static final int RAIN_OFFSET_WEEKS = 1000;

	private final LevelParticleFilter filter;

	private final int days;

	private final @Nullable Scenario scenario;

	private final ForecastEnsemble ensemble;

	/** Of its own, so that a forecast does not change what the filter does next, and scenarios compare like with like. */
	private final XorShiftRandom random;

	private final DailyBalance balance;

	private final FutureDosing dosing;

	/** What is on record for days to come, ppm by level and day. */
	private final double[][] recorded = new double[SlowLevels.COUNT][];

	private final double[] low = new double[SlowLevels.COUNT];

	private final double[] high = new double[SlowLevels.COUNT];

	private final double[] rain;

	private final double[] backwashes;

	/** Of the member: level, level if the service puts nothing in, rate of an unrecorded source. */
	private final double[] now = new double[SlowLevels.COUNT];

	private final double[] untouched = new double[SlowLevels.COUNT];

	private final double[] unrecordedRate = new double[SlowLevels.COUNT];

	private final double[] fillWater = new double[SlowLevels.COUNT];

	private double doseFactor;

	/** What is drawn from a particle's joint distribution. */
	private final int[] components;

	private final double[] normals;

	/** By component. */
	private final double[] drawn;

	/** Cholesky factor of the particle of the last member. */
	private double[][] factor = new double[0][];

	private int factored = -1;

	/** Expected fill water from the first to the last day, share of the volume. */
	private double filled;

	/** Expected free chlorine by product, ppm on the recorded volume; only counted for a scenario. */
	private final double[] chlorine = new double[DoseKind.values().length];

	EnsembleSimulation(LevelParticleFilter filter, int days, @Nullable Scenario scenario, ForecastEnsemble ensemble) {
		this.filter = filter;
		this.days = days;
		this.scenario = scenario;
		this.ensemble = ensemble;
		this.random = new XorShiftRandom(77 + filter.day);
		this.balance = new DailyBalance(filter.pool.autofill(), filter.weather, filter.parameters, filter.day, days);
		this.dosing = new FutureDosing(filter, days, scenario);
		this.rain = new double[days];
		this.backwashes = new double[days];
		java.util.Arrays.fill(backwashes, filter.backwashRate());
		this.components = filter.state.driving();
		this.normals = new double[components.length];
		this.drawn = new double[components.length];
		for (int level : filter.followed) {
			recorded[level] = filter.dosing.total(level, filter.day, days);
			Range range = filter.pool.ranges().get(SlowLevels.ALL.get(level));
			low[level] = (range != null) ? range.acceptableLow() : Double.NEGATIVE_INFINITY;
			high[level] = (range != null) ? range.acceptableHigh() : Double.POSITIVE_INFINITY;
		}
	}

	void run(int member, int particle) {
		drawState(particle, member % 2 == 1);
		dosing.draw(particle, doseFactor, fillWater, random);
		for (int level : filter.followed) {
			record(level, member, 0);
		}
		for (int d = 0; d < days; d++) {
			rain[d] = filter.weather.rain[Weather.rainScenario(member,
					(filter.day + d - d % 7) / 7 + RAIN_OFFSET_WEEKS)][balance.dayOfYear[d]];
		}
		balance.run(particle, filter.height[particle], rain, backwashes);
		filled += balance.totalFilled() / ensemble.size;
		double tabletCyaLimit = dosing.tabletCyaLimit(now[SlowLevels.CYA]);
		for (int d = 0; d < days;) {
			int next = dosing.startSegment(d);
			countChlorine(d, next);
			double drained = drainedShare(d);
			for (int level : filter.followed) {
				now[level] += drained * (dosing.fill[level] - now[level]);
				runSegment(level, member, particle, d, next, (level == SlowLevels.CYA) ? tabletCyaLimit : Double.POSITIVE_INFINITY);
			}
			d = next;
		}
		for (int level : filter.followed) {
			ensemble.recordBaseline(level, member, untouched[level]);
		}
	}

	/**
	 * Levels, effect of doses, fill water and unrecorded source of a member, jointly.
	 *
	 * @param antithetic the other way from the member before, so that the mean of all members is steadier
	 */
	private void drawState(int particle, boolean antithetic) {
		JointNormalParticles state = filter.state;
		if (particle != factored) {
			factor = state.cholesky(components, particle);
			factored = particle;
		}
		for (int k = 0; k < components.length; k++) {
			normals[k] = antithetic ? -normals[k] : random.normal();
			double value = state.mean(components[k], particle);
			for (int j = 0; j <= k; j++) {
				value += factor[k][j] * normals[j];
			}
			drawn[components[k]] = Math.max(0, value);
		}
		doseFactor = Math.max(0.05, drawn[state.doseFactor]);
		for (int level : filter.followed) {
			now[level] = drawn[state.level(level)];
			untouched[level] = now[level];
			unrecordedRate[level] = filter.unrecordedSource.raises(level, particle) ? drawn[state.unrecordedRate] : 0;
			fillWater[level] = (state.fill(level) != JointNormalParticles.NONE) ? drawn[state.fill(level)] : 0;
		}
	}

	/** One level of one member through days in which the rates stay the same. */
	private void runSegment(int level, int member, int particle, int from, int to, double tabletCyaLimit) {
		double fill = dosing.fill[level];
		double going = dosing.rate(level, false);
		double stopped = dosing.rate(level, true);
		boolean plaster = level == SlowLevels.CH && filter.parameters.plaster[particle] > 0;
		int sinceStart = (int) (filter.day - filter.start);
		for (int d = from; d < to; d++) {
			double demand = filter.weather.demand[balance.dayOfYear[d]];
			double own = unrecordedRate[level] * demand + (plaster ? filter.parameters.plasterRelease(particle, sinceStart + d) : 0);
			double service = doseFactor * recorded[level][d] + ((now[level] >= tabletCyaLimit) ? stopped : going) * demand;
			now[level] = balance.next(d, balance.retention(level, d, now[level]), now[level], service + own, fill);
			untouched[level] = balance.next(d, balance.retention(level, d, untouched[level]), untouched[level], own, fill);
			record(level, member, d + 1);
		}
	}

	private void record(int level, int member, int d) {
		double ppm = now[level];
		ensemble.record(level, member, d, ppm);
		if (ppm < low[level]) {
			ensemble.recordExit(level, RangeEnd.LOW, member, d);
		}
		if (ppm > high[level]) {
			ensemble.recordExit(level, RangeEnd.HIGH, member, d);
		}
	}

	private void countChlorine(int from, int to) {
		if (scenario == null) {
			return;
		}
		double demand = 0;
		for (int d = from; d < to; d++) {
			demand += filter.weather.demand[balance.dayOfYear[d]];
		}
		for (int kind = 0; kind < chlorine.length; kind++) {
			chlorine[kind] += dosing.chlorineRate[kind] * demand / ensemble.size;
		}
	}

	/** Share of the water that the scenario replaces on a day. */
	private double drainedShare(int d) {
		double retained = 1;
		for (Scenario.Change change : changes()) {
			if (change instanceof Scenario.Change.PartialDrain drain && Math.max(0, drain.day() - filter.day) == d) {
				retained *= 1 - drain.share();
			}
		}
		return 1 - retained;
	}

	private List<Scenario.Change> changes() {
		return (scenario != null) ? scenario.changes() : List.of();
	}

	/** @return null when the volume is not known */
	Scenario.@Nullable Cost cost(Scenario.Prices prices) {
		Double volume = filter.pool.volume();
		if (volume == null) {
			return null;
		}
		double chemicals = 0;
		for (DoseKind kind : DoseKind.values()) {
			// ppm of so many cubic metres are grams
			chemicals += chlorine[kind.ordinal()] * volume / 1000 * prices.chlorine().getOrDefault(kind, 0.0);
		}
		double water = filled;
		double equipment = 0;
		int visits = 0;
		for (Scenario.Change change : changes()) {
			if (change.day() - filter.day > days) {
				continue;
			}
			if (change instanceof Scenario.Change.PartialDrain drain) {
				water += drain.share();
				visits++;
			}
			else if (change instanceof Scenario.Change.Cell cell) {
				equipment += cell.price();
			}
		}
		return new Scenario.Cost(chemicals, water * volume * prices.water(), visits * prices.visit(), equipment);
	}

}
