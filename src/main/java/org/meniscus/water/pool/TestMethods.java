package org.meniscus.water.pool;

import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;

/**
 * How each level was read at one stop, or is usually read by a company.
 *
 * @param kit of every level that is not named
 * @param own by level that is read in another way; chlorine and bromine, which one test reads, under {@link Level#FC}
 */
public record TestMethods(TestKit kit, Map<Level, TestMethod> own) {

	/** The usual drops for everything. */
	public static final TestMethods USUAL = of(TestKit.DROPS_25_ML);

	/** Levels whose test a company or a technician chooses. */
	public static final List<Level> CHOSEN = List.of(Level.FC, Level.PH, Level.TA, Level.CH, Level.CYA, Level.SALT, Level.PHOSPHATE,
			Level.COPPER, Level.IRON, Level.MANGANESE, Level.AMMONIA);

	public TestMethods {
		Map<Level, TestMethod> named = new EnumMap<>(Level.class);
		for (Map.Entry<Level, TestMethod> method : own.entrySet()) {
			if (!method.getValue().equals(new TestMethod(kit, 1))) {
				named.put(test(method.getKey()), method.getValue());
			}
		}
		own = Collections.unmodifiableMap(named);
	}

	public static TestMethods of(TestKit kit) {
		return new TestMethods(kit, Map.of());
	}

	/** The level under which the test is named that reads this one. */
	public static Level test(Level level) {
		return switch (level) {
			case TC, CC, BROMINE -> Level.FC;
			default -> level;
		};
	}

	public TestMethod method(Level level) {
		return this.own.getOrDefault(test(level), new TestMethod(this.kit, 1));
	}

	/** The same with one level read in another way. */
	public TestMethods with(Level level, TestMethod method) {
		Map<Level, TestMethod> changed = new EnumMap<>(Level.class);
		changed.putAll(this.own);
		changed.put(test(level), method);
		return new TestMethods(this.kit, changed);
	}

	/**
	 * Of the test of a level.
	 *
	 * @throws IllegalArgumentException as {@link TestPrecision#usual}
	 */
	public TestPrecision precision(Level level) {
		return method(level).precision(level);
	}

	/** Whether water may be replaced on what was read of a level; common practice, no source. */
	public boolean decidesDrain(Level level) {
		return method(level).kit().decidesDrain();
	}

	/** Each method of its own as {@code LEVEL KIT DILUTION}, as it is stored. */
	public List<String> marks() {
		return this.own.entrySet()
			.stream()
			.map(entry -> entry.getKey() + " " + entry.getValue().kit() + " " + entry.getValue().dilution())
			.toList();
	}

	/**
	 * From what is stored.
	 *
	 * @param kit null = the usual drops
	 * @param marks as {@link #marks}
	 * @throws IllegalArgumentException for a mark that {@link #marks} does not make
	 */
	public static TestMethods parse(@Nullable String kit, List<String> marks) {
		TestMethods methods = of((kit != null) ? TestKit.valueOf(kit) : TestKit.DROPS_25_ML);
		for (String mark : marks) {
			String[] parts = mark.split(" ");
			if (parts.length != 3) {
				throw new IllegalArgumentException("not a test method: " + Arrays.toString(parts));
			}
			methods = methods.with(Level.valueOf(parts[0]), new TestMethod(TestKit.valueOf(parts[1]), Integer.parseInt(parts[2])));
		}
		return methods;
	}

}
