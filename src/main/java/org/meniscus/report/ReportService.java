package org.meniscus.report;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.AuditTrail;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantTransactions;
import org.meniscus.season.PoolDrift;
import org.meniscus.season.SeasonService;
import org.meniscus.visit.DatedFollowUp;
import org.meniscus.visit.PlannedStops;
import org.meniscus.visit.VisitId;
import org.meniscus.visit.VisitRecord;
import org.meniscus.visit.VisitService;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.drift.LevelDrift;
import org.meniscus.water.drift.LevelDrift.RangeExit;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.units.Band;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Reports and the links that open them. Whoever has a link may read its report until it expires or is revoked;
 * opening changes nothing, so that mail scanners that follow links do no harm.
 */
@Service
public class ReportService {

	/** How long a link to one visit may be made to last, days. Common practice, no source. */
	public static final List<Integer> VISIT_LINK_DAYS = List.of(7, 30, 90);

	/** How long a pool's standing link may be made to last, days. Common practice, no source. */
	public static final List<Integer> STANDING_LINK_DAYS = List.of(90, 180, 365);

	/** Only replacing water brings these down; what passes or is dosed every week is no news for a homeowner. */
	private static final List<Level> REPORTED_LEVELS = List.of(Level.CYA, Level.CH, Level.SALT);

	private final ReportLinkRepository links;

	private final VisitService visits;

	private final ClientService clients;

	private final CompanyService companies;

	private final SeasonService seasons;

	private final PlannedStops stops;

	private final AuditTrail audit;

	private final TenantTransactions transactions;

	private final Clock clock;

	ReportService(ReportLinkRepository links, VisitService visits, ClientService clients, CompanyService companies, SeasonService seasons,
			PlannedStops stops, AuditTrail audit, TenantTransactions transactions, Clock clock) {
		this.links = links;
		this.visits = visits;
		this.clients = clients;
		this.companies = companies;
		this.seasons = seasons;
		this.stops = stops;
		this.audit = audit;
		this.transactions = transactions;
		this.clock = clock;
	}

	/** The visit, for somebody who may share it. @throws NotFound for a technician who did not make it */
	@Transactional(readOnly = true)
	public VisitRecord visit(SignedInUser me, VisitId visit) {
		return visits.find(me.company(), visit)
			.filter(found -> me.hasOfficeAccess() || found.technician().equals(me.person()))
			.orElseThrow(() -> new NotFound("visit"));
	}

	/** The pool, for somebody who may give it a standing link. @throws NotFound for a technician */
	@Transactional(readOnly = true)
	public PoolSummary pool(SignedInUser me, PoolId pool) {
		if (!me.hasOfficeAccess()) {
			throw new NotFound("pool");
		}
		return clients.pool(me.company(), pool);
	}

	/** Links made to a visit, newest first. */
	@Transactional(readOnly = true)
	public List<ReportLink> links(SignedInUser me, VisitId visit) {
		visit(me, visit);
		return links.of(me.company(), "visit_id", visit.value());
	}

	/** Standing links made for a pool, newest first; at most one of them opens. */
	@Transactional(readOnly = true)
	public List<ReportLink> links(SignedInUser me, PoolId pool) {
		pool(me, pool);
		return links.of(me.company(), "pool_id", pool.value());
	}

	/**
	 * A new link to one visit.
	 *
	 * @param link id made with the form: sent twice, it makes one link
	 * @param days one of {@link #VISIT_LINK_DAYS}
	 * @return the secret of the link, this once; empty when the link was made before
	 */
	@Transactional
	public Optional<String> share(SignedInUser me, UUID link, VisitId visit, int days) {
		Instant expires = expiry(days, VISIT_LINK_DAYS);
		visit(me, visit);
		String token = ReportLinkToken.generate();
		if (!links.add(me.company(), link, ReportLinkToken.hash(token), visit, null, me.person(), clock.instant(), expires)) {
			return Optional.empty();
		}
		audit.record("report.shared", link.toString(), Map.of("visit", visit.toString()));
		return Optional.of(token);
	}

	/**
	 * A new standing link of a pool; the one before opens no longer.
	 *
	 * @param link id made with the form: sent twice, it makes one link
	 * @param days one of {@link #STANDING_LINK_DAYS}
	 * @return the secret of the link, this once; empty when the link was made before
	 */
	@Transactional
	public Optional<String> share(SignedInUser me, UUID link, PoolId pool, int days) {
		Instant expires = expiry(days, STANDING_LINK_DAYS);
		pool(me, pool);
		links.lock(me.company(), pool);
		if (links.exists(me.company(), link)) {
			return Optional.empty();
		}
		links.revokeStanding(me.company(), pool, clock.instant());
		String token = ReportLinkToken.generate();
		links.add(me.company(), link, ReportLinkToken.hash(token), null, pool, me.person(), clock.instant(), expires);
		audit.record("report.shared", link.toString(), Map.of("pool", pool.value()));
		return Optional.of(token);
	}

	/** Ends a link; one that is ended stays so. @throws NotFound when the visit has no such link */
	@Transactional
	public void revoke(SignedInUser me, VisitId visit, UUID link) {
		visit(me, visit);
		recordRevoked(links.revoke(me.company(), link, "visit_id", visit.value(), clock.instant()), link);
	}

	/** Ends a link; one that is ended stays so. @throws NotFound when the pool has no such link */
	@Transactional
	public void revoke(SignedInUser me, PoolId pool, UUID link) {
		pool(me, pool);
		recordRevoked(links.revoke(me.company(), link, "pool_id", pool.value(), clock.instant()), link);
	}

	/** What a link opens now; empty when it is unknown, malformed, expired or revoked, or nothing is there. Not for use inside a transaction. */
	public Optional<Report> open(String token) {
		return target(token)
			.flatMap(target -> transactions.call(target.company(), () -> visitOf(target).map(visit -> report(target, visit))));
	}

	/** A photo of the report that a link opens, JPEG. Not for use inside a transaction. */
	public Optional<byte[]> photo(String token, int number) {
		return target(token).flatMap(target -> transactions.call(target.company(),
				() -> visitOf(target).flatMap(visit -> visits.photo(target.company(), visit.id(), number))));
	}

	private Optional<ReportLinkRepository.LinkTarget> target(String token) {
		byte[] hash = ReportLinkToken.hash(token);
		return transactions.lookUp(hash, () -> links.find(hash, clock.instant()));
	}

	/** A pool that is no longer looked after has no newest visit to show. */
	private Optional<VisitRecord> visitOf(ReportLinkRepository.LinkTarget target) {
		if (target.visit() != null) {
			return visits.find(target.company(), target.visit());
		}
		PoolId pool = target.pool();
		return (pool == null || clients.pool(target.company(), pool).archived()) ? Optional.empty()
				: visits.latest(target.company(), pool);
	}

	private Report report(ReportLinkRepository.LinkTarget target, VisitRecord visit) {
		CompanyId id = target.company();
		CompanySettings company = companies.settings(id);
		PoolSummary pool = clients.pool(id, visit.pool());
		Assessment assessment = Assessment.of(pool.facts(), visit.readings(), company.treatment().policy());
		LocalDate yesterday = LocalDate.now(clock.withZone(company.zone())).minusDays(1);
		LocalDate after = visit.performedOn().isAfter(yesterday) ? visit.performedOn() : yesterday;
		List<Report.AddedProduct> added = visit.doses()
			.stream()
			.map(dose -> new Report.AddedProduct(dose.productName(), dose.amount(), dose.unit(),
					DoseReason.of(dose.kind().ingredient(), visit.situation(), assessment.states())))
			.toList();
		return new Report(company, pool.name(), clients.client(id, pool.client()).details().language(), visit.performedAt(),
				visit.performedOn(), visit.situation(), visit.readings(), assessment, visit.waterReplaced(), added,
				visit.swim(), visit.swimReadyAt().orElse(null), visit.tasks(), visit.noteToClient(),
				visit.photos(), pool.archived() ? null : stops.nextAfter(id, visit.pool(), after).orElse(null),
				pool.archived() ? List.of() : followUps(id, visit, yesterday),
				expectedExit(seasons.drift(id, visit.pool(), visit.performedOn())), target.expiresAt());
	}

	/** Of the plan that stands now, unless a visit after this one has made it. */
	private List<DatedFollowUp> followUps(CompanyId company, VisitRecord visit, LocalDate yesterday) {
		return visits.activePlan(company, visit.pool(), yesterday.plusDays(1))
			.filter(plan -> !plan.madeOn().isAfter(visit.performedOn()))
			.map(plan -> plan.after(yesterday))
			.orElse(List.of());
	}

	/** The slow level that leaves its range first, where a flag stands or it is likelier than not by the season's end. */
	private static Report.@Nullable ExpectedExit expectedExit(PoolDrift season) {
		return season.drift()
			.levels()
			.values()
			.stream()
			.filter(level -> REPORTED_LEVELS.contains(level.level()))
			.flatMap(
					level -> level.exits().entrySet().stream().flatMap(at -> expectedExit(level, at.getKey(), at.getValue()).stream()))
			.min(Comparator.comparing(Report.ExpectedExit::day))
			.orElse(null);
	}

	/** The readings show what is out of range already. */
	private static Optional<Report.ExpectedExit> expectedExit(LevelDrift level, RangeEnd side, RangeExit departure) {
		Long day = departure.day50();
		Band now = level.today();
		if (day == null || now == null) {
			return Optional.empty();
		}
		boolean rising = side == RangeEnd.HIGH;
		boolean out = rising ? now.middle() > departure.limit() : now.middle() < departure.limit();
		Long early = departure.day10();
		Long late = departure.day90();
		return out ? Optional.empty()
				: Optional.of(new Report.ExpectedExit(level.level(), rising, departure.limit(), LocalDate.ofEpochDay(day),
						LocalDate.ofEpochDay((early != null) ? early : day), (late != null) ? LocalDate.ofEpochDay(late) : null));
	}

	private Instant expiry(int days, List<Integer> choices) {
		if (!choices.contains(days)) {
			throw new IllegalArgumentException("not a choice: " + days + " days");
		}
		return clock.instant().plus(Duration.ofDays(days));
	}

	private void recordRevoked(int changed, UUID link) {
		if (changed == 0) {
			throw new NotFound("link");
		}
		audit.record("report.revoked", link.toString(), Map.of());
	}

}
