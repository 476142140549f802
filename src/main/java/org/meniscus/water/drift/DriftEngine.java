package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.drift.LevelDrift.DatedChance;
import org.meniscus.water.drift.LevelDrift.Flag;
import org.meniscus.water.drift.LevelDrift.RangeExit;
import org.meniscus.water.drift.LevelDrift.SuggestedTest;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.units.Band;

/**
 * Tells where the slow levels of pools stand and where they go: CYA, CH, SALT, TDS and BORATE. One engine serves all pools of a
 * climate and may be shared between threads; the same question has the same answer. How a level moves by itself is told from two exact
 * readings on, where it has a range, the pool a volume, and the 80 % band of the movement is no wider than the acceptable range.
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
	 * @param standing the flags that stand, from the last judgement; see {@link #replayFlags} for a rebuild from visits alone
	 */
	public SeasonDrift assess(SeasonRecord record, long today, long seasonEnd, Map<Level, Flag> standing) {
		return assess(record, today, seasonEnd, standing, false);
	}

	/** The full picture of one pool. */
	public SeasonDrift explain(SeasonRecord record, long today, long seasonEnd, Map<Level, Flag> standing) {
		return assess(record, today, seasonEnd, standing, true);
	}

	/** The flags as they stand when the pool was judged after each of its visits, the last one included. */
	public Map<Level, Flag> replayFlags(SeasonRecord record, long today) {
		Map<Level, Flag> flags = new EnumMap<>(Level.class);
		ForwardPass course = new ForwardPass(record, weather, settings, today);
		while (course.next()) {
			flags = updateFlags(course, new ForecastEnsemble(course.filter(), course.filter().day + DriftSettings.HORIZON_DAYS, null),
					flags);
		}
		return flags;
	}

	/** What each scenario makes of the rest of the season; put one without changes first to compare with. */
	public List<Scenario.Outcome> compare(SeasonRecord record, long today, long seasonEnd, List<Scenario> scenarios,
			Scenario.Prices prices) {
		ForwardPass course = filterThrough(record, today);
		if (course == null) {
			return List.of();
		}
		List<Scenario.Outcome> outcomes = new ArrayList<>();
		for (Scenario scenario : scenarios) {
			ForecastEnsemble outlook = new ForecastEnsemble(course.filter(), seasonEnd, scenario);
			Map<Level, List<DatedBand>> ahead = new EnumMap<>(Level.class);
			Map<Level, Map<RangeEnd, Double>> leaving = new EnumMap<>(Level.class);
			for (int level = 0; level < LevelParticleFilter.LEVELS.size(); level++) {
				Level name = LevelParticleFilter.LEVELS.get(level);
				if (course.whyUnknown(level) == null) {
					ahead.put(name, forecast(outlook, level));
					if (record.pool().ranges().containsKey(name)) {
						leaving.put(name, Map.of(RangeEnd.LOW, outlook.left(level, RangeEnd.LOW, ForecastEnsemble.NEVER - 1), RangeEnd.HIGH,
								outlook.left(level, RangeEnd.HIGH, ForecastEnsemble.NEVER - 1)));
					}
				}
			}
			outcomes.add(new Scenario.Outcome(scenario, ahead, leaving, outlook.cost(prices)));
		}
		return outcomes;
	}

	/** The pool's visits one by one, as they would have been judged then. */
	public WalkForward walkForward(SeasonRecord record) {
		return new WalkForward(this, new ForwardPass(record, weather, settings, Long.MAX_VALUE));
	}

	SeasonDrift summarize(ForwardPass course, ForecastEnsemble outlook, Map<Level, Flag> flags) {
		Map<Level, LevelDrift> levels = new EnumMap<>(Level.class);
		for (int level = 0; level < LevelParticleFilter.LEVELS.size(); level++) {
			Level name = LevelParticleFilter.LEVELS.get(level);
			Range range = course.pool().ranges().get(name);
			if (!course.filter().followed[level]) {
				continue;
			}
			List<DriftNote> notes = course.notes(level, outlook.from);
			if (course.whyUnknown(level) != null) {
				levels.put(name, unknown(name, range, notes));
				continue;
			}
			Band today = today(course, outlook, level);
			levels.put(name, new LevelDrift(name, range, today, List.of(),
					List.of(new DatedBand(outlook.from, today), new DatedBand(outlook.from + 28, outlook.band(level, 4))), null,
					(range != null) ? rangeExits(outlook, level, range, outlook.from + WalkForward.DAYS_AHEAD) : Map.of(),
					flags.get(name), null, null, notes));
		}
		return new SeasonDrift(outlook.from, outlook.from + WalkForward.DAYS_AHEAD, levels, course.notes());
	}

	private @Nullable ForwardPass filterThrough(SeasonRecord record, long today) {
		ForwardPass course = new ForwardPass(record, weather, settings, today);
		boolean any = false;
		while (course.next()) {
			any = true;
		}
		if (!any) {
			return null;
		}
		course.filter().advance(today);
		return course;
	}

	private SeasonDrift assess(SeasonRecord record, long today, long seasonEnd, Map<Level, Flag> standing, boolean full) {
		ForwardPass course = filterThrough(record, today);
		Map<Level, LevelDrift> levels = new EnumMap<>(Level.class);
		if (course == null) {
			record.pool().ranges().forEach((level, range) -> {
				if (LevelParticleFilter.LEVELS.contains(level)) {
					levels.put(level, unknown(level, range, List.of(DriftNote.of(DriftNote.Code.NOT_MEASURED, level))));
				}
			});
			return new SeasonDrift(today, seasonEnd, levels, List.of());
		}
		// far enough to see what a flag speaks of, also at the season's end
		long end = Math.max(seasonEnd, today + DriftSettings.HORIZON_DAYS);
		ForecastEnsemble outlook = new ForecastEnsemble(course.filter(), end, null);
		Map<Level, Flag> flags = updateFlags(course, outlook, standing);
		for (int level = 0; level < LevelParticleFilter.LEVELS.size(); level++) {
			Level name = LevelParticleFilter.LEVELS.get(level);
			Range range = record.pool().ranges().get(name);
			if (!course.filter().followed[level]) {
				continue;
			}
			List<DriftNote> notes = course.notes(level, today);
			if (course.whyUnknown(level) != null) {
				levels.put(name, unknown(name, range, notes));
				continue;
			}
			DriftAttribution.Attribution told = full ? new DriftAttribution(course.filter()).attribute(level) : null;
			List<DatedBand> ahead = forecast(outlook, level);
			Band last = ahead.get(ahead.size() - 1).band();
			if (range != null && last.width() > range.acceptableHigh() - range.acceptableLow()) {
				notes.add(DriftNote.of(DriftNote.Code.TOO_WIDE, name, last.width(), range.acceptableHigh() - range.acceptableLow()));
			}
			levels.put(name, new LevelDrift(name, range, today(course, outlook, level), (told != null) ? told.past() : List.of(),
					ahead, baselineDrift(course, outlook, level), (range != null) ? rangeExits(outlook, level, range, seasonEnd) : Map.of(),
					flags.get(name), (told != null) ? told.causes() : null,
					(range != null) ? suggestTest(course, outlook, level, flags.get(name)) : null, notes));
		}
		return new SeasonDrift(today, seasonEnd, levels, course.notes());
	}

	/**
	 * Fill water with what evaporation leaves behind, dilution, breakdown, plaster and scale, leaks and what nobody writes down, such as a
	 * feeder the client fills; not what visits record. From the outlook, not from the causes of the season so far: those hold recorded
	 * drains and the weather that was.
	 */
	private static @Nullable Double baselineDrift(ForwardPass course, ForecastEnsemble outlook, int level) {
		Range range = course.pool().ranges().get(LevelParticleFilter.LEVELS.get(level));
		// without a volume recorded doses are taken for what nobody writes down
		if (range == null || course.pool().volume() == null || course.filter().exactReadings[level] < 2) {
			return null;
		}
		Band change = outlook.alone(level);
		boolean vague = change.width() > range.acceptableHigh() - range.acceptableLow();
		return vague ? null : Double.valueOf(change.middle() / outlook.days());
	}

	private static LevelDrift unknown(Level level, @Nullable Range range, List<DriftNote> notes) {
		return new LevelDrift(level, range, null, List.of(), List.of(), null, Map.of(), null, null, null, notes);
	}

	private static Band today(ForwardPass course, ForecastEnsemble outlook, int level) {
		Band sampled = outlook.band(level, 0);
		double middle = course.filter().expected(level);
		return Band.around(sampled.low(), middle, sampled.high());
	}

	private static List<DatedBand> forecast(ForecastEnsemble outlook, int level) {
		List<DatedBand> ahead = new ArrayList<>();
		for (int point = 0; point < outlook.points.length; point++) {
			ahead.add(new DatedBand(outlook.from + outlook.points[point], outlook.band(level, point)));
		}
		return ahead;
	}

	private static Map<RangeEnd, RangeExit> rangeExits(ForecastEnsemble outlook, int level, Range range, long seasonEnd) {
		Map<RangeEnd, RangeExit> departures = new EnumMap<>(RangeEnd.class);
		for (RangeEnd side : RangeEnd.values()) {
			List<DatedChance> chances = new ArrayList<>();
			for (int point : outlook.points) {
				chances.add(new DatedChance(outlook.from + point, outlook.left(level, side, point)));
			}
			departures.put(side, new RangeExit((side == RangeEnd.LOW) ? range.acceptableLow() : range.acceptableHigh(),
					exitDay(outlook, level, side, ForecastEnsemble.EARLY), exitDay(outlook, level, side, 0.5),
					exitDay(outlook, level, side, 1 - ForecastEnsemble.EARLY),
					outlook.left(level, side, DriftSettings.HORIZON_DAYS),
					outlook.left(level, side, (int) (seasonEnd - outlook.from)), chances));
		}
		return departures;
	}

	private static @Nullable Long exitDay(ForecastEnsemble outlook, int level, RangeEnd side, double probability) {
		Integer days = outlook.leftBy(level, side, probability);
		return (days != null) ? Long.valueOf(outlook.from + days) : null;
	}

	Map<Level, Flag> updateFlags(ForwardPass course, ForecastEnsemble outlook, Map<Level, Flag> before) {
		Map<Level, Flag> flags = new EnumMap<>(Level.class);
		for (int level = 0; level < LevelParticleFilter.LEVELS.size(); level++) {
			Level name = LevelParticleFilter.LEVELS.get(level);
			if (course.filter().followed[level] && course.pool().ranges().containsKey(name) && course.whyUnknown(level) == null) {
				Flag flag = flag(outlook, level, before.get(name));
				if (flag != null) {
					flags.put(name, flag);
				}
			}
		}
		return flags;
	}

	private @Nullable Flag flag(ForecastEnsemble outlook, int level, @Nullable Flag before) {
		double low = outlook.left(level, RangeEnd.LOW, DriftSettings.HORIZON_DAYS);
		double high = outlook.left(level, RangeEnd.HIGH, DriftSettings.HORIZON_DAYS);
		if (before != null) {
			double still = (before.side() == RangeEnd.LOW) ? low : high;
			double other = (before.side() == RangeEnd.LOW) ? high : low;
			if (still >= settings.flagThreshold() * DriftSettings.CLEAR_RATIO && other < settings.flagThreshold()) {
				return new Flag(before.side(), before.since(), still);
			}
		}
		if (Math.max(low, high) < settings.flagThreshold()) {
			return null;
		}
		return new Flag((high >= low) ? RangeEnd.HIGH : RangeEnd.LOW, outlook.from, Math.max(low, high));
	}

	/** Tries what readings of today at the low end, the middle and the high end of what is expected would make of the flag. */
	private @Nullable SuggestedTest suggestTest(ForwardPass course, ForecastEnsemble outlook, int level, @Nullable Flag flag) {
		Band before = outlook.band(level, 0);
		double low = outlook.left(level, RangeEnd.LOW, DriftSettings.HORIZON_DAYS);
		double high = outlook.left(level, RangeEnd.HIGH, DriftSettings.HORIZON_DAYS);
		RangeEnd side = (flag != null) ? flag.side() : (high >= low) ? RangeEnd.HIGH : RangeEnd.LOW;
		double now = (side == RangeEnd.HIGH) ? high : low;
		ReadingError error = course.lastError(level);
		boolean changes = false;
		double after = 0;
		for (double reading : new double[]{ before.low(), before.middle(), before.high() }) {
			double[] weight = new double[outlook.n];
			double sum = 0;
			double leaving = 0;
			for (int i = 0; i < weight.length; i++) {
				double value = outlook.values[level][0][i];
				double variance = error.variance(value) + error.bias() * error.bias() * value * value;
				weight[i] = Math.exp(-0.5 * (reading - value) * (reading - value) / variance) / Math.sqrt(variance);
				sum += weight[i];
				leaving += (outlook.exits[level][side.ordinal()][i] <= DriftSettings.HORIZON_DAYS) ? weight[i] : 0;
			}
			double then = leaving / sum;
			changes |= (flag != null) ? then < settings.flagThreshold() * DriftSettings.CLEAR_RATIO : then >= settings.flagThreshold();
			if (reading == before.middle()) {
				for (int i = 0; i < weight.length; i++) {
					weight[i] /= sum;
				}
				double[] ends = ForecastEnsemble.quantiles(outlook.values[level][0], weight, 0.1, 0.9);
				after = ends[1] - ends[0];
			}
		}
		return changes ? new SuggestedTest(outlook.from, now, before.width(), Math.min(after, before.width())) : null;
	}

}
