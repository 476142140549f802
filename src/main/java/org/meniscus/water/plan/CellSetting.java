package org.meniscus.water.plan;

import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.demand.ChlorineDemand;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Sanitizer;

/**
 * What a salt cell of known output has to be set to: the chlorine it makes a day at its rating, setting and pump hours against what the
 * water uses. A setting is rounded up to a step of its panel.
 */
final class CellSetting {

	/** Panels show whole percents up to here. */
	private static final double FULL = 100;

	private static final double EPSILON = 1e-6;

	private CellSetting() {
	}

	/** What makes chlorine last that today's dose and setting do not; null where the output of the cell is not known. */
	static @Nullable Reason toHold(PlanContext context, ResidualTarget target, double fc) {
		double own = context.request().forecast().demand().supply();
		double more = target.supply(fc);
		return (more > 0) ? of(context, own + more) : null;
	}

	/**
	 * The setting that makes what is used up, where it is off by more than a step; null where it is right, not known, or the cell has to
	 * be down or off now.
	 *
	 * @param fc to be kept, ppm
	 */
	static @Nullable Reason toKeep(PlanContext context, double fc) {
		Equipment.Cell cell = context.pool().equipment().cell();
		Double grams = context.pool().equipment().cellGrams();
		Set<SituationProcedure.Act> acts = context.procedure().acts(context);
		if (cell == null || grams == null || isCold(context) || acts.contains(SituationProcedure.Act.FEED_DOWN)
				|| acts.contains(SituationProcedure.Act.CELL_OFF)) {
			return null;
		}
		ChlorineDemand demand = context.request().forecast().demand();
		double wanted = FULL * demand.use(fc).middle() * context.litres() / 1000 / grams;
		Double now = cell.percent();
		boolean right = now != null && (Math.abs(wanted - now) <= cell.stepPercent() || (wanted > FULL && now >= FULL));
		return right ? null : of(context, demand.use(fc).middle());
	}

	/** @param supply FC wanted a day, ppm */
	private static @Nullable Reason of(PlanContext context, double supply) {
		Equipment equipment = context.pool().equipment();
		Equipment.Cell cell = equipment.cell();
		Double hours = equipment.pumpHours();
		if (cell == null || hours == null || context.pool().sanitizer() != Sanitizer.SALT_CELL || isCold(context)) {
			return null;
		}
		double wanted = supply * context.litres() / 1000;
		double percent = FULL * wanted / (cell.gramsPerDay() * hours / 24);
		if (percent <= FULL) {
			double set = Math.min(FULL, Math.ceil(percent / cell.stepPercent() - EPSILON) * cell.stepPercent());
			double grams = cell.gramsPerDay() * hours / 24 * set / FULL;
			return Reason.of("offer.cell-set", new Term.Number(set, 0), new Term.Hours(hours), new Term.Chlorine(grams),
					Term.of(Level.FC, grams * 1000 / context.litres()));
		}
		if (wanted <= cell.gramsPerDay()) {
			return Reason.of("offer.cell-run", new Term.Hours(Math.ceil(24 * wanted / cell.gramsPerDay() - EPSILON)),
					new Term.Chlorine(wanted), Term.of(Level.FC, supply));
		}
		return Reason.of("offer.cell-small", new Term.Chlorine(cell.gramsPerDay()), new Term.Chlorine(wanted));
	}

	/** Whether the water was tested too cold for the cell. */
	static boolean isCold(PlanContext context) {
		Double celsius = context.effectiveReadings().celsius();
		return context.pool().sanitizer() == Sanitizer.SALT_CELL && celsius != null && celsius < Equipment.CELL_CELSIUS;
	}

}
