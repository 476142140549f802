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
import org.meniscus.client.ClientBook;
import org.meniscus.client.PoolCard;
import org.meniscus.company.CompanyRegister;
import org.meniscus.company.PersonCard;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedIn;
import org.meniscus.platform.Tenancy;
import org.meniscus.product.ProductId;
import org.meniscus.product.ProductShelf;
import org.meniscus.route.DayBook;
import org.meniscus.route.RouteBook;
import org.meniscus.route.StopLine;
import org.meniscus.route.StopState;
import org.meniscus.support.As;
import org.meniscus.visit.DoseRecord;
import org.meniscus.visit.DoseUnits;
import org.meniscus.visit.VisitBook;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.UnitSystem;
import org.meniscus.water.treatment.Form;
import org.meniscus.water.treatment.Level;
import org.meniscus.water.treatment.Mark;
import org.meniscus.water.treatment.Preference;
import org.meniscus.water.treatment.Product;
import org.meniscus.water.treatment.ProductKind;
import org.meniscus.water.treatment.Range;
import org.meniscus.water.treatment.ReadingCheck;
import org.meniscus.water.treatment.Finding;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.web.context.WebApplicationContext;

/** The invented company as a first start makes it, in a database of its own. */
class DemoIT extends DemoCompanyTest {

	private static final LocalDate TODAY = LocalDate.of(2026, 11, 25);

	private static final DemoWeeks WEEKS = new DemoWeeks(TODAY);

	@Autowired
	CompanyRegister register;

	@Autowired
	ClientBook clients;

	@Autowired
	VisitBook visits;

	@Autowired
	RouteBook route;

	@Autowired
	DayBook days;

	@Autowired
	ProductShelf shelf;

	@Autowired
	DemoCompany demo;

	@Autowired
	DemoStart start;

	@Autowired
	WebApplicationContext context;

	private CompanyId company() {
		return register.companyOf("owner@demo.example").orElseThrow();
	}

	private List<VisitRecord> allVisits() {
		return Tenancy.as(company(), () -> visits.all(company(), LocalDate.EPOCH));
	}

	private List<PoolCard> pools() {
		return Tenancy.as(company(), () -> clients.pools(company()));
	}

	private List<StopLine> stops(LocalDate from, LocalDate to) {
		return Tenancy.as(company(), () -> from.datesUntil(to.plusDays(1), java.time.Period.ofWeeks(1))
			.flatMap(monday -> route.week(company(), monday).stops().stream())
			.toList());
	}

	@Test
	void peopleOfEveryRoleHaveJoined() {
		List<PersonCard> people = register.people(company());
		assertThat(people).hasSize(5).allMatch(PersonCard::joined);
		assertThat(people.stream().collect(Collectors.groupingBy(PersonCard::role, Collectors.counting())))
			.isEqualTo(Map.of(Role.OWNER, 1L, Role.OFFICE, 1L, Role.TECHNICIAN, 3L));
		assertThat(start.text()).contains("owner@demo.example", "office@demo.example", "wren@demo.example", DemoPeople.PASSWORD);
		assertThat(DemoPeople.PASSWORD.length()).isGreaterThanOrEqualTo(15);
	}

	@Test
	void everyPoolHasItsSeasonAsSimulated() {
		Map<String, PoolSeason> expected = new HashMap<>();
		for (DemoPool pool : DemoPool.all()) {
			expected.put(pool.street(),
					PoolSeason.of(pool, DemoCompany.SEED, WEEKS.workday(pool.workday()), WEEKS.first(), WEEKS.yesterday()));
		}
		Map<?, List<VisitRecord>> stored = allVisits().stream().collect(Collectors.groupingBy(VisitRecord::pool));
		assertThat(pools()).hasSize(40);
		for (PoolCard pool : pools()) {
			List<VisitRecord> visits = stored.get(pool.id());
			PoolSeason season = Objects.requireNonNull(expected.get(pool.street()));
			assertThat(visits).as(pool.street()).hasSize(season.visits().size()).hasSizeBetween(26, 35);
			assertThat(visits.stream().map(VisitRecord::performedOn).sorted())
				.isEqualTo(season.visits().stream().map(SimulatedVisit::day).toList());
			assertThat(visits.stream().mapToInt(visit -> visit.doses().size()).sum())
				.isEqualTo(season.visits().stream().mapToInt(visit -> visit.doses().size()).sum());
		}
	}

	@Test
	void everyReadingIsPossibleAndEveryDoseHasItsPrice() {
		List<VisitRecord> all = allVisits();
		assertThat(all).allSatisfy(visit -> assertThat(ReadingCheck.check(visit.readings(), null))
			.noneMatch(finding -> finding.kind() != Finding.Kind.UNLIKELY));
		List<DoseRecord> doses = all.stream().flatMap(visit -> visit.doses().stream()).toList();
		assertThat(doses).hasSizeGreaterThan(1500).allSatisfy(dose -> assertThat(dose.costCents()).isNotNull());
		ProductId liquid = doses.stream()
			.filter(dose -> dose.kind() == ProductKind.LIQUID_CHLORINE_125)
			.map(DoseRecord::product)
			.findFirst()
			.orElseThrow();
		assertThat(Tenancy.as(company(), () -> shelf.priceHistory(company(), liquid))).hasSize(2);
	}

	@Test
	void granularProductsHaveAScoopAndOneProductIsNeverInPlans() {
		List<Product> products = Tenancy.as(company(), () -> shelf.all(company(), TODAY));
		assertThat(products).filteredOn(product -> product.onTruck() && product.kind().form() == Form.GRANULAR)
			.hasSizeGreaterThan(5)
			.allMatch(product -> product.scoop() != null || product.kind().dosing() != ProductKind.Dosing.COMPUTED);
		assertThat(products).filteredOn(product -> product.preference() == Preference.NEVER)
			.extracting(Product::kind)
			.containsExactly(ProductKind.HOUSEHOLD_BLEACH);
	}

	@Test
	void everyDoseOfTabletsIsACountOfTablets() {
		List<Product> products = Tenancy.as(company(), () -> shelf.all(company(), TODAY));
		List<DoseRecord> tablets = allVisits().stream()
			.flatMap(visit -> visit.doses().stream())
			.filter(dose -> dose.kind() == ProductKind.TRICHLOR_TAB)
			.toList();
		assertThat(tablets).hasSizeGreaterThan(100)
			.allMatch(dose -> DoseUnits.of(dose.product().toString(), dose.unit(), products, UnitSystem.US).entry(dose.amount()).inTablets());
	}

	@Test
	void someSeasonsEndOutOfRangeInStabilizerOrHardness() {
		Map<?, List<VisitRecord>> stored = allVisits().stream().collect(Collectors.groupingBy(VisitRecord::pool));
		List<String> cya = pools().stream().filter(pool -> above(pool, stored.get(pool.id()), Level.CYA)).map(PoolCard::clientName).toList();
		List<String> ch = pools().stream().filter(pool -> above(pool, stored.get(pool.id()), Level.CH)).map(PoolCard::clientName).toList();
		assertThat(cya).hasSizeBetween(5, 20).contains("Quigley household", "Whitcombe household");
		assertThat(ch).hasSizeBetween(3, 15).contains("Halvorsen household");
	}

	/** Last reading above the ideal range. */
	private static boolean above(PoolCard pool, List<VisitRecord> newestFirst, Level level) {
		Range range = Objects.requireNonNull(pool.facts().targets().range(level));
		return newestFirst.stream()
			.sorted((one, other) -> other.performedAt().compareTo(one.performedAt()))
			.filter(visit -> visit.readings().value(level) != null && visit.readings().mark(level) != Mark.BELOW)
			.findFirst()
			.map(visit -> Objects.requireNonNull(visit.readings().value(level)) > range.idealHigh())
			.orElse(false);
	}

	@Test
	void pastStopsAreDoneOrMissedWithAReasonAndTodayIsToBeDriven() {
		List<StopLine> past = stops(WEEKS.first(), TODAY).stream().filter(stop -> stop.plannedOn().isBefore(TODAY)).toList();
		assertThat(past).hasSizeGreaterThan(1150).noneMatch(stop -> stop.state() == StopState.PLANNED);
		assertThat(past).filteredOn(stop -> stop.state() == StopState.MISSED).hasSizeBetween(10, 80).allMatch(stop -> stop.missedReason() != null);
		assertThat(past).filteredOn(stop -> stop.state() == StopState.DONE).hasSameSizeAs(allVisits()).allMatch(stop -> stop.visit() != null);
		for (PersonCard person : register.people(company())) {
			if (person.role() == Role.TECHNICIAN) {
				SignedIn me = new SignedIn(company(), person.id(), person.role(), person.name());
				assertThat(Tenancy.as(company(), () -> days.sheet(me, null, new DayBook.Whose.Usual())).stops()).isNotEmpty()
					.allMatch(stop -> stop.line().state() == StopState.PLANNED);
			}
		}
		assertThat(stops(TODAY, WEEKS.plannedUntil())).filteredOn(stop -> stop.state() == StopState.PLANNED).hasSizeBetween(100, 120);
	}

	@Test
	void startingAgainAddsNothing() {
		int visitsBefore = allVisits().size();
		int stopsBefore = stops(WEEKS.first(), WEEKS.plannedUntil()).size();
		assertThat(demo.ensure()).contains(company());
		assertThat(allVisits()).hasSize(visitsBefore);
		assertThat(stops(WEEKS.first(), WEEKS.plannedUntil())).hasSize(stopsBefore);
		assertThat(register.people(company())).hasSize(5);
		assertThat(pools()).hasSize(40);
	}

	/** The pages bear a full company: each answers for those who may see it. */
	@Test
	void pagesAnswer() throws Exception {
		SignedIn owner = register.people(company())
			.stream()
			.filter(person -> person.role() == Role.OWNER)
			.map(person -> new SignedIn(company(), person.id(), person.role(), person.name()))
			.findFirst()
			.orElseThrow();
		for (String page : List.of("/today", "/week", "/clients", "/season", "/spend")) {
			assertThat(status(page, owner)).as(page).isEqualTo(200);
		}
		for (PoolCard pool : pools()) {
			assertThat(status("/pools/" + pool.id().value(), owner)).as(pool.street()).isEqualTo(200);
		}
	}

	private int status(String page, SignedIn user) throws Exception {
		return As.pagesOf(context).perform(get(page).with(As.user(user))).andReturn().getResponse().getStatus();
	}

}
