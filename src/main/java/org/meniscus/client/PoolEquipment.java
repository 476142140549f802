package org.meniscus.client;

import static org.meniscus.platform.database.Decimals.number;
import static org.meniscus.platform.database.Decimals.scaled;

import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Equipment.SecondSystem;

/** Columns of a pool that say what moves, filters and helps to treat its water. */
@Embeddable
class PoolEquipment {

	private @Nullable BigDecimal cellGramsPerDay;

	private @Nullable BigDecimal cellPercent;

	private @Nullable BigDecimal cellStepPercent;

	private @Nullable BigDecimal pumpHours;

	private @Nullable BigDecimal flowLitresPerHour;

	@Enumerated(EnumType.STRING)
	private Equipment.@Nullable Filter filter;

	@Column(name = "filter_clean_kpa")
	private @Nullable BigDecimal filterCleanKpa;

	private @Nullable BigDecimal coverHours;

	private @Nullable BigDecimal bathersPerDay;

	private boolean hasOzone;

	private boolean hasUv;

	private boolean hasIonizer;

	protected PoolEquipment() {
	}

	PoolEquipment(Equipment equipment) {
		Equipment.Cell cell = equipment.cell();
		this.cellGramsPerDay = scaled((cell != null) ? cell.gramsPerDay() : null, 2);
		this.cellPercent = scaled((cell != null) ? cell.percent() : null, 1);
		this.cellStepPercent = scaled((cell != null) ? cell.stepPercent() : null, 1);
		this.pumpHours = scaled(equipment.pumpHours(), 1);
		this.flowLitresPerHour = scaled(equipment.litresPerHour(), 1);
		this.filter = equipment.filter();
		this.filterCleanKpa = scaled(equipment.cleanKilopascals(), 1);
		this.coverHours = scaled(equipment.coverHours(), 1);
		this.bathersPerDay = scaled(equipment.bathersPerDay(), 1);
		this.hasOzone = equipment.systems().contains(SecondSystem.OZONE);
		this.hasUv = equipment.systems().contains(SecondSystem.UV);
		this.hasIonizer = equipment.systems().contains(SecondSystem.IONIZER);
	}

	Equipment toEquipment() {
		return new Equipment(Equipment.Cell.of(number(cellGramsPerDay), number(cellPercent), number(cellStepPercent)), number(pumpHours),
				number(flowLitresPerHour), filter, number(filterCleanKpa), number(coverHours), number(bathersPerDay),
				SecondSystem.of(hasOzone, hasUv, hasIonizer));
	}

	/** Of a row with all columns of a pool's equipment. */
	static Equipment of(ResultSet row) throws SQLException {
		String filter = row.getString("filter");
		return new Equipment(
				Equipment.Cell.of(number(row, "cell_grams_per_day"), number(row, "cell_percent"), number(row, "cell_step_percent")),
				number(row, "pump_hours"), number(row, "flow_litres_per_hour"), (filter != null) ? Equipment.Filter.valueOf(filter) : null,
				number(row, "filter_clean_kpa"), number(row, "cover_hours"), number(row, "bathers_per_day"),
				SecondSystem.of(row.getBoolean("has_ozone"), row.getBoolean("has_uv"), row.getBoolean("has_ionizer")));
	}

}
