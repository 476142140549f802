package org.meniscus.water.drift;

import java.util.List;

import org.meniscus.water.pool.Level;

/** Levels that mostly change with the water that leaves and comes in, in the order of all arrays by level. */
final class SlowLevels {

	static final List<Level> ALL = List.of(Level.CYA, Level.CH, Level.SALT, Level.TDS, Level.BORATE);

	static final int COUNT = ALL.size();

	static final int CYA = 0;

	static final int CH = 1;

	private SlowLevels() {
	}

}
