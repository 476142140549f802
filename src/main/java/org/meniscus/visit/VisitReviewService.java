package org.meniscus.visit;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.AuditTrail;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.SignedInUser;
import org.meniscus.product.ProductService;
import org.meniscus.water.product.Product;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Stored visits for whoever is signed in: to read, and to put right. */
@Service
public class VisitReviewService {

	/**
	 * A stored visit and what its page shows beside it.
	 *
	 * @param versions versions that corrections replaced, newest first
	 * @param nextStop day of the next planned stop after the visit, null when there is none
	 * @param activePlan the plan that is followed at the pool today, null when none is
	 * @param products what a corrected dose can name, those on the truck first
	 */
	public record StoredVisit(CompanySettings company, VisitRecord visit, PoolSummary pool, List<VisitVersion> versions,
			List<Product> products, @Nullable LocalDate nextStop, @Nullable ActivePlan activePlan, boolean mayCorrect) {

		/** What the plan of this visit has on days before anybody is planned to be there again; empty once a later plan took over. */
		public List<DatedFollowUp> unplanned() {
			return (activePlan == null || !activePlan.visit().equals(visit.id())) ? List.of()
					: activePlan.after(visit.performedOn())
						.stream()
						.filter(step -> nextStop == null || step.day().isBefore(nextStop))
						.toList();
		}

	}

	private final VisitAccess access;

	private final PlannedStops stops;

	private final VisitService visits;

	private final ClientService clients;

	private final ProductService productService;

	private final CompanyService companies;

	private final AuditTrail audit;

	private final Clock clock;

	VisitReviewService(VisitAccess access, PlannedStops stops, VisitService visits, ClientService clients, ProductService productService,
			CompanyService companies,
			AuditTrail audit, Clock clock) {
		this.access = access;
		this.stops = stops;
		this.visits = visits;
		this.clients = clients;
		this.productService = productService;
		this.companies = companies;
		this.audit = audit;
		this.clock = clock;
	}

	/** @throws NotFound when there is no such visit, or not for this person */
	@Transactional(readOnly = true)
	public StoredVisit open(SignedInUser me, VisitId id) {
		CompanySettings company = companies.settings(me.company());
		LocalDate today = company.today(clock);
		VisitRecord visit = requireVisible(me, id, today);
		return new StoredVisit(company, visit, clients.pool(me.company(), visit.pool()), visits.versions(me.company(), id),
				products(me.company(), visit), stops.nextAfter(me.company(), visit.pool(), visit.performedOn()).orElse(null),
				visits.activePlan(me.company(), visit.pool(), today).orElse(null), VisitAccess.mayCorrect(me, visit, today));
	}

	/** @throws NotFound when there is no such photo, or not for this person */
	@Transactional(readOnly = true)
	public byte[] photo(SignedInUser me, VisitId id, int number) {
		LocalDate today = companies.settings(me.company()).today(clock);
		requireVisible(me, id, today);
		return visits.photo(me.company(), id, number).orElseThrow(() -> new NotFound("photo"));
	}

	/**
	 * See {@link VisitService#correct}.
	 *
	 * @throws NotFound when there is no such visit for this person, or not to be corrected by him or her any more
	 */
	@Transactional
	public VisitRecord correct(SignedInUser me, VisitId id, long seenVersion, VisitService.Correction correction, String reason) {
		LocalDate today = companies.settings(me.company()).today(clock);
		VisitRecord before = requireVisible(me, id, today);
		if (!VisitAccess.mayCorrect(me, before, today)) {
			throw new NotFound("visit to correct");
		}
		VisitRecord after = visits.correct(me.company(), me.person(), id, seenVersion, correction, reason);
		audit.record("visit.corrected", id.value().toString(), Map.of("version", after.version()));
		return after;
	}

	/** What can be named on the day of the visit, those on the truck first, and what the visit names although it is archived by now. */
	private List<Product> products(CompanyId company, VisitRecord visit) {
		List<Product> products = new ArrayList<>(productService.findAll(company, visit.performedOn()));
		for (DoseRecord dose : visit.doses()) {
			if (products.stream().noneMatch(product -> product.id().equals(dose.product().toString()))) {
				productService.find(company, dose.product(), visit.performedOn()).ifPresent(products::add);
			}
		}
		products.sort((one, other) -> Boolean.compare(other.onTruck(), one.onTruck()));
		return products;
	}

	private VisitRecord requireVisible(SignedInUser me, VisitId id, LocalDate today) {
		return visits.find(me.company(), id)
			.filter(visit -> access.maySee(me, visit, today))
			.orElseThrow(() -> new NotFound("visit"));
	}

}
