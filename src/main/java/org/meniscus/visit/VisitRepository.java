package org.meniscus.visit;

import static org.meniscus.platform.database.Decimals.number;
import static org.meniscus.platform.database.Decimals.scaled;

import java.math.BigDecimal;
import java.sql.Array;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.product.ProductId;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.SiteConditions;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.TestMethods;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.AmountUnit;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Visits and doses as rows; two statements read any number of visits with their doses. Column names come from this class only. */
@Repository
class VisitRepository {

	/** Where what is in the water in traces stands. */
	static final Map<Level, String> TRACE_COLUMNS = new EnumMap<>(Map.of(Level.PHOSPHATE, "phosphate_ppb", Level.COPPER, "copper_ppm",
			Level.IRON, "iron_ppm", Level.MANGANESE, "manganese_ppm", Level.AMMONIA, "ammonia_ppm"));

	private final JdbcClient jdbc;

	VisitRepository(JdbcClient jdbc) {
		this.jdbc = jdbc;
	}

	/** The columns that hold a situation and readings. */
	Map<String, @Nullable Object> values(Situation situation, Readings readings) {
		Map<String, @Nullable Object> values = new LinkedHashMap<>();
		values.put("situation", situation.name());
		values.put("fc_ppm", scaled(readings.fc(), 2));
		values.put("tc_ppm", scaled(readings.tc(), 2));
		values.put("cc_ppm", scaled(readings.cc(), 2));
		values.put("bromine_ppm", scaled(readings.bromine(), 2));
		values.put("ph", scaled(readings.ph(), 2));
		values.put("ph_qualifier", qualifier(readings.phQualifier()));
		values.put("ta_ppm", scaled(readings.ta(), 1));
		values.put("ch_ppm", scaled(readings.ch(), 1));
		values.put("cya_ppm", scaled(readings.cya(), 1));
		values.put("cya_qualifier", qualifier(readings.cyaQualifier()));
		values.put("salt_ppm", scaled(readings.salt(), 1));
		values.put("tds_ppm", scaled(readings.tds(), 1));
		values.put("borate_ppm", scaled(readings.borate(), 1));
		TRACE_COLUMNS.forEach((level, column) -> values.put(column, scaled(readings.value(level), 2)));
		values.put("water_celsius", scaled(readings.celsius(), 1));
		values.put("drain_visible", readings.drainVisible());
		values.put("test_kit", readings.tests().kit().name());
		values.put("test_methods", readings.tests().marks().toArray(new String[0]));
		SiteConditions site = readings.site();
		values.put("filter_kpa", scaled(site.filterKilopascals(), 1));
		values.put("cell_percent", scaled(site.cellPercent(), 1));
		values.put("cell_salt_ppm", scaled(site.cellSalt(), 1));
		values.put("heavy_rain", site.heavyRain());
		values.put("party", site.party());
		return values;
	}

	/** @return 0 when the id is stored already */
	int insert(CompanyId company, VisitId id, Map<String, @Nullable Object> values) {
		String columns = String.join(", ", values.keySet());
		String places = values.keySet().stream().map(VisitRepository::placeholder).collect(Collectors.joining(", "));
		return jdbc.sql("INSERT INTO visit (company_id, id, " + columns + ") VALUES (:company, :id, " + places
				+ ") ON CONFLICT (company_id, id) DO NOTHING")
			.param("company", company.value())
			.param("id", id.value())
			.params(values)
			.update();
	}

	/** @param seenVersion null to leave the version as it is @return 0 when the version is another */
	int update(CompanyId company, VisitId id, @Nullable Long seenVersion, Map<String, @Nullable Object> values) {
		String sets = values.keySet().stream().map(column -> column + " = " + placeholder(column)).collect(Collectors.joining(", "));
		JdbcClient.StatementSpec statement = jdbc
			.sql("UPDATE visit SET " + sets + ((seenVersion != null) ? ", version = version + 1" : "")
					+ " WHERE company_id = :company AND id = :id" + ((seenVersion != null) ? " AND version = :seen" : ""))
			.param("company", company.value())
			.param("id", id.value())
			.params(values);
		return ((seenVersion != null) ? statement.param("seen", seenVersion) : statement).update();
	}

	byte[] digest(CompanyId company, VisitId id) {
		return jdbc.sql("SELECT body_sha256 FROM visit WHERE company_id = ? AND id = ?")
			.params(company.value(), id.value())
			.query((row, n) -> row.getBytes(1))
			.single();
	}

	/** The whole visit with its doses as JSON, for the version that a correction replaces. */
	String json(CompanyId company, VisitId id) {
		return jdbc.sql("""
				SELECT (to_jsonb(v) - 'body_sha256' || jsonb_build_object('doses',
				        (SELECT coalesce(jsonb_agg(to_jsonb(d) ORDER BY d.seq), '[]') FROM dose d
				         WHERE d.company_id = v.company_id AND d.visit_id = v.id)))::text
				FROM visit v WHERE v.company_id = ? AND v.id = ?""")
			.params(company.value(), id.value())
			.query(String.class)
			.single();
	}

	/** @param condition of this package's making, on v; parameters by name */
	List<VisitRecord> select(CompanyId company, String condition, Map<String, ?> parameters) {
		Map<UUID, List<DoseRecord>> doses = new HashMap<>();
		List<VisitRecord> visits = jdbc.sql("""
				SELECT v.*, t.name AS technician_name,
				       (SELECT count(*) FROM photo f WHERE f.company_id = v.company_id AND f.visit_id = v.id) AS photos
				FROM visit v JOIN person t ON t.company_id = v.company_id AND t.id = v.technician_id
				WHERE v.company_id = :company""" + condition)
			.param("company", company.value())
			.params(parameters)
			.query((row, n) -> visit(row, doses))
			.list();
		if (!visits.isEmpty()) {
			jdbc.sql("SELECT * FROM dose WHERE company_id = :company AND visit_id IN (:visits) ORDER BY visit_id, seq")
				.param("company", company.value())
				.param("visits", visits.stream().map(visit -> visit.id().value()).toList())
				.query((row, n) -> doses.computeIfAbsent(row.getObject("visit_id", UUID.class), id -> new ArrayList<>()).add(dose(row)))
				.list();
		}
		return visits.stream().map(visit -> withDoses(visit, doses.getOrDefault(visit.id().value(), List.of()))).toList();
	}

	/** Pools whose newest visit closed them; the readings and doses of those visits are not read. */
	Set<PoolId> closed(CompanyId company, Collection<PoolId> pools) {
		Set<PoolId> closed = new HashSet<>();
		jdbc.sql("""
				SELECT p.id, newest.swim FROM pool p CROSS JOIN LATERAL (
				    SELECT n.swim FROM visit n WHERE n.company_id = p.company_id AND n.pool_id = p.id
				    ORDER BY n.performed_at DESC LIMIT 1) newest
				WHERE p.company_id = :company AND p.id IN (:pools)""")
			.param("company", company.value())
			.param("pools", pools.stream().map(PoolId::value).toList())
			.query(row -> {
				if (swim(row).closed()) {
					closed.add(new PoolId(row.getObject("id", UUID.class)));
				}
			});
		return closed;
	}

	private static SwimReadiness swim(ResultSet row) throws SQLException {
		return VisitJson.MAPPER.readValue(row.getString("swim"), SwimReadiness.class);
	}

	private static VisitRecord withDoses(VisitRecord visit, List<DoseRecord> doses) {
		return new VisitRecord(visit.id(), visit.version(), visit.pool(), visit.technician(), visit.technicianName(), visit.stop(),
				visit.performedAt(), visit.performedOn(), visit.receivedAt(), visit.situation(), visit.readings(),
				visit.waterReplaced(), doses, visit.tasks(), visit.noteToClient(), visit.noteToOffice(), visit.advice(),
				visit.swim(), visit.photos(), visit.corrected());
	}

	private static VisitRecord visit(ResultSet row, Map<UUID, List<DoseRecord>> doses) throws SQLException {
		Readings.Builder readings = Readings.builder()
			.fc(number(row, "fc_ppm"))
			.tc(number(row, "tc_ppm"))
			.cc(number(row, "cc_ppm"))
			.bromine(number(row, "bromine_ppm"))
			.ph(number(row, "ph"), ReadingQualifier.ofSign(row.getString("ph_qualifier")))
			.ta(number(row, "ta_ppm"))
			.ch(number(row, "ch_ppm"))
			.cya(number(row, "cya_ppm"), ReadingQualifier.ofSign(row.getString("cya_qualifier")))
			.salt(number(row, "salt_ppm"))
			.tds(number(row, "tds_ppm"))
			.borate(number(row, "borate_ppm"))
			.celsius(number(row, "water_celsius"))
			.drainVisible((Boolean) row.getObject("drain_visible"))
			.tests(TestMethods.parse(row.getString("test_kit"), List.of((String[]) row.getArray("test_methods").getArray())))
			.site(new SiteConditions(number(row, "filter_kpa"), number(row, "cell_percent"), number(row, "cell_salt_ppm"),
					row.getBoolean("heavy_rain"), row.getBoolean("party")));
		for (Map.Entry<Level, String> trace : TRACE_COLUMNS.entrySet()) {
			readings.trace(trace.getKey(), number(row, trace.getValue()));
		}
		Array tasks = row.getArray("tasks");
		return new VisitRecord(new VisitId(row.getObject("id", UUID.class)), row.getLong("version"),
				new PoolId(row.getObject("pool_id", UUID.class)), new PersonId(row.getObject("technician_id", UUID.class)),
				row.getString("technician_name"), row.getObject("stop_id", UUID.class), instant(row, "performed_at"),
				row.getObject("performed_on", LocalDate.class), instant(row, "received_at"),
				Situation.valueOf(row.getString("situation")), readings.build(), number(row, "water_replaced"), List.of(),
				List.of((String[]) tasks.getArray()), row.getString("note_to_client"), row.getString("note_to_office"),
				row.getString("advice"), swim(row),
				row.getInt("photos"), row.getTimestamp("corrected_at") != null);
	}

	private static DoseRecord dose(ResultSet row) throws SQLException {
		BigDecimal percent = row.getBigDecimal("strength_percent");
		String basis = row.getString("strength_basis");
		return new DoseRecord(row.getInt("seq"), new ProductId(row.getObject("product_id", UUID.class)), row.getString("product_name"),
				ProductKind.valueOf(row.getString("product_kind")), (percent != null) ? percent.doubleValue() / 100 : null,
				(basis != null) ? StrengthBasis.valueOf(basis) : null, row.getDouble("amount"),
				AmountUnit.valueOf(row.getString("amount_unit")), number(row, "planned_amount"),
				row.getObject("dosed_on", LocalDate.class),
				(row.getObject("cost_cents") != null) ? row.getLong("cost_cents") : null);
	}

	private static String placeholder(String column) {
		return column.equals("advice") || column.equals("swim") ? "CAST(:" + column + " AS jsonb)" : ":" + column;
	}

	private static Instant instant(ResultSet row, String column) throws SQLException {
		Timestamp time = row.getTimestamp(column);
		return time.toInstant();
	}

	private static @Nullable String qualifier(ReadingQualifier qualifier) {
		return (qualifier == ReadingQualifier.EXACT) ? null : qualifier.sign();
	}

}
