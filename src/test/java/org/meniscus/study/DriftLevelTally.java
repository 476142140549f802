package org.meniscus.study;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

import org.meniscus.study.DriftScore.Estimate;
import org.meniscus.study.DriftScore.Interval;
import org.meniscus.study.DriftScore.Key;
import org.meniscus.study.DriftScore.TrueSeason;
import org.meniscus.study.DriftScore.TrueVisit;

/** How close levels were estimated today, 28 days ahead and on the day of leaving the range, and how often 80 % intervals held. */
final class DriftLevelTally {

	/** Winkler: 2 / 0.2 for what lies outside an 80 % interval. */
	private static final double PENALTY = 10;

	private static final class Mean {

		private double sum;

		private int count;

		void add(double value) {
			this.sum += value;
			this.count++;
		}

		void add(boolean held) {
			add(held ? 1 : 0);
		}

		double mean() {
			return DriftScore.ratio(this.sum, this.count);
		}

	}

	private final boolean allLevels;

	private final Mean levelSquares = new Mean();

	private final Mean readingSquares = new Mean();

	private final Mean levelCover = new Mean();

	private final Mean aheadSquares = new Mean();

	private final Mean aheadCover = new Mean();

	private final Mean aheadWidth = new Mean();

	private final Mean aheadWinkler = new Mean();

	private final Mean exitCover = new Mean();

	private final List<Double> exitErrors = new ArrayList<>();

	DriftLevelTally(boolean allLevels) {
		this.allLevels = allLevels;
	}

	void add(TrueSeason season, Map<Key, Estimate> estimates) {
		for (TrueVisit visit : season.visits()) {
			if (visit.day() < DriftScore.FIRST_DAY || !(this.allLevels || season.near(visit.level()))) {
				continue;
			}
			if (visit.lastReading() != null) {
				this.readingSquares.add(square(visit.lastReading() - visit.level()));
			}
			Estimate estimate = estimates.get(new Key(season.season(), visit.day(), season.analyte()));
			if (estimate != null) {
				today(visit, estimate);
				ahead(visit, estimate);
				exit(season, visit, estimate);
			}
		}
	}

	private void today(TrueVisit visit, Estimate estimate) {
		if (estimate.level() != null && visit.lastReading() != null) {
			this.levelSquares.add(square(estimate.level() - visit.level()));
		}
		if (estimate.level80() != null) {
			this.levelCover.add(estimate.level80().covers(visit.level()));
		}
	}

	private void ahead(TrueVisit visit, Estimate estimate) {
		double level = visit.in28Days();
		if (estimate.in28Days() != null) {
			this.aheadSquares.add(square(estimate.in28Days() - level));
		}
		Interval interval = estimate.in28Days80();
		if (interval != null && interval.high() != null) {
			double width = interval.high() - interval.low();
			this.aheadCover.add(interval.covers(level));
			this.aheadWidth.add(width);
			this.aheadWinkler
				.add(width + PENALTY * Math.max(0, interval.low() - level) + PENALTY * Math.max(0, level - interval.high()));
		}
	}

	/** An exit not seen within the days judged is covered when the interval is open or ends after them. */
	private void exit(TrueSeason season, TrueVisit visit, Estimate estimate) {
		Interval interval = estimate.exit80();
		if (estimate.flag() == null || interval == null || season.beyond(estimate.flag(), visit.level())) {
			return;
		}
		Integer crossing = visit.crossings().get(estimate.flag());
		if (crossing == null) {
			this.exitCover.add(interval.high() == null || interval.high() > visit.day() + DriftScore.CROSSING_DAYS);
			return;
		}
		this.exitCover.add(interval.covers(crossing));
		if (estimate.exitDay() != null) {
			this.exitErrors.add(Math.abs(estimate.exitDay() - crossing));
		}
	}

	private static double square(double value) {
		return value * value;
	}

	Map<String, Number> figures() {
		Map<String, Number> figures = new LinkedHashMap<>();
		figures.put("RMSE level today, ppm", Math.sqrt(this.levelSquares.mean()));
		figures.put("  same, last reading", Math.sqrt(this.readingSquares.mean()));
		figures.put("share of visits with a level", DriftScore.ratio(this.levelSquares.count, this.readingSquares.count));
		figures.put("coverage of 80 % level interval", this.levelCover.mean());
		figures.put("RMSE level in 28 days, ppm", Math.sqrt(this.aheadSquares.mean()));
		figures.put("coverage of 80 % interval, 28 days", this.aheadCover.mean());
		figures.put("mean width of it, ppm", this.aheadWidth.mean());
		figures.put("interval (Winkler) score, ppm", this.aheadWinkler.mean());
		figures.put("coverage of 80 % exit interval", this.exitCover.mean());
		figures.put("median abs error of exit day", DriftScore.median(this.exitErrors));
		return figures;
	}

}
