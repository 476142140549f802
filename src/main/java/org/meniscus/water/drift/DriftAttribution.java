package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.drift.LevelDrift.Causes;
import org.meniscus.water.units.Band;

/** Goes through the season once more with what each alternative holds true today, and books every change to its cause. */
final class DriftAttribution {

	private final LevelParticleFilter f;

	private final int from;

	private final int days;

	DriftAttribution(LevelParticleFilter filter) {
		this.f = filter;
		this.from = (int) (filter.seasonStart - filter.start);
		this.days = (int) (filter.day - filter.seasonStart);
	}

	record Attribution(Causes causes, List<DatedBand> past) {
	}

	Attribution attribute(int level) {
		int points = days / 7 + 2;
		double[][] course = new double[points][f.n];
		double[][] parts = new double[f.n][DriftCause.values().length];
		for (int i = 0; i < f.n; i++) {
			// how much a day, in step with demand, would close the gap between what is on record and what was read
			double none = run(level, i, 0, null, null);
			double one = run(level, i, 1, null, null);
			run(level, i, (f.mean[level][i] - none) / Math.max(1e-6, one - none), course, parts[i]);
		}
		return new Attribution(causes(level, parts), past(level, course));
	}

	/** Day offset of a point: every week, and the last day. */
	private int at(int point) {
		return Math.min(7 * point, days);
	}

	/** @param unrecorded ppm a day at a demand of one @param course,parts filled in unless null @return the level today */
	private double run(int level, int i, double unrecorded, double @Nullable [][] course, double @Nullable [] booked) {
		double[] parts = (booked != null) ? booked : new double[DriftCause.values().length];
		double[][] k = f.constants;
		double[][] put = f.recorded(level);
		WaterBalance water = new WaterBalance(f.pool.autofill());
		water.depth = k[LevelParticleFilter.DEPTH][i];
		water.room = k[LevelParticleFilter.ROOM][i];
		double c = f.startMean[level][i];
		if (course != null) {
			course[0][i] = c;
		}
		int point = 1;
		for (int d = 0; d < days; d++) {
			int at = Weather.dayOfYear(f.seasonStart + d);
			double drained = f.drained.getOrDefault(f.seasonStart + d, 0.0);
			if (drained > 0) {
				parts[DriftCause.DILUTION.ordinal()] -= drained * c;
				parts[DriftCause.FILL_WATER.ordinal()] += drained * k[LevelParticleFilter.FILL + level][i];
				c += drained * (k[LevelParticleFilter.FILL + level][i] - c);
			}
			double leak = k[LevelParticleFilter.LEAK][i];
			double out = k[LevelParticleFilter.SPLASH][i] * f.weather.bathing[at] + leak
					+ (f.washes.contains(f.seasonStart + d) ? k[LevelParticleFilter.WASH][i] : 0);
			double before = water.depth + water.height;
			double rain = f.weather.rain[LevelParticleFilter.rainScenario(i, (f.seasonStart + d) / 7)][at];
			double evaporation = f.weather.evaporation[at] * k[LevelParticleFilter.EVAPORATION][i];
			water.day(rain, evaporation, out);
			double gone = Math.max(1e-9, before + rain - evaporation - water.left);
			double keep = f.keep(level, i, at, c);
			double in = 0;
			for (DoseKind kind : DoseKind.values()) {
				double[] amounts = put[kind.ordinal()];
				if (amounts != null && from + d < amounts.length && amounts[from + d] != 0) {
					double part = water.dosed * k[LevelParticleFilter.GAIN][i] * amounts[from + d];
					parts[DriftCause.of(kind).ordinal()] += part;
					in += part;
				}
			}
			double floater = water.dosed * unrecorded * f.weather.demand[at];
			double plaster = (level == LevelParticleFilter.CH) ? water.dosed * f.plaster(i, from + d) : 0;
			double filled = water.filled * k[LevelParticleFilter.FILL + level][i];
			parts[DriftCause.UNRECORDED.ordinal()] += floater;
			parts[DriftCause.PLASTER_AND_SCALE.ordinal()] += plaster;
			// water that left took its share along; the column that is left concentrates or thins with its height
			double lost = c * water.kept * (1 - keep);
			parts[((level == LevelParticleFilter.CH) ? DriftCause.PLASTER_AND_SCALE : DriftCause.BREAKDOWN).ordinal()] -= lost;
			double share = gone / (before + rain - evaporation);
			double dilution = c * share;
			double byLeak = (out > 0) ? dilution * Math.min(1, leak / gone) : 0;
			parts[DriftCause.UNRECORDED.ordinal()] -= byLeak;
			parts[DriftCause.DILUTION.ordinal()] -= dilution - byLeak;
			// evaporation leaves the level behind, rain thins it: both are made up by the fill water, so they are told with it
			parts[DriftCause.FILL_WATER.ordinal()] += filled + c * (water.kept - (1 - share));
			c = water.kept * keep * c + in + floater + plaster + filled;
			if (course != null && d + 1 == at(point)) {
				course[point][i] = c;
				point++;
			}
		}
		double rest = f.mean[level][i] - c;
		parts[DriftCause.UNRECORDED.ordinal()] += rest;
		for (int p = 0; course != null && p < course.length; p++) {
			if (p >= point) {
				course[p][i] = c;
			}
			course[p][i] += (days > 0) ? rest * at(p) / days : 0;
		}
		return c;
	}

	private Causes causes(int level, double[][] parts) {
		Map<DriftCause, Double> sums = new EnumMap<>(DriftCause.class);
		double start = 0;
		double now = 0;
		double[] unrecorded = new double[f.n];
		double[] starts = new double[f.n];
		XorShiftRandom noise = new XorShiftRandom(5);
		for (int i = 0; i < f.n; i++) {
			double w = f.weight[i];
			for (DriftCause cause : DriftCause.values()) {
				if (parts[i][cause.ordinal()] != 0) {
					sums.merge(cause, w * parts[i][cause.ordinal()], Double::sum);
				}
			}
			start += w * f.startMean[level][i];
			now += w * f.mean[level][i];
			starts[i] = f.startMean[level][i] + Math.sqrt(f.startVariance[level][i]) * noise.normal();
			double spread = f.variance[level][i] + f.startVariance[level][i] - 2 * f.shared[level][i];
			unrecorded[i] = parts[i][DriftCause.UNRECORDED.ordinal()] + Math.sqrt(Math.max(0, spread)) * noise.normal();
		}
		double[] of = ForecastEnsemble.quantiles(unrecorded, f.weight, 0.1, 0.9);
		double[] at = ForecastEnsemble.quantiles(starts, f.weight, 0.1, 0.9);
		return new Causes(f.seasonStart, Band.around(Math.max(0, at[0]), start, at[1]), now - start, sums,
				Band.around(of[0], sums.getOrDefault(DriftCause.UNRECORDED, 0.0), of[1]));
	}

	private List<DatedBand> past(int level, double[][] course) {
		List<DatedBand> past = new ArrayList<>();
		XorShiftRandom noise = new XorShiftRandom(6);
		double[] normals = new double[f.n];
		for (int i = 0; i < f.n; i++) {
			normals[i] = noise.normal();
		}
		for (int p = 0; p < course.length; p++) {
			if (p > 0 && at(p) == at(p - 1)) {
				continue;
			}
			double share = (days > 0) ? (double) at(p) / days : 0;
			double mean = 0;
			for (int i = 0; i < f.n; i++) {
				mean += f.weight[i] * course[p][i];
				double spread = (1 - share) * Math.sqrt(f.startVariance[level][i]) + share * Math.sqrt(f.variance[level][i]);
				course[p][i] += spread * normals[i];
			}
			double[] ends = ForecastEnsemble.quantiles(course[p], f.weight, 0.1, 0.9);
			past.add(new DatedBand(f.seasonStart + at(p), Band.around(Math.max(0, ends[0]), mean, ends[1])));
		}
		return past;
	}

}
