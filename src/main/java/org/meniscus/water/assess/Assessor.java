package org.meniscus.water.assess;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.LangelierIndex;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;

/** Works out an {@link Assessment}. */
public final class Assessor {

	/** Least FC, ppm, without CYA, with CYA, in a spa: model code values, Service Industry News, 14 April 2022. */
	private static final double FC_WITHOUT_CYA = 1;

	private static final double FC_WITH_CYA = 2;

	private static final double FC_SPA = 3;

	/** Largest CYA to FC ratio in an open pool: model code of 2023 (4th edition), announcement of the Council for the Model Aquatic Health Code. */
	private static final double CLOSING_RATIO = 45;

	/** Of the ceiling: what lies above it is for use until the next visit; common practice, no source. */
	private static final double HELD_SHARE = 0.75;

	private static final double SOME_CYA = 30;

	private static final String MODEL_CODE = "model code values, Service Industry News, April 2022; CYA at most 45 times FC, model code of 2023";

	private static final String RATIO = "CYA to FC ratio, Falk et al., Water 11(6) 1314, 2019, figure from memory";

	private static final String ACID = "as much hypochlorous acid as the CYA to FC ratio gives at pH 7.5 and 25 °C; ratio of Falk et al. 2019, from memory";

	private Assessor() {
	}

	static Assessment assess(PoolFacts pool, Readings readings, TreatmentPolicy policy) {
		PoolWater water = PoolWater.of(pool, readings);
		Levels levels = water.levels();
		Map<Level, LevelState> states = new EnumMap<>(Level.class);
		List<Reason> urgent = new ArrayList<>();
		Double minimum = pool.sanitizer().usesChlorine() ? Double.valueOf(fcMinimum(pool, readings, policy)) : null;
		for (Level level : Level.values()) {
			Double value = (level == Level.CYA) ? readings.cya() : levels.value(level);
			Range range = (level == Level.FC && minimum != null) ? fcRange(pool, readings, policy, minimum) : pool.targets().range(level);
			if (value == null || range == null || !hasRange(level, pool)) {
				continue;
			}
			states.put(level, LevelState.of(level, value, readings.qualifier(level), range));
		}
		Double toHold = (minimum != null) ? Double.valueOf(fcToHold(pool, readings, policy)) : null;
		double ceiling = policy.fcCeiling();
		if (minimum != null && minimumPassesCeiling(minimum, ceiling)) {
			urgent.add(Reason.of("fc.no-room", Term.of(Level.CYA, or(readings.cya(), 0)), Term.of(Level.FC, minimum),
					Term.of(Level.FC, ceiling), new Term.Text(RATIO)));
		}
		if (Boolean.FALSE.equals(readings.drainVisible())) {
			urgent.add(Reason.of("drain.not-visible"));
		}
		List<Reason> reasons = new ArrayList<>(urgent);
		addReasons(reasons, states, LevelState.State.OUT_OF_RANGE);
		addReasons(reasons, states, LevelState.State.DRIFTING);
		return new Assessment(states, levels, tradeIndex(water), minimum, toHold, ceiling, reasons);
	}

	/** No amount that can be measured out satisfies both. */
	public static boolean minimumReachesCeiling(double minimum, double ceiling) {
		return minimum >= ceiling - 1e-9;
	}

	/** No amount satisfies both: with a ceiling of 4 ppm above CYA 80, column water_replacement_only_cure_when of the trade table. */
	public static boolean minimumPassesCeiling(double minimum, double ceiling) {
		return minimum > ceiling + 1e-9;
	}

	private static boolean hasRange(Level level, PoolFacts pool) {
		return switch (level) {
			case FC, CC, TC, CYA -> pool.sanitizer().usesChlorine();
			case BROMINE -> pool.sanitizer() == Sanitizer.BROMINE;
			default -> true;
		};
	}

	/** Lowest FC with which people may swim, ppm: the code value for this kind of water and its CYA, and the pool's own acceptable low. */
	public static double fcToSwim(PoolFacts pool, Readings readings) {
		return Math.max(fcBase(pool, readings.cya()), or(readings.cya(), 0) / CLOSING_RATIO);
	}

	/**
	 * FC that doses can hold, ppm: what stabilizer asks for as far as the ceiling leaves room for what is used up, never less than
	 * people may swim in. More stabilizer never asks for less.
	 */
	public static double fcToHold(PoolFacts pool, Readings readings, TreatmentPolicy policy) {
		return Math.max(fcToSwim(pool, readings), Math.min(fcMinimum(pool, readings, policy), HELD_SHARE * policy.fcCeiling()));
	}

	/**
	 * The same by the CYA to FC ratio alone, ppm, for years ahead whose pH nobody knows.
	 *
	 * @param least FC with which people may swim in stabilized water whatever the CYA, ppm, see {@link #fcStabilized}
	 * @param cya above zero, ppm
	 */
	public static double fcToHold(double least, double cya, double cyaPerFc, double ceiling) {
		return Math.max(Math.max(least, cya / CLOSING_RATIO), Math.min(cya / cyaPerFc, HELD_SHARE * ceiling));
	}

	/** Lowest FC with which people may swim in stabilized water, whatever its CYA, ppm. */
	public static double fcStabilized(PoolFacts pool) {
		return fcBase(pool, SOME_CYA);
	}

	/** CYA up to which doses can hold what it asks for by the ratio, ppm. */
	public static double cyaToHold(TreatmentPolicy policy) {
		return cyaToHold(policy.cyaPerFc(), policy.fcCeiling());
	}

	/** @param ceiling highest FC of a routine dose, ppm */
	public static double cyaToHold(double cyaPerFc, double ceiling) {
		return HELD_SHARE * cyaPerFc * ceiling;
	}

	/**
	 * FC below which no plan leaves a pool that it has chlorine for, ppm: what protects the water where that is below the ceiling, else what
	 * doses can hold.
	 */
	public static double fcToReach(PoolFacts pool, Readings readings, TreatmentPolicy policy) {
		double minimum = fcMinimum(pool, readings, policy);
		return minimumReachesCeiling(minimum, policy.fcCeiling()) ? fcToHold(pool, readings, policy) : minimum;
	}

	/** FC that protects the water of this pool, ppm: no less than people may swim in, and what stabilizer asks for by policy. */
	public static double fcMinimum(PoolFacts pool, Readings readings, TreatmentPolicy policy) {
		double cya = or(readings.cya(), 0);
		double byRatio = cya / policy.cyaPerFc();
		boolean byAcid = policy.minimumRule() == MinimumRule.HYPOCHLOROUS_ACID && cya > 0 && readings.ph() != null;
		return Math.max(fcToSwim(pool, readings), byAcid ? ActiveChlorine.freeChlorineFor(PoolWater.of(pool, readings).water(),
				ActiveChlorine.hoclAtRatio(policy.cyaPerFc())) : byRatio);
	}

	private static double fcBase(PoolFacts pool, @Nullable Double cya) {
		double code = (pool.body() == BodyOfWater.SPA) ? FC_SPA
				: ((cya != null && cya <= 0) || (cya == null && pool.indoor())) ? FC_WITHOUT_CYA : FC_WITH_CYA;
		Range range = pool.targets().range(Level.FC);
		return (range != null) ? Math.max(code, range.acceptableLow()) : code;
	}

	/** Acceptable is what people may swim in, ideal what doses are to hold as far as the ceiling allows. */
	static Range fcRange(PoolFacts pool, Readings readings, TreatmentPolicy policy, double minimum) {
		Range target = pool.targets().range(Level.FC);
		double low = fcToSwim(pool, readings);
		double high = Math.max(policy.swimCeiling(), low);
		double idealLow = Math.min(high, Math.max(minimum, (target != null) ? target.idealLow() : minimum));
		double idealHigh = Math.max(idealLow, Math.min(high, (target != null) ? target.idealHigh() : high));
		String source = MODEL_CODE + ((minimum <= low) ? ""
				: "; ideal by the " + ((policy.minimumRule() == MinimumRule.HYPOCHLOROUS_ACID) ? ACID : RATIO));
		return new Range(low, idealLow, idealHigh, high, source + "; upper end by company policy");
	}

	private static void addReasons(List<Reason> reasons, Map<Level, LevelState> states, LevelState.State state) {
		for (LevelState found : states.values()) {
			if (found.state() == state && found.reason() != null) {
				reasons.add(found.reason());
			}
		}
	}

	/** The trade's index takes carbonate alkalinity, by its own factor for CYA. */
	private static @Nullable Double tradeIndex(PoolWater water) {
		if (!water.knows(Level.PH) || !water.knows(Level.TA) || !water.knows(Level.CH) || !water.knows(Level.TEMPERATURE)) {
			return null;
		}
		double ph = water.water().ph();
		double carbonate = water.water().totalAlkalinity() - LangelierIndex.stabilizerFactor(ph) * water.water().cyanuricAcid()
				- Speciation.of(water.water()).borateAlkalinity();
		if (carbonate <= 0 || water.water().calciumHardness() <= 0) {
			return null;
		}
		double solids = (water.tds() != null) ? water.tds() : water.water().salt();
		return LangelierIndex.of(ph, water.water().temperature(), water.water().calciumHardness(), carbonate, solids);
	}

	private static double or(@Nullable Double value, double otherwise) {
		return (value != null) ? value : otherwise;
	}

}
