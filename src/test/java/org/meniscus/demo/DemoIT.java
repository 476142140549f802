package org.meniscus.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;

import org.junit.jupiter.api.Test;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.CompanyService;
import org.meniscus.company.PersonSummary;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantContext;
import org.meniscus.product.ProductId;
import org.meniscus.product.ProductService;
import org.meniscus.route.DaySheetService;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopLine;
import org.meniscus.route.StopState;
import org.meniscus.support.MockMvcSignIn;
import org.meniscus.visit.DoseRecord;
import org.meniscus.visit.DoseUnits;
import org.meniscus.visit.VisitRecord;
import org.meniscus.visit.VisitService;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.assess.ReadingFinding;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.web.context.WebApplicationContext;

/** The invented company as a first start makes it, in a database of its own. */
class DemoIT extends DemoContext {

	private static final LocalDate TODAY = LocalDate.of(2026, 11, 25);

	private static final DemoCalendar WEEKS = new DemoCalendar(TODAY);

	@Autowired
	CompanyService companyService;

	@Autowired
	ClientService clients;

	@Autowired
	VisitService visits;

	@Autowired
	RouteService route;

	@Autowired
	DaySheetService days;

	@Autowired
	ProductService productService;

	@Autowired
	DemoCompany demo;

	@Autowired
	DemoRunner start;

	@Autowired
	WebApplicationContext context;

	private CompanyId company() {
		return companyService.findCompanyByEmail("owner@demo.example").orElseThrow();
	}

	private List<VisitRecord> allVisits() {
		return TenantContext.runAs(company(), () -> pools().stream()
			.flatMap(pool -> visits.history(company(), pool.id(), LocalDate.EPOCH).stream())
			.toList());
	}

	private List<PoolSummary> pools() {
		return TenantContext.runAs(company(), () -> clients.pools(company()));
	}

	private List<StopLine> stops(LocalDate from, LocalDate to) {
		return TenantContext.runAs(company(), () -> from.datesUntil(to.plusDays(1), java.time.Period.ofWeeks(1))
			.flatMap(monday -> route.week(company(), monday).stops().stream())
			.toList());
	}

	@Test
	void peopleOfEveryRoleHaveJoined() {
		List<PersonSummary> people = companyService.people(company());
		assertThat(people).hasSize(5).allMatch(PersonSummary::joined);
		assertThat(people.stream().collect(Collectors.groupingBy(PersonSummary::role, Collectors.counting())))
			.isEqualTo(Map.of(Role.OWNER, 1L, Role.OFFICE, 1L, Role.TECHNICIAN, 3L));
		assertThat(start.signInText()).contains("owner@demo.example", "office@demo.example", "wren@demo.example", DemoPerson.PASSWORD);
		assertThat(DemoPerson.PASSWORD.length()).isGreaterThanOrEqualTo(15);
	}

	@Test
	void everyPoolHasItsSeasonAsSimulated() {
		Map<String, SimulatedSeason> expected = new HashMap<>();
		for (DemoPool pool : DemoPool.all()) {
			expected.put(pool.street(),
					SimulatedSeason.of(pool, DemoCompany.SEED, WEEKS.workday(pool.workday()), WEEKS.first(), WEEKS.yesterday()));
		}
		Map<?, List<VisitRecord>> stored = allVisits().stream().collect(Collectors.groupingBy(VisitRecord::pool));
		assertThat(pools()).hasSize(40);
		for (PoolSummary pool : pools()) {
			List<VisitRecord> visits = stored.get(pool.id());
			SimulatedSeason season = Objects.requireNonNull(expected.get(pool.street()));
			assertThat(visits).as(pool.street()).hasSize(season.visits().size()).hasSizeBetween(26, 35);
			assertThat(visits.stream().map(VisitRecord::performedOn).sorted())
				.isEqualTo(season.visits().stream().map(SimulatedVisit::day).toList());
			assertThat(visits.stream().mapToInt(visit -> visit.doses().size()).sum())
				.isEqualTo(season.visits().stream().mapToInt(visit -> visit.doses().size()).sum());
		}
	}

	@Test
	void everyReadingIsPlausibleAndEveryDoseHasAPrice() {
		List<VisitRecord> all = allVisits();
		assertThat(all).allSatisfy(visit -> assertThat(ReadingCheck.check(visit.readings(), null))
			.noneMatch(finding -> finding.kind() != ReadingFinding.Kind.UNLIKELY));
		List<DoseRecord> doses = all.stream().flatMap(visit -> visit.doses().stream()).toList();
		assertThat(doses).hasSizeGreaterThan(1500).allSatisfy(dose -> assertThat(dose.costCents()).isNotNull());
		ProductId liquid = doses.stream()
			.filter(dose -> dose.kind() == ProductKind.LIQUID_CHLORINE_125)
			.map(DoseRecord::product)
			.findFirst()
			.orElseThrow();
		assertThat(TenantContext.runAs(company(), () -> productService.priceHistory(company(), liquid))).hasSize(2);
	}

	@Test
	void granularProductsHaveAScoopAndBleachIsNeverPlanned() {
		List<Product> products = TenantContext.runAs(company(), () -> productService.findAll(company(), TODAY));
		assertThat(products).filteredOn(product -> product.onTruck() && product.kind().form() == PhysicalForm.GRANULAR)
			.hasSizeGreaterThan(5)
			.allMatch(product -> product.scoop() != null || product.kind().dosing() != ProductKind.DoseBasis.COMPUTED);
		assertThat(products).filteredOn(product -> product.preference() == ProductPreference.NEVER)
			.extracting(Product::kind)
			.containsExactly(ProductKind.HOUSEHOLD_BLEACH);
	}

	@Test
	void everyTabletDoseIsCountedInTablets() {
		List<Product> products = TenantContext.runAs(company(), () -> productService.findAll(company(), TODAY));
		List<DoseRecord> tablets = allVisits().stream()
			.flatMap(visit -> visit.doses().stream())
			.filter(dose -> dose.kind() == ProductKind.TRICHLOR_TAB)
			.toList();
		assertThat(tablets).hasSizeGreaterThan(100)
			.allMatch(dose -> DoseUnits.of(dose.product().toString(), dose.unit(), products, UnitSystem.US).quantity(dose.amount())
				.inTablets());
	}

	@Test
	void someSeasonsEndWithHighStabilizerOrHardness() {
		Map<?, List<VisitRecord>> stored = allVisits().stream().collect(Collectors.groupingBy(VisitRecord::pool));
		List<String> cya = pools().stream().filter(pool -> above(pool, stored.get(pool.id()), Level.CYA)).map(PoolSummary::clientName)
			.toList();
		List<String> ch = pools().stream().filter(pool -> above(pool, stored.get(pool.id()), Level.CH)).map(PoolSummary::clientName)
			.toList();
		assertThat(cya).hasSizeBetween(5, 20).contains("Quigley household", "Whitcombe household");
		assertThat(ch).hasSizeBetween(3, 15).contains("Halvorsen household");
	}

	/** Last reading above the ideal range. */
	private static boolean above(PoolSummary pool, List<VisitRecord> newestFirst, Level level) {
		Range range = Objects.requireNonNull(pool.facts().targets().range(level));
		return newestFirst.stream()
			.sorted((one, other) -> other.performedAt().compareTo(one.performedAt()))
			.filter(visit -> visit.readings().value(level) != null && visit.readings().qualifier(level) != ReadingQualifier.BELOW)
			.findFirst()
			.map(visit -> Objects.requireNonNull(visit.readings().value(level)) > range.idealHigh())
			.orElse(false);
	}

	@Test
	void pastStopsAreClosedAndTodaysStopsAreOpen() {
		List<StopLine> past = stops(WEEKS.first(), TODAY).stream().filter(stop -> stop.plannedOn().isBefore(TODAY)).toList();
		assertThat(past).hasSizeGreaterThan(1150).noneMatch(stop -> stop.state() == StopState.PLANNED);
		assertThat(past).filteredOn(stop -> stop.state() == StopState.MISSED).hasSizeBetween(10, 80)
			.allMatch(stop -> stop.missedReason() != null);
		assertThat(past).filteredOn(stop -> stop.state() == StopState.DONE).hasSameSizeAs(allVisits())
			.allMatch(stop -> stop.visit() != null);
		for (PersonSummary person : companyService.people(company())) {
			if (person.role() == Role.TECHNICIAN) {
				SignedInUser me = new SignedInUser(company(), person.id(), person.role(), person.name());
				assertThat(
						TenantContext.runAs(company(), () -> days.sheet(me, null, new DaySheetService.TechnicianFilter.OwnOrAll())).stops())
					.isNotEmpty()
					.allMatch(stop -> stop.line().state() == StopState.PLANNED);
			}
		}
		assertThat(stops(TODAY, WEEKS.plannedUntil())).filteredOn(stop -> stop.state() == StopState.PLANNED).hasSizeBetween(100, 120);
	}

	@Test
	void somePoolsAreClosedToSwimmersAndMostAreNot() {
		List<PoolId> all = pools().stream().map(PoolSummary::id).toList();
		assertThat(TenantContext.runAs(company(), () -> visits.closed(company(), all))).hasSizeBetween(1, 24);
	}

	@Test
	void restartAddsNothing() {
		int visitsBefore = allVisits().size();
		int stopsBefore = stops(WEEKS.first(), WEEKS.plannedUntil()).size();
		assertThat(demo.ensure()).contains(company());
		assertThat(allVisits()).hasSize(visitsBefore);
		assertThat(stops(WEEKS.first(), WEEKS.plannedUntil())).hasSize(stopsBefore);
		assertThat(companyService.people(company())).hasSize(5);
		assertThat(pools()).hasSize(40);
	}

	/** The pages bear a full company: each answers for those who may see it. */
	@Test
	void everyMainPageAnswers() throws Exception {
		SignedInUser owner = companyService.people(company())
			.stream()
			.filter(person -> person.role() == Role.OWNER)
			.map(person -> new SignedInUser(company(), person.id(), person.role(), person.name()))
			.findFirst()
			.orElseThrow();
		for (String page : List.of("/today", "/week", "/clients", "/season", "/spend")) {
			assertThat(status(page, owner)).as(page).isEqualTo(200);
		}
		for (PoolSummary pool : pools()) {
			assertThat(status("/pools/" + pool.id().value(), owner)).as(pool.street()).isEqualTo(200);
		}
	}

	private int status(String page, SignedInUser user) throws Exception {
		return MockMvcSignIn.mockMvc(context).perform(get(page).with(MockMvcSignIn.signedInAs(user))).andReturn().getResponse().getStatus();
	}

}
