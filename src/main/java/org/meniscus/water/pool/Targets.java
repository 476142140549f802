package org.meniscus.water.pool;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;

import org.jspecify.annotations.Nullable;

/** Range of each level of one pool. A level without a range is only shown, never assessed. */
public record Targets(Map<Level, Range> ranges) {

	private static final String RESIDENTIAL = "residential practice in the US, common practice, no source";

	private static final String APSP = "ANSI/APSP-11 (2009/2019) operating-parameter table, from memory";

	/** Copper and iron above it stain, ppm: rows stain_iron and stain_copper of the trade table {@code situations.csv}. */
	private static final double STAINING_METAL = 0.3;

	private static final String METAL = "0.2 of copper and 0.1 of iron at most, stains above 0.3: common practice, no source";

	private static final String DRINKING_WATER = "EPA secondary standards for drinking water, 40 CFR 143.3";

	private static final double MANGANESE = 0.05;

	private static final String APSP_PAGE = "ANSI/APSP/ICC-11 2019 annex page 34";

	/** Least bromine, ppm: CDC on home pools and hot tubs, from memory; a code table has 2 (Montana ARM 37.115.1308, superseded version). */
	private static final double BROMINE = 3;

	private static final double BROMINE_IN_A_SPA = 4;

	public Targets {
		Map<Level, Range> copy = new EnumMap<>(Level.class);
		copy.putAll(ranges);
		ranges = Collections.unmodifiableMap(copy);
	}

	/** Null when the level has no range in this pool. */
	public @Nullable Range range(Level level) {
		return this.ranges.get(level);
	}

	/** The same targets with every level overridden that {@code own} names. */
	public Targets with(Map<Level, Range> own) {
		Map<Level, Range> changed = new EnumMap<>(Level.class);
		changed.putAll(this.ranges);
		changed.putAll(own);
		return new Targets(changed);
	}

	/** The published ranges for a kind of pool; each range names its source. Phosphate in ppb. */
	public static Targets defaults(BodyOfWater body, Surface surface, boolean indoor, Sanitizer sanitizer) {
		Map<Level, Range> ranges = new EnumMap<>(Level.class);
		boolean spa = body == BodyOfWater.SPA;
		if (sanitizer.usesChlorine()) {
			ranges.put(Level.FC, spa
					? new Range(3, 3, 5, 10, "MAHC 5.7.3.1.1.2, from memory; ideal of a public spa by " + APSP)
					: new Range(1, 2, 4, 10, RESIDENTIAL));
			ranges.put(Level.CC, new Range(0, 0, 0.2, 0.5, RESIDENTIAL));
			ranges.put(Level.CYA, cya(spa, indoor, sanitizer));
		}
		if (sanitizer == Sanitizer.BROMINE) {
			double least = spa ? BROMINE_IN_A_SPA : BROMINE;
			ranges.put(Level.BROMINE, new Range(least, least, 8, 8,
					"at least 3 ppm, in a hot tub 4: CDC, from memory; to 8: Montana ARM 37.115.1308 table, superseded version"));
		}
		ranges.put(Level.PH, new Range(7.2, 7.4, 7.6, 7.8, RESIDENTIAL));
		ranges.put(Level.TA, (sanitizer == Sanitizer.SALT_CELL)
				? new Range(60, 60, 100, 180,
						"60 to 80 common practice, no source; 80 to 100 for generators, Service Industry News, April 2022; ends by "
								+ APSP_PAGE)
				: new Range(60, 80, 120, 180, RESIDENTIAL + "; 60 and 180 by " + APSP_PAGE));
		if (spa) {
			ranges.put(Level.CH, new Range(100, 150, 250, 800, APSP_PAGE));
		}
		else if (surface.cementBound()) {
			ranges.put(Level.CH, new Range(150, 200, 400, 1000, RESIDENTIAL + "; " + APSP_PAGE));
		}
		else {
			ranges.put(Level.CH, new Range(50, 150, 250, 1000, RESIDENTIAL));
		}
		if (sanitizer == Sanitizer.SALT_CELL) {
			ranges.put(Level.SALT, new Range(2500, 3000, 3400, 4500, RESIDENTIAL + "; the maker of the cell decides"));
		}
		else {
			ranges.put(Level.TDS, new Range(0, 0, 1500, 2000,
					RESIDENTIAL + "; start-up value plus 1500, start-up taken as 500"));
		}
		ranges.put(Level.BORATE, new Range(0, 0, 50, 50, RESIDENTIAL + "; 30 to 50 where it is used"));
		ranges.put(Level.PHOSPHATE, new Range(0, 0, 100, 500, RESIDENTIAL + "; no health limit, disputed value"));
		ranges.put(Level.COPPER, new Range(0, 0, 0.2, STAINING_METAL, METAL));
		ranges.put(Level.IRON, new Range(0, 0, 0.1, STAINING_METAL, METAL + "; 0.3 also by " + DRINKING_WATER));
		ranges.put(Level.MANGANESE, new Range(0, 0, MANGANESE, MANGANESE, "it stains above 0.05: " + DRINKING_WATER));
		if (sanitizer.usesChlorine()) {
			ranges.put(Level.AMMONIA,
					new Range(0, 0, 0, 0.2, "none beside free chlorine; less than 0.25 a colour test does not show, from memory"));
		}
		if (spa) {
			ranges.put(Level.TEMPERATURE, new Range(0, 0, 40, 40, "104 °F in a code table, Montana ARM 37.115.1308"));
		}
		ranges.put(Level.SATURATION_INDEX, new Range(-0.3, -0.3, 0.3, 0.5, "-0.3 to +0.5 trade press and " + APSP
				+ "; +/-0.3 other trade texts"));
		return new Targets(ranges);
	}

	private static Range cya(boolean spa, boolean indoor, Sanitizer sanitizer) {
		if (indoor) {
			return new Range(0, 0, 0, 0, "Texas 25 TAC 265.193(d): no CYA in indoor pools");
		}
		if (spa) {
			return new Range(0, 0, 30, 50, "spa: dichlor until CYA 30, not above 50; common practice, no source");
		}
		if (sanitizer == Sanitizer.SALT_CELL) {
			return new Range(30, 60, 80, 100, RESIDENTIAL);
		}
		return new Range(0, 30, 50, 100, RESIDENTIAL);
	}

}
