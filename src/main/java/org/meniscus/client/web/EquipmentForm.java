package org.meniscus.client.web;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.EquipmentFigure;
import org.meniscus.client.PoolUnits;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Equipment.SecondSystem;

/** What the browser sends about the equipment of a pool, in the company's units; figures as typed, so that one that is none loses no other. */
record EquipmentForm(@Nullable String pumpHours, @Nullable String flow, Equipment.@Nullable Filter filter,
		@Nullable String cleanPressure, @Nullable String cellRating, @Nullable String cellPercent, @Nullable String cellStep,
		@Nullable String coverHours, @Nullable String bathers, @Nullable Boolean ozone, @Nullable Boolean uv,
		@Nullable Boolean ionizer) {

	static final EquipmentForm BLANK = new EquipmentForm(null, null, null, null, null, null, null, null, null, false, false, false);

	static EquipmentForm of(Equipment equipment, PoolUnits units) {
		Equipment.Cell cell = equipment.cell();
		return new EquipmentForm(rounded(equipment.pumpHours(), EquipmentFigure.PUMP_HOURS, units, 1),
				rounded(equipment.litresPerHour(), EquipmentFigure.FLOW, units, 1), equipment.filter(),
				rounded(equipment.cleanKilopascals(), EquipmentFigure.CLEAN_PRESSURE, units, 2),
				rounded((cell != null) ? cell.gramsPerDay() : null, EquipmentFigure.CELL_RATING, units, 2),
				rounded((cell != null) ? cell.percent() : null, EquipmentFigure.CELL_PERCENT, units, 1),
				rounded((cell != null) ? cell.stepPercent() : null, EquipmentFigure.CELL_STEP, units, 1),
				rounded(equipment.coverHours(), EquipmentFigure.COVER_HOURS, units, 1),
				rounded(equipment.bathersPerDay(), EquipmentFigure.BATHERS, units, 1), has(equipment, SecondSystem.OZONE),
				has(equipment, SecondSystem.UV), has(equipment, SecondSystem.IONIZER));
	}

	/** As typed; null when the field was left empty. */
	@Nullable
	String typed(EquipmentFigure figure) {
		return switch (figure) {
			case PUMP_HOURS -> pumpHours;
			case FLOW -> flow;
			case CLEAN_PRESSURE -> cleanPressure;
			case CELL_RATING -> cellRating;
			case CELL_PERCENT -> cellPercent;
			case CELL_STEP -> cellStep;
			case COVER_HOURS -> coverHours;
			case BATHERS -> bathers;
		};
	}

	/** Name of the field in the form of a pool. */
	static String path(EquipmentFigure figure) {
		return "equipment." + switch (figure) {
			case PUMP_HOURS -> "pumpHours";
			case FLOW -> "flow";
			case CLEAN_PRESSURE -> "cleanPressure";
			case CELL_RATING -> "cellRating";
			case CELL_PERCENT -> "cellPercent";
			case CELL_STEP -> "cellStep";
			case COVER_HOURS -> "coverHours";
			case BATHERS -> "bathers";
		};
	}

	private static boolean has(Equipment equipment, SecondSystem system) {
		return equipment.systems().contains(system);
	}

	private static @Nullable String rounded(@Nullable Double metric, EquipmentFigure figure, PoolUnits units, int decimals) {
		return (metric != null) ? Wording.trimmedDecimal(metric / figure.perUnit(units), decimals) : null;
	}

	/** Something is filled in: the fold stands open. */
	public boolean isFilled() {
		return !equals(BLANK);
	}

}
