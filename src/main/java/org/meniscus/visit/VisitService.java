package org.meniscus.visit;

import static org.meniscus.platform.database.Decimals.scaled;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.ClosedPools;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.TenantContext;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The one door to visits. */
@Service
public class VisitService implements ClosedPools {

	private static final short PAYLOAD_SCHEMA = 1;

	/** Among so many of a pool's newest plans the one that is followed is looked for. */
	private static final int PLANS_LOOKED_AT = 5;

	private final JdbcClient jdbc;

	private final VisitRepository rows;

	private final DoseRepository doses;

	private final ClientService clients;

	private final CompanyService companies;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	VisitService(JdbcClient jdbc, VisitRepository rows, DoseRepository doses, ClientService clients, CompanyService companies, Clock clock,
			ApplicationEventPublisher events) {
		this.jdbc = jdbc;
		this.rows = rows;
		this.doses = doses;
		this.clients = clients;
		this.companies = companies;
		this.clock = clock;
		this.events = events;
	}

	/**
	 * Stores a visit once. Sent again with the same contents it changes nothing and answers as the first time.
	 *
	 * @return the stored visit
	 * @throws NotFound when pool, stop or a product is not this company's
	 * @throws VisitConflict when the id is stored with other contents
	 */
	@Transactional
	public VisitRecord submit(CompanyId company, NewVisit visit) {
		CompanySettings settings = companies.settings(company);
		LocalDate day = visit.performedAt().atZone(settings.zone()).toLocalDate();
		PoolSummary pool = clients.pool(company, visit.pool());
		byte[] digest = digest(visit);
		List<DoseRepository.PricedDose> lines = doses.priced(company, day, visit.doses(), List.of());
		Instant received = clock.instant();
		Map<String, @Nullable Object> values = new LinkedHashMap<>(rows.values(visit.situation(), visit.readings()));
		values.put("pool_id", visit.pool().value());
		values.put("technician_id", visit.technician().value());
		values.put("stop_id", visit.stop());
		values.put("performed_at", Timestamp.from(visit.performedAt()));
		values.put("performed_on", day);
		values.put("received_at", Timestamp.from(received));
		values.put("clock_offset_ms", visit.clockOffsetMillis());
		values.put("body_sha256", digest);
		values.put("payload_schema", PAYLOAD_SCHEMA);
		values.put("water_replaced", scaled(visit.waterReplaced(), 3));
		values.put("tasks", visit.tasks().toArray(String[]::new));
		values.put("note_to_client", visit.noteToClient());
		values.put("note_to_office", visit.noteToOffice());
		values.put("advice", visit.advice());
		values.put("swim",
				swim(company, settings, pool, visit.performedAt(), visit.situation(), visit.readings(), visit.waterReplaced(), lines));
		if (rows.insert(company, visit.id(), values) == 0) {
			VisitRecord stored = find(company, visit.id()).orElseThrow(() -> new NotFound("visit"));
			if (!MessageDigest.isEqual(digest, rows.digest(company, visit.id()))) {
				throw new VisitConflict(visit.id());
			}
			return stored;
		}
		doses.insert(company, visit.id(), visit.pool(), visit.technician(), day, lines);
		for (int n = 0; n < visit.photos().size(); n++) {
			NewVisit.Photo photo = visit.photos().get(n);
			jdbc.sql("INSERT INTO photo (company_id, visit_id, seq, jpeg, width, height, stored_at) VALUES (?, ?, ?, ?, ?, ?, ?)")
				.params(company.value(), visit.id().value(), n, photo.jpeg(), photo.width(), photo.height(), Timestamp.from(received))
				.update();
		}
		events.publishEvent(new VisitSubmitted(company, visit.id(), visit.pool(), visit.stop(), day));
		return find(company, visit.id()).orElseThrow();
	}

	/**
	 * Replaces what was recorded by a new version and keeps the old one.
	 *
	 * @param seenVersion the version the correction was written from
	 * @param reason 1 to 500 characters
	 * @throws StaleVersion when somebody corrected it in the meantime
	 */
	@Transactional
	public VisitRecord correct(CompanyId company, PersonId by, VisitId id, long seenVersion, Correction correction, String reason) {
		VisitRecord before = find(company, id).orElseThrow(() -> new NotFound("visit"));
		StaleVersion.requireCurrent(seenVersion, before.version(), "visit");
		Instant now = clock.instant();
		Map<String, @Nullable Object> values = new LinkedHashMap<>(rows.values(correction.situation(), correction.readings()));
		values.put("water_replaced", scaled(correction.waterReplaced(), 3));
		values.put("tasks", correction.tasks().toArray(String[]::new));
		values.put("note_to_client", correction.noteToClient());
		values.put("note_to_office", correction.noteToOffice());
		List<DoseRepository.PricedDose> lines = doses.priced(company, before.performedOn(), correction.doses(), before.doses());
		values.put("swim", swim(company, companies.settings(company), clients.pool(company, before.pool()), before.performedAt(),
				correction.situation(), correction.readings(), correction.waterReplaced(), lines));
		values.put("corrected_at", Timestamp.from(now));
		values.put("corrected_by", by.value());
		String old = rows.json(company, id);
		if (rows.update(company, id, seenVersion, values) == 0) {
			throw new StaleVersion("visit");
		}
		jdbc.sql("""
				INSERT INTO visit_version (company_id, visit_id, version, body, replaced_at, replaced_by, reason)
				VALUES (:company, :visit, :version, CAST(:body AS jsonb), :at, :by, :reason)""")
			.param("company", company.value())
			.param("visit", id.value())
			.param("version", seenVersion)
			.param("body", old)
			.param("at", Timestamp.from(now))
			.param("by", by.value())
			.param("reason", reason)
			.update();
		doses.delete(company, id);
		doses.insert(company, id, before.pool(), before.technician(), before.performedOn(), lines);
		VisitRecord after = find(company, id).orElseThrow();
		events.publishEvent(new VisitCorrected(company, before, after));
		return after;
	}

	/** What a correction puts in place of what was recorded. */
	public record Correction(Situation situation, Readings readings,
			@Nullable Double waterReplaced, List<NewVisit.NewDose> doses, List<String> tasks, @Nullable String noteToClient,
			@Nullable String noteToOffice) {
	}

	@Transactional(readOnly = true)
	public List<VisitVersion> versions(CompanyId company, VisitId id) {
		return jdbc.sql("""
				SELECT v.version, v.replaced_at, p.name, v.reason, v.body::text FROM visit_version v
				JOIN person p ON p.company_id = v.company_id AND p.id = v.replaced_by
				WHERE v.company_id = ? AND v.visit_id = ? ORDER BY v.version DESC""")
			.params(company.value(), id.value())
			.query((row, n) -> new VisitVersion(row.getLong(1), row.getTimestamp(2).toInstant(), row.getString(3), row.getString(4),
					row.getString(5)))
			.list();
	}

	@Transactional(readOnly = true)
	public Optional<VisitRecord> find(CompanyId company, VisitId id) {
		return rows.select(company, " AND v.id = :id", Map.of("id", id.value())).stream().findFirst();
	}

	/** The newest visit to a pool. */
	@Transactional(readOnly = true)
	public Optional<VisitRecord> latest(CompanyId company, PoolId pool) {
		return Optional.ofNullable(latest(company, List.of(pool)).get(pool));
	}

	/** The newest visit to each pool; one that was never visited is absent. */
	@Transactional(readOnly = true)
	public Map<PoolId, VisitRecord> latest(CompanyId company, Collection<PoolId> pools) {
		return newest(company, pools, 1, "", Map.of()).stream().collect(Collectors.toMap(VisitRecord::pool, Function.identity()));
	}

	@Override
	@Transactional(readOnly = true)
	public Set<PoolId> closed(CompanyId company, Collection<PoolId> pools) {
		return pools.isEmpty() ? Set.of() : rows.closed(company, pools);
	}

	/** The plan that is being followed at a pool on a day, while it asks for anything further. */
	@Transactional(readOnly = true)
	public Optional<ActivePlan> activePlan(CompanyId company, PoolId pool, LocalDate day) {
		return Optional.ofNullable(activePlans(company, List.of(pool), day).get(pool));
	}

	/** Likewise for several pools; one at which no plan is followed is absent. */
	@Transactional(readOnly = true)
	public Map<PoolId, ActivePlan> activePlans(CompanyId company, Collection<PoolId> pools, LocalDate day) {
		Map<PoolId, ActivePlan> plans = new HashMap<>();
		newest(company, pools, PLANS_LOOKED_AT, "AND n.performed_on >= :from AND n.advice IS NOT NULL",
				Map.of("from", day.minusDays(ActivePlan.ACTIVE_DAYS)))
			.stream()
			.collect(Collectors.groupingBy(VisitRecord::pool))
			.forEach((pool, visits) -> ActivePlan.of(visits).ifPresent(plan -> plans.put(pool, plan)));
		return plans;
	}

	/** The newest visits to each pool, newest first. @param condition on n, of this class's making */
	private List<VisitRecord> newest(CompanyId company, Collection<PoolId> pools, int each, String condition, Map<String, ?> parameters) {
		if (pools.isEmpty()) {
			return List.of();
		}
		Map<String, Object> all = new HashMap<>(parameters);
		all.put("pools", pools.stream().map(PoolId::value).toList());
		all.put("each", each);
		return rows.select(company, """
				 AND v.id IN (
				    SELECT newest.id FROM pool p CROSS JOIN LATERAL (
				        SELECT n.id FROM visit n WHERE n.company_id = p.company_id AND n.pool_id = p.id %s
				        ORDER BY n.performed_at DESC LIMIT :each) newest
				    WHERE p.company_id = :company AND p.id IN (:pools))
				ORDER BY v.performed_at DESC""".formatted(condition), all);
	}

	/** Visits to a pool from a day on, newest first. */
	@Transactional(readOnly = true)
	public List<VisitRecord> history(CompanyId company, PoolId pool, LocalDate from) {
		return rows.select(company, " AND v.pool_id = :pool AND v.performed_on >= :from ORDER BY v.performed_at DESC",
				Map.of("pool", pool.value(), "from", from));
	}

	/** Visits of these days that found something in the water that does not belong there, the oldest first. */
	@Transactional(readOnly = true)
	public List<VisitRecord> incidents(CompanyId company, LocalDate from, LocalDate to) {
		return rows.select(company,
				" AND v.situation IN (:incidents) AND v.performed_on BETWEEN :from AND :to ORDER BY v.performed_at, v.id",
				Map.of("incidents", Arrays.stream(Situation.values()).filter(Situation::incident).map(Situation::name).toList(), "from",
						from, "to", to));
	}

	/** One photo of a visit as JPEG. */
	@Transactional(readOnly = true)
	public Optional<byte[]> photo(CompanyId company, VisitId id, int number) {
		return jdbc.sql("SELECT jpeg FROM photo WHERE company_id = ? AND visit_id = ? AND seq = ?")
			.params(company.value(), id.value(), number)
			.query((row, n) -> row.getBytes(1))
			.optional();
	}

	/** As JSON: when people may swim after this visit, by the pool and the rules of the company as they are now. */
	private String swim(CompanyId company, CompanySettings settings, PoolSummary pool, Instant performedAt, Situation situation,
			Readings readings, @Nullable Double waterReplaced, List<DoseRepository.PricedDose> lines) {
		LocalDate day = performedAt.atZone(settings.zone()).toLocalDate();
		List<VisitRecord> earlier = rows.select(company,
				" AND v.pool_id = :pool AND v.performed_on >= :from AND v.performed_at < :at ORDER BY v.performed_at DESC",
				Map.of("pool", pool.id().value(), "from", day.minusDays(VisitRecord.HISTORY_DAYS), "at", Timestamp.from(performedAt)));
		Readings known = VisitRecord.lastKnownLevels(earlier, pool.facts(), day).fillIn(readings);
		return VisitJson.MAPPER.writeValueAsString(SwimReadiness.of(pool.facts(), known, situation, settings.treatment().policy(),
				waterReplaced, lines.stream().map(DoseRepository.PricedDose::recorded).toList()));
	}

	/**
	 * Over everything that was sent but the times, so that a repeat is known from a different visit under the same id: a form
	 * without script gets its time from the server, another one each time.
	 */
	private static byte[] digest(NewVisit visit) {
		List<String> parts = new ArrayList<>(List.of(visit.pool().value().toString(), visit.technician().value().toString(),
				String.valueOf(visit.stop()), visit.situation().name(), visit.readings().toString(),
				String.valueOf(visit.waterReplaced()), visit.doses().toString(), visit.tasks().toString(),
				String.valueOf(visit.noteToClient()), String.valueOf(visit.noteToOffice())));
		visit.photos().forEach(photo -> parts.add(HexFormat.of().formatHex(photo.originalSha256())));
		return TenantContext.sha256(String.join("\u001f", parts).getBytes(StandardCharsets.UTF_8));
	}

}
