package org.meniscus.water.demand;

import java.time.LocalDate;
import java.util.List;

/**
 * Monthly normals of the weather where a company works. What the weather really did is not known to the engine.
 *
 * @param months January to December
 */
public record ClimateNormals(List<Month> months) {

	/**
	 * @param evaporation from open water, mm a day
	 * @param rain mm in the month
	 * @param wetDays days with rain in the month
	 * @param waterTemperature of an unheated pool, degrees Celsius
	 */
	public record Month(double evaporation, double rain, double wetDays, double waterTemperature) {

		public Month {
			if (!(evaporation >= 0 && rain >= 0 && wetDays >= 0 && waterTemperature > -5 && waterTemperature < 50)) {
				throw new IllegalArgumentException(
						"not a month's weather: " + evaporation + ", " + rain + ", " + wetDays + ", " + waterTemperature);
			}
		}

	}

	/**
	 * Evaporation 1.9 m a year as the City of Phoenix water services state (about 6 ft), its swing as in the USDA-ARS Tombstone
	 * pan record; rain and temperature from memory, of the size of 1991-2020 normals.
	 */
	public static final ClimateNormals HOT_DRY = of("2.2 22 4 11, 3.0 22 4 13, 4.4 21 4 17, 6.2 6 2 21, 7.7 3 1 26, 8.6 1 1 30, "
			+ "8.0 23 4 32, 7.0 24 5 31, 6.0 14 3 29, 4.4 14 3 23, 2.8 14 2 16, 2.1 19 4 11");

	/** From memory, of the size in NOAA Technical Reports NWS 33/34 (1982) and 1991-2020 normals; not confirmed. */
	public static final ClimateNormals SUBTROPICAL = of("2.0 60 6 17, 2.7 63 6 18, 3.6 70 6 21, 4.6 60 5 24, 5.2 85 7 27, 4.9 190 13 29, "
			+ "4.8 190 15 30, 4.6 195 15 30, 4.1 160 12 29, 3.4 75 7 26, 2.5 45 5 22, 1.9 60 6 18");

	/** As {@link #SUBTROPICAL}. */
	public static final ClimateNormals TEMPERATE = of("0.5 85 11 5, 0.8 75 10 5, 1.5 95 11 9, 2.4 95 11 14, 3.3 95 12 19, 4.0 95 11 24, "
			+ "4.3 100 10 26, 3.7 95 10 26, 2.6 90 9 22, 1.6 90 9 16, 0.8 85 10 10, 0.5 90 11 6");

	/** As {@link #SUBTROPICAL}. */
	public static final ClimateNormals MEDITERRANEAN = of("1.6 80 6 13, 2.1 85 7 13, 3.1 55 6 15, 4.1 25 4 18, 5.0 8 2 21, 5.8 2 1 24, "
			+ "6.4 1 0.5 27, 6.0 1 0.5 28, 4.7 5 1 26, 3.2 15 3 21, 2.1 30 4 17, 1.6 60 6 14");

	public ClimateNormals {
		months = List.copyOf(months);
		if (months.size() != 12) {
			throw new IllegalArgumentException("not twelve months: " + months.size());
		}
	}

	/** At the middle of each month its normal, on a straight line between. @param epochDay days since 1970-01-01 */
	public Month at(long epochDay) {
		LocalDate date = LocalDate.ofEpochDay(epochDay);
		double position = date.getMonthValue() - 1 + (date.getDayOfMonth() - 0.5) / date.lengthOfMonth() - 0.5;
		int before = (int) Math.floor(position);
		double share = position - before;
		Month one = months.get(Math.floorMod(before, 12));
		Month other = months.get(Math.floorMod(before + 1, 12));
		return new Month(mix(one.evaporation, other.evaporation, share), mix(one.rain, other.rain, share),
				mix(one.wetDays, other.wetDays, share), mix(one.waterTemperature, other.waterTemperature, share));
	}

	private static double mix(double one, double other, double share) {
		return one + share * (other - one);
	}

	private static ClimateNormals of(String months) {
		return new ClimateNormals(List.of(months.split(", ")).stream().map(ClimateNormals::month).toList());
	}

	private static Month month(String figures) {
		String[] four = figures.split(" ");
		return new Month(Double.parseDouble(four[0]), Double.parseDouble(four[1]), Double.parseDouble(four[2]),
				Double.parseDouble(four[3]));
	}

}
