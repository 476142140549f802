package org.meniscus.demo;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.units.Volume;

/**
 * One invented pool; a row of {@code demo/pools.csv}.
 *
 * @param language "en" or "es"
 * @param feeCents monthly, US cents
 * @param technician 0, 1 or 2
 * @param workday 1 to 5: which of the technician's working days
 * @param fillTa of the water it is topped up with, mg/L CaCO3
 * @param fillCh of the water it is topped up with, mg/L CaCO3
 * @param fcPerDay free chlorine used a day at the height of the season with plenty of it in the water, mg/L
 */
record DemoPool(int number, String client, String language, String name, String street, String town, String postcode,
		double latitude, double longitude, BodyOfWater body, Surface surface, boolean indoor, Sanitizer sanitizer, Volume volume,
		VolumeCertainty certainty, int feeCents, String access, String equipment, ChlorineMethod chlorineMethod, int technician,
		int workday,
		double fillTa, double fillCh, double fcPerDay, @Nullable SeasonEvent event) {

	/** How the technician usually brings chlorine into this pool. */
	enum ChlorineMethod {

		LIQUID, CALHYPO, DICHLOR,
		/** Trichlor tablets in a feeder. */
		TABLETS,
		/** A salt cell. */
		SALT,
		/** Small soft-sided pool: liquid chlorine in small steps. */
		SMALL,
		/** Hot tub: dichlor, a new filling when stabilizer has built up. */
		SPA,
		/** Indoor training pool: liquid chlorine, non-chlorine oxidizer every second week, no stabilizer. */
		INDOOR

	}

	/** What befalls this pool in the season. */
	enum SeasonEvent {

		/** Turns green in mid-season and is brought back. */
		ALGAE,
		/** The client hangs in a floater with tablets and tells nobody. */
		HIDDEN_FLOATER, LEAK,
		/** A child has an accident in the water. */
		INCIDENT

	}

	/** Mean depth, metres; common practice, no source. */
	double depth() {
		return (body == BodyOfWater.SPA) ? 0.8 : (surface == Surface.SOFT_SIDED) ? 1.0 : 1.4;
	}

	boolean small() {
		return body == BodyOfWater.SPA || surface == Surface.SOFT_SIDED;
	}

	boolean sandFilter() {
		return equipment.startsWith("Sand filter");
	}

	static List<DemoPool> all() {
		CSVFormat format = CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get();
		try (Reader text = new InputStreamReader(DemoPool.class.getResourceAsStream("/demo/pools.csv"), StandardCharsets.UTF_8);
				var rows = format.parse(text)) {
			List<DemoPool> pools = new ArrayList<>();
			for (CSVRecord row : rows) {
				pools.add(of(pools.size(), row));
			}
			return pools;
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static DemoPool of(int number, CSVRecord row) {
		String special = row.get("special");
		return new DemoPool(number, row.get("client"), row.get("language"), row.get("pool"), row.get("street"), row.get("town"),
				row.get("postcode"), number(row, "latitude"), number(row, "longitude"), BodyOfWater.valueOf(row.get("body")),
				Surface.valueOf(row.get("surface")), Boolean.parseBoolean(row.get("indoor")), Sanitizer.valueOf(row.get("sanitizer")),
				Volume.ofUsGallons(number(row, "gallons")), VolumeCertainty.valueOf(row.get("certainty")),
				Integer.parseInt(row.get("fee_cents")), row.get("access"), row.get("equipment"), ChlorineMethod.valueOf(row.get("habit")),
				Integer.parseInt(row.get("technician")), Integer.parseInt(row.get("weekday")), number(row, "fill_ta"),
				number(row, "fill_ch"), number(row, "fc_per_day"), special.isEmpty() ? null : SeasonEvent.valueOf(special));
	}

	private static double number(CSVRecord row, String column) {
		return Double.parseDouble(row.get(column));
	}

}
