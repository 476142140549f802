package org.meniscus.water.assess;

import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;

/**
 * Readings against the ranges of a pool. Unmeasured levels are absent, never zero.
 *
 * @param states each level that has a range, in the order of {@link Level}
 * @param levels the tested levels with HOCl and saturation index worked out where the readings allow
 * @param tradeIndex the trade's factor index, for reference; null unless pH, TA, CH and temperature are known
 * @param fcMinimum FC that protects this pool with this CYA, ppm; null in a pool not kept on chlorine
 * @param fcToHold as much of it as doses can hold, ppm, see {@link Assessor#fcToHold}; null likewise
 * @param fcCeiling highest FC, ppm, by policy
 * @param reasons every flag as data, most urgent first
 */
public record Assessment(Map<Level, LevelState> states, Levels levels, @Nullable Double tradeIndex, @Nullable Double fcMinimum,
		@Nullable Double fcToHold, double fcCeiling, List<Reason> reasons) {

	public Assessment {
		Map<Level, LevelState> copy = new EnumMap<>(Level.class);
		copy.putAll(states);
		states = Collections.unmodifiableMap(copy);
		reasons = List.copyOf(reasons);
	}

	public static Assessment of(PoolFacts pool, Readings readings, TreatmentPolicy policy) {
		return Assessor.assess(pool, readings, policy);
	}

	/** Null when the level was not tested or has no range in this pool. */
	public @Nullable LevelState state(Level level) {
		return this.states.get(level);
	}

	public boolean is(Level level, LevelState.State state, LevelState.Direction direction) {
		LevelState found = this.states.get(level);
		return found != null && found.state() == state && found.direction() == direction;
	}

}
