package org.meniscus.season;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Level;

/** A level that is followed over a season, and where it is stored. */
enum TrackedLevel {

	CYA(Level.CYA, "cya_ppm", "cya_qualifier"),
	CH(Level.CH, "ch_ppm", null),
	TA(Level.TA, "ta_ppm", null),
	SALT(Level.SALT, "salt_ppm", null),
	TDS(Level.TDS, "tds_ppm", null),
	BORATE(Level.BORATE, "borate_ppm", null),
	FC(Level.FC, "fc_ppm", null),
	PH(Level.PH, "ph", "ph_qualifier");

	/** Followed by the drift engine. */
	static final List<TrackedLevel> DRIFTING = List.of(CYA, CH, SALT, TDS, BORATE);

	/** Changed from week to week by what is dosed for them. */
	static final List<TrackedLevel> DOSED = List.of(TA, FC, PH);

	final Level level;

	final String column;

	final @Nullable String qualifierColumn;

	TrackedLevel(Level level, String column, @Nullable String qualifierColumn) {
		this.level = level;
		this.column = column;
		this.qualifierColumn = qualifierColumn;
	}

}
