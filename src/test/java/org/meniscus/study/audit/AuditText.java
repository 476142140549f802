package org.meniscus.study.audit;

import java.text.MessageFormat;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.ResourceBundle;
import java.util.StringJoiner;

import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.Step;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.product.Product;
import org.meniscus.water.units.UnitSystem;

/** A request as the plan tool reads it, and its plan in short lines. */
final class AuditText {

	private static final Map<Level, String> FIELDS = Map.ofEntries(Map.entry(Level.FC, "fc"), Map.entry(Level.CC, "cc"),
			Map.entry(Level.BROMINE, "bromine"), Map.entry(Level.PH, "ph"), Map.entry(Level.TA, "ta"), Map.entry(Level.CH, "ch"),
			Map.entry(Level.CYA, "cya"), Map.entry(Level.SALT, "salt"), Map.entry(Level.TDS, "tds"), Map.entry(Level.BORATE, "borate"),
			Map.entry(Level.PHOSPHATE, "phosphate"), Map.entry(Level.COPPER, "copper"), Map.entry(Level.IRON, "iron"),
			Map.entry(Level.AMMONIA, "ammonia"));

	private AuditText() {
	}

	static Wording.Texts english() {
		ResourceBundle bundle = ResourceBundle.getBundle("messages.water", Locale.ROOT);
		return (key, args) -> (args.length == 0) ? bundle.getString(key) : MessageFormat.format(bundle.getString(key), args);
	}

	static String json(PlanRequest request) {
		PoolFacts pool = request.pool();
		StringJoiner facts = new StringJoiner(", ");
		facts.add(String.format(Locale.ROOT, "\"gallons\": %.0f", Objects.requireNonNull(pool.volume()).usGallons()));
		facts.add("\"certainty\": \"" + pool.certainty() + "\"").add("\"body\": \"" + pool.body() + "\"");
		facts.add("\"surface\": \"" + pool.surface() + "\"").add("\"sanitizer\": \"" + pool.sanitizer() + "\"");
		facts.add("\"indoor\": " + pool.indoor()).add("\"wasteValve\": " + pool.hasWasteValve());
		if (pool.fill().ta() != null) {
			facts.add("\"fill\": {\"ph\": " + pool.fill().ph() + ", \"ta\": " + pool.fill().ta() + ", \"ch\": " + pool.fill().ch()
					+ ", \"salt\": " + pool.fill().salt() + "}");
		}
		StringJoiner json = new StringJoiner(", ", "{", "}");
		json.add("\"units\": \"" + request.units() + "\"").add("\"pool\": {" + facts + "}");
		json.add("\"readings\": {" + readings(request.readings(), request.units()) + "}");
		json.add("\"situation\": \"" + request.situation() + "\"").add("\"daysToNextVisit\": " + request.daysToNextVisit());
		if (request.swimWithinHours() != null) {
			json.add("\"swimWithinHours\": " + request.swimWithinHours());
		}
		json.add("\"policy\": {\"fcCeiling\": " + request.policy().fcCeiling() + ", \"swimCeiling\": " + request.policy().swimCeiling()
				+ "}");
		if (request.forecast().tablets() != null) {
			json.add("\"forecast\": {\"tabletsLeft\": " + request.forecast().tablets().undissolved() + "}");
		}
		StringJoiner products = new StringJoiner(", ", "\"products\": [", "]");
		for (Product product : request.products()) {
			products.add((product.labelMaxPerM3() == null && product.onTruck()) ? "\"" + product.kind() + "\""
					: "{\"kind\": \"" + product.kind() + "\", \"labelMaxPerM3\": " + product.labelMaxPerM3() + ", \"onTruck\": "
							+ product.onTruck() + "}");
		}
		return json.add(products.toString()).toString();
	}

	private static String readings(Readings readings, UnitSystem units) {
		StringJoiner fields = new StringJoiner(", ");
		FIELDS.forEach((level, field) -> {
			if (readings.value(level) != null) {
				fields.add("\"" + field + "\": " + readings.value(level));
			}
		});
		if (readings.cyaQualifier() != ReadingQualifier.EXACT) {
			fields.add("\"cyaMark\": \"" + readings.cyaQualifier().sign() + "\"");
		}
		Double celsius = readings.celsius();
		if (celsius != null) {
			fields.add(String.format(Locale.ROOT, "\"temperature\": %.1f", (units == UnitSystem.US) ? celsius * 1.8 + 32 : celsius));
		}
		if (readings.drainVisible() != null) {
			fields.add("\"drainVisible\": " + readings.drainVisible());
		}
		return fields.toString();
	}

	static String plan(AuditCase at, Wording.Texts texts) {
		StringBuilder lines = new StringBuilder();
		line(lines, "now       " + at.now().text());
		line(lines, "site      " + at.request().pool().equipment() + " " + at.request().readings().site() + " "
				+ at.request().readings().tests().marks() + (at.request().policy().costs().waterScarce() ? " water scarce" : ""));
		for (int n = 0; n < at.plan().steps().size(); n++) {
			Step step = at.plan().steps().get(n);
			line(lines, "step " + (n + 1) + "    " + step.purpose() + ": "
					+ ((step.amount() == null) ? "by label" : Wording.amount(step.amount(), texts)) + " "
					+ texts.text(Wording.kindKey(step.product().kind())) + " -> " + at.waters().get(n).text());
		}
		line(lines, "settled   " + at.settled().text() + "; swim " + at.plan().swim().state());
		for (FollowUpStep later : at.plan().followUps()) {
			line(lines, "later     " + Math.round(later.afterHours()) + " h: " + text(at, later.reason(), texts));
		}
		list(lines, "bring     ", at.plan().missing().stream().map(Plan.MissingProduct::reason).toList(), at, texts);
		if (at.plan().replacement() != null) {
			list(lines, "replace   ", at.plan().replacement().reasons(), at, texts);
		}
		list(lines, "not       ", at.plan().cautions().stream().filter(reason -> reason.code().startsWith("not.")).toList(), at, texts);
		list(lines, "work      ", at.plan().tasks(), at, texts);
		list(lines, "swim      ", at.plan().swim().reasons(), at, texts);
		list(lines, "note      ", at.plan().notes().stream().map(Plan.Note::reason).toList(), at, texts);
		list(lines, "offer     ", at.plan().outcome().suggestions(), at, texts);
		return lines.toString();
	}

	private static void list(StringBuilder lines, String label, List<Reason> reasons, AuditCase at, Wording.Texts texts) {
		reasons.forEach(reason -> line(lines, label + text(at, reason, texts)));
	}

	private static String text(AuditCase at, Reason reason, Wording.Texts texts) {
		return reason.format(at.request().units(), texts);
	}

	private static void line(StringBuilder lines, String text) {
		lines.append("      ").append(text).append('\n');
	}

}
