package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.meniscus.water.drift.LevelDrift.Causes;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.DatedBand;
import org.meniscus.water.units.XorShiftRandom;

/**
 * Splits the change of each level since the season's start by cause: the balance is run once more through the season with every particle's
 * parameters as they are believed today, and what closes the gap to today's level is unrecorded.
 */
final class DriftAttribution {

	private final LevelParticleFilter filter;

	/** Days since the season's start. */
	private final int days;

	/** Days of {@link #course}: every week, and the last day. */
	private final int[] points;

	private final DailyBalance balance;

	private final double[] rain;

	private final double[] backwashes;

	DriftAttribution(LevelParticleFilter filter) {
		this.filter = filter;
		this.days = (int) (filter.day - filter.seasonStart);
		this.points = new int[days / 7 + 2];
		for (int point = 0; point < points.length; point++) {
			points[point] = Math.min(7 * point, days);
		}
		this.balance = new DailyBalance(filter.pool.autofill(), filter.weather, filter.parameters, filter.seasonStart, days);
		this.rain = new double[days];
		this.backwashes = new double[days];
		for (int d = 0; d < days; d++) {
			backwashes[d] = filter.backwashes.contains(filter.seasonStart + d) ? 1 : 0;
		}
	}

	/** @param past as seen from today, week by week from the season's start */
	record Attribution(Causes causes, List<DatedBand> past) {
	}

	Attribution attribute(int level) {
		double[][] course = new double[points.length][filter.particleCount];
		double[][] parts = new double[filter.particleCount][];
		for (int i = 0; i < filter.particleCount; i++) {
			for (int d = 0; d < days; d++) {
				long week = (filter.seasonStart + d) / 7;
				rain[d] = filter.weather.rain[Weather.rainScenario(i, week)][balance.dayOfYear[d]];
			}
			balance.run(i, 0, rain, backwashes);
			// the rate, in step with demand, that would close the gap between what is on record and what was read
			double none = new Run(level, i, 0).level;
			double one = new Run(level, i, 1).level;
			Run closing = new Run(level, i, (filter.state.mean(filter.state.level(level), i) - none) / Math.max(1e-6, one - none));
			closing.closeGap();
			parts[i] = closing.parts;
			for (int point = 0; point < points.length; point++) {
				course[point][i] = closing.course[point];
			}
		}
		return new Attribution(causes(level, parts), past(level, course));
	}

	/** One level of one particle through the season. */
	private final class Run {

		private final int slowLevel;

		private final int particle;

		private final double fill;

		/** ppm by cause. */
		private final double[] parts = new double[DriftCause.values().length];

		private final double[] course = new double[points.length];

		private double level;

		/** @param unrecordedRate ppm a day at a demand of one */
		Run(int level, int particle, double unrecordedRate) {
			this.slowLevel = level;
			this.particle = particle;
			this.fill = filter.state.fillMean(level, particle);
			this.level = filter.state.mean(filter.state.start(level), particle);
			course[0] = this.level;
			int point = 1;
			for (int d = 0; d < days; d++) {
				drainUnrecorded(d);
				replaceWater(filter.drained.getOrDefault(filter.seasonStart + d, 0.0));
				step(d, unrecordedRate);
				if (d + 1 == points[point]) {
					course[point++] = this.level;
				}
			}
			drainUnrecorded(days);
			if (point < points.length) {
				course[point] = this.level;
			}
		}

		/** As the particle takes it to have been: before the tests of the visit that found it. */
		private void drainUnrecorded(int d) {
			if (filter.changePoints.drainDay[particle] == filter.seasonStart + d) {
				double change = filter.changePoints.share[particle] * (fill - level);
				add(DriftCause.UNRECORDED, change);
				level += change;
			}
		}

		private void add(DriftCause cause, double ppm) {
			parts[cause.ordinal()] += ppm;
		}

		private void replaceWater(double share) {
			add(DriftCause.DILUTION, -share * level);
			add(DriftCause.FILL_WATER, share * fill);
			level += share * (fill - level);
		}

		private void step(int d, double unrecordedRate) {
			double before = level;
			double dose = 0;
			for (DoseKind kind : DoseKind.values()) {
				double ppm = filter.changePoints.doseFactor(particle, filter.seasonStart + d)
						* filter.dosing.dose(kind, slowLevel, filter.seasonStart + d);
				add(DriftCause.of(kind), balance.dosed(d) * ppm);
				dose += ppm;
			}
			double unrecorded = unrecordedRate * filter.weather.demand[balance.dayOfYear[d]];
			int sinceStart = (int) (filter.seasonStart - filter.start) + d;
			double plaster = (slowLevel == SlowLevels.CH) ? filter.parameters.plasterRelease(particle, sinceStart) : 0;
			add(DriftCause.UNRECORDED, balance.dosed(d) * unrecorded);
			add(DriftCause.PLASTER_AND_SCALE, balance.dosed(d) * plaster);
			add((slowLevel == SlowLevels.CH) ? DriftCause.PLASTER_AND_SCALE : DriftCause.BREAKDOWN,
					-before * balance.retained(d) * balance.loss(slowLevel, d, before));
			// water that left took its share along; what is left in the column concentrates or thins with its height
			double outflow = balance.outflowShare(d);
			double byLeak = outflow * Math.min(1, filter.parameters.leak[particle] / balance.outflow(d));
			add(DriftCause.UNRECORDED, -before * byLeak);
			add(DriftCause.DILUTION, -before * (outflow - byLeak));
			// evaporation leaves the level behind, rain thins it: both are made up by the fill water, so they are counted with it
			add(DriftCause.FILL_WATER, balance.filled(d) * fill + before * (balance.retained(d) - (1 - outflow)));
			level = balance.next(d, balance.retention(slowLevel, d, before), before, dose + unrecorded + plaster, fill);
		}

		/** What no rate can explain is unrecorded too, spread evenly over the season. */
		void closeGap() {
			double rest = filter.state.mean(filter.state.level(slowLevel), particle) - level;
			add(DriftCause.UNRECORDED, rest);
			for (int point = 0; point < points.length; point++) {
				course[point] += (days > 0) ? rest * points[point] / days : 0;
			}
		}

	}

	private Causes causes(int level, double[][] parts) {
		JointNormalParticles state = filter.state;
		int at = state.level(level);
		int atStart = state.start(level);
		Map<DriftCause, Double> sums = new EnumMap<>(DriftCause.class);
		double start = 0;
		double now = 0;
		double[] unrecorded = new double[filter.particleCount];
		double[] starts = new double[filter.particleCount];
		XorShiftRandom random = new XorShiftRandom(5);
		for (int i = 0; i < filter.particleCount; i++) {
			double weight = filter.weight[i];
			for (DriftCause cause : DriftCause.values()) {
				if (parts[i][cause.ordinal()] != 0) {
					sums.merge(cause, weight * parts[i][cause.ordinal()], Double::sum);
				}
			}
			start += weight * state.mean(atStart, i);
			now += weight * state.mean(at, i);
			starts[i] = state.mean(atStart, i) + Math.sqrt(state.variance(atStart, i)) * random.normal();
			double changeVariance = state.variance(at, i) + state.variance(atStart, i) - 2 * state.covariance(at, atStart, i);
			unrecorded[i] = parts[i][DriftCause.UNRECORDED.ordinal()] + Math.sqrt(Math.max(0, changeVariance)) * random.normal();
		}
		double[] unrecordedEnds = ForecastEnsemble.quantiles(unrecorded, filter.weight, 0.1, 0.9);
		double[] startEnds = ForecastEnsemble.quantiles(starts, filter.weight, 0.1, 0.9);
		return new Causes(filter.seasonStart, Band.around(Math.max(0, startEnds[0]), start, startEnds[1]), now - start, sums,
				Band.around(unrecordedEnds[0], sums.getOrDefault(DriftCause.UNRECORDED, 0.0), unrecordedEnds[1]));
	}

	private List<DatedBand> past(int level, double[][] course) {
		JointNormalParticles state = filter.state;
		int at = state.level(level);
		int atStart = state.start(level);
		List<DatedBand> past = new ArrayList<>();
		XorShiftRandom random = new XorShiftRandom(6);
		double[] normals = new double[filter.particleCount];
		for (int i = 0; i < normals.length; i++) {
			normals[i] = random.normal();
		}
		for (int point = 0; point < points.length; point++) {
			if (point > 0 && points[point] == points[point - 1]) {
				continue;
			}
			double share = (days > 0) ? (double) points[point] / days : 0;
			double mean = 0;
			for (int i = 0; i < normals.length; i++) {
				mean += filter.weight[i] * course[point][i];
				double deviation = (1 - share) * Math.sqrt(state.variance(atStart, i)) + share * Math.sqrt(state.variance(at, i));
				course[point][i] += deviation * normals[i];
			}
			double[] ends = ForecastEnsemble.quantiles(course[point], filter.weight, 0.1, 0.9);
			past.add(new DatedBand(filter.seasonStart + points[point], Band.around(Math.max(0, ends[0]), mean, ends[1])));
		}
		return past;
	}

}
