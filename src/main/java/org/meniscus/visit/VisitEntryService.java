package org.meniscus.visit;

import java.time.Clock;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.SignedInUser;
import org.meniscus.product.ProductService;
import org.meniscus.water.assess.ExpectedReadings;
import org.meniscus.water.assess.LastKnownLevels;
import org.meniscus.water.assess.PoolHistory;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.assess.ReadingFinding;
import org.meniscus.water.demand.ClimateDay;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.PlanResult;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.Product;
import org.meniscus.water.units.Volume;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What a technician at a pool is shown, and the visit that is handed in. Whoever may not visit the pool finds nothing here. */
@Service
public class VisitEntryService {

	/**
	 * All a visit begins with.
	 *
	 * @param stop null when nobody planned it
	 * @param today at the pool's place
	 * @param accessNotes gate codes and the like; empty when there are none or they are not for this person today
	 * @param lastVisit newest visit to the pool, this stop's included
	 * @param history visits to the pool, newest first, of as long as one looks back
	 * @param products everything that is not archived, what is on the truck first
	 * @param nextVisit day of the next planned stop, null when none is known
	 * @param activePlan the plan of an earlier visit that goes on, null when none does
	 */
	public record VisitContext(CompanySettings company, PoolSummary pool, @Nullable PlannedStop stop, LocalDate today, String accessNotes,
			@Nullable VisitRecord lastVisit, List<VisitRecord> history, List<Product> products, @Nullable LocalDate nextVisit,
			@Nullable ActivePlan activePlan) {

		/** The visit that was already made for this stop, if it was. */
		public @Nullable VisitRecord submittedVisit() {
			return (stop != null && lastVisit != null && stop.id().equals(lastVisit.stop())) ? lastVisit : null;
		}

		public @Nullable Product product(String id) {
			return products.stream().filter(product -> product.id().equals(id)).findFirst().orElse(null);
		}

	}

	private final VisitAccess access;

	private final PlannedStops stops;

	private final VisitService visits;

	private final ClientService clients;

	private final ProductService productService;

	private final CompanyService companies;

	private final DriftRates driftRates;

	private final Clock clock;

	VisitEntryService(VisitAccess access, PlannedStops stops, VisitService visits, ClientService clients, ProductService productService,
			CompanyService companies,
			DriftRates driftRates, Clock clock) {
		this.access = access;
		this.stops = stops;
		this.visits = visits;
		this.clients = clients;
		this.productService = productService;
		this.companies = companies;
		this.driftRates = driftRates;
		this.clock = clock;
	}

	/** @throws NotFound when there is no such pool or stop, or not for this person */
	@Transactional(readOnly = true)
	public VisitContext context(SignedInUser me, PoolId pool, @Nullable UUID stopId) {
		CompanySettings company = companies.settings(me.company());
		LocalDate today = company.today(clock);
		PoolSummary card = clients.pool(me.company(), pool);
		PlannedStop stop = stop(me, pool, stopId);
		if (!access.mayVisit(me, pool, today) && !(stop != null && stop.technician().equals(me.person()))) {
			throw new NotFound("pool");
		}
		boolean ofTheDay = stop != null && stop.technician().equals(me.person()) && stop.plannedOn().equals(today);
		String notes = (me.hasOfficeAccess() || ofTheDay) ? clients.accessNotes(me.company(), pool) : "";
		List<Product> products = productService.findAll(me.company(), today)
			.stream()
			.sorted((one, other) -> Boolean.compare(other.onTruck(), one.onTruck()))
			.toList();
		List<VisitRecord> history = visits.history(me.company(), pool, today.minusDays(VisitRecord.HISTORY_DAYS));
		VisitRecord last = history.isEmpty() ? visits.latest(me.company(), pool).orElse(null) : history.get(0);
		return new VisitContext(company, card, stop, today, notes, last, history, products,
				stops.nextAfter(me.company(), pool, today).orElse(null), activePlan(history, today));
	}

	private static @Nullable ActivePlan activePlan(List<VisitRecord> history, LocalDate today) {
		LocalDate from = today.minusDays(ActivePlan.ACTIVE_DAYS);
		return ActivePlan.of(history.stream().filter(visit -> !visit.performedOn().isBefore(from)).toList()).orElse(null);
	}

	/** What is odd about readings at this pool, seen beside its last visits. After rain or floods nothing slow is as it was. */
	public List<ReadingFinding> check(VisitContext context, Readings readings, Situation situation) {
		VisitRecord last = context.lastVisit();
		boolean diluted = readings.site().heavyRain() || situation == Situation.AFTER_STORM || situation == Situation.FLOOD
				|| situation == Situation.LEAK_SUSPECTED;
		return ReadingCheck.check(readings, (last != null) ? last.readings() : null, context.pool().facts(),
				diluted ? EnumSet.allOf(Level.class) : AffectedLevels.byVisit(last),
				new ExpectedReadings(diluted ? LastKnownLevels.none() : lastKnownLevels(context),
						(last != null) ? fcReached(last, context.pool().facts().volume()) : null,
						(last != null) ? daysSince(last, context) : 0));
	}

	/** FC as tested plus all chlorine that went in at once; null when unknown. */
	private static @Nullable Double fcReached(VisitRecord visit, @Nullable Volume volume) {
		Double fc = visit.readings().fc();
		for (DoseRecord dose : visit.doses()) {
			if (fc != null && dose.kind().ingredient().chlorine()) {
				Double brought = (volume == null) ? null : dose.recorded()
					.chlorine(volume.litres())
					.orElse(null);
				fc = (brought == null) ? null : Double.valueOf(fc + brought);
			}
		}
		return fc;
	}

	private static int daysSince(VisitRecord visit, VisitContext context) {
		return (int) Math.max(0, ChronoUnit.DAYS.between(visit.performedOn(), context.today()));
	}

	/** @param swimWithinHours hours until people are expected in the water, null when nobody in particular */
	public PlanResult plan(VisitContext context, Readings readings, Situation situation, @Nullable Double swimWithinHours) {
		LocalDate next = context.nextVisit();
		int days = (next != null) ? (int) ChronoUnit.DAYS.between(context.today(), next) : 0;
		return Planner.plan(new PlanRequest(context.pool().facts(), readings, situation, context.products(),
				context.company().treatment().policy(), days, swimWithinHours, context.company().units())
			.withLastKnown(lastKnownLevels(context))
			.withForecast(forecast(context, history(context, readings, situation).forecast())));
	}

	/** Chlorine and pH from the visits, slow levels from the season. */
	private PoolForecast forecast(VisitContext context, PoolForecast visited) {
		return visited.withSeason(context.company().treatment().horizonDays(context.today()), visited.seasonUse(),
				driftRates.driftPerDay(context.company().id(), context.pool().id()))
			.withToday(new ClimateDay(driftRates.climateNormals(context.company().id()), context.today().getDayOfYear()));
	}

	/** Forecast from the visits, as sentences: how the pool uses up chlorine, where its pH goes. */
	public List<Reason> describeTrends(VisitContext context) {
		return history(context, Readings.none(), Situation.ROUTINE).describe();
	}

	/** The visits before, and what is found today. */
	private static PoolHistory history(VisitContext context, Readings found, Situation situation) {
		List<PoolHistory.Visit> visits = VisitRecord.toHistory(context.history());
		visits.add(new PoolHistory.Visit(context.today().toEpochDay(), found, situation, List.of(), null));
		return new PoolHistory(context.pool().facts(), visits);
	}

	/** Slow levels from the visits before this one. */
	private static LastKnownLevels lastKnownLevels(VisitContext context) {
		return VisitRecord.lastKnownLevels(context.history(), context.pool().facts(), context.today());
	}

	/**
	 * Stores the visit once; see {@link VisitService#submit}.
	 *
	 * @throws NotFound when pool, stop or product are not there for this person
	 * @throws VisitConflict when the id is stored with other contents
	 */
	@Transactional
	public VisitRecord submit(SignedInUser me, NewVisit visit) {
		if (!visit.technician().equals(me.person())) {
			throw new NotFound("technician");
		}
		Optional<VisitRecord> stored = visits.find(me.company(), visit.id());
		if (stored.isEmpty()) {
			context(me, visit.pool(), visit.stop());
		}
		else if (!stored.get().technician().equals(me.person())) {
			throw new VisitConflict(visit.id());
		}
		return visits.submit(me.company(), visit);
	}

	private @Nullable PlannedStop stop(SignedInUser me, PoolId pool, @Nullable UUID stopId) {
		if (stopId == null) {
			return null;
		}
		return stops.find(me.company(), stopId)
			.filter(stop -> Objects.equals(stop.pool(), pool))
			.orElseThrow(() -> new NotFound("stop"));
	}

}
