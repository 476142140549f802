package org.meniscus.water.assess;

import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;

/**
 * Slow levels from earlier visits, for a day on which they are not tested: the newest test, with what recorded doses and replaced
 * water have done to it since. Good for the equilibrium, the chlorine minimum and the choice of product; never for a dose of that level
 * itself.
 *
 * @param values by level, with the days since the test
 */
public record LastKnownLevels(Map<Level, DatedValue> values) {

	/** @param daysAgo since it was tested */
	public record DatedValue(double value, int daysAgo) {
	}

	/**
	 * An earlier visit.
	 *
	 * @param daysAgo zero or more
	 * @param changes what the doses of that visit changed for good, by level; null when unknown
	 * @param waterReplaced share replaced after the test, null when none was
	 */
	public record EarlierVisit(int daysAgo, Readings readings, @Nullable Map<Level, Double> changes, @Nullable Double waterReplaced) {
	}

	/** How long a test stands for the level; common practice, no source: CYA is tested monthly, CH and borate quarterly. */
	private static final Map<Level, Integer> GOOD_FOR_DAYS = Map.of(Level.TA, 21, Level.CH, 120, Level.CYA, 60, Level.SALT, 60,
			Level.BORATE, 120);

	private static final LastKnownLevels NONE = new LastKnownLevels(Map.of());

	public LastKnownLevels {
		values = values.isEmpty() ? Map.of() : Collections.unmodifiableMap(new EnumMap<>(values));
	}

	public static LastKnownLevels none() {
		return NONE;
	}

	/** @param visits newest first */
	public static LastKnownLevels of(List<EarlierVisit> visits, PoolFacts pool) {
		Map<Level, DatedValue> values = new EnumMap<>(Level.class);
		for (Map.Entry<Level, Integer> level : GOOD_FOR_DAYS.entrySet()) {
			DatedValue value = latest(level.getKey(), level.getValue(), visits, pool);
			if (value != null) {
				values.put(level.getKey(), value);
			}
		}
		return new LastKnownLevels(values);
	}

	private static @Nullable DatedValue latest(Level level, int goodFor, List<EarlierVisit> visits, PoolFacts pool) {
		for (int n = 0; n < visits.size() && visits.get(n).daysAgo() <= goodFor; n++) {
			Double tested = visits.get(n).readings().value(level);
			if (tested == null) {
				continue;
			}
			// "Less than 30" and "more than 100" are not carried: another test has to say more.
			if (visits.get(n).readings().qualifier(level) != ReadingQualifier.EXACT) {
				return null;
			}
			Double value = tested;
			for (int since = n; since >= 0 && value != null; since--) {
				value = afterVisit(level, value, visits.get(since), pool);
			}
			return (value == null) ? null : new DatedValue(Math.max(0, value), visits.get(n).daysAgo());
		}
		return null;
	}

	private static @Nullable Double afterVisit(Level level, double value, EarlierVisit visit, PoolFacts pool) {
		if (visit.changes() == null) {
			return null;
		}
		double now = value + visit.changes().getOrDefault(level, 0.0);
		if (visit.waterReplaced() != null) {
			Double fill = pool.fill().value(level);
			if (fill == null) {
				return null;
			}
			now = now * (1 - visit.waterReplaced()) + fill * visit.waterReplaced();
		}
		return now;
	}

	/** The readings of today with these levels in place of what was not tested. */
	public Readings fillIn(Readings today) {
		return today.toBuilder()
			.ta(or(today, Level.TA))
			.ch(or(today, Level.CH))
			.cya(or(today, Level.CYA), today.cyaQualifier())
			.salt(or(today, Level.SALT))
			.borate(or(today, Level.BORATE))
			.build();
	}

	/** Which levels stand in for a test of today. */
	public List<Reason> notes(Readings today) {
		return this.values.entrySet()
			.stream()
			.filter(entry -> today.value(entry.getKey()) == null)
			.map(entry -> Reason.of("note.carried", Term.of(entry.getKey()), Term.of(entry.getKey(), entry.getValue().value()),
					new Term.Days(entry.getValue().daysAgo())))
			.toList();
	}

	private @Nullable Double or(Readings today, Level level) {
		Double tested = today.value(level);
		DatedValue entry = this.values.get(level);
		return (tested != null || entry == null) ? tested : Double.valueOf(entry.value());
	}

}
