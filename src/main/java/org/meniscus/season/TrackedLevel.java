package org.meniscus.season;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.drift.SeasonQuestion.Persistence;
import org.meniscus.water.drift.TestError;
import org.meniscus.water.pool.Level;

/**
 * A level that is followed over a season, with what one reading of it is worth. Errors: CYA from memory (turbidity, 10 to 15 ppm),
 * the others common practice, no source (about half a drop of the usual titration, or the meter's tolerance).
 */
enum TrackedLevel {

	CYA(Level.CYA, "cya_ppm", "cya_mark", Persistence.LASTING, new TestError(4, 0.09), 0),
	CH(Level.CH, "ch_ppm", null, Persistence.LASTING, new TestError(6, 0.035), 150),
	TA(Level.TA, "ta_ppm", null, Persistence.LASTING, new TestError(5, 0.03), 100),
	SALT(Level.SALT, "salt_ppm", null, Persistence.LASTING, new TestError(100, 0.05), 100),
	TDS(Level.TDS, "tds_ppm", null, Persistence.LASTING, new TestError(100, 0.05), 300),
	BORATE(Level.BORATE, "borate_ppm", null, Persistence.LASTING, new TestError(3, 0.08), 0),
	FC(Level.FC, "fc_ppm", null, Persistence.PASSING, new TestError(0.1, 0.07), 0),
	PH(Level.PH, "ph", "ph_mark", Persistence.PASSING, new TestError(0.1, 0), 7.5);

	/** Followed by the drift engine; the others change from week to week by what is dosed for them. */
	static final List<TrackedLevel> DRIFTING = List.of(CYA, CH, SALT, TDS, BORATE);

	final Level level;

	final String column;

	final @Nullable String qualifierColumn;

	final Persistence persistence;

	final TestError error;

	/** Taken for the fill water where nobody has tested it. Assumption, no source. */
	final double assumedFillLevel;

	TrackedLevel(Level level, String column, @Nullable String markColumn, Persistence persistence,
			TestError error, double usualFill) {
		this.level = level;
		this.column = column;
		this.qualifierColumn = markColumn;
		this.persistence = persistence;
		this.error = error;
		this.assumedFillLevel = usualFill;
	}

}
