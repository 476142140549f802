package org.meniscus.season;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZonedDateTime;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.Callable;

import com.github.kagkarlsson.scheduler.Scheduler;
import com.github.kagkarlsson.scheduler.task.TaskInstanceId;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.TenantContext;
import org.meniscus.report.SeasonFixture;
import org.meniscus.report.SeasonFixtures;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.visit.NewVisit;
import org.meniscus.visit.VisitEntryService;
import org.meniscus.visit.VisitId;
import org.meniscus.visit.VisitRecord;
import org.meniscus.visit.VisitService;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;

/** What is kept of a season: made from visits, made again from visits, changed by a late or corrected one, flags until handled. */
@IntegrationTest
class DriftSnapshotsIT {

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	SeasonFixtures seasons;

	@Autowired
	VisitService visits;

	@Autowired
	SeasonService seasonService;

	@Autowired
	DriftSnapshots snapshots;

	@Autowired
	VisitEntryService poolside;

	@Autowired
	Scheduler scheduler;

	@Autowired
	Clock clock;

	SeasonFixture season;

	PoolId pool;

	@BeforeEach
	void company() {
		season = seasons.newSeason();
		pool = season.pool("Rowan Halewood", "en", "Back yard", Sanitizer.TABLET_FEEDER);
	}

	private PoolSnapshot snapshot() {
		return seasonService.pools(season.company).stream().filter(one -> one.pool().equals(pool)).findFirst().orElseThrow();
	}

	private LevelSnapshot cya() {
		return snapshot().level(Level.CYA).orElseThrow();
	}

	/** What is told of a level but for who handled it; rows compare by their text. */
	private List<String> described() {
		return snapshot().levels().stream().map(LevelSnapshot::toString).toList();
	}

	@Test
	void poolsWithoutSnapshotAreAssessedOnRequest() {
		rows.visit(season.company, pool.value(), season.technician.user().person(), season.today.minusDays(3),
				TestRows.columns("cya_ppm", 60, "ch_ppm", 300));
		PoolSnapshot snapshot = snapshot();
		assertThat(snapshot.assessedOn()).isEqualTo(season.today);
		assertThat(snapshot.lastVisitOn()).isEqualTo(season.today.minusDays(3));
		assertThat(snapshot.lastTechnician()).isEqualTo(season.technician.user().person());
		assertThat(cya().today()).isNotNull();
		assertThat(cya().today().low()).isLessThan(60).isGreaterThan(30);
		assertThat(cya().flag()).isNull();
	}

	@Test
	void visitOfTabletSeasonRaisesFlagThatRebuildReproduces() {
		seasonService.chooseClimate(season.company, Climate.HOT_DRY);
		season.tabletSeason(pool, 25);
		await(() -> cya().evidence().readings().size() == 25);
		LevelSnapshot first = cya();
		assertThat(first.flag()).isNotNull();
		assertThat(first.flag().end()).isEqualTo(RangeEnd.HIGH);
		assertThat(first.exit().limit()).isEqualTo(100);
		assertThat(first.exit().day()).isAfter(season.today);
		assertThat(first.exit().early()).isBeforeOrEqualTo(first.exit().day());
		assertThat(first.evidence().causes()).isNotEmpty();
		assertThat(snapshot().products()).anyMatch(name -> name.contains("Trichlor"));

		List<String> before = described();
		rows.inCompany(season.company,
				() -> rows.sql("DELETE FROM pool_season WHERE company_id = :company").param("company", season.company.value()).update());
		snapshots.updateAll(season.company);
		assertThat(described()).isEqualTo(before);
		snapshots.updateAll(season.company);
		assertThat(described()).as("assessed twice").isEqualTo(before);
	}

	@Test
	void lateAndCorrectedVisitsUpdateTheSnapshot() {
		List<VisitRecord> stored = season.tabletSeason(pool, 12);
		await(() -> cya().evidence().readings().size() == 12);
		double before = cya().today().middle();

		season.visit(pool, season.today.minusDays(10), Situation.ROUTINE, Readings.builder().cya(150.0).build(), null);
		await(() -> cya().evidence().readings().size() == 13);
		assertThat(cya().evidence().readings()).isSortedAccordingTo(java.util.Comparator.comparingLong(DriftEvidence.PlottedReading::day));
		double late = cya().today().middle();
		assertThat(late).as("a high test in between").isGreaterThan(before);

		VisitRecord last = stored.get(stored.size() - 1);
		TenantContext.runAs(season.company, () -> visits.correct(season.company, season.owner.user().person(), last.id(), last.version(),
				new VisitService.Correction(Situation.ROUTINE, Readings.builder().cya(20.0).build(), 0.8, List.of(), List.of(), null, null),
				"drained that day"));
		await(() -> cya().today() != null && cya().today().middle() < 40);
		assertThat(cya().flag()).as("most of the water is new").isNull();
	}

	/** The engine is kept from judging by a reading it cannot hold; the visit is there all the same. */
	@Test
	void failedAssessmentLosesNoVisit() {
		rows.inCompany(season.company,
				() -> rows.sql("UPDATE pool SET sanitizer = 'NO_SUCH_THING' WHERE company_id = :company AND id = :pool")
					.param("company", season.company.value())
					.param("pool", pool.value())
					.update());
		assertThatThrownBy(() -> snapshots.update(season.company, pool)).isInstanceOf(RuntimeException.class);
		UUID visit = rows.visit(season.company, pool.value(), season.technician.user().person(), season.today,
				TestRows.columns("cya_ppm", 60));
		assertThat(TenantContext.runAs(season.company, () -> visits.find(season.company, new VisitId(visit)))).isPresent();
		assertThat(seasonService.pools(season.company)).as("the page still answers").hasSize(1);
	}

	@Test
	void flagStaysDismissedUntilReopenedAndDismissalEndsWithIt() {
		seasonService.chooseClimate(season.company, Climate.HOT_DRY);
		season.tabletSeason(pool, 25);
		await(() -> cya().evidence().readings().size() == 25);
		LevelSnapshot standing = cya();
		assertThat(standing.hasOpenNotice()).isTrue();
		assertThatThrownBy(() -> seasonService.dismiss(season.office(), pool, Level.CH, "nothing")).isInstanceOf(NotFound.class);

		seasonService.dismiss(season.office(), pool, Level.CYA, "water is replaced in October");
		assertThat(cya().hasOpenNotice()).isFalse();
		assertThat(cya().dismissal().reason()).isEqualTo("water is replaced in October");
		snapshots.updateAll(season.company);
		assertThat(cya().hasOpenNotice()).as("handled stays handled").isFalse();
		assertThat(cya().flag().since()).isEqualTo(standing.flag().since());
		assertThat(DriftNotice.open(seasonService.pools(season.company))).isEmpty();
		assertThat(DriftNotice.dismissed(seasonService.pools(season.company))).hasSize(1);

		seasonService.reopen(season.office(), pool, Level.CYA);
		assertThat(cya().hasOpenNotice()).isTrue();
		seasonService.dismiss(season.office(), pool, Level.CYA, "again");
		drained();
		await(() -> cya().flag() == null);
		assertThat(count("drift_dismissal")).as("what was said goes with the flag").isZero();
	}

	private void drained() {
		Instant at = season.today.atTime(LocalTime.of(16, 0)).atZone(SeasonFixture.ZONE).toInstant();
		TenantContext.runAs(season.company,
				() -> visits.submit(season.company,
						new NewVisit(new VisitId(UUID.randomUUID()), pool, season.technician.user().person(), null, at, null,
								Situation.ROUTINE,
								Readings.none(), 0.9, List.of(season.dose(ProductKind.LIQUID_CHLORINE_125, 900)), List.of(), null, null,
								null,
								List.of())));
	}

	private int count(String table) {
		return rows.inCompany(season.company, () -> rows.sql("SELECT count(*) FROM " + table + " WHERE company_id = :company")
			.param("company", season.company.value())
			.query(Integer.class)
			.single());
	}

	@Test
	void chosenClimateChangesTheForecast() {
		season.calciumSeason(pool, 10, 300);
		await(() -> snapshot().level(Level.CH).orElseThrow().evidence().readings().size() == 10);
		assertThat(seasonService.climate(season.company)).isEmpty();
		double temperate = ahead();
		seasonService.chooseClimate(season.company, Climate.HOT_DRY);
		assertThat(seasonService.climate(season.company)).contains(Climate.HOT_DRY);
		assertThat(ahead()).as("more evaporates, more hardness stays behind").isGreaterThan(temperate);
	}

	private double ahead() {
		var ahead = snapshot().level(Level.CH).orElseThrow().evidence().forecast();
		return ahead.get(ahead.size() - 1).band().middle();
	}

	@Test
	void planUsesBaselineDriftAndZeroWithoutSnapshot() {
		seasonService.chooseClimate(season.company, Climate.HOT_DRY);
		season.calciumSeason(pool, 10, 300);
		await(() -> snapshot().level(Level.CH).orElseThrow().evidence().readings().size() == 10);
		double perDay = byThemselves(season.company).get(Level.CH);
		assertThat(perDay).as("fill water brings more than goes, also without the recorded hypochlorite").isBetween(0.01, 1.0);
		assertThat(snapshot().level(Level.CH).orElseThrow().baselineDrift()).isEqualTo(perDay);
		double with = hardnessInAWeek();

		rows.inCompany(season.company, () -> rows.sql("UPDATE drift SET baseline_drift_per_day = NULL WHERE company_id = :company")
			.param("company", season.company.value())
			.update());
		assertThat(byThemselves(season.company)).as("not known well enough").isEmpty();
		double without = hardnessInAWeek();
		assertThat(with - without).isCloseTo(7 * perDay, within(1e-6));

		rows.inCompany(season.company,
				() -> rows.sql("DELETE FROM pool_season WHERE company_id = :company").param("company", season.company.value()).update());
		assertThat(hardnessInAWeek()).as("never assessed").isEqualTo(without);
	}

	@Test
	void baselineDriftOfAnotherCompanyIsNotVisible() {
		season.calciumSeason(pool, 10, 300);
		await(() -> snapshot().level(Level.CH).orElseThrow().evidence().readings().size() == 10);
		assertThat(byThemselves(season.company)).containsKey(Level.CH);
		CompanyId other = companies.newCompany(UnitSystem.METRIC).user().company();
		assertThat(byThemselves(other)).isEmpty();
		assertThat(TenantContext.runAs(other, () -> seasonService.driftPerDay(season.company, pool))).as("the database refuses").isEmpty();
	}

	private Map<Level, Double> byThemselves(CompanyId company) {
		return TenantContext.runAs(company, () -> seasonService.driftPerDay(company, pool));
	}

	/** As a plan of today forecasts it for a visit a week from now. */
	private double hardnessInAWeek() {
		Readings readings = Readings.builder().fc(1.0).ph(7.5).ta(100.0).ch(345.0).cya(42.0).celsius(26.0).build();
		return TenantContext.runAs(season.company, () -> {
			VisitEntryService.VisitContext now = poolside.context(season.office(), pool, null);
			VisitEntryService.VisitContext weekly = new VisitEntryService.VisitContext(now.company(), now.pool(), null, now.today(), "",
					now.lastVisit(), now.history(),
					now.products(), now.today().plusDays(7), null);
			Plan plan = (Plan) poolside.plan(weekly, readings, Situation.ROUTINE, null);
			return plan.outcome().nextVisit().get(Level.CH).middle();
		});
	}

	/** Each company has its tasks in the database, and the night's one does its work with row level security on. */
	@Test
	void nightlyTaskAssessesAllPoolsOfACompany() {
		String company = season.company.value().toString();
		assertThat(scheduler.getScheduledExecution(TaskInstanceId.of("season-night", company))).isPresent();
		assertThat(scheduler.getScheduledExecution(TaskInstanceId.of("season-digest", company))).isPresent();
		PoolId second = season.pool("Ilse Falk", "en", "Courtyard", Sanitizer.CHLORINE_BY_HAND);
		rows.visit(season.company, second.value(), season.technician.user().person(), season.today.minusDays(3),
				TestRows.columns("cya_ppm", 60));
		assertThat(count("pool_season")).isZero();
		scheduler.reschedule(TaskInstanceId.of("season-night", company), Instant.now());
		scheduler.triggerCheckForDueExecutions();
		await(() -> count("pool_season") == 2);
		await(() -> scheduler.getScheduledExecution(TaskInstanceId.of("season-night", company))
			.filter(task -> task.getLastSuccess() != null && task.getExecutionTime().isAfter(clock.instant()))
			.isPresent());
	}

	@Test
	void tasksRunInTheTimeZoneOfTheCompany() {
		ZonedDateTime wednesday = ZonedDateTime.of(2026, 7, 1, 12, 0, 0, 0, SeasonFixture.ZONE);
		assertThat(NightlyReassessment.nextNightlyRun(wednesday)).isEqualTo(Instant.parse("2026-07-02T10:00:00Z"));
		assertThat(NightlyReassessment.nextNightlyRun(wednesday.withHour(1))).isEqualTo(Instant.parse("2026-07-01T10:00:00Z"));
		assertThat(NightlyReassessment.nextDigest(wednesday)).isEqualTo(Instant.parse("2026-07-06T13:00:00Z"));
		assertThat(NightlyReassessment.nextDigest(wednesday.withDayOfMonth(6))).isEqualTo(Instant.parse("2026-07-13T13:00:00Z"));
	}

	private static void await(Callable<Boolean> done) {
		Awaitility.await().atMost(Duration.ofSeconds(30)).until(done);
	}

}
