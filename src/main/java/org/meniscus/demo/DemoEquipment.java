package org.meniscus.demo;

import java.time.LocalDate;
import java.util.EnumSet;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.SiteConditions;
import org.meniscus.water.units.Mass;

/**
 * The invented equipment of an invented pool, of usual size for its water: everything here is common practice, no source. It is worked
 * out from the pool's number, so that the same pool has the same pump in every season.
 */
final class DemoEquipment {

	/** Pounds of chlorine a day of the cells that are sold for garden pools: small, usual, large. */
	private static final double[] CELL_POUNDS = { 0.6, 1, 1.4 };

	private static final double SMALL_CELL_LITRES = 50_000;

	private static final double LARGE_CELL_LITRES = 70_000;

	private static final double PANEL_STEP = 5;

	/** Rise of the pressure in a week with dirt, share of the clean pressure. */
	private static final double RISE_A_WEEK = 0.045;

	/** One pool in so many has a pump that runs too short. */
	private static final int SHORT_PUMPS = 9;

	private final DemoPool pool;

	private final double litres;

	DemoEquipment(DemoPool pool) {
		this.pool = pool;
		this.litres = pool.volume().litres();
	}

	/** @param cellPercent what the panel of the cell shows today; of a pool without cell without meaning */
	Equipment onFile(double cellPercent) {
		boolean spa = pool.body() == BodyOfWater.SPA;
		double hours = pumpHours();
		// once around in the hours it runs, or nearly; the water of a spa goes round in minutes
		double turnover = spa ? 0.5 : (pool.number() % SHORT_PUMPS == 4) ? hours + 2 : hours - 0.5;
		Double cover = spa ? Double.valueOf(12) : (!pool.indoor() && pool.number() % 13 == 5) ? Double.valueOf(5) : null;
		Double bathers = pool.indoor() ? Double.valueOf(pool.number() % 2 == 0 ? 40 : 60) : (pool.number() % 4 == 0)
				? Double.valueOf(2 + pool.number() % 3) : null;
		Equipment.Cell cell = cell() ? new Equipment.Cell(cellGrams(), cellPercent, PANEL_STEP) : null;
		return new Equipment(cell, hours, (double) Math.round(litres / turnover), filter(), cleanKilopascals(), cover, bathers, systems());
	}

	/** @param ppmPerDay that the cell brings @param weeks since the filter was last cleaned @param salt as tested, ppm; null when not */
	SiteConditions panels(double ppmPerDay, int weeks, @Nullable Double salt, LocalDate day) {
		double psi = cleanKilopascals() * (1 + RISE_A_WEEK * weeks) / Wording.KILOPASCALS_PER_PSI;
		Double shown = (cell() && salt != null) ? Double.valueOf(salt + 50 * ((day.getDayOfMonth() + pool.number()) % 5 - 2)) : null;
		return new SiteConditions(Math.round(psi) * Wording.KILOPASCALS_PER_PSI, cell() ? Double.valueOf(cellPercent(ppmPerDay)) : null,
				shown, false, false);
	}

	/** The mark of the panel nearest to what brings so much, 5 to 100. @param ppmPerDay free chlorine */
	double cellPercent(double ppmPerDay) {
		double percent = 100 * ppmPerDay * litres / 1000 / (cellGrams() * pumpHours() / 24);
		return Math.max(PANEL_STEP, Math.min(100, Math.round(percent / PANEL_STEP) * PANEL_STEP));
	}

	private boolean cell() {
		return pool.sanitizer() == Sanitizer.SALT_CELL;
	}

	private double cellGrams() {
		int size = (litres < SMALL_CELL_LITRES) ? 0 : (litres < LARGE_CELL_LITRES) ? 1 : 2;
		return Mass.ofPounds(CELL_POUNDS[size]).grams();
	}

	private double pumpHours() {
		if (pool.body() == BodyOfWater.SPA) {
			return 4;
		}
		return pool.indoor() ? 24 : (pool.number() % SHORT_PUMPS == 4) ? 7 : 9 + pool.number() % 3;
	}

	private Equipment.Filter filter() {
		if (pool.sandFilter()) {
			return Equipment.Filter.SAND;
		}
		return (cell() && pool.number() % 2 == 0) ? Equipment.Filter.DE : Equipment.Filter.CARTRIDGE;
	}

	private double cleanKilopascals() {
		double psi = (filter() == Equipment.Filter.CARTRIDGE) ? 10 : 14;
		return (psi + pool.number() % 4) * Wording.KILOPASCALS_PER_PSI;
	}

	private Set<Equipment.SecondSystem> systems() {
		Set<Equipment.SecondSystem> systems = EnumSet.noneOf(Equipment.SecondSystem.class);
		if (pool.indoor()) {
			systems.add(Equipment.SecondSystem.UV);
		}
		else if (pool.body() == BodyOfWater.SPA && pool.number() % 2 == 1) {
			systems.add(Equipment.SecondSystem.OZONE);
		}
		else if (pool.number() == 10) {
			systems.add(Equipment.SecondSystem.IONIZER);
		}
		return systems;
	}

}
