package org.meniscus.route;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;

import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What is done to a technician's whole day at once. */
@Service
public class DayReassignmentService {

	private final StopRepository stops;

	private final ServiceScheduleRepository schedules;

	private final StopOrder order;

	private final Technicians technicians;

	private final JdbcClient jdbc;

	private final Clock clock;

	DayReassignmentService(StopRepository stops, ServiceScheduleRepository schedules, StopOrder order, Technicians technicians,
			JdbcClient jdbc,
			Clock clock) {
		this.stops = stops;
		this.schedules = schedules;
		this.order = order;
		this.technicians = technicians;
		this.jdbc = jdbc;
		this.clock = clock;
	}

	/**
	 * Gives all planned stops of a day to another technician, or puts them on another day, or both: somebody is sick, or it
	 * is a holiday. They come after what is there already, in their order. Done and missed stops stay.
	 *
	 * @return how many were moved
	 * @throws NotFound when a technician is unknown
	 * @throws TechnicianInactive when the technician who shall have them has left
	 */
	@Transactional
	public int reassign(CompanyId company, PersonId from, LocalDate day, PersonId to, LocalDate toDay) {
		technicians.require(company, from);
		technicians.requireActive(company, to);
		order.lock(company);
		if (from.equals(to) && day.equals(toDay)) {
			return 0;
		}
		Map<UUID, Stop> planned = stops.lockPlanned(company.value(), from.value(), day)
			.stream()
			.collect(Collectors.toMap(Stop::id, Function.identity()));
		List<StopOrder.OrderedStop> moving = order.of(company, from, day).stream().filter(stop -> planned.containsKey(stop.stop()))
			.toList();
		List<StopOrder.OrderedStop> target = new ArrayList<>(order.of(company, to, toDay));
		for (StopOrder.OrderedStop stop : moving) {
			Objects.requireNonNull(planned.get(stop.stop())).moveTo(to, toDay, clock.instant());
			target.add(stop);
		}
		stops.flush();
		order.write(company, order.of(company, from, day));
		order.write(company, target);
		return moving.size();
	}

	/**
	 * Makes the order of this day the order of its schedules, and puts it on the technician's later days of the same weekday
	 * that are made already. Only stops on the day and with the technician that their schedule asks for count.
	 *
	 * @return how many schedules now have this order
	 * @throws NotFound when the technician is unknown
	 */
	@Transactional
	public int applyOrderToSchedules(CompanyId company, PersonId technician, LocalDate day) {
		technicians.require(company, technician);
		order.lock(company);
		List<UUID> inOrder = jdbc.sql("""
				SELECT ss.id FROM stop s
				JOIN service_schedule ss ON ss.company_id = s.company_id AND ss.id = s.service_schedule_id AND ss.technician_id = s.technician_id
				WHERE s.company_id = :company AND s.technician_id = :technician AND s.planned_on = :day AND s.due_on = :day
				ORDER BY s.position, s.id""")
			.param("company", company.value())
			.param("technician", technician.value())
			.param("day", day)
			.query(UUID.class)
			.list();
		Map<UUID, ServiceSchedule> byId = schedules.findByCompanyIdAndIdIn(company.value(), inOrder)
			.stream()
			.collect(Collectors.toMap(schedule -> schedule.id().value(), Function.identity()));
		for (int i = 0; i < inOrder.size(); i++) {
			Objects.requireNonNull(byId.get(inOrder.get(i))).moveTo(i + 1, clock.instant());
		}
		schedules.flush();
		jdbc.sql("""
				SELECT DISTINCT planned_on FROM stop
				WHERE company_id = :company AND technician_id = :technician AND planned_on > :day
				  AND extract(isodow FROM planned_on) = :weekday""")
			.param("company", company.value())
			.param("technician", technician.value())
			.param("day", day)
			.param("weekday", day.getDayOfWeek().getValue())
			.query(LocalDate.class)
			.list()
			.forEach(later -> order.write(company, inScheduleOrder(order.of(company, technician, later))));
		return inOrder.size();
	}

	/** Stops of schedules by their places; one added by hand keeps its number. */
	static List<StopOrder.OrderedStop> inScheduleOrder(List<StopOrder.OrderedStop> day) {
		List<StopOrder.OrderedStop> result = new ArrayList<>(day.stream()
			.filter(stop -> stop.schedulePlace() != null)
			.sorted(Comparator.comparing(StopOrder.OrderedStop::schedulePlace))
			.toList());
		for (int i = 0; i < day.size(); i++) {
			if (day.get(i).schedulePlace() == null) {
				result.add(Math.min(i, result.size()), day.get(i));
			}
		}
		return result;
	}

}
