package org.meniscus.water.drift;

import java.util.Comparator;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.units.DatedBand;

/**
 * What one might do about a drift; without changes it is going on as now.
 *
 * @param key identifies a scenario; chosen by the caller
 * @param changes in order of their days
 */
public record Scenario(String key, List<Change> changes) {

	public Scenario {
		changes = changes.stream().sorted(Comparator.comparingLong(Change::day)).toList();
	}

	/** Something done from, or on, a day (days since 1970-01-01, not before today). */
	public sealed interface Change {

		long day();

		/**
		 * From that day on all chlorine comes from these products.
		 *
		 * @param shares of the free chlorine by product, adding up to 1; only kinds that are chlorine
		 */
		record ProductSwitch(long day, Map<DoseKind, Double> shares) implements Change {

			public ProductSwitch {
				shares = Map.copyOf(shares);
				double sum = shares.values().stream().mapToDouble(Double::doubleValue).sum();
				if (Math.abs(sum - 1) > 1e-6 || shares.keySet().stream().anyMatch(kind -> !kind.routine())) {
					throw new IllegalArgumentException("not a choice of chlorine: " + shares);
				}
			}

		}

		/** @param share of the water replaced once, above 0 to 1; it takes one extra visit */
		record PartialDrain(long day, double share) implements Change {

			public PartialDrain {
				if (!(share > 0 && share <= 1)) {
					throw new IllegalArgumentException("not a share of the water: " + share);
				}
			}

		}

		/** @param levels of the fill water from that day on, ppm, such as after softening; others stay as they are */
		record FillWaterChange(long day, Map<Level, Double> levels) implements Change {

			public FillWaterChange {
				levels = Map.copyOf(levels);
			}

		}

		/** A salt cell makes all chlorine from that day on. @param price of the cell and its fitting, in the currency of the prices */
		record Cell(long day, double price) implements Change {
		}

	}

	/**
	 * In one currency, whichever.
	 *
	 * @param chlorine by product, per kilogram of available chlorine
	 * @param water in and out, per cubic metre
	 * @param visit one extra visit
	 */
	public record Prices(Map<DoseKind, Double> chlorine, double water, double visit) {

		public Prices {
			chlorine = Map.copyOf(chlorine);
		}

	}

	/**
	 * @param forecast the forecast redrawn, week by week to the season's end, by level
	 * @param exitProbability probability of leaving the range by the season's end, by level and side
	 * @param cost null when the volume of the pool is not known
	 */
	public record Outcome(Scenario scenario, Map<Level, List<DatedBand>> forecast, Map<Level, Map<RangeEnd, Double>> exitProbability,
			@Nullable Cost cost) {
	}

	/** From today to the season's end, as expected. @param water what is put in to keep the level and after drains */
	public record Cost(double chemicals, double water, double visits, double equipment) {

		public double total() {
			return chemicals + water + visits + equipment;
		}

	}

}
