package org.meniscus.water.pool;

import java.util.List;

/** Levels that mostly change with the water that leaves and comes in, in the order of all arrays by level. */
public final class SlowLevels {

	public static final List<Level> ALL = List.of(Level.CYA, Level.CH, Level.SALT, Level.TDS, Level.BORATE);

	public static final int COUNT = ALL.size();

	public static final int CYA = 0;

	public static final int CH = 1;

	private SlowLevels() {
	}

}
