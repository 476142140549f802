package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.drift.SeasonEstimate.Drift;
import org.meniscus.water.drift.SeasonEstimate.Exit;
import org.meniscus.water.drift.SeasonEstimate.Point;
import org.meniscus.water.drift.SeasonEstimate.State;
import org.meniscus.water.drift.SeasonEstimate.Today;
import org.meniscus.water.drift.SeasonQuestion.Persistence;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.units.NormalDistribution;

/**
 * A first honest estimate: what the records explain is taken off the readings, a {@link RobustLine} goes through the rest, and
 * the newest readings, carried to today by it, give the level as their median. It presumes that what is not on record has gone
 * on at an even rate over the readings used, and that the routine goes on but nobody corrects the level.
 */
public final class RobustTrend implements SeasonEstimator {

	/** Fewer readings, or a shorter time, say nothing about a drift. Judgement, no source. */
	static final int READINGS_FOR_A_DRIFT = 4;

	static final int DAYS_FOR_A_DRIFT = 28;

	/** The newest readings that a drift is taken from: older ones tell about another part of the season. Judgement, no source. */
	static final int READINGS_FOR_THE_SLOPE = 16;

	static final int DAYS_FOR_THE_SLOPE = 182;

	/** The newest readings that the level is taken from. Judgement, no source. */
	static final int READINGS_FOR_THE_LEVEL = 5;

	/** Time over which recorded products are averaged into a weekly rate. */
	static final int DAYS_OF_RECENT_DOSES = 56;

	/** A level is called drifting when it will leave its range within so many weeks. */
	static final int WEEKS_AHEAD = 8;

	/**
	 * Standard deviation of what the records do not explain, as a share of the level per week: before readings tell, and of its
	 * change within a season once they do. Judgement: of the size seen in simulated seasons, no source.
	 */
	static final double UNKNOWN_DRIFT = 0.02;

	static final double CHANGE_OF_DRIFT = 0.007;

	/** Turns the median absolute deviation of normal errors into their standard deviation. */
	private static final double MAD_TO_SD = 1.4826;

	/** Standard error of a median over that of a mean, for normal errors: the root of half of pi. */
	private static final double MEDIAN_OVER_MEAN = 1.2533;

	@Override
	public SeasonEstimate estimate(SeasonQuestion question) {
		List<Observation> observations = usable(question);
		if (observations.isEmpty()) {
			boolean readBefore = question.observations().stream().anyMatch(seen -> seen.day() <= question.today());
			return unknown(TrendReason.of(readBefore ? TrendReason.Code.WATER_REPLACED : TrendReason.Code.NOT_MEASURED));
		}
		Fit fit = new Fit(question, observations);
		List<TrendReason> remarks = new ArrayList<>();
		if (fit.drift == null) {
			remarks.add(TrendReason.of(TrendReason.Code.TOO_FEW_READINGS, observations.size(), READINGS_FOR_A_DRIFT));
		}
		long age = question.today() - fit.lastDay;
		int freshDays = (question.persistence() == Persistence.LASTING) ? 30 : 10;
		if (age > freshDays) {
			remarks.add(TrendReason.of(TrendReason.Code.STALE, age, freshDays));
		}
		Exit exit = fit.exit();
		Verdict verdict = verdict(question.limits(), fit, exit);
		return new SeasonEstimate(verdict.state(), fit.today, fit.drift, (verdict.state() == State.OUT_OF_RANGE) ? null : exit,
				verdict.reason(), remarks, observations.size(), fit.lastDay, fit.course());
	}

	/** What was read up to today and is not washed out by a full replacement of the water. Newest last. */
	private static List<Observation> usable(SeasonQuestion question) {
		long from = Long.MIN_VALUE;
		for (KnownInput input : question.inputs()) {
			if (input instanceof KnownInput.WaterReplaced replaced && replaced.share() > 0.95 && replaced.day() <= question.today()) {
				from = Math.max(from, replaced.day() + 1);
			}
		}
		long first = Math.max(from, question.today() - DAYS_FOR_THE_SLOPE);
		List<Observation> seen = new ArrayList<>();
		for (Observation observation : question.observations()) {
			if (observation.day() >= first && observation.day() <= question.today()) {
				seen.add(observation);
			}
		}
		seen.sort(Comparator.comparingLong(Observation::day)
			.thenComparingDouble(Observation::value)
			.thenComparing(Observation::mark));
		return (seen.size() <= READINGS_FOR_THE_SLOPE) ? seen : seen.subList(seen.size() - READINGS_FOR_THE_SLOPE, seen.size());
	}

	private static SeasonEstimate unknown(TrendReason why) {
		return new SeasonEstimate(State.UNKNOWN, new Today.Unknown(), null, null, why, List.of(), 0, null, List.of());
	}

	private record Verdict(State state, TrendReason reason) {
	}

	private static Verdict verdict(@Nullable Range limits, Fit fit, @Nullable Exit exit) {
		if (limits == null) {
			return new Verdict(State.UNKNOWN, TrendReason.of(TrendReason.Code.NO_RANGE));
		}
		if (fit.today instanceof Today.Above above) {
			State state = (above.mark() >= limits.acceptableHigh()) ? State.OUT_OF_RANGE
					: (above.mark() >= limits.idealHigh()) ? State.DRIFTING : State.UNKNOWN;
			return new Verdict(state, TrendReason.of(TrendReason.Code.ABOVE_SCALE, above.mark()));
		}
		if (fit.today instanceof Today.Below below) {
			State state = (below.mark() < limits.acceptableLow()) ? State.OUT_OF_RANGE
					: (below.mark() <= limits.idealLow()) ? State.DRIFTING : State.UNKNOWN;
			return new Verdict(state, TrendReason.of(TrendReason.Code.BELOW_SCALE, below.mark()));
		}
		if (!(fit.today instanceof Today.Level level)) {
			return new Verdict(State.UNKNOWN, TrendReason.of(TrendReason.Code.NOT_MEASURED));
		}
		double now = level.middle();
		if (now > limits.acceptableHigh()) {
			return new Verdict(State.OUT_OF_RANGE, TrendReason.of(TrendReason.Code.ABOVE_MAXIMUM, now, limits.acceptableHigh()));
		}
		if (now < limits.acceptableLow()) {
			return new Verdict(State.OUT_OF_RANGE, TrendReason.of(TrendReason.Code.BELOW_MINIMUM, now, limits.acceptableLow()));
		}
		// what is put in and used up within days has no direction worth telling
		boolean trusted = fit.drift != null && fit.drift.signKnown() && fit.question.persistence() == Persistence.LASTING;
		if (exit != null && trusted && weeks(exit.day() - fit.today()) <= WEEKS_AHEAD) {
			return new Verdict(State.DRIFTING, TrendReason.of(exit.rising() ? TrendReason.Code.RISING_PAST_MAXIMUM
					: TrendReason.Code.FALLING_PAST_MINIMUM, weeks(exit.day() - fit.today()), exit.limit()));
		}
		if (now > limits.idealHigh()) {
			return new Verdict(State.DRIFTING, TrendReason.of(TrendReason.Code.ABOVE_IDEAL, now, limits.idealHigh()));
		}
		if (now < limits.idealLow()) {
			return new Verdict(State.DRIFTING, TrendReason.of(TrendReason.Code.BELOW_IDEAL, now, limits.idealLow()));
		}
		if (trusted) {
			double rate = fit.drift.perWeek();
			double edge = (rate > 0) ? limits.idealHigh() : limits.idealLow();
			double weeks = (edge - now) / rate;
			if (weeks <= WEEKS_AHEAD) {
				return new Verdict(State.DRIFTING, TrendReason
					.of((rate > 0) ? TrendReason.Code.RISING_PAST_IDEAL : TrendReason.Code.FALLING_PAST_IDEAL, weeks, edge));
			}
		}
		return new Verdict(State.IN_RANGE, TrendReason.of(TrendReason.Code.STEADY, now));
	}

	private static double weeks(long days) {
		return days / 7.0;
	}

	/** The line through the readings of one question, and what follows from it. */
	private static final class Fit {

		private final SeasonQuestion question;

		private final KnownCourse records;

		private final long firstDay;

		final long lastDay;

		/** Unrecorded change per day. */
		private double slope;

		private double slopeError;

		/** Standard deviation of the unrecorded change per day to come. */
		private double driftError;

		/** Start level, NaN when the readings are all open on one side. */
		private double start;

		final @Nullable Drift drift;

		final Today today;

		/** Standard deviation of today's level. */
		private double levelError;

		Fit(SeasonQuestion question, List<Observation> observations) {
			this.question = question;
			this.firstDay = observations.get(0).day();
			this.lastDay = observations.get(observations.size() - 1).day();
			List<KnownInput> inputs = (question.persistence() == Persistence.LASTING) ? question.inputs() : List.of();
			this.records = new KnownCourse(firstDay, inputs);
			int n = observations.size();
			double[] x = new double[n];
			double[] low = new double[n];
			double[] high = new double[n];
			double[] carry = new double[n];
			for (int i = 0; i < n; i++) {
				Observation seen = observations.get(i);
				KnownCourse.At at = records.atTest(seen.day());
				carry[i] = at.carry();
				x[i] = at.exposure() / at.carry();
				low[i] = (seen.low() - at.known()) / at.carry();
				high[i] = (seen.high() - at.known()) / at.carry();
			}
			RobustLine line = (n >= READINGS_FOR_A_DRIFT && lastDay - firstDay >= DAYS_FOR_A_DRIFT)
					? RobustLine.through(x, low, high, NormalDistribution.Z80) : null;
			if (line != null) {
				slope = line.slope();
				slopeError = (line.slopeHigh() - line.slopeLow()) / (2 * NormalDistribution.Z80);
			}
			int newest = (question.persistence() == Persistence.PASSING) ? 1 : READINGS_FOR_THE_LEVEL;
			int from = Math.max(0, n - newest);
			start = RobustLine.intercept(slope, Arrays.copyOfRange(x, from, n), Arrays.copyOfRange(low, from, n),
					Arrays.copyOfRange(high, from, n));
			KnownCourse.At end = records.atEnd(question.today());
			boolean passing = question.persistence() == Persistence.PASSING;
			double middle = passing ? observations.get(n - 1).value()
					: Math.max(0, end.carry() * start + end.known() + slope * end.exposure());
			boolean exact = observations.subList(from, n).stream().anyMatch(seen -> seen.mark() == ReadingQualifier.EXACT);
			if (!exact || Double.isNaN(start)) {
				this.today = open(observations.subList(from, n));
				this.drift = null;
				return;
			}
			double scale = scale(x, low, high, carry, middle);
			double meanX = Arrays.stream(x, from, n).average().orElse(0);
			double away = end.carry() * (end.exposure() / end.carry() - meanX);
			double ownError = ((n - from > 2) ? MEDIAN_OVER_MEAN : 1) * scale / Math.sqrt(n - from);
			double wander = middle * ((line != null) ? CHANGE_OF_DRIFT : UNKNOWN_DRIFT) / 7;
			this.driftError = Math.sqrt((line != null) ? slopeError * slopeError + wander * wander : wander * wander);
			this.levelError = passing ? ownError : Math.sqrt(ownError * ownError + away * driftError * away * driftError);
			this.today = new Today.Level(Math.max(0, middle - NormalDistribution.Z80 * levelError), middle,
					middle + NormalDistribution.Z80 * levelError);
			this.drift = (line != null) ? drift(inputs, line) : null;
		}

		long today() {
			return question.today();
		}

		/** Standard deviation of one reading: as the readings scatter about the line, but never less than the test's own. */
		private double scale(double[] x, double[] low, double[] high, double[] carry, double level) {
			double[] off = new double[x.length];
			int count = 0;
			for (int i = 0; i < x.length; i++) {
				if (low[i] == high[i]) {
					off[count++] = Math.abs(low[i] - start - slope * x[i]) * carry[i];
				}
			}
			double own = question.error().at(level);
			if (count < READINGS_FOR_A_DRIFT) {
				return own;
			}
			off = Arrays.copyOf(off, count);
			Arrays.sort(off);
			double median = (off[(count - 1) / 2] + off[count / 2]) / 2;
			return Math.max(own, MAD_TO_SD * median);
		}

		private static Today open(List<Observation> newest) {
			double above = 0;
			double below = Double.POSITIVE_INFINITY;
			for (Observation seen : newest) {
				if (seen.mark() == ReadingQualifier.ABOVE) {
					above = Math.max(above, seen.value());
				}
				else {
					below = Math.min(below, seen.high());
				}
			}
			return (above > 0) ? new Today.Above(above) : new Today.Below(below);
		}

		private Drift drift(List<KnownInput> inputs, RobustLine line) {
			long from = Math.max(question.today() - DAYS_OF_RECENT_DOSES, firstDay);
			double weeks = Math.max(1, (question.today() - from) / 7.0);
			Map<String, Double> bySource = new TreeMap<>();
			inputs.stream()
				.filter(KnownInput.Added.class::isInstance)
				.map(KnownInput.Added.class::cast)
				.filter(added -> !added.correcting() && added.day() >= from && added.day() < question.today())
				.sorted(Comparator.comparingLong(KnownInput.Added::day).thenComparingDouble(KnownInput.Added::change))
				.forEach(added -> bySource.merge(added.source(), added.change() / weeks, Double::sum));
			double recorded = 0;
			for (double part : bySource.values()) {
				recorded += part;
			}
			double half = NormalDistribution.Z80 * 7 * driftError;
			return new Drift(recorded, bySource, 7 * line.slope(), 7 * line.slope() - half, 7 * line.slope() + half);
		}

		/** Where the straight line from today's level meets an end of the acceptable range before the season's end. */
		@Nullable
		Exit exit() {
			Range limits = question.limits();
			if (limits == null || drift == null || !(today instanceof Today.Level level)
					|| question.persistence() == Persistence.PASSING) {
				return null;
			}
			double perDay = drift.perWeek() / 7;
			double dayError = driftError;
			if (perDay == 0 || Double.isInfinite(dayError)) {
				return null;
			}
			boolean rising = perDay > 0;
			double limit = rising ? limits.acceptableHigh() : limits.acceptableLow();
			double room = Math.max(0, (limit - level.middle()) / perDay);
			if (!rising && limit <= 0 || question.today() + room > question.seasonEnd()) {
				return null;
			}
			Long earliest = null;
			Long latest = null;
			long horizon = question.seasonEnd() - question.today();
			for (long ahead = 0; ahead <= horizon; ahead++) {
				double spread = NormalDistribution.Z80 * Math.sqrt(levelError * levelError + ahead * dayError * ahead * dayError);
				double expected = level.middle() + perDay * ahead;
				double sooner = rising ? expected + spread - limit : limit - (expected - spread);
				double later = rising ? expected - spread - limit : limit - (expected + spread);
				if (earliest == null && sooner > 0) {
					earliest = question.today() + ahead;
				}
				if (later > 0) {
					latest = question.today() + ahead;
					break;
				}
			}
			long day = question.today() + (long) Math.ceil(room - 1e-9);
			return new Exit(day, (earliest != null) ? Math.min(earliest, day) : day, latest, limit, rising);
		}

		/** Levels before and after each event, week by week between them; at most up to today. */
		List<Point> course() {
			if (!(today instanceof Today.Level)) {
				return List.of();
			}
			List<Point> points = new ArrayList<>();
			TreeMap<Long, Boolean> days = new TreeMap<>();
			for (long day = firstDay; day < question.today(); day += 7) {
				days.put(day, false);
			}
			for (long day : records.eventDays()) {
				if (day < question.today()) {
					days.put(day, true);
				}
			}
			days.put(question.today(), true);
			for (Map.Entry<Long, Boolean> entry : days.entrySet()) {
				points.add(new Point(entry.getKey(), level(records.atTest(entry.getKey()))));
				if (entry.getValue()) {
					points.add(new Point(entry.getKey(), level(records.atEnd(entry.getKey()))));
				}
			}
			return points;
		}

		private double level(KnownCourse.At at) {
			return Math.max(0, at.carry() * start + at.known() + slope * at.exposure());
		}

	}

}
