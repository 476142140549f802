package org.meniscus.ui;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.units.Mass;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/** What is on file of a pool's equipment, a line each: "Pump 9 h a day, 32.7 gal/min". */
public final class EquipmentFormatter {

	private final UnitSystem units;

	private final Wording.Texts texts;

	private final List<String> lines = new ArrayList<>();

	private EquipmentFormatter(UnitSystem units, Wording.Texts texts) {
		this.units = units;
		this.texts = texts;
	}

	/** Lines under each other, the notes first; empty when nothing is on file. @param notes as somebody typed them */
	public static String describe(String notes, Equipment equipment, UnitSystem units, Wording.Texts texts) {
		EquipmentFormatter formatter = new EquipmentFormatter(units, texts);
		if (!notes.isBlank()) {
			formatter.lines.add(notes);
		}
		formatter.pump(equipment.pumpHours(), equipment.litresPerHour());
		formatter.filter(equipment.filter(), equipment.cleanKilopascals());
		formatter.cell(equipment.cell());
		formatter.figure("equipment.cover", equipment.coverHours());
		formatter.figure("equipment.bathers", equipment.bathersPerDay());
		if (!equipment.systems().isEmpty()) {
			formatter.say("equipment.systems",
					String.join(", ", equipment.systems().stream().map(system -> texts.text("water.system." + system.name())).toList()));
		}
		return String.join("\n", formatter.lines);
	}

	private void pump(@Nullable Double hours, @Nullable Double litresPerHour) {
		String flow = (litresPerHour == null) ? null
				: (units == UnitSystem.US) ? decimal(litresPerHour / 60 / Volume.LITRES_PER_US_GALLON) + " gal/min"
						: decimal(litresPerHour / 1000) + " m³/h";
		if (hours != null && flow != null) {
			say("equipment.pump", decimal(hours), flow);
		}
		else if (hours != null) {
			say("equipment.pumpHours", decimal(hours));
		}
		else if (flow != null) {
			say("equipment.flow", flow);
		}
	}

	private void filter(Equipment.@Nullable Filter filter, @Nullable Double cleanKilopascals) {
		String name = texts.text("equipment.filter." + ((filter != null) ? filter.name() : "ANY"));
		if (cleanKilopascals != null) {
			say("equipment.filter", name, Wording.format(new Term.Pressure(cleanKilopascals), units, texts));
		}
		else if (filter != null) {
			lines.add(name);
		}
	}

	private void cell(Equipment.@Nullable Cell cell) {
		if (cell == null) {
			return;
		}
		String rating = (units == UnitSystem.US) ? Wording.trimmedDecimal(cell.gramsPerDay() / Mass.GRAMS_PER_POUND, 2) + " lb"
				: Wording.trimmedDecimal(cell.gramsPerDay(), 0) + " g";
		Double percent = cell.percent();
		if (percent != null) {
			say("equipment.cellSet", rating, decimal(percent));
		}
		else {
			say("equipment.cell", rating);
		}
	}

	private void figure(String key, @Nullable Double value) {
		if (value != null && value > 0) {
			say(key, decimal(value));
		}
	}

	private void say(String key, Object... arguments) {
		lines.add(texts.text(key, arguments));
	}

	private static String decimal(double value) {
		return Wording.trimmedDecimal(value, 1);
	}

}
