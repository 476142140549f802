package org.meniscus.study.audit;

import java.util.EnumMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.plan.Step;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Readings;

/** How far a dose jumps when one reading moves by one step of its test. */
final class AuditContinuity {

	/** Largest share of a usual dose that no limit explains. */
	private static final double MOST_SHARE = 0.35;

	/** A dose that moves pH by no more than so many steps for one step of its test follows the test: the buffer of the water decides. */
	private static final double PH_STEPS = 1.75;

	/** Of pH or saturation index: a step of the test of pH. */
	private static final double END_STEP = 0.1;

	/** Steps of the tests: reading-bounds.csv. */
	static final Map<Level, Double> TEST_STEP = Map.of(Level.FC, 0.1, Level.PH, 0.1, Level.TA, 10.0, Level.CH, 10.0, Level.CYA,
			5.0, Level.SALT, 50.0, Level.TEMPERATURE, 1.0);

	/**
	 * A usual dose by what it moves, ppm: for acid and alkali the most of one addition in the trade's facts (a quart of muriatic acid, 2 lb
	 * of soda ash, 10 lb of bicarbonate, 10 lb of calcium chloride, 4 lb of stabilizer for 10,000 gal), for chlorine the usual ceiling.
	 */
	private static final Map<Step.Purpose, Double> USUAL = Map.of(Step.Purpose.LOWER_PH, 12.5, Step.Purpose.RAISE_PH, 22.6,
			Step.Purpose.RAISE_TA, 71.0, Step.Purpose.RAISE_CH, 83.0, Step.Purpose.RAISE_CYA, 48.0, Step.Purpose.RAISE_FC, 4.0,
			Step.Purpose.RAISE_SALT, 1000.0);

	/** What of the water is counted for a purpose. */
	private static final Map<Step.Purpose, Level> COUNTED = Map.of(Step.Purpose.LOWER_PH, Level.TA, Step.Purpose.RAISE_PH, Level.TA,
			Step.Purpose.RAISE_TA, Level.TA, Step.Purpose.RAISE_CH, Level.CH, Step.Purpose.RAISE_CYA, Level.CYA, Step.Purpose.RAISE_FC,
			Level.FC, Step.Purpose.RAISE_SALT, Level.SALT);

	/** @param share of a usual dose @param explained a limit is crossed, and the plan shows it */
	record Jump(double share, boolean explained, String text) {
	}

	private AuditContinuity() {
	}

	/** The largest jump of any dose over all readings; null where none changes. */
	static @Nullable Jump largest(AuditCase at) {
		Jump largest = null;
		for (Map.Entry<Level, Double> step : TEST_STEP.entrySet()) {
			Double reading = at.request().readings().value(step.getKey());
			if (reading == null) {
				continue;
			}
			PlanRequest moved = moved(at.request(), step.getKey(), AuditDraw.step(reading + step.getValue(), step.getValue() / 10));
			if (Planner.plan(moved) instanceof Plan plan && differ(doses(at.plan()), doses(plan))) {
				Jump jump = jump(at, AuditCase.of(moved, plan), step.getKey());
				if (jump != null && (largest == null || (largest.explained() && !jump.explained())
						|| (largest.explained() == jump.explained() && jump.share() > largest.share()))) {
					largest = jump;
				}
			}
		}
		return largest;
	}

	static boolean differ(Map<Step.Purpose, Double> one, Map<Step.Purpose, Double> other) {
		return USUAL.entrySet()
			.stream()
			.anyMatch(usual -> Math.abs(one.getOrDefault(usual.getKey(), 0.0) - other.getOrDefault(usual.getKey(), 0.0)) > MOST_SHARE
					* usual.getValue());
	}

	static @Nullable Jump jump(AuditCase at, AuditCase other, Level moved) {
		Map<Step.Purpose, Double> before = doses(at.plan());
		Map<Step.Purpose, Double> after = doses(other.plan());
		Set<Step.Purpose> purposes = new TreeSet<>(before.keySet());
		purposes.addAll(after.keySet());
		Jump largest = null;
		for (Step.Purpose purpose : purposes) {
			double from = before.getOrDefault(purpose, 0.0);
			double to = after.getOrDefault(purpose, 0.0);
			double usual = Objects.requireNonNull(USUAL.get(purpose));
			double share = Math.abs(to - from) / usual;
			if (purpose == Step.Purpose.RAISE_FC) {
				share = chlorineShare(at, other, from, to);
			}
			else if (purpose.level() == Level.PH) {
				share = sameEnd(at.settled(), other.settled()) ? 0
						: Math.abs(to - from)
								/ Math.max(usual, (moved == Level.PH) ? PH_STEPS / MOST_SHARE * buffer(at.now(), purpose) : 0);
			}
			if (share > MOST_SHARE && (largest == null || share > largest.share())) {
				boolean explained = !limits(at.plan()).equals(limits(other.plan())) || (heldBack(at, purpose) && heldBack(other, purpose)
						&& sameEnd(at.settled(), other.settled()));
				largest = new Jump(share, explained, String.format(Locale.ROOT,
						"%s up one step: %s %.1f -> %.1f ppm of %s (%.0f %% of a usual dose)", moved, purpose, from, to,
						COUNTED.get(purpose), 100 * share));
			}
		}
		return largest;
	}

	/**
	 * Superchlorination is no usual dose: it is held against the level that it reaches. Tablets are whole: what they bring instead of poured
	 * chlorine counts with it.
	 */
	private static double chlorineShare(AuditCase at, AuditCase other, double from, double to) {
		double reached = Math.min(at.after().fc(), other.after().fc());
		double usual = Math.max(Objects.requireNonNull(USUAL.get(Step.Purpose.RAISE_FC)),
				(reached > at.request().policy().fcCeiling()) ? reached : Math.min(from, to));
		double litres = Objects.requireNonNull(at.request().pool().volume()).litres();
		double fed = AuditEffects.fed(at.plan(), litres);
		double fedThen = AuditEffects.fed(other.plan(), litres);
		return Math.min(Math.abs(to - from) / usual, Math.abs(to + fedThen - from - fed) / Math.max(usual, Math.min(fed, fedThen)));
	}

	/** By pH or saturation index, and says so. */
	private static boolean heldBack(AuditCase at, Step.Purpose purpose) {
		return at.plan()
			.followUps()
			.stream()
			.anyMatch(later -> later.reason().code().equals("later.rest-of-balance") && later.product() != null
					&& at.plan().steps().stream().anyMatch(step -> step.purpose() == purpose && step.product().equals(later.product())));
	}

	/** By whichever acid, alkali or oxidizer, and however much of it this water takes. */
	private static boolean sameEnd(AuditWater one, AuditWater other) {
		return Math.abs(one.ph() - other.ph()) <= END_STEP || Math.abs(one.saturationIndex() - other.saturationIndex()) <= END_STEP;
	}

	/** TA in ppm that a step of the test of pH is worth in this water: of acid, or of soda ash, which brings carbon with it. */
	private static double buffer(AuditWater water, Step.Purpose purpose) {
		double carbon = (purpose == Step.Purpose.RAISE_PH) ? 1 / 100_086.0 : 0;
		return 0.1 * 2 / (water.plus(carbon, 1, 0, 0, 0, 0, 0, 0).ph() - water.plus(-carbon, -1, 0, 0, 0, 0, 0, 0).ph());
	}

	static Map<Step.Purpose, Double> doses(Plan plan) {
		Map<Step.Purpose, Double> doses = new EnumMap<>(Step.Purpose.class);
		for (Step step : plan.steps()) {
			Level level = COUNTED.get(step.purpose());
			if (level != null) {
				doses.merge(step.purpose(), Math.abs(step.after().value(level, 0) - step.before().value(level, 0)), Double::sum);
			}
		}
		return doses;
	}

	/** Where each level stands against its range, and everything that is kept out or waits: what a reader sees of a limit. */
	static Set<String> limits(Plan plan) {
		Set<String> limits = new HashSet<>();
		plan.assessment().states().forEach((level, state) -> limits.add(level + " " + state.state() + " " + state.direction()));
		limits.addAll(codes(plan.cautions()));
		plan.missing().forEach(missing -> limits.add("bring for " + missing.purpose()));
		limits.addAll(codes(plan.notes().stream().map(Plan.Note::reason).toList()));
		return limits;
	}

	private static Set<String> codes(List<Reason> reasons) {
		return reasons.stream().map(Reason::code).collect(Collectors.toSet());
	}

	static PlanRequest moved(PlanRequest request, Level level, double value) {
		Readings.Builder readings = request.readings().toBuilder();
		switch (level) {
			case FC -> readings.fc(value);
			case PH -> readings.ph(value, request.readings().phQualifier());
			case TA -> readings.ta(value);
			case CH -> readings.ch(value);
			case CYA -> readings.cya(value, request.readings().cyaQualifier());
			case SALT -> readings.salt(value);
			case TEMPERATURE -> readings.celsius(value);
			default -> throw new IllegalArgumentException("not moved: " + level);
		}
		return new PlanRequest(request.pool(), readings.build(), request.situation(), request.products(), request.policy(),
				request.daysToNextVisit(), request.swimWithinHours(), request.units(), request.lastKnown(), request.forecast());
	}

}
