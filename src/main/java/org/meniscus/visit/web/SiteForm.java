package org.meniscus.visit.web;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolUnits;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.SiteConditions;
import org.meniscus.water.units.UnitSystem;

/**
 * What gauges and panels show and what has happened since the last visit, as it is typed and tapped.
 *
 * @param gauges fields of this pool
 * @param events what may be tapped
 */
record SiteForm(List<Gauge> gauges, List<Event> events) {

	/** Highest pressure of a pool's gauge, kPa. */
	private static final double PRESSURE_MAX = 700;

	private static final double SALT_MAX = 40_000;

	/** @param hint what is on file; empty when nothing is */
	record Gauge(String name, String label, String unit, String value, String hint) {
	}

	record Event(String name, String text, boolean tapped) {
	}

	/** Reads figures: null when absent or refused beside its field. */
	interface Numbers {

		@Nullable
		Double inRange(String field, double perUnit, double max);

	}

	static SiteForm of(SubmittedForm submitted, PoolFacts pool, UnitSystem units, Wording.Texts texts) {
		List<Gauge> gauges = new ArrayList<>();
		Equipment equipment = pool.equipment();
		Double clean = equipment.cleanKilopascals();
		gauges.add(new Gauge("filterPressure", texts.text("visit.gauge.filterPressure"), (units == UnitSystem.US) ? "psi" : "bar",
				submitted.text("filterPressure"),
				(clean != null) ? texts.text("visit.gauge.clean", Wording.format(new Term.Pressure(clean), units, texts)) : ""));
		if (pool.sanitizer() == Sanitizer.SALT_CELL) {
			Equipment.Cell cell = equipment.cell();
			Double percent = (cell != null) ? cell.percent() : null;
			gauges.add(new Gauge("cellPercent", texts.text("visit.gauge.cellPercent"), "%", submitted.text("cellPercent"),
					(percent != null) ? texts.text("visit.gauge.onFile", Wording.trimmedDecimal(percent, 1) + " %") : ""));
			gauges.add(new Gauge("cellSalt", texts.text("visit.gauge.cellSalt"), "ppm", submitted.text("cellSalt"), ""));
		}
		return new SiteForm(List.copyOf(gauges), List.of(event("heavyRain", submitted, texts), event("party", submitted, texts)));
	}

	private static Event event(String name, SubmittedForm submitted, Wording.Texts texts) {
		return new Event(name, texts.text("visit.event." + name), submitted.has("event", name));
	}

	static SiteConditions parse(SubmittedForm submitted, PoolFacts pool, UnitSystem units, Numbers numbers) {
		boolean cell = pool.sanitizer() == Sanitizer.SALT_CELL;
		return new SiteConditions(numbers.inRange("filterPressure", PoolUnits.of(units).kilopascalsPerPressure(), PRESSURE_MAX),
				cell ? numbers.inRange("cellPercent", 1, 100) : null, cell ? numbers.inRange("cellSalt", 1, SALT_MAX) : null,
				submitted.has("event", "heavyRain"), submitted.has("event", "party"));
	}

	/** As it would have been typed, for a correction. */
	static SubmittedForm submitted(SubmittedForm form, SiteConditions site, UnitSystem units) {
		List<String> events = new ArrayList<>();
		if (site.heavyRain()) {
			events.add("heavyRain");
		}
		if (site.party()) {
			events.add("party");
		}
		return form.with("filterPressure", number(site.filterKilopascals(), PoolUnits.of(units).kilopascalsPerPressure(), 2))
			.with("cellPercent", number(site.cellPercent(), 1, 1))
			.with("cellSalt", number(site.cellSalt(), 1, 0))
			.withAll("event", events);
	}

	/** What was read and tapped, as it is shown of a stored visit. */
	static List<String> describe(SiteConditions site, UnitSystem units, Wording.Texts texts) {
		List<String> shown = new ArrayList<>();
		Double pressure = site.filterKilopascals();
		if (pressure != null) {
			shown.add(texts.text("visit.gauge.filterPressure") + " " + Wording.format(new Term.Pressure(pressure), units, texts));
		}
		if (site.cellPercent() != null) {
			shown.add(texts.text("visit.gauge.cellPercent") + " " + number(site.cellPercent(), 1, 1) + " %");
		}
		if (site.cellSalt() != null) {
			shown.add(texts.text("visit.gauge.cellSalt") + " " + number(site.cellSalt(), 1, 0) + " ppm");
		}
		if (site.heavyRain()) {
			shown.add(texts.text("visit.event.heavyRain"));
		}
		if (site.party()) {
			shown.add(texts.text("visit.event.party"));
		}
		return shown;
	}

	private static String number(@Nullable Double metric, double perUnit, int decimals) {
		return (metric != null) ? Wording.trimmedDecimal(metric / perUnit, decimals) : "";
	}

	/** Something was typed or tapped. */
	public boolean isFilled() {
		return this.gauges.stream().anyMatch(gauge -> !gauge.value().isEmpty()) || this.events.stream().anyMatch(Event::tapped);
	}

}
