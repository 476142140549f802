package org.meniscus.visit;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

import org.meniscus.client.ClientBook;
import org.meniscus.client.PoolId;
import org.meniscus.company.CompanyRegister;
import org.meniscus.platform.AuditTrail;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedIn;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The door to work that is planned for a pool's next stop. */
@Service
public class WorkBook {

	/** A drain that came this near to what was planned is that drain. Assumption, no source. */
	private static final double NEARLY = 0.8;

	private static final String OPEN = """
			SELECT w.id, w.pool_id, w.share, w.chlorine, w.planned_on, p.name FROM pool_work w
			JOIN person p ON p.company_id = w.company_id AND p.id = w.planned_by
			WHERE w.company_id = :company AND w.outcome IS NULL""";

	private final JdbcClient jdbc;

	private final ClientBook clients;

	private final CompanyRegister companies;

	private final AuditTrail audit;

	private final Clock clock;

	WorkBook(JdbcClient jdbc, ClientBook clients, CompanyRegister companies, AuditTrail audit, Clock clock) {
		this.jdbc = jdbc;
		this.clients = clients;
		this.companies = companies;
		this.audit = audit;
		this.clock = clock;
	}

	/** What is to be done at a pool, the oldest first. */
	@Transactional(readOnly = true)
	public List<PoolWork> open(CompanyId company, PoolId pool) {
		return jdbc.sql(OPEN + " AND w.pool_id = :pool ORDER BY w.planned_on, w.id")
			.param("company", company.value())
			.param("pool", pool.value())
			.query(WorkBook::work)
			.list();
	}

	/** What is to be done anywhere. */
	@Transactional(readOnly = true)
	public List<PoolWork> open(CompanyId company) {
		return jdbc.sql(OPEN + " ORDER BY w.planned_on, w.id").param("company", company.value()).query(WorkBook::work).list();
	}

	/**
	 * Plans work in place of open work of the same kind at that pool.
	 *
	 * @param id made with the form: sent twice, it is planned once
	 * @throws NotFound when this company has no such pool
	 */
	@Transactional
	public void plan(SignedIn me, UUID id, PoolId pool, PoolWork.Task task) {
		clients.pool(me.company(), pool);
		LocalDate today = LocalDate.ofInstant(clock.instant(), companies.settings(me.company()).zone());
		PoolWork.Task.Drain drain = (task instanceof PoolWork.Task.Drain one) ? one : null;
		PoolWork.Task.Chlorine chlorine = (task instanceof PoolWork.Task.Chlorine one) ? one : null;
		String kind = (drain != null) ? "DRAIN" : "CHLORINE";
		jdbc.sql("""
				UPDATE pool_work SET outcome = 'DROPPED', settled_at = :now, settled_by = :by
				WHERE company_id = :company AND pool_id = :pool AND kind = :kind AND outcome IS NULL AND id <> :id""")
			.param("now", Timestamp.from(clock.instant()))
			.param("by", me.person().value())
			.param("company", me.company().value())
			.param("pool", pool.value())
			.param("kind", kind)
			.param("id", id)
			.update();
		jdbc.sql("""
				INSERT INTO pool_work (company_id, id, pool_id, kind, share, chlorine, planned_on, planned_by)
				VALUES (:company, :id, :pool, :kind, :share, :chlorine, :today, :by) ON CONFLICT (company_id, id) DO NOTHING""")
			.param("company", me.company().value())
			.param("id", id)
			.param("pool", pool.value())
			.param("kind", kind)
			.param("share", (drain != null) ? BigDecimal.valueOf(drain.share()).setScale(3, RoundingMode.HALF_UP) : null,
					java.sql.Types.NUMERIC)
			.param("chlorine", (chlorine != null) ? chlorine.kind().name() : null, java.sql.Types.VARCHAR)
			.param("today", today)
			.param("by", me.person().value())
			.update();
		audit.record("work.planned", pool.toString(), "{\"work\":\"" + id + "\"}");
	}

	/** @throws NotFound when no such work is open at that pool */
	@Transactional
	public void done(SignedIn me, PoolId pool, UUID work) {
		settle(me.company(), me.person(), pool, work, "DONE");
	}

	/** @throws NotFound when no such work is open at that pool */
	@Transactional
	public void drop(SignedIn me, PoolId pool, UUID work) {
		settle(me.company(), me.person(), pool, work, "DROPPED");
	}

	private void settle(CompanyId company, PersonId by, PoolId pool, UUID work, String outcome) {
		int settled = jdbc.sql("""
				UPDATE pool_work SET outcome = :outcome, settled_at = :now, settled_by = :by
				WHERE company_id = :company AND pool_id = :pool AND id = :id AND outcome IS NULL""")
			.param("outcome", outcome)
			.param("now", Timestamp.from(clock.instant()))
			.param("by", by.value())
			.param("company", company.value())
			.param("pool", pool.value())
			.param("id", work)
			.update();
		if (settled == 0) {
			throw new NotFound("work");
		}
		audit.record("work." + outcome.toLowerCase(java.util.Locale.ROOT), pool.toString(), "{\"work\":\"" + work + "\"}");
	}

	/** A visit that records a drain has done the one that was planned; in the visit's own transaction. */
	@EventListener
	void drained(VisitSubmitted visit) {
		jdbc.sql("""
				UPDATE pool_work SET outcome = 'DONE', settled_at = :now
				WHERE company_id = :company AND pool_id = :pool AND kind = 'DRAIN' AND outcome IS NULL AND planned_on <= :day
				  AND share * :nearly <= (SELECT water_replaced FROM visit WHERE company_id = :company AND id = :visit)""")
			.param("now", Timestamp.from(clock.instant()))
			.param("company", visit.company().value())
			.param("pool", visit.pool().value())
			.param("day", visit.performedOn())
			.param("nearly", NEARLY)
			.param("visit", visit.visit().value())
			.update();
	}

	private static PoolWork work(ResultSet row, int n) throws SQLException {
		BigDecimal share = row.getBigDecimal("share");
		return new PoolWork(row.getObject("id", UUID.class), new PoolId(row.getObject("pool_id", UUID.class)),
				PoolWork.task((share != null) ? Double.valueOf(share.doubleValue()) : null, row.getString("chlorine")),
				row.getObject("planned_on", LocalDate.class), row.getString("name"));
	}

}
