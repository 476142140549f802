package org.meniscus.route;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.UuidGenerator;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Makes the stops that the repeating plans ask for. What has been made once is never made again, wherever it was moved since. */
@Component
class StopGenerator {

	private static final String PLANS = """
			SELECT sp.id, sp.pool_id, sp.technician_id, sp.frequency, sp.weekday, sp.second_weekday, sp.position, sp.starts_on, sp.ends_on
			FROM service_plan sp
			JOIN pool p ON p.company_id = sp.company_id AND p.id = sp.pool_id AND p.archived_at IS NULL
			JOIN client c ON c.company_id = p.company_id AND c.id = p.client_id AND c.archived_at IS NULL
			WHERE sp.company_id = :company AND sp.starts_on <= :to AND coalesce(sp.ends_on, :from) >= :from
			ORDER BY sp.position, sp.created_at, sp.id""";

	/** What a plan asks for on one day. */
	record Due(UUID plan, UUID pool, PersonId technician, int planPlace, LocalDate day) {
	}

	private record Plan(UUID id, UUID pool, PersonId technician, int place, Recurrence schedule) {
	}

	private record Made(UUID plan, LocalDate day) {
	}

	private record Day(PersonId technician, LocalDate date) {
	}

	private final JdbcClient jdbc;

	private final StopOrder order;

	private final UuidGenerator ids;

	private final Clock clock;

	StopGenerator(JdbcClient jdbc, StopOrder order, UuidGenerator ids, Clock clock) {
		this.jdbc = jdbc;
		this.order = order;
		this.ids = ids;
		this.clock = clock;
	}

	/** Days of current plans that have no stop yet, both ends included; in the order of the plans' places. */
	List<Due> notMade(CompanyId company, LocalDate from, LocalDate to) {
		Set<Made> made = new HashSet<>(jdbc.sql("""
				SELECT service_plan_id, due_on FROM stop
				WHERE company_id = :company AND service_plan_id IS NOT NULL AND due_on BETWEEN :from AND :to""")
			.param("company", company.value())
			.param("from", from)
			.param("to", to)
			.query((row, n) -> new Made(row.getObject(1, UUID.class), row.getObject(2, LocalDate.class)))
			.list());
		List<Due> due = new ArrayList<>();
		for (Plan plan : plans(company, from, to)) {
			for (LocalDate day : plan.schedule().daysBetween(from, to)) {
				if (!made.contains(new Made(plan.id(), day))) {
					due.add(new Due(plan.id(), plan.pool(), plan.technician(), plan.place(), day));
				}
			}
		}
		return due;
	}

	/** @return how many stops were made: 0 when all were there already */
	int make(CompanyId company, LocalDate from, LocalDate to) {
		order.lock(company);
		Map<Day, List<StopOrder.Placed>> days = new HashMap<>();
		int count = 0;
		for (Due due : notMade(company, from, to)) {
			List<StopOrder.Placed> before = days.computeIfAbsent(new Day(due.technician(), due.day()),
					day -> order.of(company, day.technician(), day.date()));
			UUID stop = ids.next();
			if (insert(company, stop, due) == 1) {
				days.put(new Day(due.technician(), due.day()), StopOrder.byPlan(before, new StopOrder.Placed(stop, due.planPlace())));
				count++;
			}
		}
		days.values().forEach(stops -> order.write(company, stops));
		return count;
	}

	private int insert(CompanyId company, UUID stop, Due due) {
		return jdbc.sql("""
				INSERT INTO stop (company_id, id, pool_id, technician_id, service_plan_id, due_on, planned_on, position, state, created_at, updated_at)
				VALUES (:company, :id, :pool, :technician, :plan, :day, :day, 0, 'PLANNED', :now, :now)
				ON CONFLICT (company_id, service_plan_id, due_on) DO NOTHING""")
			.param("company", company.value())
			.param("id", stop)
			.param("pool", due.pool())
			.param("technician", due.technician().value())
			.param("plan", due.plan())
			.param("day", due.day())
			.param("now", Timestamp.from(clock.instant()))
			.update();
	}

	private List<Plan> plans(CompanyId company, LocalDate from, LocalDate to) {
		return jdbc.sql(PLANS)
			.param("company", company.value())
			.param("from", from)
			.param("to", to)
			.query((row, n) -> new Plan(row.getObject("id", UUID.class), row.getObject("pool_id", UUID.class),
					new PersonId(row.getObject("technician_id", UUID.class)), row.getInt("position"), schedule(row)))
			.list();
	}

	static Recurrence schedule(ResultSet row) throws SQLException {
		return new Recurrence(Frequency.valueOf(row.getString("frequency")), DayOfWeek.of(row.getInt("weekday")),
				weekday(row.getObject("second_weekday", Integer.class)), row.getObject("starts_on", LocalDate.class),
				row.getObject("ends_on", LocalDate.class));
	}

	private static @Nullable DayOfWeek weekday(@Nullable Integer number) {
		return (number != null) ? DayOfWeek.of(number) : null;
	}

}
