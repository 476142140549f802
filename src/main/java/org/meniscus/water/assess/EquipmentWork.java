package org.meniscus.water.assess;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.units.Volume;

/** Work that pump, filter, cell and second systems ask for by what is on file and what gauges and panels show. */
public final class EquipmentWork {

	/** Rise over the clean pressure at which a filter is cleaned: 8 psi of the usual 8 to 10; common practice, no source. */
	private static final double DIRTY_RISE = 8 * Wording.KILOPASCALS_PER_PSI;

	/** Or this share of the clean pressure, whichever is less, but no less than a gauge can tell; common practice, no source. */
	private static final double DIRTY_SHARE = 0.25;

	private static final double LEAST_RISE = 4 * Wording.KILOPASCALS_PER_PSI;

	/** Below this share of the clean pressure water does not reach the filter; common practice, no source. */
	private static final double STARVED_SHARE = 0.75;

	/** The display of a cell and a test further apart than so many ppm are not both right; common practice, no source. */
	private static final double SALT_APART = 500;

	/** Garden pools are turned over once a day, public ones by code in 6 hours. Common practice, no source. */
	private static final double TURNOVERS = 1;

	/** Their procedures say by themselves what becomes of a cell in the cold. */
	private static final Set<Situation> STARTS_AND_ENDS = Set.of(Situation.CELL_START, Situation.OPENING, Situation.CLOSING);

	private final PoolFacts pool;

	private final Equipment equipment;

	private final Readings found;

	private final List<Reason> work = new ArrayList<>();

	private EquipmentWork(PoolFacts pool, Readings found) {
		this.pool = pool;
		this.equipment = pool.equipment();
		this.found = found;
	}

	/** As sentences, in order; empty when nothing is on file or nothing is to be done. */
	public static List<Reason> of(PoolFacts pool, Readings found, Situation situation) {
		EquipmentWork all = new EquipmentWork(pool, found);
		all.heater();
		all.filter();
		all.runTime();
		all.cell(situation);
		all.secondSystems();
		return List.copyOf(all.work);
	}

	private void heater() {
		Double celsius = this.found.celsius();
		if (celsius != null && SwimReadiness.isTooHot(this.pool, celsius)) {
			this.work.add(Reason.of("work.spa-heater", Term.of(Level.TEMPERATURE, celsius),
					Term.of(Level.TEMPERATURE, SwimReadiness.SPA_CELSIUS)));
		}
	}

	private void filter() {
		Double clean = this.equipment.cleanKilopascals();
		Double now = this.found.site().filterKilopascals();
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
		Volume volume = this.pool.volume();
		Double turnover = (volume == null) ? null : this.equipment.turnoverHours(volume.litres());
		Double hours = this.equipment.pumpHours();
		Double wanted = pumpHours(this.pool);
		if (turnover == null || hours == null || wanted == null || this.pool.body() == BodyOfWater.SPA) {
			return;
		}
		if (TURNOVERS * turnover > 24) {
			this.work.add(Reason.of("work.flow-low", new Term.Hours(turnover)));
		}
		else if (wanted > hours) {
			this.work.add(Reason.of("work.run-time", new Term.Hours(wanted), new Term.Hours(hours)));
		}
	}

	/** Hours a day for which the pump runs once it turns the water over; those on file where that is enough or not known. */
	static @Nullable Double pumpHours(PoolFacts pool) {
		Volume volume = pool.volume();
		Double turnover = (volume == null) ? null : pool.equipment().turnoverHours(volume.litres());
		Double hours = pool.equipment().pumpHours();
		if (hours == null || turnover == null || pool.body() == BodyOfWater.SPA) {
			return hours;
		}
		double wanted = TURNOVERS * turnover;
		return (wanted > 24 || hours >= wanted - 0.5) ? hours : Double.valueOf(Math.ceil(wanted - 1e-6));
	}

	/** None leaves anything in the water that disinfects; UV breaks chloramines; an ionizer adds copper as long as it runs. */
	private void secondSystems() {
		Set<Equipment.SecondSystem> systems = this.equipment.systems();
		Double fc = this.found.fc();
		Range chlorine = this.pool.targets().range(Level.FC);
		if (!systems.isEmpty() && fc != null && chlorine != null && fc < chlorine.idealLow()) {
			this.work.add(Reason.of("work.no-residual",
					new Term.Words(systems.stream().map(system -> "water.system." + system.name()).toList())));
		}
		Double combined = this.found.combined();
		if (systems.contains(Equipment.SecondSystem.UV) && combined != null && combined > SwimReadiness.COMBINED_LIMIT + 1e-9) {
			this.work.add(Reason.of("work.uv-lamp"));
		}
		Range limits = this.pool.targets().range(Level.COPPER);
		Double copper = this.found.value(Level.COPPER);
		if (systems.contains(Equipment.SecondSystem.IONIZER) && limits != null) {
			if (copper == null) {
				this.work.add(Reason.of("work.ionizer-test", Term.of(Level.COPPER, limits.idealHigh())));
			}
			else if (copper > limits.idealHigh() + 1e-9) {
				this.work.add(Reason.of("work.ionizer-off", Term.of(Level.COPPER, copper), Term.of(Level.COPPER, limits.idealHigh())));
			}
		}
	}

	private void cell(Situation situation) {
		if (this.pool.sanitizer() != Sanitizer.SALT_CELL) {
			return;
		}
		Double shown = this.found.site().cellSalt();
		Double tested = this.found.salt();
		if (shown != null && tested != null && Math.abs(shown - tested) > SALT_APART) {
			this.work.add(Reason.of((shown < tested) ? "work.cell-reads-low" : "work.cell-reads-high", Term.of(Level.SALT, shown),
					Term.of(Level.SALT, tested)));
		}
		if (CellSetting.isCold(this.pool, this.found) && !STARTS_AND_ENDS.contains(situation)) {
			this.work.add(Reason.of("work.cell-cold", Term.of(Level.TEMPERATURE, Equipment.CELL_CELSIUS)));
		}
	}

}
