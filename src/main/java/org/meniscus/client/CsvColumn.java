package org.meniscus.client;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

import org.meniscus.water.units.UnitSystem;

/** A column of the table in which clients and pools come and go. Units stand in the header, so a file says what it is in. */
public enum CsvColumn {

	CLIENT, EMAIL, PHONE, LANGUAGE, CLIENT_NOTES, POOL, STREET, TOWN, POSTCODE, LATITUDE, LONGITUDE, BODY, SURFACE, INDOOR,
	SANITIZER, VOLUME("gal", "m3"), VOLUME_CERTAINTY, AREA("ft2", "m2"), SHAPE, LENGTH("ft", "m"), WIDTH("ft", "m"),
	NARROW_WIDTH("ft", "m"), SHALLOW("ft", "m"), DEEP("ft", "m"), WASTE_VALVE, PUMP_HOURS, FLOW("gpm", "m3_h"), FILTER,
	FILTER_CLEAN("psi", "bar"), CELL_RATING("lb_day", "g_day"), CELL_PERCENT, CELL_STEP, COVER_HOURS, BATHERS, OZONE, UV, IONIZER, FILL_PH,
	FILL_TA_PPM, FILL_CH_PPM, FILL_SALT_PPM,
	MONTHLY_FEE, EQUIPMENT_NOTES, ACCESS_NOTES;

	private final String us;

	private final String metric;

	CsvColumn() {
		this("", "");
	}

	CsvColumn(String us, String metric) {
		this.us = us;
		this.metric = metric;
	}

	/** As it is written in the first line of a file. */
	public String header(UnitSystem units) {
		String unit = (units == UnitSystem.US) ? us : metric;
		return name().toLowerCase(Locale.ROOT) + (unit.isEmpty() ? "" : "_" + unit);
	}

	/** Whether it speaks of the client; all others speak of the pool. */
	public boolean isClientColumn() {
		return compareTo(POOL) < 0;
	}

	/** A column in one of its units. */
	record ColumnInUnits(CsvColumn column, UnitSystem units) {
	}

	/** Capitals, blanks and hyphens do not matter. */
	static Optional<ColumnInUnits> findByHeader(String header) {
		String wanted = header.strip().toLowerCase(Locale.ROOT).replaceAll("[ -]+", "_");
		for (CsvColumn column : values()) {
			for (UnitSystem units : UnitSystem.values()) {
				if (column.header(units).equals(wanted)) {
					return Optional.of(new ColumnInUnits(column, units));
				}
			}
		}
		return Optional.empty();
	}

	static List<String> headers(UnitSystem units, boolean withAccessNotes) {
		List<String> headers = new ArrayList<>();
		for (CsvColumn column : values()) {
			if (withAccessNotes || column != ACCESS_NOTES) {
				headers.add(column.header(units));
			}
		}
		return headers;
	}

}
