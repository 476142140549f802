package org.meniscus;

import static org.assertj.core.api.Assertions.assertThat;
import static org.meniscus.support.TestRows.columns;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.sql.Timestamp;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.meniscus.client.PoolId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantContext;
import org.meniscus.product.ProductId;
import org.meniscus.report.ReportService;
import org.meniscus.report.SeasonFixture;
import org.meniscus.report.SeasonFixtures;
import org.meniscus.route.DaySheetService;
import org.meniscus.route.StopState;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.MockMvcSignIn;
import org.meniscus.support.StatementCounter;
import org.meniscus.support.TestRows;
import org.meniscus.visit.AdviceFormatter;
import org.meniscus.visit.VisitId;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.web.context.WebApplicationContext;

/** How many statements the main pages send, and that it is the same for a small company and for a larger one. */
@IntegrationTest
class StatementCountIT {

	/** What each page takes; every transaction begins with one that sets its company. A page that needs more says why:
	 * two of those of week, clients, pool and season ask which pools are closed, seven of pool and report read what the
	 * company's other pools say of its fill water. */
	private static final Map<String, Long> MOST = Map.of("today", 20L, "today of all", 19L, "week", 12L, "visit entry", 19L, "clients", 10L,
			"pool", 50L, "season", 14L, "notices", 8L, "spend", 14L, "report", 30L);

	@Autowired
	SeasonFixtures seasons;

	@Autowired
	TestRows rows;

	@Autowired
	ReportService reports;

	@Autowired
	DaySheetService daySheets;

	@Autowired
	WebApplicationContext context;

	/** What is asked for, by whom; nobody is signed in where {@code by} is null. */
	private record Page(String address, @Nullable SignedInUser by) {
	}

	@Test
	void mainPagesSendAsManyStatementsForTwelveStopsAsForTwo() throws Exception {
		Map<String, Long> two = statements(2);
		Map<String, Long> twelve = statements(12);
		assertThat(twelve).as("twelve stops beside two").isEqualTo(two);
		assertThat(two.keySet()).isEqualTo(MOST.keySet());
		two.forEach((page, count) -> assertThat(count).as("statements of the page " + page).isLessThanOrEqualTo(MOST.get(page)));
	}

	/** By page, once everything that is worked out at a first look has been. */
	private Map<String, Long> statements(int size) throws Exception {
		MockMvc pages = MockMvcSignIn.mockMvc(context);
		Map<String, Long> counts = new LinkedHashMap<>();
		for (Map.Entry<String, Page> page : company(size).entrySet()) {
			open(pages, page.getValue());
			counts.put(page.getKey(), StatementCounter.count(() -> open(pages, page.getValue())));
		}
		return counts;
	}

	private static void open(MockMvc pages, Page page) throws Exception {
		// from an address of its own: what other tests have opened in this minute does not count
		MockHttpServletRequestBuilder request = get(page.address()).remoteAddress("192.0.2." + UUID.randomUUID());
		pages.perform((page.by() != null) ? request.with(MockMvcSignIn.signedInAs(page.by())) : request).andExpect(status().isOk());
	}

	/**
	 * A company with so many stops today, each at a pool of its own that was visited as often and has a plan and planned work; the last
	 * stop is done, at a pool that was archived since.
	 */
	private Map<String, Page> company(int size) {
		SeasonFixture season = seasons.newSeason();
		SignedInUser technician = season.technician.user();
		ProductId product = season.product(ProductKind.CAL_HYPO_65);
		String advice = advice(season.today.minusDays(1));
		PoolId first = season.pool("Client 0", "en", "Pool 0", Sanitizer.CHLORINE_BY_HAND);
		PoolId pool = first;
		UUID firstStop = null;
		UUID firstVisit = null;
		for (int n = 0; n < size; n++) {
			UUID stop = stop(season, pool, n, n == size - 1);
			UUID visit = visits(season, pool, product, size, advice);
			if (n == 0) {
				firstStop = stop;
				firstVisit = visit;
			}
			if (n < size - 1) {
				pool = season.pool("Client " + (n + 1), "en", "Pool " + (n + 1), Sanitizer.CHLORINE_BY_HAND);
			}
		}
		assertThat(TenantContext
			.runAs(season.company, () -> daySheets.sheet(technician, null, new DaySheetService.TechnicianFilter.OwnOrAll()))
			.stops()).as("every stop makes the page read all there is to read")
			.hasSize(size)
			.allSatisfy(stop -> assertThat(stop.lastVisit()).isNotNull())
			.filteredOn(stop -> stop.line().state() == StopState.PLANNED)
			.hasSize(size - 1)
			.allSatisfy(stop -> {
				assertThat(stop.activePlan()).isNotNull();
				assertThat(stop.openWork()).isEqualTo(1);
				assertThat(stop.accessNotes()).isEqualTo("gate code 4711");
			});
		PoolId last = pool;
		rows.inCompany(season.company, () -> rows.sql("UPDATE pool SET archived_at = now() WHERE company_id = :company AND id = :pool")
			.param("company", season.company.value())
			.param("pool", last.value())
			.update());
		VisitId shared = new VisitId(Objects.requireNonNull(firstVisit));
		String token = TenantContext
			.runAs(season.company, () -> reports.share(season.office(), UUID.randomUUID(), shared, 30))
			.orElseThrow();
		Map<String, Page> pages = new LinkedHashMap<>();
		pages.put("today", new Page("/today", technician));
		pages.put("today of all", new Page("/today?technician=all", season.office()));
		pages.put("week", new Page("/week", season.office()));
		pages.put("visit entry", new Page("/visit?pool=" + first + "&stop=" + firstStop, technician));
		pages.put("clients", new Page("/clients", season.office()));
		pages.put("pool", new Page("/pools/" + first, season.office()));
		pages.put("season", new Page("/season", season.office()));
		pages.put("notices", new Page("/season/notices", season.office()));
		pages.put("spend", new Page("/spend", season.office()));
		pages.put("report", new Page("/r/" + token, null));
		return pages;
	}

	private UUID stop(SeasonFixture season, PoolId pool, int position, boolean done) {
		UUID schedule = UUID.randomUUID();
		UUID stop = UUID.randomUUID();
		Timestamp now = Timestamp.from(season.today.atStartOfDay(SeasonFixture.ZONE).toInstant());
		rows.insert(season.company, "service_schedule", columns("id", schedule, "pool_id", pool.value(), "technician_id",
				season.technician.user().person().value(), "frequency", "WEEKLY", "weekday", season.today.getDayOfWeek().getValue(),
				"starts_on", season.today, "created_at", now, "updated_at", now));
		rows.insert(season.company, "stop", columns("id", stop, "pool_id", pool.value(), "technician_id",
				season.technician.user().person().value(), "service_schedule_id", schedule, "due_on", season.today, "planned_on",
				season.today, "position", position, "state", done ? "DONE" : "PLANNED", "created_at", now, "updated_at", now));
		rows.insert(season.company, "planned_work", columns("id", UUID.randomUUID(), "pool_id", pool.value(), "kind", "CHLORINE",
				"chlorine", "LIQUID_CHLORINE", "planned_on", season.today, "planned_by", season.owner.user().person().value()));
		return stop;
	}

	/** @return the newest, of which a plan is followed */
	private UUID visits(SeasonFixture season, PoolId pool, ProductId product, int count, String advice) {
		return rows.inCompany(season.company, () -> {
			UUID visit = UUID.randomUUID();
			for (int n = count; n >= 1; n--) {
				LocalDate day = season.today.minusWeeks(n);
				Map<String, Object> more = new HashMap<>(
						Map.of("fc_ppm", 1.5, "ph", 7.5, "ta_ppm", 90, "ch_ppm", 250 + 5 * (count - n), "cya_ppm", 40));
				if (n == 1) {
					more.put("advice", advice);
				}
				visit = rows.visit(season.company, pool.value(), season.technician.user().person(), day, more);
				rows.dose(season.company, visit, 0, product.value(), 300, 120);
				rows.dose(season.company, visit, 1, product.value(), 200, null);
			}
			return visit;
		});
	}

	private static String advice(LocalDate day) {
		PoolFacts pool = PoolFacts.of(Volume.ofLitres(SeasonFixture.LITRES), VolumeCertainty.MEASURED, BodyOfWater.POOL, Surface.PLASTER,
				false, Sanitizer.CHLORINE_BY_HAND);
		Readings green = Readings.builder().fc(0.3).ph(7.7).ta(50.0).ch(100.0).cya(40.0).celsius(26.0).build();
		List<Product> truck = Arrays.stream(ProductKind.values()).map(kind -> Product.usual(kind.name(), kind))
			.toList();
		return new AdviceFormatter(UnitSystem.US, "en", pool.targets(), (key, args) -> key, null)
			.format(Planner.plan(new PlanRequest(pool, green, Situation.GREEN_ALGAE_LIGHT, truck, TreatmentPolicy.defaults(), 7,
					UnitSystem.US)), Situation.GREEN_ALGAE_LIGHT, "basis", day.atTime(LocalTime.of(10, 0)))
			.toJson();
	}

}
