package org.meniscus.incident;

import static org.meniscus.platform.database.Decimals.number;
import static org.meniscus.platform.database.Decimals.scaled;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientId;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.platform.AuditTrail;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.visit.VisitId;
import org.meniscus.visit.VisitRecord;
import org.meniscus.visit.VisitService;
import org.meniscus.water.pool.Situation;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Incidents of a company or of one client, a month at a time. */
@Service
public class IncidentService {

	private static final List<String> INCIDENTS = Arrays.stream(Situation.values()).filter(Situation::incident).map(Situation::name)
		.toList();

	private final JdbcClient jdbc;

	private final VisitService visits;

	private final ClientService clients;

	private final AuditTrail audit;

	private final Clock clock;

	IncidentService(JdbcClient jdbc, VisitService visits, ClientService clients, AuditTrail audit, Clock clock) {
		this.jdbc = jdbc;
		this.visits = visits;
		this.clients = clients;
		this.audit = audit;
		this.clock = clock;
	}

	/** Months with an incident, the newest first. @param client null = of the whole company */
	@Transactional(readOnly = true)
	public List<YearMonth> months(CompanyId company, @Nullable ClientId client) {
		return jdbc.sql("""
				SELECT DISTINCT date_trunc('month', v.performed_on)::date AS month FROM visit v
				JOIN pool p ON p.company_id = v.company_id AND p.id = v.pool_id
				WHERE v.company_id = :company AND v.situation IN (:incidents)
				  AND (CAST(:client AS uuid) IS NULL OR p.client_id = :client)
				ORDER BY month DESC""")
			.param("company", company.value())
			.param("incidents", INCIDENTS)
			.param("client", (client != null) ? client.value() : null, java.sql.Types.OTHER)
			.query((row, n) -> YearMonth.from(row.getObject("month", LocalDate.class)))
			.list();
	}

	/** Incidents of a month, the oldest first. @param client null = of the whole company */
	@Transactional(readOnly = true)
	public List<Incident> month(CompanyId company, YearMonth month, @Nullable ClientId client) {
		List<VisitRecord> found = visits.incidents(company, month.atDay(1), month.atEndOfMonth());
		Map<PoolId, PoolSummary> pools = clients.pools(company, found.stream().map(VisitRecord::pool).distinct().toList());
		Map<UUID, Recorded> records = records(company, found);
		return found.stream()
			.map(visit -> incident(visit, Objects.requireNonNull(pools.get(visit.pool())), records.get(visit.id().value())))
			.filter(incident -> client == null || incident.pool().client().equals(client))
			.toList();
	}

	/** @throws NotFound when this company has no such visit, or nothing had got into the water */
	@Transactional(readOnly = true)
	public Incident incident(CompanyId company, VisitId id) {
		VisitRecord visit = visits.find(company, id).filter(found -> found.situation().incident())
			.orElseThrow(() -> new NotFound("incident"));
		return incident(visit, clients.pool(company, visit.pool()), records(company, List.of(visit)).get(id.value()));
	}

	/**
	 * Writes down, or puts right, what is known besides the visit. The same sent twice is stored once.
	 *
	 * @param seenVersion version of the record that was changed, 0 when there was none
	 * @throws NotFound as {@link #incident}
	 * @throws StaleVersion when somebody else has written something else since
	 */
	@Transactional
	public void record(SignedInUser me, VisitId id, long seenVersion, IncidentRecord record) {
		Incident stored = incident(me.company(), id);
		if (stored.record().equals(record)) {
			return;
		}
		StaleVersion.requireCurrent(seenVersion, stored.version(), "incident");
		int written = jdbc.sql("""
				INSERT INTO incident_record AS i (company_id, visit_id, version, closed_at, held_from, held_until, reopened_at,
				                                  fc_from_ppm, fc_until_ppm, ph_until, person, notes, recorded_at, recorded_by)
				VALUES (:company, :visit, 1, :closed, :from, :until, :reopened, :fcFrom, :fcUntil, :phUntil, :person, :notes, :now, :by)
				ON CONFLICT (company_id, visit_id) DO UPDATE
				SET version = i.version + 1, closed_at = excluded.closed_at, held_from = excluded.held_from,
				    held_until = excluded.held_until, reopened_at = excluded.reopened_at, fc_from_ppm = excluded.fc_from_ppm,
				    fc_until_ppm = excluded.fc_until_ppm, ph_until = excluded.ph_until, person = excluded.person,
				    notes = excluded.notes, recorded_at = excluded.recorded_at, recorded_by = excluded.recorded_by
				WHERE i.version = :seen""")
			.param("company", me.company().value())
			.param("visit", id.value())
			.param("closed", timestamp(record.closedAt()), java.sql.Types.TIMESTAMP)
			.param("from", timestamp(record.heldFrom()), java.sql.Types.TIMESTAMP)
			.param("until", timestamp(record.heldUntil()), java.sql.Types.TIMESTAMP)
			.param("reopened", timestamp(record.reopenedAt()), java.sql.Types.TIMESTAMP)
			.param("fcFrom", scaled(record.fcFrom(), 2), java.sql.Types.NUMERIC)
			.param("fcUntil", scaled(record.fcUntil(), 2), java.sql.Types.NUMERIC)
			.param("phUntil", scaled(record.phUntil(), 2), java.sql.Types.NUMERIC)
			.param("person", record.person(), java.sql.Types.VARCHAR)
			.param("notes", record.notes(), java.sql.Types.VARCHAR)
			.param("now", Timestamp.from(clock.instant()))
			.param("by", me.person().value())
			.param("seen", seenVersion)
			.update();
		if (written == 0) {
			throw new StaleVersion("incident");
		}
		audit.record("incident.recorded", id.value().toString(), Map.of("version", seenVersion + 1));
	}

	private static Incident incident(VisitRecord visit, PoolSummary pool, @Nullable Recorded recorded) {
		return (recorded != null) ? new Incident(visit, pool, recorded.record(), recorded.version())
				: new Incident(visit, pool, IncidentRecord.NOTHING, 0);
	}

	private record Recorded(IncidentRecord record, long version) {
	}

	private Map<UUID, Recorded> records(CompanyId company, List<VisitRecord> of) {
		Map<UUID, Recorded> records = new HashMap<>();
		if (!of.isEmpty()) {
			jdbc.sql("SELECT * FROM incident_record WHERE company_id = :company AND visit_id IN (:visits)")
				.param("company", company.value())
				.param("visits", of.stream().map(visit -> visit.id().value()).toList())
				.query(row -> {
					records.put(row.getObject("visit_id", UUID.class), new Recorded(record(row), row.getLong("version")));
				});
		}
		return records;
	}

	private static IncidentRecord record(ResultSet row) throws SQLException {
		return new IncidentRecord(instant(row, "closed_at"), instant(row, "held_from"), instant(row, "held_until"),
				instant(row, "reopened_at"), number(row, "fc_from_ppm"), number(row, "fc_until_ppm"), number(row, "ph_until"),
				row.getString("person"), row.getString("notes"));
	}

	private static @Nullable Timestamp timestamp(@Nullable Instant at) {
		return (at != null) ? Timestamp.from(at) : null;
	}

	private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
		Timestamp at = row.getTimestamp(column);
		return (at != null) ? at.toInstant() : null;
	}

}
