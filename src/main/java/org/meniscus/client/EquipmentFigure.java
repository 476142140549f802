package org.meniscus.client;

import java.util.Map;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Equipment;

/** A figure of a pool's equipment: what it may be entered as, and in which unit a company enters it. */
public enum EquipmentFigure {

	/** Hours a day. */
	PUMP_HOURS(0.5, 24),
	/** Litres an hour; gallons a minute or cubic metres an hour. */
	FLOW(100, 1e7),
	/** Kilopascals; pounds a square inch or bar. */
	CLEAN_PRESSURE(5, 700),
	/** Grams of chlorine a day at 100 %; pounds or grams. */
	CELL_RATING(5, 20_000),
	/** What the cell is set to. */
	CELL_PERCENT(0, 100),
	/** Percent between two settings. */
	CELL_STEP(1, 50),
	/** Hours of daylight a day. */
	COVER_HOURS(0, 12),
	/** A day. */
	BATHERS(0, 10_000);

	private final double min;

	private final double max;

	EquipmentFigure(double min, double max) {
		this.min = min;
		this.max = max;
	}

	/** In the unit it is stored in. */
	public double min() {
		return min;
	}

	/** In the unit it is stored in. */
	public double max() {
		return max;
	}

	/** So many of the unit it is stored in make one of the unit it is entered in. */
	public double perUnit(PoolUnits units) {
		return switch (this) {
			case FLOW -> units.litresPerHourOfFlow();
			case CLEAN_PRESSURE -> units.kilopascalsPerPressure();
			case CELL_RATING -> units.gramsPerCellRating();
			default -> 1;
		};
	}

	/** Whether a cell is spoken of without what it makes: then nothing can be said of it. */
	public static boolean lacksRating(Set<EquipmentFigure> entered) {
		return !entered.contains(CELL_RATING) && (entered.contains(CELL_PERCENT) || entered.contains(CELL_STEP));
	}

	/** @param figures those that are known, in the units they are stored in */
	public static Equipment equipment(Map<EquipmentFigure, Double> figures, Equipment.@Nullable Filter filter,
			Set<Equipment.SecondSystem> systems) {
		return new Equipment(Equipment.Cell.of(figures.get(CELL_RATING), figures.get(CELL_PERCENT), figures.get(CELL_STEP)),
				figures.get(PUMP_HOURS), figures.get(FLOW), filter, figures.get(CLEAN_PRESSURE), figures.get(COVER_HOURS),
				figures.get(BATHERS), systems);
	}

}
