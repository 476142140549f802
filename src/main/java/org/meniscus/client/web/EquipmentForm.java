package org.meniscus.client.web;

import org.jspecify.annotations.Nullable;
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
		return new EquipmentForm(rounded(equipment.pumpHours(), 1, 1), rounded(equipment.litresPerHour(), units.litresPerHourOfFlow(), 1),
				equipment.filter(), rounded(equipment.cleanKilopascals(), units.kilopascalsPerPressure(), 2),
				rounded((cell != null) ? cell.gramsPerDay() : null, units.gramsPerCellRating(), 2),
				rounded((cell != null) ? cell.percent() : null, 1, 1), rounded((cell != null) ? cell.stepPercent() : null, 1, 1),
				rounded(equipment.coverHours(), 1, 1), rounded(equipment.bathersPerDay(), 1, 1), has(equipment, SecondSystem.OZONE),
				has(equipment, SecondSystem.UV), has(equipment, SecondSystem.IONIZER));
	}

	private static boolean has(Equipment equipment, SecondSystem system) {
		return equipment.systems().contains(system);
	}

	private static @Nullable String rounded(@Nullable Double metric, double perUnit, int decimals) {
		return (metric != null) ? Wording.trimmedDecimal(metric / perUnit, decimals) : null;
	}

	/** Something is filled in: the fold stands open. */
	public boolean isFilled() {
		return !equals(BLANK);
	}

}
