package org.meniscus.water.drift;

import java.util.Comparator;
import java.util.List;

import org.meniscus.water.pool.TechnicianBias;

/**
 * Everything on record about one pool that its drift is estimated from.
 *
 * @param visits in any order; those after the day asked about are left out
 * @param bias what is known of its technicians
 * @param fillHardness of the fill water where nobody has tested this pool's
 */
public record SeasonRecord(SeasonPool pool, List<SeasonVisit> visits, TechnicianBias bias, FillHardness fillHardness) {

	public SeasonRecord {
		visits = visits.stream().sorted(Comparator.comparingLong(SeasonVisit::day)).toList();
	}

	public SeasonRecord(SeasonPool pool, List<SeasonVisit> visits, TechnicianBias bias) {
		this(pool, visits, bias, FillHardness.USUAL);
	}

	public SeasonRecord with(FillHardness elsewhere) {
		return new SeasonRecord(pool, visits, bias, elsewhere);
	}

	/** Prior of the hardness of a fill water that nobody has tested: lognormal, mean and standard deviation of ln ppm. */
	public record FillHardness(double mean, double deviation) {

		/** Any fill water; within USGS classes soft to very hard, assumption. */
		static final FillHardness USUAL = new FillHardness(Math.log(160), 0.6);

		/** Any fill water counts as so many pools of the company. Assumption. */
		private static final int USUAL_POOLS = 5;

		/**
		 * Estimated from what is on record at the company's other pools, which mostly have the same water (empirical Bayes; Morris, JASA 78:47-55,
		 * 1983). How little is known of their mean widens it.
		 *
		 * @param ppm above zero, one for each pool with a tested fill water
		 */
		public static FillHardness of(List<Double> ppm) {
			if (ppm.isEmpty()) {
				return USUAL;
			}
			double pools = USUAL_POOLS + ppm.size();
			double mean = (USUAL_POOLS * USUAL.mean + ppm.stream().mapToDouble(Math::log).sum()) / pools;
			double squares = USUAL_POOLS * (square(USUAL.deviation) + square(USUAL.mean - mean))
					+ ppm.stream().mapToDouble(hardness -> square(Math.log(hardness) - mean)).sum();
			return new FillHardness(mean, Math.sqrt(squares / pools * (1 + 1 / pools)));
		}

		private static double square(double x) {
			return x * x;
		}

	}

}
