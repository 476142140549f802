package org.meniscus.water.plan;

import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.PoolWater;
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

	/** @param lost FC that ammonia uses up, ppm */
	static ExpectedOutcome of(PlanRequest request, double lost, PoolForecast forecast, PoolWater now, PoolWater after,
			@Nullable ResidualTarget target,
			List<Reason> offers) {
		Map<Level, Band> justAfter = new EnumMap<>(Level.class);
		Levels before = now.levels();
		Levels then = after.levels();
		for (Map.Entry<Level, Double> level : then.values().entrySet()) {
			Double from = before.value(level.getKey());
			if (from != null && Math.abs(level.getValue() - from) > 1e-9 && isTested(level.getKey())) {
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
		double fc = Math.max(0, after.water().freeChlorine() - lost);
		return new ExpectedOutcome(justAfter, days, nextVisit(request, forecast, now, after, fc, target, days),
				(target != null) ? target.holdProbability(fc) : null, offers);
	}

	private static Map<Level, Band> nextVisit(PlanRequest request, PoolForecast forecast, PoolWater now, PoolWater after,
			double fc, @Nullable ResidualTarget target, int days) {
		Map<Level, Band> next = new EnumMap<>(Level.class);
		double fall = 0;
		if (target != null) {
			Band left = forecast.demand().after(fc, target.spread(fc), days);
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
				value += Stoichiometry.SALT_PER_CHLORINE * used;
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
