package org.meniscus.visit;

import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.TestMethods;
import org.meniscus.water.units.AmountUnit;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * A version that a correction replaced.
 *
 * @param body the row as it was, and its doses, as JSON by column name
 */
public record VisitVersion(long version, Instant replacedAt, String replacedBy, String reason, String body) {

	private static final JsonMapper JSON = JsonMapper.builder().build();

	/** @param amount grams or millilitres */
	public record VersionDose(String product, double amount, AmountUnit unit) {
	}

	/** The readings as they were; what is not in the body was not tested. */
	public Readings readings() {
		JsonNode row = JSON.readTree(body);
		Readings.Builder readings = Readings.builder()
			.fc(number(row, "fc_ppm"))
			.tc(number(row, "tc_ppm"))
			.cc(number(row, "cc_ppm"))
			.bromine(number(row, "bromine_ppm"))
			.ph(number(row, "ph"), qualifier(row, "ph_qualifier"))
			.ta(number(row, "ta_ppm"))
			.ch(number(row, "ch_ppm"))
			.cya(number(row, "cya_ppm"), qualifier(row, "cya_qualifier"))
			.salt(number(row, "salt_ppm"))
			.tds(number(row, "tds_ppm"))
			.borate(number(row, "borate_ppm"))
			.celsius(number(row, "water_celsius"));
		VisitRepository.TRACE_COLUMNS.forEach((level, column) -> readings.trace(level, number(row, column)));
		List<String> methods = new ArrayList<>();
		row.path("test_methods").forEach(method -> methods.add(method.asString()));
		readings.tests(TestMethods.parse(row.path("test_kit").isString() ? row.path("test_kit").asString() : null, methods));
		return readings.drainVisible(row.path("drain_visible").isBoolean() ? Boolean.valueOf(row.path("drain_visible").asBoolean()) : null)
			.build();
	}

	public List<VersionDose> doses() {
		List<VersionDose> doses = new ArrayList<>();
		for (JsonNode dose : JSON.readTree(body).path("doses")) {
			doses.add(new VersionDose(dose.path("product_name").asString(), dose.path("amount").asDouble(),
					AmountUnit.valueOf(dose.path("amount_unit").asString())));
		}
		return doses;
	}

	/** Notes by their column. */
	public Map<String, String> notes() {
		JsonNode row = JSON.readTree(body);
		Map<String, String> notes = new LinkedHashMap<>();
		for (String column : List.of("note_to_client", "note_to_office")) {
			if (row.path(column).isString()) {
				notes.put(column, row.path(column).asString());
			}
		}
		return notes;
	}

	private static @Nullable Double number(JsonNode row, String column) {
		return row.path(column).isNumber() ? Double.valueOf(row.path(column).asDouble()) : null;
	}

	private static ReadingQualifier qualifier(JsonNode row, String column) {
		return row.path(column).isString() ? ReadingQualifier.ofSign(row.path(column).asString().strip()) : ReadingQualifier.EXACT;
	}

}
