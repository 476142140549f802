package org.meniscus.route;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.StaleVersion;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The service schedules. A change holds from today on; what lies before today stays as it was. */
@Service
public class ScheduleService {

	/** Days for which stops are kept made ahead, today included. */
	public static final int DAYS_AHEAD = 14;

	/**
	 * A pool gets a service schedule.
	 *
	 * @param id made by whoever asks, so that asking twice adds one schedule
	 * @param place in the technician's day, from 1; null for the end
	 */
	public record AddSchedule(ServiceScheduleId id, PoolId pool, PersonId technician, Recurrence recurrence, @Nullable Integer place) {
	}

	/** @param version as it was when the form was opened */
	public record ChangeSchedule(ServiceScheduleId id, long version, PersonId technician, Recurrence recurrence, @Nullable Integer place) {
	}

	private final ServiceScheduleRepository schedules;

	private final StopRepository stops;

	private final StopGenerator generator;

	private final StopOrder order;

	private final Technicians technicians;

	private final ClientService clients;

	private final CompanyService companies;

	private final JdbcClient jdbc;

	private final Clock clock;

	ScheduleService(ServiceScheduleRepository schedules, StopRepository stops, StopGenerator generator, StopOrder order,
			Technicians technicians,
			ClientService clients,
			CompanyService companies,
			JdbcClient jdbc, Clock clock) {
		this.schedules = schedules;
		this.stops = stops;
		this.generator = generator;
		this.order = order;
		this.technicians = technicians;
		this.clients = clients;
		this.companies = companies;
		this.jdbc = jdbc;
		this.clock = clock;
	}

	/** All schedules of pools that are not archived, ended ones last; by client and pool. */
	@Transactional(readOnly = true)
	public List<ServiceScheduleSummary> all(CompanyId company) {
		return cards(company, "p.archived_at IS NULL AND c.archived_at IS NULL", Map.of());
	}

	/** @throws NotFound when there is no such pool */
	@Transactional(readOnly = true)
	public List<ServiceScheduleSummary> of(CompanyId company, PoolId pool) {
		clients.pool(company, pool);
		return cards(company, "ss.pool_id = :pool", Map.of("pool", pool.value()));
	}

	/** @throws NotFound when there is no such schedule */
	@Transactional(readOnly = true)
	public ServiceScheduleSummary schedule(CompanyId company, ServiceScheduleId schedule) {
		return find(company, schedule).orElseThrow(() -> new NotFound("service schedule"));
	}

	/**
	 * Adds a schedule and makes its stops of the coming {@value #DAYS_AHEAD} days.
	 *
	 * @throws NotFound when pool or technician are unknown
	 * @throws TechnicianInactive when the technician has left
	 */
	@Transactional
	public ServiceScheduleSummary add(CompanyId company, AddSchedule command) {
		clients.pool(company, command.pool());
		technicians.requireActive(company, command.technician());
		order.lock(company);
		Optional<ServiceScheduleSummary> before = find(company, command.id());
		if (before.isPresent()) {
			return before.get();
		}
		int place = (command.place() != null) ? command.place()
				: placeAtEndOfDay(company, command.technician(), command.id(), command.recurrence());
		schedules.saveAndFlush(new ServiceSchedule(company, command.id(), command.pool(), command.technician(), command.recurrence(), place,
				clock.instant()));
		LocalDate today = today(company);
		generator.generate(company, today, today.plusDays(DAYS_AHEAD - 1));
		return schedule(company, command.id());
	}

	/**
	 * Changes a schedule. From today on its planned stops follow: those on days that no longer fit go, those that stay pass to
	 * the new technician and place unless they had been moved by hand, missing ones are made. Done and missed stops stay.
	 *
	 * @throws StaleVersion when it has been changed in the meantime
	 * @throws NotFound when schedule or technician are unknown
	 * @throws TechnicianInactive when the technician has left and is not the one who had it before
	 */
	@Transactional
	public ServiceScheduleSummary change(CompanyId company, ChangeSchedule command) {
		order.lock(company);
		ServiceSchedule schedule = load(company, command.id(), command.version());
		PersonId before = schedule.technician();
		int placeBefore = schedule.position();
		if (!command.technician().equals(before)) {
			technicians.requireActive(company, command.technician());
		}
		int place = (command.place() != null) ? command.place()
				: placeAtEndOfDay(company, command.technician(), command.id(), command.recurrence());
		schedule.change(command.technician(), command.recurrence(), place, clock.instant());
		schedules.flush();
		LocalDate today = today(company);
		LocalDate until = today.plusDays(DAYS_AHEAD - 1);
		for (Stop stop : stops.lockPlannedOfSchedule(company.value(), command.id().value(), today)) {
			LocalDate due = Objects.requireNonNull(stop.dueOn());
			until = due.isAfter(until) ? due : until;
			if (!command.recurrence().includes(due)) {
				delete(company, stop);
			}
			else if (stop.technician().equals(before) && due.equals(stop.plannedOn())
					&& !(command.technician().equals(before) && place == placeBefore)) {
				reassign(company, stop, command.technician(), place);
			}
		}
		generator.generate(company, today, until);
		return schedule(company, command.id());
	}

	/**
	 * Takes back a schedule from which nothing has come yet, with its planned stops. One that has done or missed stops has a
	 * history; give it an end instead.
	 *
	 * @return false when it has a history; nothing was changed then
	 * @throws StaleVersion when it has been changed in the meantime
	 */
	@Transactional
	public boolean remove(CompanyId company, ServiceScheduleId id, long version) {
		order.lock(company);
		ServiceSchedule schedule = load(company, id, version);
		boolean history = jdbc.sql("""
				SELECT count(*) FROM stop WHERE company_id = ? AND service_schedule_id = ? AND state <> 'PLANNED'""")
			.params(company.value(), id.value())
			.query(Integer.class)
			.single() > 0;
		if (history) {
			return false;
		}
		stops.lockPlannedOfSchedule(company.value(), id.value(), LocalDate.EPOCH).forEach(stop -> delete(company, stop));
		schedules.delete(schedule);
		schedules.flush();
		return true;
	}

	private void delete(CompanyId company, Stop stop) {
		stops.delete(stop);
		stops.flush();
		order.write(company, order.of(company, stop.technician(), stop.plannedOn()));
	}

	private void reassign(CompanyId company, Stop stop, PersonId technician, int place) {
		PersonId before = stop.technician();
		LocalDate day = stop.plannedOn();
		stop.moveTo(technician, day, clock.instant());
		stops.flush();
		order.write(company, order.of(company, before, day));
		order.write(company, StopOrder.insertBySchedule(order.of(company, technician, day), new StopOrder.OrderedStop(stop.id(), place)));
	}

	/** One beyond the highest place among the technician's other schedules that share a weekday. */
	private int placeAtEndOfDay(CompanyId company, PersonId technician, ServiceScheduleId except, Recurrence schedule) {
		List<Integer> weekdays = schedule.weekdays().stream().map(day -> day.getValue()).toList();
		return jdbc.sql("""
				SELECT coalesce(max(position), 0) + 1 FROM service_schedule
				WHERE company_id = :company AND technician_id = :technician AND id <> :except
				  AND (weekday IN (:weekdays) OR second_weekday IN (:weekdays))""")
			.param("company", company.value())
			.param("technician", technician.value())
			.param("except", except.value())
			.param("weekdays", weekdays)
			.query(Integer.class)
			.single();
	}

	private ServiceSchedule load(CompanyId company, ServiceScheduleId id, long version) {
		ServiceSchedule schedule = schedules.findByCompanyIdAndId(company.value(), id.value())
			.orElseThrow(() -> new NotFound("service schedule"));
		schedule.requireVersion(version);
		return schedule;
	}

	private Optional<ServiceScheduleSummary> find(CompanyId company, ServiceScheduleId schedule) {
		return cards(company, "ss.id = :schedule", Map.of("schedule", schedule.value())).stream().findFirst();
	}

	private List<ServiceScheduleSummary> cards(CompanyId company, String condition, Map<String, UUID> parameters) {
		return jdbc.sql("""
				SELECT ss.id, ss.version, ss.pool_id, ss.technician_id, t.name, t.active, ss.frequency, ss.weekday, ss.second_weekday,
				       ss.starts_on, ss.ends_on, ss.position
				FROM service_schedule ss
				JOIN pool p ON p.company_id = ss.company_id AND p.id = ss.pool_id
				JOIN client c ON c.company_id = p.company_id AND c.id = p.client_id
				JOIN person t ON t.company_id = ss.company_id AND t.id = ss.technician_id
				WHERE ss.company_id = :company AND %s
				ORDER BY ss.ends_on DESC NULLS FIRST, lower(c.name), lower(p.name), ss.weekday, ss.id""".formatted(condition))
			.param("company", company.value())
			.params(parameters)
			.query((row, n) -> new ServiceScheduleSummary(new ServiceScheduleId(row.getObject("id", UUID.class)), row.getLong("version"),
					new PoolId(row.getObject("pool_id", UUID.class)), new PersonId(row.getObject("technician_id", UUID.class)),
					row.getString("name"), row.getBoolean("active"), StopGenerator.recurrence(row), row.getInt("position")))
			.list();
	}

	private LocalDate today(CompanyId company) {
		return companies.settings(company).today(clock);
	}

}
