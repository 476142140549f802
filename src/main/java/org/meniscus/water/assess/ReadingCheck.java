package org.meniscus.water.assess;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingBounds;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.units.Temperature;

/**
 * Judges readings as typed: impossible ones are refused, unlikely ones asked once, contradictions named. Limits:
 * {@link ReadingBounds} and the cross checks of the same table.
 */
public final class ReadingCheck {

	/** One drop of the finer titration, ppm: differences up to it say nothing. */
	private static final double TITRATION_DROP = 0.2;

	/** FC above which a colour test of pH turns purple and reads too high, ppm. */
	public static final double FC_PH_INTERFERENCE = 10;

	/** FC read as nothing; one drop of the coarser titration is the least that is something. */
	private static final double FC_UNDETECTABLE = 0.2;

	/** FC from which the colour of a DPD test bleaches: low or colourless above about 8 to 10 ppm (Taylor Technologies, note on bleaching). */
	private static final double FC_BLEACHES = 8;

	/** A large dose can still bleach so many days later; common practice, no source. */
	private static final int BLEACHING_DAYS = 3;

	/** FC above what the record explains that is asked about, ppm: half the change the trade table asks about; common practice, no source. */
	private static final double FC_UNEXPLAINED = 5;

	/** Ends of the phenol red scale: the colour stays the same beyond them (trade table reading-bounds.csv). */
	private static final double PH_SCALE_LOW = 6.8;

	private static final double PH_SCALE_HIGH = 8.2;

	/** Days in which evaporation, rain and splash may move a slow level as much as the table's limit; common practice, no source. */
	private static final double DRIFT_DAYS = 60;

	/** Two slow levels down by this share together are diluted water and no test error; common practice, no source. */
	private static final double DILUTION_SHARE = 0.12;

	private static final List<Level> DILUTION_LEVELS = List.of(Level.CYA, Level.CH, Level.SALT);

	private ReadingCheck() {
	}

	public static List<ReadingFinding> check(Readings readings, @Nullable Readings previous) {
		return check(readings, previous, null, Set.of());
	}

	public static List<ReadingFinding> check(Readings readings, @Nullable Readings previous, @Nullable PoolFacts pool,
			Set<Level> explained) {
		return check(readings, previous, pool, explained, ExpectedReadings.none());
	}

	/**
	 * @param previous readings of the visit before, or null
	 * @param pool null = a pool of unknown kind
	 * @param explained levels that recorded doses, rain or refills since the visit before are known to have moved
	 * @param fromRecord what the record lets expect: goes before {@code previous} where it knows a level
	 */
	public static List<ReadingFinding> check(Readings readings, @Nullable Readings previous, @Nullable PoolFacts pool, Set<Level> explained,
			ExpectedReadings fromRecord) {
		List<ReadingFinding> findings = new ArrayList<>();
		BodyOfWater body = (pool != null) ? pool.body() : BodyOfWater.POOL;
		List<Level> diluted = dilutedLevels(readings, fromRecord);
		for (Level level : Level.values()) {
			Double value = asTyped(readings, level);
			ReadingBounds bounds = ReadingBounds.of(level, body);
			if (value == null || bounds == null) {
				continue;
			}
			if (!(value >= bounds.hardMin() - 1e-9 && value <= bounds.hardMax() + 1e-9)) {
				findings.add(new ReadingFinding(ReadingFinding.Kind.IMPOSSIBLE, level, Reason.of("reading.impossible", Term.of(level),
						Term.of(level, value), Term.of(level, bounds.hardMin()), Term.of(level, bounds.hardMax()))));
				continue;
			}
			checkUnlikely(findings, level, value, bounds);
			LastKnownLevels.DatedValue expected = fromRecord.lastKnown().values().get(level);
			Double earlier = (previous != null && !explained.contains(level)) ? asTyped(previous, level) : null;
			if (expected != null) {
				if (!diluted.contains(level)) {
					checkAgainstBalance(findings, readings, level, expected, bounds);
				}
			}
			else if (previous != null && earlier != null && readings.qualifier(level) == ReadingQualifier.EXACT
					&& previous.qualifier(level) == ReadingQualifier.EXACT) {
				checkChange(findings, level, value, earlier, bounds);
			}
		}
		if (findings.stream().noneMatch(finding -> finding.kind() == ReadingFinding.Kind.IMPOSSIBLE)) {
			if (!diluted.isEmpty()) {
				findings.add(dilutionFinding(readings, fromRecord, diluted));
			}
			checkFreeChlorine(findings, readings, pool, fromRecord);
			checkContradictions(findings, readings, pool);
		}
		return List.copyOf(findings);
	}

	/** A slow level against what the newest test and everything recorded since make of it; the likely cause stands in the text. */
	private static void checkAgainstBalance(List<ReadingFinding> findings, Readings readings, Level level,
			LastKnownLevels.DatedValue expected,
			ReadingBounds bounds) {
		Double value = readings.value(level);
		if (value == null) {
			return;
		}
		boolean rose = value >= expected.value();
		// "More than 100" is a contradiction where less is expected, "less than 30" where more is; the other way they say nothing.
		if ((readings.qualifier(level) == ReadingQualifier.ABOVE && !rose)
				|| (readings.qualifier(level) == ReadingQualifier.BELOW && rose)) {
			return;
		}
		ReadingBounds.Change change = rose ? bounds.rise() : bounds.fall();
		if (change == null) {
			return;
		}
		double limit = change.limit(expected.value()) * (1 + expected.daysAgo() / DRIFT_DAYS);
		if (Math.abs(value - expected.value()) > limit + 1e-9) {
			findings.add(unlikelyFinding(level, Reason.of("reading." + Wording.code(level) + (rose ? "-rose" : "-fell"),
					new Term.Value(level, value, readings.qualifier(level)), Term.of(level, expected.value()),
					new Term.Days(expected.daysAgo()))));
		}
	}

	/** Slow levels that are down together: empty unless two or more are. */
	private static List<Level> dilutedLevels(Readings readings, ExpectedReadings fromRecord) {
		List<Level> down = new ArrayList<>();
		for (Level level : DILUTION_LEVELS) {
			Double value = readings.value(level);
			LastKnownLevels.DatedValue expected = fromRecord.lastKnown().values().get(level);
			if (value != null && expected != null && readings.qualifier(level) == ReadingQualifier.EXACT && expected.value() > 0
					&& value < (1 - DILUTION_SHARE) * expected.value()) {
				down.add(level);
			}
		}
		return (down.size() > 1) ? down : List.of();
	}

	private static ReadingFinding dilutionFinding(Readings readings, ExpectedReadings fromRecord, List<Level> levels) {
		double share = 0;
		List<String> names = new ArrayList<>();
		for (Level level : levels) {
			Double value = readings.value(level);
			LastKnownLevels.DatedValue expected = fromRecord.lastKnown().values().get(level);
			share += (value != null && expected != null) ? (1 - value / expected.value()) / levels.size() : 0;
			names.add(Wording.levelKey(level));
		}
		return unlikelyFinding(levels.get(0), Reason.of("reading.diluted", new Term.Words(names), new Term.Share(share)));
	}

	/** FC that the last visit's doses cannot explain, or that they should have left. */
	private static void checkFreeChlorine(List<ReadingFinding> findings, Readings readings, @Nullable PoolFacts pool,
			ExpectedReadings fromRecord) {
		Double fc = readings.fc();
		Double reached = fromRecord.fcAfterLastVisit();
		if (fc == null || reached == null) {
			return;
		}
		if (fc <= FC_UNDETECTABLE + 1e-9 && reached >= FC_BLEACHES && fromRecord.daysSinceVisit() <= BLEACHING_DAYS) {
			findings.add(unlikelyFinding(Level.FC, Reason.of("reading.fc-bleached-dose", Term.of(Level.FC, fc), Term.of(Level.FC, reached),
					new Term.Days(fromRecord.daysSinceVisit()))));
		}
		else if (pool != null && pool.sanitizer() == Sanitizer.CHLORINE_BY_HAND && fc > reached + FC_UNEXPLAINED + 1e-9) {
			findings.add(unlikelyFinding(Level.FC, Reason.of("reading.fc-unexplained", Term.of(Level.FC, fc), Term.of(Level.FC, reached))));
		}
	}

	/** TC and CC only where they were typed: what is worked out from the others is not checked again. */
	private static @Nullable Double asTyped(Readings readings, Level level) {
		return switch (level) {
			case TC -> readings.tc();
			case CC -> readings.cc();
			default -> readings.value(level);
		};
	}

	private static void checkUnlikely(List<ReadingFinding> findings, Level level, double value, ReadingBounds bounds) {
		Double below = bounds.askBelow();
		Double above = bounds.askAbove();
		if (level == Level.PHOSPHATE && value > 0 && value < 10) {
			findings.add(unlikelyFinding(level, Reason.of("reading.phosphate-unit", Term.of(level, value))));
		}
		else if (below != null && value < below - 1e-9) {
			findings.add(unlikelyFinding(level,
					Reason.of("reading.unlikely-low", Term.of(level), Term.of(level, value), Term.of(level, below))));
		}
		else if (above != null && value > above + 1e-9) {
			findings.add(unlikelyFinding(level,
					Reason.of("reading.unlikely-high", Term.of(level), Term.of(level, value), Term.of(level, above))));
		}
	}

	private static void checkChange(List<ReadingFinding> findings, Level level, double value, double earlier, ReadingBounds bounds) {
		ReadingBounds.Change change = (value >= earlier) ? bounds.rise() : bounds.fall();
		if (change != null && Math.abs(value - earlier) > change.limit(earlier) + 1e-9) {
			findings.add(unlikelyFinding(level, Reason.of((value >= earlier) ? "reading.rose" : "reading.fell", Term.of(level),
					Term.of(level, earlier), Term.of(level, value), new Term.Difference(level, change.limit(earlier)))));
		}
	}

	private static void checkContradictions(List<ReadingFinding> findings, Readings readings, @Nullable PoolFacts pool) {
		Double fc = readings.fc();
		Double tc = readings.tc();
		Double cc = readings.cc();
		if (fc != null && tc != null && fc > tc + TITRATION_DROP + 1e-9) {
			findings.add(contradiction(Level.TC, Reason.of("reading.fc-above-tc", Term.of(Level.FC, fc), Term.of(Level.TC, tc),
					new Term.Difference(Level.FC, fc - tc))));
		}
		else if (fc != null && tc != null && cc != null && Math.abs(tc - fc - cc) > TITRATION_DROP + 1e-9) {
			findings.add(contradiction(Level.CC, Reason.of("reading.cc-not-the-difference", Term.of(Level.CC, cc),
					Term.of(Level.CC, tc - fc))));
		}
		Double total = readings.total();
		if (fc != null && fc <= 0 && total != null && total > 1) {
			findings.add(contradiction(Level.FC, Reason.of("reading.all-combined", Term.of(Level.TC, total))));
		}
		if (fc != null && fc <= 0 && pool != null
				&& (pool.sanitizer() == Sanitizer.SALT_CELL || pool.sanitizer().usesTablets())) {
			findings.add(unlikelyFinding(Level.FC, Reason.of("reading.fc-bleached")));
		}
		if (fc != null && fc > FC_PH_INTERFERENCE && readings.ph() != null) {
			findings.add(unlikelyFinding(Level.PH,
					Reason.of("reading.ph-doubtful", Term.of(Level.FC, fc), Term.of(Level.FC, FC_PH_INTERFERENCE))));
		}
		Double ph = readings.ph();
		if (ph != null && readings.phQualifier() == ReadingQualifier.EXACT
				&& (Math.abs(ph - PH_SCALE_LOW) < 1e-6 || Math.abs(ph - PH_SCALE_HIGH) < 1e-6)) {
			findings.add(unlikelyFinding(Level.PH,
					Reason.of((ph < 7.5) ? "reading.ph-scale-low" : "reading.ph-scale-high", Term.of(Level.PH, ph))));
		}
		if (readings.tds() != null && readings.salt() != null && readings.tds() < readings.salt() - 1e-9) {
			findings.add(contradiction(Level.TDS,
					Reason.of("reading.tds-below-salt", Term.of(Level.TDS, readings.tds()), Term.of(Level.SALT, readings.salt()))));
		}
		checkAlkalinity(findings, readings);
	}

	/** Stabilizer and borate hold alkalinity of their own; the whole cannot be less than their part. */
	private static void checkAlkalinity(List<ReadingFinding> findings, Readings readings) {
		if (readings.ta() == null || readings.ph() == null || (readings.cya() == null && readings.borate() == null)
				|| readings.cyaQualifier() == ReadingQualifier.BELOW) {
			return;
		}
		Water water = Water.of(readings.ph(), readings.ta(), 0, or(readings.cya(), 0), or(readings.fc(), 0), or(readings.salt(), 1000),
				or(readings.borate(), 0), Temperature.ofCelsius(or(readings.celsius(), 26)));
		Speciation speciation = Speciation.of(water);
		if (speciation.contradictory()) {
			double held = speciation.cyanurateAlkalinity() + speciation.borateAlkalinity();
			findings.add(contradiction(Level.TA, Reason.of("reading.ta-below-share", Term.of(Level.TA, readings.ta()),
					Term.of(Level.TA, held), new Term.Difference(Level.TA, Math.max(0, held - readings.ta())))));
		}
	}

	private static double or(@Nullable Double value, double otherwise) {
		return (value != null) ? value : otherwise;
	}

	private static ReadingFinding unlikelyFinding(Level level, Reason reason) {
		return new ReadingFinding(ReadingFinding.Kind.UNLIKELY, level, reason);
	}

	private static ReadingFinding contradiction(Level level, Reason reason) {
		return new ReadingFinding(ReadingFinding.Kind.CONTRADICTION, level, reason);
	}

}
