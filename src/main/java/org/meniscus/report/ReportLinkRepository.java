package org.meniscus.report;

import java.sql.Timestamp;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.visit.VisitId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Links as rows. */
@Repository
class ReportLinkRepository {

	/** What a link opens: one visit, or the newest visit of a pool. */
	record LinkTarget(CompanyId company, @Nullable VisitId visit, @Nullable PoolId pool, Instant expiresAt) {
	}

	private final JdbcClient jdbc;

	ReportLinkRepository(JdbcClient jdbc) {
		this.jdbc = jdbc;
	}

	/** @return false when a link with this id was made before */
	boolean add(CompanyId company, UUID id, byte[] hash, @Nullable VisitId visit, @Nullable PoolId pool, PersonId by, Instant now,
			Instant expires) {
		return jdbc.sql("""
				INSERT INTO report_link (token_hash, company_id, id, visit_id, pool_id, created_at, created_by, expires_at)
				VALUES (:hash, :company, :id, :visit, :pool, :now, :by, :expires) ON CONFLICT (company_id, id) DO NOTHING""")
			.param("hash", hash)
			.param("company", company.value())
			.param("id", id)
			.param("visit", (visit != null) ? visit.value() : null, java.sql.Types.OTHER)
			.param("pool", (pool != null) ? pool.value() : null, java.sql.Types.OTHER)
			.param("now", Timestamp.from(now))
			.param("by", by.value())
			.param("expires", Timestamp.from(expires))
			.update() == 1;
	}

	boolean exists(CompanyId company, UUID id) {
		return jdbc.sql("SELECT count(*) FROM report_link WHERE company_id = ? AND id = ?")
			.params(company.value(), id)
			.query(Integer.class)
			.single() > 0;
	}

	/** Two who replace a pool's link at once do it one after the other. */
	void lock(CompanyId company, PoolId pool) {
		jdbc.sql("SELECT id FROM pool WHERE company_id = ? AND id = ? FOR UPDATE")
			.params(company.value(), pool.value())
			.query(UUID.class)
			.optional();
	}

	/** Ends whatever standing link the pool has. */
	void revokeStanding(CompanyId company, PoolId pool, Instant now) {
		jdbc.sql("UPDATE report_link SET revoked_at = ? WHERE company_id = ? AND pool_id = ? AND revoked_at IS NULL")
			.params(Timestamp.from(now), company.value(), pool.value())
			.update();
	}

	/** @return how many of such links there are, ended now or before */
	int revoke(CompanyId company, UUID id, String column, UUID target, Instant now) {
		return jdbc.sql("UPDATE report_link SET revoked_at = coalesce(revoked_at, :now) WHERE company_id = :company AND id = :id AND "
				+ column + " = :target")
			.param("now", Timestamp.from(now))
			.param("company", company.value())
			.param("id", id)
			.param("target", target)
			.update();
	}

	/** Newest first. @param column visit_id or pool_id */
	List<ReportLink> of(CompanyId company, String column, UUID target) {
		return jdbc.sql("""
				SELECT l.id, l.created_at, p.name, l.expires_at, l.revoked_at FROM report_link l
				JOIN person p ON p.company_id = l.company_id AND p.id = l.created_by
				WHERE l.company_id = :company AND l.""" + column + " = :target ORDER BY l.created_at DESC, l.id DESC")
			.param("company", company.value())
			.param("target", target)
			.query((row, n) -> new ReportLink(row.getObject(1, UUID.class), row.getTimestamp(2).toInstant(), row.getString(3),
					row.getTimestamp(4).toInstant(), (row.getTimestamp(5) != null) ? row.getTimestamp(5).toInstant() : null))
			.list();
	}

	/** By the lookup key alone, outside any company: the one row that hashes to it, if it still opens. */
	Optional<LinkTarget> find(byte[] hash, Instant now) {
		return jdbc.sql("""
				SELECT company_id, visit_id, pool_id, expires_at FROM report_link
				WHERE token_hash = ? AND revoked_at IS NULL AND expires_at > ?""")
			.params(hash, Timestamp.from(now))
			.query((row, n) -> {
				UUID visit = row.getObject("visit_id", UUID.class);
				UUID pool = row.getObject("pool_id", UUID.class);
				return new LinkTarget(new CompanyId(row.getObject("company_id", UUID.class)), (visit != null) ? new VisitId(visit) : null,
						(pool != null) ? new PoolId(pool) : null, row.getTimestamp("expires_at").toInstant());
			})
			.optional();
	}

}
