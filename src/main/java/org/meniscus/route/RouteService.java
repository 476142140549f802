package org.meniscus.route;

import static java.time.DayOfWeek.MONDAY;
import static java.time.temporal.TemporalAdjusters.previousOrSame;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.ClosedPools;
import org.meniscus.client.PoolId;
import org.meniscus.company.CompanyService;
import org.meniscus.company.PersonSummary;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.StaleVersion;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * The week: making stops from the schedules, moving them, saying what was missed. Every change of a stop names the
 * version it was made on, so of two people who change the same stop the second is told.
 */
@Service
public class RouteService {

	/**
	 * A stop goes to a technician's day.
	 *
	 * @param version as it was on the page
	 * @param place from 1; null for the end of the day
	 */
	public record MoveStop(StopId stop, long version, PersonId technician, LocalDate day, @Nullable Integer place) {
	}

	/** @param note in the office's own words, or null */
	public record MarkMissed(StopId stop, long version, MissedReason reason, @Nullable String note) {
	}

	/** A stop beside the schedules. @param id made by whoever asks, so that asking twice adds one stop */
	public record AddExtraStop(StopId id, PoolId pool, PersonId technician, LocalDate day) {
	}

	private final StopRepository stops;

	private final StopLineRepository stopLines;

	private final StopGenerator generator;

	private final StopOrder order;

	private final Technicians technicians;

	private final ClientService clients;

	private final ClosedPools closedPools;

	private final CompanyService companies;

	private final Clock clock;

	RouteService(StopRepository stops, StopLineRepository stopLines, StopGenerator generator, StopOrder order, Technicians technicians,
			ClientService clients, ClosedPools closedPools, CompanyService companies, Clock clock) {
		this.stops = stops;
		this.stopLines = stopLines;
		this.generator = generator;
		this.order = order;
		this.technicians = technicians;
		this.clients = clients;
		this.closedPools = closedPools;
		this.companies = companies;
		this.clock = clock;
	}

	/** The day it is where the company works. */
	public LocalDate today(CompanyId company) {
		return companies.settings(company).today(clock);
	}

	/** The week that contains a day. */
	@Transactional(readOnly = true)
	public Week week(CompanyId company, LocalDate day) {
		LocalDate monday = day.with(previousOrSame(MONDAY));
		LocalDate today = today(company);
		List<StopLine> lines = stopLines.between(company, monday, monday.plusDays(6));
		Set<PersonId> driving = lines.stream().map(StopLine::technician).collect(Collectors.toSet());
		List<PersonSummary> shown = companies.people(company)
			.stream()
			.filter(person -> driving.contains(person.id()) || (person.active() && person.role() == Role.TECHNICIAN))
			.toList();
		LocalDate from = monday.isBefore(today) ? today : monday;
		int notMade = generator.missingStops(company, from, monday.plusDays(6)).size();
		return new Week(monday, today, shown, lines, notMade);
	}

	/** Everybody of the company, by name, those who have left included. */
	@Transactional(readOnly = true)
	public List<PersonSummary> technicians(CompanyId company) {
		return companies.people(company);
	}

	/** Empty when there is no such person. */
	@Transactional(readOnly = true)
	public Optional<PersonSummary> technician(CompanyId company, PersonId id) {
		return technicians(company).stream().filter(person -> person.id().equals(id)).findFirst();
	}

	/** @throws NotFound when there is no such stop */
	@Transactional(readOnly = true)
	public StopLine stop(CompanyId company, StopId stop) {
		return stopLines.find(company, stop.value()).orElseThrow(() -> new NotFound("stop"));
	}

	/**
	 * Makes the stops that the schedules ask for from {@code from} to {@code to}, both included. Making a period again adds only
	 * what is missing; a stop that was moved to another day is not made anew.
	 *
	 * @return how many were made
	 */
	@Transactional
	public int generateStops(CompanyId company, LocalDate from, LocalDate to) {
		return generator.generate(company, from, to);
	}

	/**
	 * Moves a planned stop to another technician, day or place.
	 *
	 * @throws StaleVersion when it has been changed in the meantime
	 * @throws StopClosed when it is done or missed
	 * @throws TechnicianInactive when the technician has left
	 * @throws NotFound when stop or technician are unknown
	 */
	@Transactional
	public void move(CompanyId company, MoveStop command) {
		order.lock(company);
		Stop stop = load(company, command.stop(), command.version());
		if (!command.technician().equals(stop.technician())) {
			technicians.requireActive(company, command.technician());
		}
		PersonId before = stop.technician();
		LocalDate dayBefore = stop.plannedOn();
		StopOrder.OrderedStop placed = order.of(company, before, dayBefore)
			.stream()
			.filter(other -> other.stop().equals(stop.id()))
			.findFirst()
			.orElseThrow(() -> new NotFound("stop"));
		stop.moveTo(command.technician(), command.day(), clock.instant());
		flush();
		order.write(company, order.of(company, before, dayBefore));
		order.write(company, StopOrder.insertAt(order.of(company, command.technician(), command.day()), placed, command.place()));
	}

	/**
	 * Marks a stop as not visited, or corrects the reason.
	 *
	 * @throws StaleVersion when it has been changed in the meantime
	 * @throws StopClosed when it is done
	 * @throws NotFound when there is no such stop
	 */
	@Transactional
	public void markMissed(CompanyId company, MarkMissed command) {
		Stop stop = load(company, command.stop(), command.version());
		stop.markMissed(command.reason(), command.note(), clock.instant());
		flush();
	}

	/** Plans a missed stop again, on its day. Throws what {@link #markMissed} throws. */
	@Transactional
	public void undoMissed(CompanyId company, StopId id, long version) {
		Stop stop = load(company, id, version);
		stop.undoMissed(clock.instant());
		flush();
	}

	/**
	 * Adds a stop at the end of a technician's day.
	 *
	 * @throws NotFound when pool or technician are unknown
	 * @throws TechnicianInactive when the technician has left
	 */
	@Transactional
	public void addExtra(CompanyId company, AddExtraStop command) {
		clients.pool(company, command.pool());
		technicians.requireActive(company, command.technician());
		order.lock(company);
		if (stops.findByCompanyIdAndId(company.value(), command.id().value()).isEmpty()) {
			stops.save(new Stop(company, command.id(), command.pool(), command.technician(), command.day(), clock.instant()));
			stops.flush();
			List<StopOrder.OrderedStop> day = order.of(company, command.technician(), command.day());
			order.write(company, StopOrder.insertAt(day, new StopOrder.OrderedStop(command.id().value(), null), null));
		}
	}

	/**
	 * Takes back a planned stop that was added by hand. One that a schedule asked for would only be made again: mark it missed.
	 *
	 * @throws StaleVersion when it has been changed in the meantime
	 * @throws StopClosed when it is done or missed
	 * @throws NotFound when there is no such stop added by hand
	 */
	@Transactional
	public void removeExtra(CompanyId company, StopId id, long version) {
		order.lock(company);
		Stop stop = load(company, id, version);
		if (!stop.extra()) {
			throw new NotFound("stop added by hand");
		}
		stop.requirePlanned();
		stops.delete(stop);
		flush();
		order.write(company, order.of(company, stop.technician(), stop.plannedOn()));
	}

	/** A visit that came in meanwhile changes its stop without waiting for the week's lock. */
	private void flush() {
		try {
			stops.flush();
		}
		catch (OptimisticLockingFailureException ex) {
			throw new StaleVersion("stop");
		}
	}

	private Stop load(CompanyId company, StopId id, long version) {
		Stop stop = stops.findByCompanyIdAndId(company.value(), id.value()).orElseThrow(() -> new NotFound("stop"));
		stop.requireVersion(version);
		return stop;
	}

	/** Pools of these stops that the newest visit left closed to swimmers. */
	@Transactional(readOnly = true)
	public Set<PoolId> closedPools(CompanyId company, List<StopLine> stops) {
		return closedPools.closed(company, stops.stream().map(StopLine::pool).distinct().toList());
	}

}
