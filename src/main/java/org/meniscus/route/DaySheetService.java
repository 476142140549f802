package org.meniscus.route;

import java.time.Clock;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.CompanyService;
import org.meniscus.company.PersonSummary;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.visit.ActivePlan;
import org.meniscus.visit.PlannedWork;
import org.meniscus.visit.PlannedWorkService;
import org.meniscus.visit.VisitRecord;
import org.meniscus.visit.VisitService;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * The day as it is driven. A technician gets his own stops and nobody else's. Access notes go to the office, and
 * to the technician on the very day of his stop: not before, not after.
 */
@Service
public class DaySheetService {

	private final StopLineRepository stopLines;

	private final Technicians technicians;

	private final ClientService clients;

	private final VisitService visits;

	private final PlannedWorkService plannedWork;

	private final CompanyService companies;

	private final Clock clock;

	DaySheetService(StopLineRepository stopLines, Technicians technicians, ClientService clients, VisitService visits,
			PlannedWorkService plannedWork,
			CompanyService companies, Clock clock) {
		this.stopLines = stopLines;
		this.technicians = technicians;
		this.clients = clients;
		this.visits = visits;
		this.plannedWork = plannedWork;
		this.companies = companies;
		this.clock = clock;
	}

	/** Whose stops are asked for. */
	public sealed interface TechnicianFilter {

		/** A technician's own; for the office its own stops if there are any, else everybody's. */
		record OwnOrAll() implements TechnicianFilter {
		}

		record AllTechnicians() implements TechnicianFilter {
		}

		record OneTechnician(PersonId technician) implements TechnicianFilter {
		}

	}

	/**
	 * @param day null for today
	 * @throws NotFound when the technician is unknown, or a technician asks for anybody's but his own
	 */
	@Transactional
	public DaySheet sheet(SignedInUser me, @Nullable LocalDate day, TechnicianFilter whose) {
		CompanyId company = me.company();
		LocalDate today = companies.settings(company).today(clock);
		LocalDate date = (day != null) ? day : today;
		List<StopLine> all = stopLines.between(company, date, date);
		PersonSummary technician = technician(me, whose, all);
		List<PersonSummary> people = companies.people(company);
		List<PersonId> byName = people.stream().map(PersonSummary::id).toList();
		List<StopLine> lines = all.stream()
			.filter(line -> technician == null || line.technician().equals(technician.id()))
			.sorted(Comparator.comparing((StopLine line) -> byName.indexOf(line.technician())).thenComparing(StopLine::place))
			.toList();
		Set<PersonId> driving = all.stream().map(StopLine::technician).collect(Collectors.toSet());
		List<PersonSummary> choices = people.stream()
			.filter(person -> me.hasOfficeAccess() ? person.active() || driving.contains(person.id()) : person.id().equals(me.person()))
			.toList();
		boolean notes = me.hasOfficeAccess() || date.equals(today);
		return new DaySheet(date, today, technician, choices, dayStops(company, date, lines, notes));
	}

	/** What is asked of each stop is read for all of them at once: a full day takes as many statements as a short one. */
	private List<DayStop> dayStops(CompanyId company, LocalDate date, List<StopLine> lines, boolean withNotes) {
		Set<PoolId> pools = lines.stream().map(StopLine::pool).collect(Collectors.toSet());
		Set<PoolId> open = lines.stream().filter(line -> line.state() == StopState.PLANNED).map(StopLine::pool).collect(Collectors.toSet());
		Map<PoolId, PoolSummary> summaries = clients.pools(company, pools);
		Map<PoolId, String> notes = withNotes ? clients.accessNotes(company, pools) : Map.of();
		Map<PoolId, VisitRecord> latest = visits.latest(company, pools);
		Map<PoolId, ActivePlan> plans = visits.activePlans(company, open, date);
		Map<PoolId, Long> work = plannedWork.open(company).stream()
			.collect(Collectors.groupingBy(PlannedWork::pool, Collectors.counting()));
		return lines.stream().map(line -> {
			boolean planned = line.state() == StopState.PLANNED;
			ActivePlan plan = planned ? plans.get(line.pool()) : null;
			return new DayStop(line, Objects.requireNonNull(summaries.get(line.pool())), notes.get(line.pool()), latest.get(line.pool()),
					(plan != null && !plan.due(date).isEmpty()) ? plan : null,
					planned ? work.getOrDefault(line.pool(), 0L).intValue() : 0);
		}).toList();
	}

	private @Nullable PersonSummary technician(SignedInUser me, TechnicianFilter whose, List<StopLine> all) {
		if (!me.hasOfficeAccess()) {
			if (whose instanceof TechnicianFilter.AllTechnicians
					|| (whose instanceof TechnicianFilter.OneTechnician of && !of.technician().equals(me.person()))) {
				throw new NotFound("technician");
			}
			return technicians.require(me.company(), me.person());
		}
		if (whose instanceof TechnicianFilter.OneTechnician of) {
			return technicians.require(me.company(), of.technician());
		}
		boolean drives = all.stream().anyMatch(line -> line.technician().equals(me.person()));
		return (whose instanceof TechnicianFilter.OwnOrAll && drives) ? technicians.require(me.company(), me.person()) : null;
	}

}
