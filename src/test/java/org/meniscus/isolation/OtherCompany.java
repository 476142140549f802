package org.meniscus.isolation;

import static org.meniscus.support.TestRows.columns;

import java.sql.Date;
import java.sql.Timestamp;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.water.units.UnitSystem;

/** A company with at least one row in every table, each text of which carries {@link #MARKER}: what others must never see. */
final class OtherCompany {

	static final String MARKER = "Quenlowe";

	final CompanyId company;

	final TestCompanies.TestUser owner;

	final TestCompanies.TestUser technician;

	/** Every id of this company's rows by the name of its table. */
	final Map<String, UUID> ids = new HashMap<>();

	final byte[] linkToken = TenantContext.sha256(UUID.randomUUID().toString().getBytes(java.nio.charset.StandardCharsets.UTF_8));

	OtherCompany(TestCompanies companies, TestRows rows) {
		this.owner = companies.newCompany(UnitSystem.US);
		this.company = owner.user().company();
		this.technician = rows.person(company, Role.TECHNICIAN, MARKER + " Tester");
		PersonId tech = technician.user().person();
		LocalDate today = LocalDate.of(2026, 9, 1);
		Timestamp now = Timestamp.from(Instant.parse("2026-09-01T17:00:00Z"));
		UUID client = rows.client(company, MARKER + " Family", columns("email", "quenlowe@example.org", "notes", MARKER));
		UUID pool = rows.pool(company, client, MARKER + " back pool",
				columns("street", MARKER + " Lane 5", "access_notes", "gate " + MARKER + " 4711", "equipment_notes", MARKER));
		UUID product = rows.product(company, "LIQUID_CHLORINE_125", MARKER + " liquid chlorine", 12.5, "ML", Map.of());
		UUID plan = UUID.randomUUID();
		UUID stop = UUID.randomUUID();
		rows.insert(company, "product_price", columns("product_id", product, "valid_from", Date.valueOf(today), "price_cents", 471));
		rows.insert(company, "company_target", columns("body", "POOL", "level", "CYA", "acceptable_low", 10, "ideal_low", 30,
				"ideal_high", 50, "acceptable_high", 90));
		rows.insert(company, "pool_target", columns("pool_id", pool, "level", "CYA", "acceptable_low", 10, "ideal_low", 30,
				"ideal_high", 50, "acceptable_high", 90));
		rows.insert(company, "service_schedule", columns("id", plan, "pool_id", pool, "technician_id", tech.value(), "frequency",
				"WEEKLY", "weekday", (short) 2, "starts_on", Date.valueOf(today), "created_at", now, "updated_at", now));
		rows.insert(company, "stop", columns("id", stop, "pool_id", pool, "technician_id", tech.value(), "service_schedule_id", plan,
				"due_on", Date.valueOf(today), "planned_on", Date.valueOf(today), "state", "PLANNED", "created_at", now,
				"updated_at", now));
		UUID visit = rows.visit(company, pool, tech, today,
				columns("situation", "CONTAMINATION", "fc_ppm", 3, "ph", 7.5, "stop_id", stop, "note_to_client", MARKER,
						"note_to_office", MARKER));
		rows.dose(company, visit, 0, product, 500, 471);
		rows.insert(company, "incident_record",
				columns("visit_id", visit, "version", 1, "closed_at", now, "person", MARKER, "notes", MARKER,
						"recorded_at", now, "recorded_by", tech.value()));
		rows.insert(company, "photo", columns("visit_id", visit, "seq", 0, "jpeg", MARKER.getBytes(java.nio.charset.StandardCharsets.UTF_8),
				"width", 1, "height", 1, "stored_at", now));
		rows.insert(company, "client_import", columns("id", UUID.randomUUID(), "person_id", tech.value(), "file_name", MARKER + ".csv",
				"created_at", now));
		rows.insert(company, "audit_event", columns("id", UUID.randomUUID(), "at", now, "action", MARKER));
		rows.insert(company, "pool_season", columns("pool_id", pool, "assessed_on", Date.valueOf(today), "assessed_at", now, "products",
				new String[]{ MARKER }));
		rows.insert(company, "drift",
				columns("pool_id", pool, "level", "CYA", "flag_side", "HIGH", "flag_since", Date.valueOf(today), "flag_probability", 0.8,
						"evidence",
						"{\"range\":null,\"readings\":[],\"forecast\":[],\"causes\":{},\"causesFrom\":null,\"notes\":[],\"mark\":\""
								+ MARKER + "\"}"));
		UUID work = UUID.randomUUID();
		rows.insert(company, "planned_work",
				columns("id", work, "pool_id", pool, "kind", "CHLORINE", "chlorine", "LIQUID_CHLORINE", "planned_on",
						Date.valueOf(today), "planned_by", tech.value()));
		rows.insert(company, "drift_dismissal",
				columns("pool_id", pool, "level", "CYA", "side", "HIGH", "reason", MARKER, "dismissed_at", now,
						"dismissed_by", tech.value()));
		rows.inCompany(company, () -> rows.sql("""
				INSERT INTO visit_version (company_id, visit_id, version, body, replaced_at, replaced_by, reason)
				VALUES (:company, :visit, 0, '{}', now(), :person, :mark)""")
			.param("company", company.value())
			.param("visit", visit)
			.param("person", tech.value())
			.param("mark", MARKER)
			.update());
		UUID link = UUID.randomUUID();
		rows.insert(company, "report_link", columns("token_hash", linkToken, "id", link, "visit_id", visit, "created_at", now,
				"created_by", tech.value(), "expires_at", Timestamp.from(Instant.parse("2036-01-01T00:00:00Z"))));
		ids.putAll(Map.of("company", company.value(), "person", tech.value(), "client", client, "pool", pool, "product", product,
				"schedule", plan, "stop", stop, "visit", visit, "link", link));
		ids.put("work", work);
	}

	List<UUID> allIds() {
		return new ArrayList<>(ids.values());
	}

}
