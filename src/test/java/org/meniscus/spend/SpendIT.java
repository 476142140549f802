package org.meniscus.spend;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.header;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.io.StringReader;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.UUID;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.MockMvcSignIn;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.web.context.WebApplicationContext;

@IntegrationTest
class SpendIT {

	private static final LocalDate FROM = LocalDate.of(2026, 3, 15);

	private static final LocalDate TO = LocalDate.of(2026, 9, 10);

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	SpendService spending;

	@Autowired
	WebApplicationContext context;

	MockMvc pages;

	@BeforeEach
	void pages() {
		pages = MockMvcSignIn.mockMvc(context);
	}

	/** What a random season of doses comes to, worked out beside the service. */
	private record Truth(SignedInUser owner, long cents, long doses, long unpriced) {
	}

	private Truth randomSeason(long seed) {
		Random random = new Random(seed);
		SignedInUser owner = companies.newCompany(UnitSystem.US).user();
		CompanyId company = owner.company();
		return rows.inCompany(company, () -> {
			List<PersonId> people = List.of(owner.person(), rows.person(company, Role.TECHNICIAN, "Bo Reed").user().person(),
					rows.person(company, Role.TECHNICIAN, "Lu Marsh").user().person());
			List<UUID> products = List.of(rows.product(company, "TRICHLOR", "Trichlor tablets", 90, "G", Map.of()),
					rows.product(company, "LIQUID_CHLORINE", "Liquid chlorine", 12.5, "ML", Map.of()),
					rows.product(company, "MURIATIC_ACID", "=Muriatic acid", 31.45, "ML", Map.of()));
			List<UUID> pools = new ArrayList<>();
			for (int n = 0; n < 5; n++) {
				UUID client = rows.client(company, "Client " + n, Map.of());
				pools.add(rows.pool(company, client, "Back yard", (n % 2 == 0) ? Map.of("monthly_fee_cents", 18_000) : Map.of()));
				pools.add(rows.pool(company, client, "Spa", Map.of()));
			}
			long cents = 0;
			long doses = 0;
			long unpriced = 0;
			for (int n = 0; n < 120; n++) {
				LocalDate day = FROM.minusDays(20).plusDays(random.nextInt(220));
				UUID visit = rows.visit(company, pools.get(random.nextInt(pools.size())), people.get(random.nextInt(3)), day,
						Map.of());
				for (int seq = 0; seq < random.nextInt(4); seq++) {
					Integer cost = (random.nextInt(9) == 0) ? null : random.nextInt(2500);
					rows.dose(company, visit, seq, products.get(random.nextInt(3)), 1 + random.nextInt(900), cost);
					if (!day.isBefore(FROM) && !day.isAfter(TO)) {
						doses++;
						cents += (cost != null) ? cost : 0;
						unpriced += (cost == null) ? 1 : 0;
					}
				}
			}
			return new Truth(owner, cents, doses, unpriced);
		});
	}

	private Spend spend(SignedInUser owner) {
		return TenantContext.runAs(owner.company(), () -> spending.between(owner.company(), FROM, TO));
	}

	@ParameterizedTest
	@ValueSource(longs = { 1, 2, 3, 4 })
	void everyBreakdownAddsUpToTheSameCent(long seed) {
		Truth truth = randomSeason(seed);
		Spend spend = spend(truth.owner());
		assertThat(truth.unpriced()).isPositive();
		assertThat(spend.total()).isEqualTo(new Spend.SpendTotal(truth.cents(), truth.doses(), truth.unpriced()));
		for (SpendBreakdown cut : SpendBreakdown.values()) {
			assertThat(spend.by(cut).stream().map(Spend.BreakdownLine::sum).reduce(Spend.SpendTotal.ZERO, SpendIT::plus))
				.as(cut.name())
				.isEqualTo(spend.total());
		}
		assertThat(spend.by(SpendBreakdown.MONTH)).hasSize(7);
		assertThat(spend.by(SpendBreakdown.POOL)).hasSize(10);
		assertThat(spend.unpriced().stream().mapToLong(Spend.UnpricedProduct::doses).sum()).isEqualTo(truth.unpriced());
	}

	@Test
	void firstAndLastDayOfAPeriodCountAndTheirNeighboursDoNot() throws Exception {
		SignedInUser owner = companies.newCompany(UnitSystem.US).user();
		CompanyId company = owner.company();
		rows.inCompany(company, () -> {
			UUID product = rows.product(company, "TRICHLOR", "Trichlor tablets", 90, "G", Map.of());
			UUID pool = rows.pool(company, rows.client(company, "Ida Brook", Map.of()), "Back yard", Map.of());
			int cents = 1;
			for (LocalDate day : List.of(FROM.minusDays(1), FROM, TO, TO.plusDays(1))) {
				UUID visit = rows.visit(company, pool, owner.person(), day, Map.of());
				rows.dose(company, visit, 0, product, 100, cents);
				rows.dose(company, visit, 1, product, 100, null);
				cents *= 10;
			}
			return pool;
		});
		Spend spend = spend(owner);
		assertThat(spend.total()).isEqualTo(new Spend.SpendTotal(10 + 100, 4, 2));
		assertThat(spend.by(SpendBreakdown.POOL)).extracting(Spend.BreakdownLine::sum).containsExactly(spend.total());
		assertThat(spend.unpriced()).containsExactly(new Spend.UnpricedProduct("Trichlor tablets", 2));
		List<DoseCost> doses = TenantContext.runAs(company, () -> spending.doses(company, FROM, TO));
		assertThat(doses).extracting(DoseCost::day).containsExactly(FROM, FROM, TO, TO);
	}

	@Test
	void csvOfDosesAndOfEveryBreakdownAddsUpToTheSameCent() throws Exception {
		Truth truth = randomSeason(5);
		BigDecimal total = BigDecimal.valueOf(truth.cents(), 2);
		for (String by : List.of("doses", "month", "pool", "client", "technician", "product")) {
			String text = pages
				.perform(get("/spend.csv").param("by", by).param("from", FROM.toString()).param("to", TO.toString())
					.with(MockMvcSignIn.signedInAs(truth.owner())))
				.andExpect(status().isOk())
				.andExpect(content().contentType("text/csv;charset=UTF-8"))
				.andExpect(header().string("Content-Disposition", org.hamcrest.Matchers.startsWith("attachment")))
				.andReturn()
				.getResponse()
				.getContentAsString();
			assertThat(text).as("lines end as RFC 4180 says").contains("\r\n");
			List<CSVRecord> records = CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get()
				.parse(new StringReader(text)).getRecords();
			BigDecimal sum = records.stream().map(line -> line.get("cost")).filter(cost -> !cost.isEmpty()).map(BigDecimal::new)
				.reduce(BigDecimal.ZERO, BigDecimal::add);
			assertThat(sum).as(by).isEqualByComparingTo(total);
			if (by.equals("doses")) {
				assertThat(records).hasSize((int) truth.doses());
				assertThat(records.stream().filter(line -> line.get("cost").isEmpty()).count()).isEqualTo(truth.unpriced());
			}
			if (by.equals("product")) {
				assertThat(text).as("no cell is a formula to a spreadsheet").contains("'=Muriatic acid").doesNotContain("\n=");
			}
		}
	}

	@Test
	void dosesWithoutAPriceAreCountedAndNamed() throws Exception {
		Truth truth = randomSeason(6);
		String html = page(truth.owner(), "/spend?by=product&from=" + FROM + "&to=" + TO);
		assertThat(html).contains(truth.unpriced() + " doses have no price on file", "=Muriatic acid (");
	}

	@Test
	void oneCompanyDoesNotSeeWhatAnotherSpent() {
		Truth one = randomSeason(7);
		Truth other = randomSeason(8);
		assertThat(spend(one.owner()).total().cents()).isEqualTo(one.cents()).isNotEqualTo(other.cents());
		assertThat(TenantContext.runAs(one.owner().company(), () -> spending.between(other.owner().company(), FROM, TO)).total())
			.as("the database itself shows nothing of another company").isEqualTo(Spend.SpendTotal.ZERO);
	}

	@ParameterizedTest
	@CsvSource({ "TECHNICIAN", "OFFICE" })
	void onlyTheOwnerSeesSpend(Role role) throws Exception {
		SignedInUser owner = companies.newCompany(UnitSystem.US).user();
		SignedInUser other = rows.person(owner.company(), role, "Bo Reed").user();
		pages.perform(get("/spend").with(MockMvcSignIn.signedInAs(other))).andExpect(status().isForbidden());
		pages.perform(get("/spend.csv").with(MockMvcSignIn.signedInAs(other))).andExpect(status().isForbidden());
		pages.perform(get("/spend").with(MockMvcSignIn.signedInAs(owner))).andExpect(status().isOk());
	}

	@Test
	void invalidDatesShowTheirMessageAndAreKept() throws Exception {
		SignedInUser owner = companies.newCompany(UnitSystem.US).user();
		assertThat(page(owner, "/spend?from=2026-05-01&to=2026-04-01")).contains("This day is before the first one.",
				"value=\"2026-05-01\"", "value=\"2026-04-01\"");
		assertThat(page(owner, "/spend?from=yesterday&to=2026-04-01")).contains("Please enter a date.", "value=\"yesterday\"");
		assertThat(page(owner, "/spend?from=1900-01-01&to=2026-04-01")).contains("10 years at most");
		assertThat(page(owner, "/spend?by=%3Cscript%3E")).contains("No doses were recorded").doesNotContain("<script>alert");
	}

	private String page(SignedInUser user, String path) throws Exception {
		return pages.perform(get(path).with(MockMvcSignIn.signedInAs(user))).andExpect(status().isOk()).andReturn().getResponse()
			.getContentAsString();
	}

	private static Spend.SpendTotal plus(Spend.SpendTotal a, Spend.SpendTotal b) {
		return new Spend.SpendTotal(a.cents() + b.cents(), a.doses() + b.doses(), a.unpriced() + b.unpriced());
	}

}
