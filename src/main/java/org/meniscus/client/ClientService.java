package org.meniscus.client;

import static org.meniscus.platform.database.Decimals.number;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;

import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.StaleVersion;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.units.Volume;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Clients and their pools. */
@Service
public class ClientService {

	private static final String SELECT_SUMMARY = """
			SELECT p.id, p.client_id, c.name AS client_name, p.name, p.street, p.town, p.postcode, p.latitude, p.longitude,
			       coalesce(p.equipment_notes, '') AS equipment_notes,
			       (p.archived_at IS NOT NULL OR c.archived_at IS NOT NULL) AS archived,
			       p.body, p.surface, p.indoor, p.sanitizer, p.volume_litres, p.volume_certainty, p.has_waste_valve,
			       p.cell_grams_per_day, p.cell_percent, p.cell_step_percent, p.pump_hours, p.flow_litres_per_hour, p.filter,
			       p.filter_clean_kpa, p.cover_hours, p.bathers_per_day, p.has_ozone, p.has_uv, p.has_ionizer,
			       p.fill_ph, p.fill_ta_ppm, p.fill_ch_ppm, p.fill_salt_ppm
			FROM pool p JOIN client c ON c.company_id = p.company_id AND c.id = p.client_id
			WHERE p.company_id = :company
			""";

	private final ClientRepository clients;

	private final PoolRepository pools;

	private final TargetService targets;

	private final JdbcClient jdbc;

	private final Clock clock;

	ClientService(ClientRepository clients, PoolRepository pools, TargetService targets, JdbcClient jdbc, Clock clock) {
		this.clients = clients;
		this.pools = pools;
		this.targets = targets;
		this.jdbc = jdbc;
		this.clock = clock;
	}

	/** One pool, archived or not. @throws NotFound when this company has no such pool */
	@Transactional(readOnly = true)
	public PoolSummary pool(CompanyId company, PoolId pool) {
		TargetService.MergedTargets merged = targets.mergedTargets(company);
		return jdbc.sql(SELECT_SUMMARY + " AND p.id = :pool")
			.param("company", company.value())
			.param("pool", pool.value())
			.query((row, n) -> toSummary(row, merged))
			.optional()
			.orElseThrow(() -> new NotFound("pool"));
	}

	/** Every pool that is looked after, by client and name; archived pools and pools of archived clients are left out. */
	@Transactional(readOnly = true)
	public List<PoolSummary> pools(CompanyId company) {
		TargetService.MergedTargets merged = targets.mergedTargets(company);
		return jdbc.sql(SELECT_SUMMARY + " AND p.archived_at IS NULL AND c.archived_at IS NULL ORDER BY lower(c.name), lower(p.name), p.id")
			.param("company", company.value())
			.query((row, n) -> toSummary(row, merged))
			.list();
	}

	/** The pools asked for that are this company's, archived or not. */
	@Transactional(readOnly = true)
	public Map<PoolId, PoolSummary> pools(CompanyId company, Collection<PoolId> asked) {
		if (asked.isEmpty()) {
			return Map.of();
		}
		TargetService.MergedTargets merged = targets.mergedTargets(company);
		return jdbc.sql(SELECT_SUMMARY + " AND p.id IN (:pools)")
			.param("company", company.value())
			.param("pools", asked.stream().map(PoolId::value).toList())
			.query((row, n) -> toSummary(row, merged))
			.list()
			.stream()
			.collect(Collectors.toMap(PoolSummary::id, Function.identity()));
	}

	/**
	 * Gate codes, keys, dogs; empty when there are none. The caller decides who may see them: office staff, and the technician
	 * of the day.
	 */
	@Transactional(readOnly = true)
	public String accessNotes(CompanyId company, PoolId pool) {
		return jdbc.sql("SELECT coalesce(access_notes, '') FROM pool WHERE company_id = ? AND id = ?")
			.params(company.value(), pool.value())
			.query(String.class)
			.optional()
			.orElseThrow(() -> new NotFound("pool"));
	}

	/** Those of several pools, empty where there are none; what {@link #accessNotes(CompanyId, PoolId)} says of the caller holds. */
	@Transactional(readOnly = true)
	public Map<PoolId, String> accessNotes(CompanyId company, Collection<PoolId> asked) {
		Map<PoolId, String> notes = new HashMap<>();
		if (!asked.isEmpty()) {
			jdbc.sql("SELECT id, coalesce(access_notes, '') AS notes FROM pool WHERE company_id = :company AND id IN (:pools)")
				.param("company", company.value())
				.param("pools", asked.stream().map(PoolId::value).toList())
				.query(row -> {
					notes.put(new PoolId(row.getObject("id", UUID.class)), row.getString("notes"));
				});
		}
		return notes;
	}

	/** @throws NotFound when this company has no such client */
	@Transactional(readOnly = true)
	public ClientRecord client(CompanyId company, ClientId client) {
		return clients.findByCompanyIdAndId(company.value(), client.value())
			.map(Client::toRecord)
			.orElseThrow(() -> new NotFound("client"));
	}

	/** A pool with everything about it, access notes too. @throws NotFound when this company has no such pool */
	@Transactional(readOnly = true)
	public PoolRecord poolRecord(CompanyId company, PoolId pool) {
		return pools.findByCompanyIdAndId(company.value(), pool.value())
			.map(Pool::toRecord)
			.orElseThrow(() -> new NotFound("pool"));
	}

	/** A new client; adding the same id again changes nothing, so a form sent twice adds once. */
	@Transactional
	public void add(CompanyId company, ClientId id, ClientDetails details) {
		if (clients.findByCompanyIdAndId(company.value(), id.value()).isEmpty()) {
			clients.save(new Client(company, id, details, clock.instant()));
		}
	}

	/** @param formVersion the version that was seen @throws StaleVersion when somebody else saved since then */
	@Transactional
	public void change(CompanyId company, ClientId id, long formVersion, ClientDetails details) {
		findForUpdate(company, id).change(formVersion, details, clock.instant());
	}

	/** Takes the client and so all its pools out of lists and routes; what was recorded stays. */
	@Transactional
	public void archive(CompanyId company, ClientId id) {
		findForUpdate(company, id).archive(clock.instant());
	}

	@Transactional
	public void restore(CompanyId company, ClientId id) {
		findForUpdate(company, id).restore(clock.instant());
	}

	/**
	 * A new pool; adding the same id again changes nothing, so a form sent twice adds once.
	 *
	 * @throws NotFound when its client is not this company's
	 */
	@Transactional
	public void add(CompanyId company, PoolId id, PoolDetails details) {
		client(company, details.client());
		if (pools.findByCompanyIdAndId(company.value(), id.value()).isEmpty()) {
			pools.save(new Pool(company, id, details, clock.instant()));
		}
	}

	/** @throws StaleVersion when somebody else saved since then @throws NotFound when its client is not this company's */
	@Transactional
	public void change(CompanyId company, PoolId id, long formVersion, PoolDetails details) {
		client(company, details.client());
		findForUpdate(company, id).change(formVersion, details, clock.instant());
	}

	/** Takes one pool out of lists and routes; what was recorded stays. */
	@Transactional
	public void archive(CompanyId company, PoolId id) {
		findForUpdate(company, id).archive(clock.instant());
	}

	@Transactional
	public void restore(CompanyId company, PoolId id) {
		findForUpdate(company, id).restore(clock.instant());
	}

	private Client findForUpdate(CompanyId company, ClientId id) {
		return clients.findForUpdate(company.value(), id.value()).orElseThrow(() -> new NotFound("client"));
	}

	private Pool findForUpdate(CompanyId company, PoolId id) {
		return pools.findForUpdate(company.value(), id.value()).orElseThrow(() -> new NotFound("pool"));
	}

	private static PoolSummary toSummary(ResultSet row, TargetService.MergedTargets merged) throws SQLException {
		PoolId id = new PoolId(row.getObject("id", UUID.class));
		return new PoolSummary(id, new ClientId(row.getObject("client_id", UUID.class)), row.getString("client_name"),
				row.getString("name"), row.getString("street"), row.getString("town"), row.getString("postcode"),
				number(row, "latitude"), number(row, "longitude"), facts(id, row, merged), row.getString("equipment_notes"),
				row.getBoolean("archived"));
	}

	private static PoolFacts facts(PoolId id, ResultSet row, TargetService.MergedTargets merged) throws SQLException {
		BodyOfWater body = BodyOfWater.valueOf(row.getString("body"));
		Surface surface = Surface.valueOf(row.getString("surface"));
		boolean indoor = row.getBoolean("indoor");
		Sanitizer sanitizer = Sanitizer.valueOf(row.getString("sanitizer"));
		Double litres = number(row, "volume_litres");
		FillWater fill = new FillWater(number(row, "fill_ph"), number(row, "fill_ta_ppm"), number(row, "fill_ch_ppm"),
				number(row, "fill_salt_ppm"));
		return new PoolFacts((litres != null) ? Volume.ofLitres(litres) : null,
				VolumeCertainty.valueOf(row.getString("volume_certainty")), body, surface, indoor, sanitizer, fill,
				row.getBoolean("has_waste_valve"), PoolEquipment.of(row), merged.forPool(id, body, surface, indoor, sanitizer));
	}

}
