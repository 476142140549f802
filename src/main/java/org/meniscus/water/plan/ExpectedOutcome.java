package org.meniscus.water.plan;

import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.chemistry.Breakpoint;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.pool.MeasurementUncertainty;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.NormalDistribution;

/**
 * What is to be expected once the plan is done. Bands hold four times in five (80 %): they take in what tests, the volume on record
 * and the pool's own ways leave open.
 *
 * @param justAfter of each level that the plan moves, in the level's unit
 * @param days until the next visit; zero: not known, then nothing is said of it
 * @param nextVisit of each known level at the next visit
 * @param holdProbability that FC is then at least the minimum; null when no next visit is known or the pool is not kept on chlorine
 * @param suggestions what would hold chlorine until then where today's dose alone does not; empty when it does
 */
public record ExpectedOutcome(Map<Level, Band> justAfter, int days, Map<Level, Band> nextVisit, @Nullable Double holdProbability,
		List<Reason> suggestions) {

	/** Levels that follow a mass balance between visits. */
	private static final Level[] BALANCED = { Level.TA, Level.CH, Level.CYA, Level.SALT, Level.BORATE };

	public ExpectedOutcome {
		justAfter = copy(justAfter);
		nextVisit = copy(nextVisit);
		suggestions = List.copyOf(suggestions);
	}

	private static Map<Level, Band> copy(Map<Level, Band> bands) {
		Map<Level, Band> copy = new EnumMap<>(Level.class);
		copy.putAll(bands);
		return Collections.unmodifiableMap(copy);
	}

	/**
	 * FC that the plan has brought back day by day.
	 *
	 * @param fc ppm
	 * @param days on which it is
	 */
	record Held(double fc, int days) {

		/** Days from the last time on. */
		int left(int toNextVisit) {
			return Math.max(1, toNextVisit - this.days);
		}

		/** Ppm that all those doses bring. */
		double brought(PoolForecast forecast, int toNextVisit) {
			return (toNextVisit - left(toNextVisit)) * Math.max(0, this.fc - forecast.demand().expected(this.fc, 1));
		}

	}

	/**
	 * What ammonia takes, ppm of FC.
	 *
	 * @param demand in all; zero where there is none
	 * @param dosed FC before it has taken any
	 */
	record AmmoniaDemand(double demand, double dosed) {
	}

	/**
	 * @param after ammonia has taken its chlorine
	 * @param held null where FC is not brought back between visits
	 * @param chance whether FC until the next visit is meant to hold
	 */
	static ExpectedOutcome of(PlanRequest request, AmmoniaDemand ammonia, PoolForecast forecast, PoolWater now, PoolWater after,
			@Nullable ResidualTarget target, @Nullable Held held, boolean chance, List<Reason> offers) {
		Map<Level, Band> justAfter = new EnumMap<>(Level.class);
		Levels before = now.levels();
		Levels then = after.levels();
		for (Map.Entry<Level, Double> level : then.values().entrySet()) {
			Double from = before.value(level.getKey());
			if (ammonia.demand() > 0 && level.getKey() == Level.FC) {
				justAfter.put(Level.FC, besideAmmonia(ammonia, (target != null) ? target.spread(ammonia.dosed()) : 0));
			}
			else if (from != null && Math.abs(level.getValue() - from) > 1e-9 && isTested(level.getKey())
					&& !(ammonia.demand() > 0 && (level.getKey() == Level.TC || level.getKey() == Level.AMMONIA))) {
				double spread = NormalDistribution.Z80
						* MeasurementUncertainty.after(request.readings().tests(), level.getKey(), from, level.getValue() - from,
								request.pool().certainty());
				justAfter.put(level.getKey(), band(level.getValue(), spread));
			}
		}
		int days = request.daysToNextVisit();
		if (days == 0) {
			return new ExpectedOutcome(justAfter, 0, Map.of(), null, List.of());
		}
		double fc = after.water().freeChlorine();
		int left = (held != null) ? held.left(days) : days;
		double start = (held != null) ? held.fc() : fc;
		return new ExpectedOutcome(justAfter, days,
				nextVisit(request, forecast, now, after, start, target, left, (held != null) ? held.brought(forecast, days) : 0),
				(target != null && chance) ? target.holdProbability(start, left) : null, offers);
	}

	/** Ammonia takes from what is known by stoichiometry to what it takes in practice, within the hour. */
	private static Band besideAmmonia(AmmoniaDemand ammonia, double spread) {
		double fc = ammonia.dosed();
		double lost = ammonia.demand();
		double least = lost * Breakpoint.CHLORINE_PER_AMMONIA_NITROGEN / Breakpoint.CHLORINE_PER_AMMONIA_NITROGEN_IN_PRACTICE;
		double half = NormalDistribution.Z80 * spread;
		double middle = Math.max(0, fc - lost);
		return new Band(Math.max(0, fc - lost - half), middle, Math.max(middle, fc - least + half));
	}

	private static Map<Level, Band> nextVisit(PlanRequest request, PoolForecast forecast, PoolWater now, PoolWater after,
			double fc, @Nullable ResidualTarget target, int daysLeft, double broughtBack) {
		Map<Level, Band> next = new EnumMap<>(Level.class);
		int days = request.daysToNextVisit();
		double fall = 0;
		if (target != null) {
			Band left = forecast.demand().after(fc, target.spread(fc), daysLeft);
			next.put(Level.FC, left);
			fall = fc - left.middle();
		}
		if (now.knows(Level.PH) && now.knows(Level.TA)) {
			forecast.phDrift().after(after.water(), fall, days).ifPresent(ph -> next.put(Level.PH, ph));
		}
		// Chlorine that is used up takes TA and leaves salt; a cell gives both back, tablets bring CYA instead.
		double tablets = forecast.phDrift().tablets() * days;
		double used = Math.max(0, fall + tablets);
		for (Level level : BALANCED) {
			if (!now.knows(level)) {
				continue;
			}
			double from = now.levels().value(level, 0);
			double value = after.levels().value(level, 0) + forecast.driftPerDay().getOrDefault(level, 0.0) * days;
			if (level == Level.TA) {
				value -= Stoichiometry.TA_PER_CHLORINE * used;
			}
			else if (level == Level.SALT) {
				// Hypochlorite brings as much salt as its chlorine leaves when it is used up.
				value += Stoichiometry.SALT_PER_CHLORINE * (used + 2 * broughtBack);
			}
			else if (level == Level.CYA && (forecast.tablets() != null || !forecast.driftPerDay().containsKey(level))) {
				// tablets that others put in are part of a known drift
				value += Stoichiometry.CYA_PER_TRICHLOR_CHLORINE * tablets;
			}
			next.put(level, band(Math.max(0, value),
					NormalDistribution.Z80 * MeasurementUncertainty.after(request.readings().tests(), level, from, value - from,
							request.pool().certainty())));
		}
		return next;
	}

	private static boolean isTested(Level level) {
		return level != Level.HOCL && level != Level.SATURATION_INDEX && level != Level.TC && level != Level.TDS;
	}

	private static Band band(double middle, double half) {
		return new Band(Math.max(Math.min(0, middle), middle - half), middle, middle + half);
	}

}
