package org.meniscus.water.assess;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.units.Volume;

/**
 * What a salt cell of known output has to be set to: the chlorine it makes a day at its rating, setting and pump hours against what is
 * wanted of it. A setting is rounded up to a step of its panel.
 */
public final class CellSetting {

	/** Percent. */
	private static final double FULL = 100;

	private static final double EPSILON = 1e-6;

	private CellSetting() {
	}

	/**
	 * As a sentence; null where rating, hours or volume are not known, or the water is too cold for it.
	 *
	 * @param supply FC wanted of it a day, ppm
	 */
	public static @Nullable Reason of(PoolFacts pool, Readings found, double supply) {
		Equipment.Cell cell = pool.equipment().cell();
		Double hours = EquipmentWork.pumpHours(pool);
		Volume volume = pool.volume();
		if (cell == null || hours == null || volume == null || pool.sanitizer() != Sanitizer.SALT_CELL || isCold(pool, found)) {
			return null;
		}
		double wanted = supply * volume.litres() / 1000;
		double percent = percent(cell, hours, wanted);
		if (percent <= FULL) {
			double set = Math.min(FULL, Math.ceil(percent / cell.stepPercent() - EPSILON) * cell.stepPercent());
			double grams = cell.gramsPerDay() * hours / 24 * set / FULL;
			return Reason.of("offer.cell-set", new Term.Number(set, 0), new Term.Hours(hours), new Term.Chlorine(grams),
					Term.of(Level.FC, grams * 1000 / volume.litres()));
		}
		if (wanted <= cell.gramsPerDay()) {
			return Reason.of("offer.cell-run", new Term.Hours(Math.ceil(24 * wanted / cell.gramsPerDay() - EPSILON)),
					new Term.Chlorine(wanted), Term.of(Level.FC, supply));
		}
		return Reason.of("offer.cell-small", new Term.Chlorine(cell.gramsPerDay()), new Term.Chlorine(wanted));
	}

	/** The same for water that tests too low: null where the cell is set as high already, for then it does not make what it is rated for. */
	public static @Nullable Reason raised(PoolFacts pool, Readings found, double supply) {
		return lowers(pool, supply) ? null : of(pool, found, supply);
	}

	/** Whether as much or more is asked of the cell by its rating than this. @param supply ppm FC a day */
	private static boolean lowers(PoolFacts pool, double supply) {
		Equipment.Cell cell = pool.equipment().cell();
		Double hours = EquipmentWork.pumpHours(pool);
		Volume volume = pool.volume();
		Double now = (cell == null) ? null : cell.percent();
		return cell != null && hours != null && volume != null && now != null
				&& percent(cell, hours, supply * volume.litres() / 1000) <= now + EPSILON;
	}

	/** The same where the setting is off by more than a step; null where it is right. @param use FC used up a day, ppm */
	public static @Nullable Reason correction(PoolFacts pool, Readings found, double use) {
		Equipment.Cell cell = pool.equipment().cell();
		Double hours = EquipmentWork.pumpHours(pool);
		Volume volume = pool.volume();
		if (cell == null || hours == null || volume == null) {
			return null;
		}
		double wanted = percent(cell, hours, use * volume.litres() / 1000);
		Double now = cell.percent();
		boolean right = now != null && hours.equals(pool.equipment().pumpHours())
				&& (Math.abs(wanted - now) <= cell.stepPercent() || (wanted > FULL && now >= FULL));
		return right ? null : of(pool, found, use);
	}

	/** @param wanted chlorine a day, grams */
	private static double percent(Equipment.Cell cell, double hours, double wanted) {
		return FULL * wanted / (cell.gramsPerDay() * hours / 24);
	}

	/** Whether the water was tested too cold for the cell of this pool. */
	static boolean isCold(PoolFacts pool, Readings found) {
		Double celsius = found.celsius();
		return pool.sanitizer() == Sanitizer.SALT_CELL && celsius != null && celsius < Equipment.CELL_CELSIUS;
	}

}
