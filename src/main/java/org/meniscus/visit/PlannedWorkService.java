package org.meniscus.visit;

import static org.meniscus.platform.database.Decimals.number;
import static org.meniscus.platform.database.Decimals.scaled;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Predicate;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.AuditTrail;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedInUser;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Work that is planned for a pool's next stop. */
@Service
public class PlannedWorkService {

	private static final String SELECT = """
			SELECT w.id, w.pool_id, w.share, w.chlorine, w.planned_on, p.name FROM planned_work w
			JOIN person p ON p.company_id = w.company_id AND p.id = w.planned_by
			WHERE w.company_id = :company
			""";

	private static final String SELECT_OPEN = SELECT + "AND w.outcome IS NULL";

	/** Done by a visit's record; once more of its kind has been planned, it is history. */
	private static final String SELECT_DONE_BY_VISIT = SELECT + """
			AND w.pool_id = :pool AND w.outcome = 'DONE' AND w.closed_by IS NULL AND NOT EXISTS (
			    SELECT 1 FROM planned_work later
			    WHERE later.company_id = w.company_id AND later.pool_id = w.pool_id AND later.kind = w.kind AND later.id <> w.id
			      AND (later.closed_at IS NULL OR later.closed_at > w.closed_at))""";

	private final JdbcClient jdbc;

	private final VisitService visits;

	private final ClientService clients;

	private final CompanyService companies;

	private final AuditTrail audit;

	private final Clock clock;

	PlannedWorkService(JdbcClient jdbc, VisitService visits, ClientService clients, CompanyService companies, AuditTrail audit,
			Clock clock) {
		this.jdbc = jdbc;
		this.visits = visits;
		this.clients = clients;
		this.companies = companies;
		this.audit = audit;
		this.clock = clock;
	}

	/** What is to be done at a pool, the oldest first. */
	@Transactional(readOnly = true)
	public List<PlannedWork> open(CompanyId company, PoolId pool) {
		return jdbc.sql(SELECT_OPEN + " AND w.pool_id = :pool ORDER BY w.planned_on, w.id")
			.param("company", company.value())
			.param("pool", pool.value())
			.query(PlannedWorkService::work)
			.list();
	}

	/** What is to be done anywhere. */
	@Transactional(readOnly = true)
	public List<PlannedWork> open(CompanyId company) {
		return jdbc.sql(SELECT_OPEN + " ORDER BY w.planned_on, w.id").param("company", company.value()).query(PlannedWorkService::work)
			.list();
	}

	/**
	 * Plans work in place of open work of the same kind at that pool.
	 *
	 * @param id made with the form: sent twice, it is planned once
	 * @throws NotFound when this company has no such pool
	 */
	@Transactional
	public void plan(SignedInUser me, UUID id, PoolId pool, PlannedWork.PlannedAction task) {
		clients.pool(me.company(), pool);
		LocalDate today = companies.settings(me.company()).today(clock);
		PlannedWork.PlannedAction.DrainAndRefill drain = (task instanceof PlannedWork.PlannedAction.DrainAndRefill one) ? one : null;
		PlannedWork.PlannedAction.ChlorineSwitch chlorine = (task instanceof PlannedWork.PlannedAction.ChlorineSwitch one) ? one : null;
		String kind = (drain != null) ? "DRAIN" : "CHLORINE";
		jdbc.sql("""
				UPDATE planned_work SET outcome = 'DROPPED', closed_at = :now, closed_by = :by
				WHERE company_id = :company AND pool_id = :pool AND kind = :kind AND outcome IS NULL AND id <> :id""")
			.param("now", Timestamp.from(clock.instant()))
			.param("by", me.person().value())
			.param("company", me.company().value())
			.param("pool", pool.value())
			.param("kind", kind)
			.param("id", id)
			.update();
		jdbc.sql("""
				INSERT INTO planned_work (company_id, id, pool_id, kind, share, chlorine, planned_on, planned_by)
				VALUES (:company, :id, :pool, :kind, :share, :chlorine, :today, :by) ON CONFLICT (company_id, id) DO NOTHING""")
			.param("company", me.company().value())
			.param("id", id)
			.param("pool", pool.value())
			.param("kind", kind)
			.param("share", (drain != null) ? scaled(drain.share(), 3) : null, java.sql.Types.NUMERIC)
			.param("chlorine", (chlorine != null) ? chlorine.kind().name() : null, java.sql.Types.VARCHAR)
			.param("today", today)
			.param("by", me.person().value())
			.update();
		audit.record("work.planned", pool.toString(), Map.of("work", id));
	}

	/** @throws NotFound when no such work is open at that pool */
	@Transactional
	public void markDone(SignedInUser me, PoolId pool, UUID work) {
		close(me, pool, work, "DONE");
	}

	/** @throws NotFound when no such work is open at that pool */
	@Transactional
	public void drop(SignedInUser me, PoolId pool, UUID work) {
		close(me, pool, work, "DROPPED");
	}

	private void close(SignedInUser me, PoolId pool, UUID work, String outcome) {
		if (close(me.company(), work, outcome, me.person(), pool) == 0) {
			throw new NotFound("work");
		}
		audit.record("work." + outcome.toLowerCase(java.util.Locale.ROOT), pool.toString(), Map.of("work", work));
	}

	/** @param by null when a visit's own record says so */
	private int close(CompanyId company, UUID work, String outcome, @Nullable PersonId by, PoolId pool) {
		return jdbc.sql("""
				UPDATE planned_work SET outcome = :outcome, closed_at = :now, closed_by = :by
				WHERE company_id = :company AND pool_id = :pool AND id = :id AND outcome IS NULL""")
			.param("outcome", outcome)
			.param("now", Timestamp.from(clock.instant()))
			.param("by", (by != null) ? by.value() : null, java.sql.Types.OTHER)
			.param("company", company.value())
			.param("pool", pool.value())
			.param("id", work)
			.update();
	}

	/** What a visit records as done is done; in the visit's own transaction. */
	@EventListener
	void onVisitSubmitted(VisitSubmitted visit) {
		VisitRecord stored = visits.find(visit.company(), visit.visit()).orElseThrow();
		closeOpen(visit.company(), stored, task -> task.doneBy(stored));
	}

	/** A correction does what it adds, and takes back what no visit records any more. */
	@EventListener
	void onVisitCorrected(VisitCorrected visit) {
		closeOpen(visit.company(), visit.after(), task -> task.doneBy(visit.after()) && !task.doneBy(visit.before()));
		jdbc.sql(SELECT_DONE_BY_VISIT)
			.param("company", visit.company().value())
			.param("pool", visit.pool().value())
			.query(PlannedWorkService::work)
			.list()
			.stream()
			.filter(work -> visits.history(visit.company(), visit.pool(), work.plannedOn()).stream().noneMatch(work.action()::doneBy))
			.forEach(work -> reopen(visit.company(), work));
	}

	private void closeOpen(CompanyId company, VisitRecord visit, Predicate<PlannedWork.PlannedAction> done) {
		open(company, visit.pool()).stream()
			.filter(work -> !work.plannedOn().isAfter(visit.performedOn()) && done.test(work.action()))
			.forEach(work -> close(company, work.id(), "DONE", null, visit.pool()));
	}

	private void reopen(CompanyId company, PlannedWork work) {
		jdbc.sql("UPDATE planned_work SET outcome = NULL, closed_at = NULL WHERE company_id = ? AND id = ?")
			.params(company.value(), work.id())
			.update();
	}

	private static PlannedWork work(ResultSet row, int n) throws SQLException {
		return new PlannedWork(row.getObject("id", UUID.class), new PoolId(row.getObject("pool_id", UUID.class)),
				PlannedWork.action(number(row, "share"), row.getString("chlorine")),
				row.getObject("planned_on", LocalDate.class), row.getString("name"));
	}

}
