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

/** Makes the stops that the service schedules ask for. What has been made once is never made again, wherever it was moved since. */
@Component
class StopGenerator {

	private static final String SCHEDULES = """
			SELECT ss.id, ss.pool_id, ss.technician_id, ss.frequency, ss.weekday, ss.second_weekday, ss.position, ss.starts_on, ss.ends_on
			FROM service_schedule ss
			JOIN pool p ON p.company_id = ss.company_id AND p.id = ss.pool_id AND p.archived_at IS NULL
			JOIN client c ON c.company_id = p.company_id AND c.id = p.client_id AND c.archived_at IS NULL
			WHERE ss.company_id = :company AND ss.starts_on <= :to AND coalesce(ss.ends_on, :from) >= :from
			ORDER BY ss.position, ss.created_at, ss.id""";

	/** What a schedule asks for on one day. */
	record DueStop(UUID schedule, UUID pool, PersonId technician, int schedulePlace, LocalDate day) {
	}

	private record ActiveSchedule(UUID id, UUID pool, PersonId technician, int place, Recurrence recurrence) {
	}

	private record ExistingStop(UUID schedule, LocalDate day) {
	}

	private record TechnicianDate(PersonId technician, LocalDate date) {
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

	/** Days of current schedules that have no stop yet, both ends included; in the order of the schedules' places. */
	List<DueStop> missingStops(CompanyId company, LocalDate from, LocalDate to) {
		Set<ExistingStop> made = new HashSet<>(jdbc.sql("""
				SELECT service_schedule_id, due_on FROM stop
				WHERE company_id = ? AND service_schedule_id IS NOT NULL AND due_on BETWEEN ? AND ?""")
			.params(company.value(), from, to)
			.query((row, n) -> new ExistingStop(row.getObject(1, UUID.class), row.getObject(2, LocalDate.class)))
			.list());
		List<DueStop> due = new ArrayList<>();
		for (ActiveSchedule schedule : schedules(company, from, to)) {
			for (LocalDate day : schedule.recurrence().daysBetween(from, to)) {
				if (!made.contains(new ExistingStop(schedule.id(), day))) {
					due.add(new DueStop(schedule.id(), schedule.pool(), schedule.technician(), schedule.place(), day));
				}
			}
		}
		return due;
	}

	/** @return how many stops were made: 0 when all were there already */
	int generate(CompanyId company, LocalDate from, LocalDate to) {
		order.lock(company);
		Map<TechnicianDate, List<StopOrder.OrderedStop>> days = new HashMap<>();
		int count = 0;
		for (DueStop due : missingStops(company, from, to)) {
			List<StopOrder.OrderedStop> before = days.computeIfAbsent(new TechnicianDate(due.technician(), due.day()),
					day -> order.of(company, day.technician(), day.date()));
			UUID stop = ids.next();
			if (insert(company, stop, due) == 1) {
				days.put(new TechnicianDate(due.technician(), due.day()),
						StopOrder.insertBySchedule(before, new StopOrder.OrderedStop(stop, due.schedulePlace())));
				count++;
			}
		}
		days.values().forEach(stops -> order.write(company, stops));
		return count;
	}

	private int insert(CompanyId company, UUID stop, DueStop due) {
		return jdbc.sql("""
				INSERT INTO stop (company_id, id, pool_id, technician_id, service_schedule_id, due_on, planned_on, position, state, created_at, updated_at)
				VALUES (:company, :id, :pool, :technician, :schedule, :day, :day, 0, 'PLANNED', :now, :now)
				ON CONFLICT (company_id, service_schedule_id, due_on) DO NOTHING""")
			.param("company", company.value())
			.param("id", stop)
			.param("pool", due.pool())
			.param("technician", due.technician().value())
			.param("schedule", due.schedule())
			.param("day", due.day())
			.param("now", Timestamp.from(clock.instant()))
			.update();
	}

	private List<ActiveSchedule> schedules(CompanyId company, LocalDate from, LocalDate to) {
		return jdbc.sql(SCHEDULES)
			.param("company", company.value())
			.param("from", from)
			.param("to", to)
			.query((row, n) -> new ActiveSchedule(row.getObject("id", UUID.class), row.getObject("pool_id", UUID.class),
					new PersonId(row.getObject("technician_id", UUID.class)), row.getInt("position"), recurrence(row)))
			.list();
	}

	static Recurrence recurrence(ResultSet row) throws SQLException {
		return new Recurrence(Frequency.valueOf(row.getString("frequency")), DayOfWeek.of(row.getInt("weekday")),
				weekday(row.getObject("second_weekday", Integer.class)), row.getObject("starts_on", LocalDate.class),
				row.getObject("ends_on", LocalDate.class));
	}

	private static @Nullable DayOfWeek weekday(@Nullable Integer number) {
		return (number != null) ? DayOfWeek.of(number) : null;
	}

}
