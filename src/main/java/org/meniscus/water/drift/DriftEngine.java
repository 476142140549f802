package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.drift.LevelDrift.DatedChance;
import org.meniscus.water.drift.LevelDrift.Flag;
import org.meniscus.water.drift.LevelDrift.RangeExit;
import org.meniscus.water.drift.LevelDrift.SuggestedTest;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.DatedBand;

/**
 * Assesses the slow levels of pools, CYA, CH, SALT, TDS and BORATE: where they are and where they go. One engine serves all pools of a
 * climate and may be shared between threads; the same question has the same answer. The baseline drift is known from two exact readings
 * on, where the level has a range, the pool a volume, and the 80 % band of the movement is no wider than the acceptable range.
 */
public final class DriftEngine {

	private final Weather weather;

	private final DriftSettings settings;

	public DriftEngine(ClimateNormals climate, DriftSettings settings) {
		this.weather = new Weather(climate);
		this.settings = settings;
	}

	/**
	 * For a scan of many pools and for keeping flags current: neither past nor causes.
	 *
	 * @param raisedFlags the flags that stand, from the last assessment; see {@link #replayFlags} for a rebuild from visits alone
	 */
	public SeasonDrift assess(SeasonRecord record, long today, long seasonEnd, Map<Level, Flag> raisedFlags) {
		return assess(record, today, seasonEnd, raisedFlags, false);
	}

	/** The full picture of one pool. */
	public SeasonDrift explain(SeasonRecord record, long today, long seasonEnd, Map<Level, Flag> raisedFlags) {
		return assess(record, today, seasonEnd, raisedFlags, true);
	}

	/** The flags as they stand when the pool was assessed after each of its visits, the last one included. */
	public Map<Level, Flag> replayFlags(SeasonRecord record, long today) {
		Map<Level, Flag> flags = new EnumMap<>(Level.class);
		ForwardPass pass = new ForwardPass(record, weather, settings, today);
		while (pass.next()) {
			flags = updateFlags(pass, ensemble(pass, pass.filter().day + DriftSettings.HORIZON_DAYS, null),
					flags);
		}
		return flags;
	}

	/** What each scenario makes of the rest of the season; put one without changes first to compare with. */
	public List<Scenario.Outcome> compare(SeasonRecord record, long today, long seasonEnd, List<Scenario> scenarios,
			Scenario.Prices prices) {
		ForwardPass pass = filterThrough(record, today);
		if (pass == null) {
			return List.of();
		}
		List<Scenario.Outcome> outcomes = new ArrayList<>();
		for (Scenario scenario : scenarios) {
			ForecastEnsemble ensemble = ensemble(pass, seasonEnd, scenario);
			Map<Level, List<DatedBand>> forecasts = new EnumMap<>(Level.class);
			Map<Level, Map<RangeEnd, Double>> exitProbabilities = new EnumMap<>(Level.class);
			for (int level = 0; level < SlowLevels.COUNT; level++) {
				Level name = SlowLevels.ALL.get(level);
				if (pass.measured(level)) {
					forecasts.put(name, forecast(ensemble, level));
					if (record.pool().ranges().containsKey(name)) {
						exitProbabilities.put(name, Map.of(RangeEnd.LOW, everExits(ensemble, level, RangeEnd.LOW), RangeEnd.HIGH,
								everExits(ensemble, level, RangeEnd.HIGH)));
					}
				}
			}
			outcomes.add(new Scenario.Outcome(scenario, forecasts, exitProbabilities, ensemble.cost(prices)));
		}
		return outcomes;
	}

	private static double everExits(ForecastEnsemble ensemble, int level, RangeEnd end) {
		return ensemble.exitProbability(level, end, ForecastEnsemble.NEVER - 1);
	}

	/** The pool's visits one by one, as they would have been assessed then. */
	public WalkForward walkForward(SeasonRecord record) {
		return new WalkForward(this, new ForwardPass(record, weather, settings, Long.MAX_VALUE));
	}

	ForecastEnsemble ensemble(ForwardPass pass, long end, @Nullable Scenario scenario) {
		return new ForecastEnsemble(pass.filter(), settings.ensembleSize(), end, scenario);
	}

	/** Today, four weeks ahead and exits only. */
	SeasonDrift summarize(ForwardPass pass, ForecastEnsemble ensemble, Map<Level, Flag> flags) {
		Map<Level, LevelDrift> levels = new EnumMap<>(Level.class);
		for (int level = 0; level < SlowLevels.COUNT; level++) {
			Level name = SlowLevels.ALL.get(level);
			Range range = pass.pool().ranges().get(name);
			if (!pass.filter().follows(level)) {
				continue;
			}
			List<DriftNote> notes = pass.notes(level, ensemble.from);
			if (!pass.measured(level)) {
				levels.put(name, unknown(name, range, notes));
				continue;
			}
			Band today = today(pass, ensemble, level);
			levels.put(name, new LevelDrift(name, range, today, List.of(),
					List.of(new DatedBand(ensemble.from, today), new DatedBand(ensemble.from + 28, ensemble.band(level, 4))), null,
					(range != null) ? rangeExits(ensemble, level, range, ensemble.from + WalkForward.DAYS_AHEAD) : Map.of(),
					flags.get(name), null, null, notes));
		}
		return new SeasonDrift(ensemble.from, ensemble.from + WalkForward.DAYS_AHEAD, levels, pass.notes());
	}

	private @Nullable ForwardPass filterThrough(SeasonRecord record, long today) {
		ForwardPass pass = new ForwardPass(record, weather, settings, today);
		boolean any = false;
		while (pass.next()) {
			any = true;
		}
		if (!any) {
			return null;
		}
		pass.filter().advance(today);
		return pass;
	}

	private SeasonDrift assess(SeasonRecord record, long today, long seasonEnd, Map<Level, Flag> raisedFlags, boolean full) {
		ForwardPass pass = filterThrough(record, today);
		Map<Level, LevelDrift> levels = new EnumMap<>(Level.class);
		if (pass == null) {
			record.pool().ranges().forEach((level, range) -> {
				if (SlowLevels.ALL.contains(level)) {
					levels.put(level, unknown(level, range, List.of(DriftNote.of(DriftNote.Code.NOT_MEASURED, level))));
				}
			});
			return new SeasonDrift(today, seasonEnd, levels, List.of());
		}
		// far enough to see what a flag speaks of, also at the season's end
		long end = Math.max(seasonEnd, today + DriftSettings.HORIZON_DAYS);
		ForecastEnsemble ensemble = ensemble(pass, end, null);
		Map<Level, Flag> flags = updateFlags(pass, ensemble, raisedFlags);
		for (int level = 0; level < SlowLevels.COUNT; level++) {
			Level name = SlowLevels.ALL.get(level);
			Range range = record.pool().ranges().get(name);
			if (!pass.filter().follows(level)) {
				continue;
			}
			List<DriftNote> notes = pass.notes(level, today);
			if (!pass.measured(level)) {
				levels.put(name, unknown(name, range, notes));
				continue;
			}
			DriftAttribution.Attribution attribution = full ? new DriftAttribution(pass.filter()).attribute(level) : null;
			List<DatedBand> forecast = forecast(ensemble, level);
			Band last = forecast.get(forecast.size() - 1).band();
			if (range != null && last.width() > range.acceptableHigh() - range.acceptableLow()) {
				notes.add(DriftNote.of(DriftNote.Code.TOO_WIDE, name, last.width(), range.acceptableHigh() - range.acceptableLow()));
			}
			levels.put(name,
					new LevelDrift(name, range, today(pass, ensemble, level), (attribution != null) ? attribution.past() : List.of(),
							forecast, baselineDrift(pass, ensemble, level),
							(range != null) ? rangeExits(ensemble, level, range, seasonEnd) : Map.of(),
							flags.get(name), (attribution != null) ? attribution.causes() : null,
							(range != null) ? suggestTest(pass, ensemble, level, flags.get(name)) : null, notes));
		}
		return new SeasonDrift(today, seasonEnd, levels, pass.notes());
	}

	/**
	 * Fill water with what evaporation leaves behind, dilution, breakdown, plaster and scale, leaks and what nobody writes down, such as a
	 * feeder the client fills; not what visits record. From the ensemble, not from the causes of the season so far: those hold recorded
	 * drains and the weather that was.
	 */
	private static @Nullable Double baselineDrift(ForwardPass pass, ForecastEnsemble ensemble, int level) {
		Range range = pass.pool().ranges().get(SlowLevels.ALL.get(level));
		// without a volume recorded doses are taken for what nobody writes down
		if (range == null || pass.pool().volume() == null || pass.readings(level).exact() < 2) {
			return null;
		}
		Band change = ensemble.baselineChange(level);
		boolean vague = change.width() > range.acceptableHigh() - range.acceptableLow();
		return vague ? null : Double.valueOf(change.middle() / ensemble.days());
	}

	private static LevelDrift unknown(Level level, @Nullable Range range, List<DriftNote> notes) {
		return new LevelDrift(level, range, null, List.of(), List.of(), null, Map.of(), null, null, null, notes);
	}

	private static Band today(ForwardPass pass, ForecastEnsemble ensemble, int level) {
		Band sampled = ensemble.band(level, 0);
		double middle = pass.filter().expected(level);
		return Band.around(sampled.low(), middle, sampled.high());
	}

	private static List<DatedBand> forecast(ForecastEnsemble ensemble, int level) {
		List<DatedBand> forecast = new ArrayList<>();
		for (int point = 0; point < ensemble.points.length; point++) {
			forecast.add(new DatedBand(ensemble.from + ensemble.points[point], ensemble.band(level, point)));
		}
		return forecast;
	}

	private static Map<RangeEnd, RangeExit> rangeExits(ForecastEnsemble ensemble, int level, Range range, long seasonEnd) {
		Map<RangeEnd, RangeExit> exits = new EnumMap<>(RangeEnd.class);
		for (RangeEnd end : RangeEnd.values()) {
			List<DatedChance> chances = new ArrayList<>();
			for (int point : ensemble.points) {
				chances.add(new DatedChance(ensemble.from + point, ensemble.exitProbability(level, end, point)));
			}
			exits.put(end, new RangeExit((end == RangeEnd.LOW) ? range.acceptableLow() : range.acceptableHigh(),
					exitDay(ensemble, level, end, ForecastEnsemble.EARLY), exitDay(ensemble, level, end, 0.5),
					exitDay(ensemble, level, end, 1 - ForecastEnsemble.EARLY),
					ensemble.exitProbability(level, end, DriftSettings.HORIZON_DAYS),
					ensemble.exitProbability(level, end, (int) (seasonEnd - ensemble.from)), chances));
		}
		return exits;
	}

	private static @Nullable Long exitDay(ForecastEnsemble ensemble, int level, RangeEnd end, double probability) {
		Integer days = ensemble.exitQuantile(level, end, probability);
		return (days != null) ? Long.valueOf(ensemble.from + days) : null;
	}

	Map<Level, Flag> updateFlags(ForwardPass pass, ForecastEnsemble ensemble, Map<Level, Flag> before) {
		Map<Level, Flag> flags = new EnumMap<>(Level.class);
		for (int level = 0; level < SlowLevels.COUNT; level++) {
			Level name = SlowLevels.ALL.get(level);
			if (pass.filter().follows(level) && pass.pool().ranges().containsKey(name) && pass.measured(level)) {
				Flag flag = flag(ensemble, level, before.get(name));
				if (flag != null) {
					flags.put(name, flag);
				}
			}
		}
		return flags;
	}

	private @Nullable Flag flag(ForecastEnsemble ensemble, int level, @Nullable Flag before) {
		double low = ensemble.exitProbability(level, RangeEnd.LOW, DriftSettings.HORIZON_DAYS);
		double high = ensemble.exitProbability(level, RangeEnd.HIGH, DriftSettings.HORIZON_DAYS);
		if (before != null) {
			double still = (before.end() == RangeEnd.LOW) ? low : high;
			double other = (before.end() == RangeEnd.LOW) ? high : low;
			if (still >= settings.flagThreshold() * DriftSettings.CLEAR_RATIO && other < settings.flagThreshold()) {
				return new Flag(before.end(), before.since(), still);
			}
		}
		if (Math.max(low, high) < settings.flagThreshold()) {
			return null;
		}
		return new Flag((high >= low) ? RangeEnd.HIGH : RangeEnd.LOW, ensemble.from, Math.max(low, high));
	}

	/** Whether a reading of today at the low end, the middle or the high end of today's band would change the flag. */
	private @Nullable SuggestedTest suggestTest(ForwardPass pass, ForecastEnsemble ensemble, int level, @Nullable Flag flag) {
		Band before = ensemble.band(level, 0);
		double low = ensemble.exitProbability(level, RangeEnd.LOW, DriftSettings.HORIZON_DAYS);
		double high = ensemble.exitProbability(level, RangeEnd.HIGH, DriftSettings.HORIZON_DAYS);
		RangeEnd end = (flag != null) ? flag.end() : (high >= low) ? RangeEnd.HIGH : RangeEnd.LOW;
		double now = (end == RangeEnd.HIGH) ? high : low;
		TestPrecision precision = pass.readings(level).lastPrecision();
		boolean changes = false;
		double after = 0;
		for (double reading : new double[]{ before.low(), before.middle(), before.high() }) {
			double[] weight = new double[ensemble.size];
			double sum = 0;
			double exiting = 0;
			for (int i = 0; i < weight.length; i++) {
				double value = ensemble.values[level][0][i];
				double variance = precision.variance(value);
				weight[i] = Math.exp(-0.5 * (reading - value) * (reading - value) / variance) / Math.sqrt(variance);
				sum += weight[i];
				exiting += (ensemble.exits[level][end.ordinal()][i] <= DriftSettings.HORIZON_DAYS) ? weight[i] : 0;
			}
			double then = exiting / sum;
			changes |= (flag != null) ? then < settings.flagThreshold() * DriftSettings.CLEAR_RATIO : then >= settings.flagThreshold();
			if (reading == before.middle()) {
				for (int i = 0; i < weight.length; i++) {
					weight[i] /= sum;
				}
				double[] ends = ForecastEnsemble.quantiles(ensemble.values[level][0], weight, 0.1, 0.9);
				after = ends[1] - ends[0];
			}
		}
		return changes ? new SuggestedTest(ensemble.from, now, before.width(), Math.min(after, before.width())) : null;
	}

}
