package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.SiteConditions;
import org.meniscus.water.pool.Situation;

/** Work that pump, filter, cell and second systems ask for by what is on file and what gauges and panels show. */
final class EquipmentAdvice {

	/** Rise over the clean pressure at which a filter is cleaned: 8 psi of the usual 8 to 10; common practice, no source. */
	private static final double DIRTY_RISE = 8 * Wording.KILOPASCALS_PER_PSI;

	/** Or this share of the clean pressure, whichever is less, but no less than a gauge can tell; common practice, no source. */
	private static final double DIRTY_SHARE = 0.25;

	private static final double LEAST_RISE = 4 * Wording.KILOPASCALS_PER_PSI;

	/** Below this share of the clean pressure water does not reach the filter; common practice, no source. */
	private static final double STARVED_SHARE = 0.75;

	/** The display of a cell and a test further apart than so many ppm are not both right; common practice, no source. */
	private static final double SALT_APART = 500;

	/** Garden pools are turned over once a day; codes ask 6 hours of public ones. Common practice, no source. */
	private static final double TURNOVERS = 1;

	private final PlanContext context;

	private final PoolFacts pool;

	private final Equipment equipment;

	private final SiteConditions site;

	private final List<Reason> work = new ArrayList<>();

	private EquipmentAdvice(PlanContext context) {
		this.context = context;
		this.pool = context.pool();
		this.equipment = this.pool.equipment();
		this.site = context.readings().site();
	}

	/**
	 * @param heldFc FC that the pool is kept at where today's dose and setting hold it, ppm; null where they do not or nothing asks for it
	 */
	static List<Reason> of(PlanContext context, @Nullable Double heldFc) {
		EquipmentAdvice advice = new EquipmentAdvice(context);
		advice.filter();
		advice.runTime();
		advice.cell(heldFc);
		return advice.work;
	}

	private void filter() {
		Double clean = this.equipment.cleanKilopascals();
		Double now = this.site.filterKilopascals();
		if (clean == null || now == null) {
			return;
		}
		Term[] figures = { new Term.Pressure(now), new Term.Pressure(clean) };
		if (now >= clean + Math.min(DIRTY_RISE, Math.max(LEAST_RISE, DIRTY_SHARE * clean)) - 1e-6) {
			Equipment.Filter filter = this.equipment.filter();
			this.work.add(Reason.of("work.filter-dirty" + ((filter == null) ? "" : "-" + Wording.code(filter)), figures));
		}
		else if (now < STARVED_SHARE * clean) {
			this.work.add(Reason.of("work.filter-starved", figures));
		}
	}

	private void runTime() {
		Double turnover = this.equipment.turnoverHours(this.context.litres());
		Double hours = this.equipment.pumpHours();
		if (turnover == null || hours == null || this.pool.body() == BodyOfWater.SPA || hours >= TURNOVERS * turnover - 0.5) {
			return;
		}
		double wanted = Math.ceil(TURNOVERS * turnover - 1e-6);
		this.work.add((wanted <= 24) ? Reason.of("work.run-time", new Term.Hours(wanted), new Term.Hours(hours))
				: Reason.of("work.flow-low", new Term.Hours(turnover)));
	}

	private void cell(@Nullable Double heldFc) {
		if (this.pool.sanitizer() != Sanitizer.SALT_CELL) {
			return;
		}
		Double shown = this.site.cellSalt();
		Double tested = this.context.readings().salt();
		if (shown != null && tested != null && Math.abs(shown - tested) > SALT_APART) {
			this.work.add(Reason.of((shown < tested) ? "work.cell-reads-low" : "work.cell-reads-high", Term.of(Level.SALT, shown),
					Term.of(Level.SALT, tested)));
		}
		if (CellSetting.isCold(this.context) && this.context.situation() != Situation.CLOSING) {
			this.work.add(Reason.of("work.cell-cold", Term.of(Level.TEMPERATURE, Equipment.CELL_CELSIUS)));
		}
		Reason setting = (heldFc == null) ? null : CellSetting.toKeep(this.context, heldFc);
		if (setting != null) {
			this.work.add(setting);
		}
	}

}
