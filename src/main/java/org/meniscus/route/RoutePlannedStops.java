package org.meniscus.route;

import java.sql.Timestamp;
import java.time.Clock;
import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;

import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.visit.PlannedStop;
import org.meniscus.visit.PlannedStops;
import org.meniscus.visit.VisitSubmitted;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Planned stops for visits; marks stops done when visits are submitted. */
@Service
class RoutePlannedStops implements PlannedStops {

	/** A technician may enter a visit late, and a stop may be moved while he is on the road. */
	private static final int VISIT_WINDOW_DAYS = 7;

	/** How far ahead a next visit is looked for: every frequency falls on a day within it. */
	private static final int LOOKAHEAD_DAYS = 62;

	private final JdbcClient jdbc;

	private final StopGenerator generator;

	private final Clock clock;

	RoutePlannedStops(JdbcClient jdbc, StopGenerator generator, Clock clock) {
		this.jdbc = jdbc;
		this.generator = generator;
		this.clock = clock;
	}

	@Override
	@Transactional(readOnly = true)
	public Optional<PlannedStop> find(CompanyId company, UUID stop) {
		return jdbc.sql("SELECT id, pool_id, technician_id, planned_on FROM stop WHERE company_id = ? AND id = ?")
			.params(company.value(), stop)
			.query((row, n) -> new PlannedStop(row.getObject(1, UUID.class), new PoolId(row.getObject(2, UUID.class)),
					new PersonId(row.getObject(3, UUID.class)), row.getObject(4, LocalDate.class)))
			.optional();
	}

	/** From the stops that are made and, further ahead, from the schedules; a schedule that has not started within two months is not seen. */
	@Override
	@Transactional(readOnly = true)
	public Optional<LocalDate> nextAfter(CompanyId company, PoolId pool, LocalDate day) {
		Optional<LocalDate> stop = jdbc.sql("""
				SELECT planned_on FROM stop
				WHERE company_id = ? AND pool_id = ? AND planned_on > ? AND state = 'PLANNED' ORDER BY planned_on LIMIT 1""")
			.params(company.value(), pool.value(), day)
			.query(LocalDate.class)
			.optional();
		Optional<LocalDate> schedule = generator.missingStops(company, day.plusDays(1), day.plusDays(LOOKAHEAD_DAYS))
			.stream()
			.filter(due -> due.pool().equals(pool.value()))
			.map(StopGenerator.DueStop::day)
			.min(LocalDate::compareTo);
		return Stream.concat(stop.stream(), schedule.stream()).min(LocalDate::compareTo);
	}

	@Override
	@Transactional(readOnly = true)
	public boolean mayVisit(SignedInUser user, PoolId pool, LocalDate day) {
		return user.hasOfficeAccess() || jdbc.sql("""
				SELECT count(*) FROM stop
				WHERE company_id = :company AND technician_id = :technician AND pool_id = :pool AND planned_on BETWEEN :from AND :to""")
			.param("company", user.company().value())
			.param("technician", user.person().value())
			.param("pool", pool.value())
			.param("from", day.minusDays(VISIT_WINDOW_DAYS))
			.param("to", day.plusDays(VISIT_WINDOW_DAYS))
			.query(Integer.class)
			.single() > 0;
	}

	/**
	 * The stop that the visit names is done, a missed one too. A visit that names none makes the pool's first planned stop of
	 * its day done. In the visit's own transaction, past the version: a visit is never turned away because a stop was moved.
	 */
	@EventListener
	void onVisitSubmitted(VisitSubmitted visit) {
		jdbc.sql("""
				UPDATE stop SET state = 'DONE', missed_reason = NULL, missed_note = NULL, version = version + 1, updated_at = :now
				WHERE company_id = :company AND pool_id = :pool AND state <> 'DONE'
				  AND id = coalesce(CAST(:stop AS uuid), (
				      SELECT id FROM stop WHERE company_id = :company AND pool_id = :pool AND planned_on = :day AND state = 'PLANNED'
				      ORDER BY position, id LIMIT 1))""")
			.param("company", visit.company().value())
			.param("pool", visit.pool().value())
			.param("stop", visit.stop())
			.param("day", visit.performedOn())
			.param("now", Timestamp.from(clock.instant()))
			.update();
	}

}
