package org.meniscus.incident;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.meniscus.support.MockMvcSignIn.signedInAs;
import static org.meniscus.support.TestRows.columns;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.time.Duration;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.Map;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.MockMvcSignIn;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.visit.VisitId;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.web.context.WebApplicationContext;

/** The incident log: from stored visits, with what only people know. */
@IntegrationTest
class IncidentPagesIT {

	private static final LocalDate DAY = LocalDate.of(2026, 7, 14);

	@Autowired
	WebApplicationContext context;

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	IncidentService incidents;

	MockMvc pages;

	SignedInUser owner;

	CompanyId company;

	UUID client;

	UUID visit;

	@BeforeEach
	void oneIncident() {
		pages = MockMvcSignIn.mockMvc(context);
		owner = companies.newCompany(UnitSystem.US).user();
		company = owner.company();
		client = rows.client(company, "Rowan Hale", Map.of());
		UUID product = rows.product(company, "LIQUID_CHLORINE_125", "Liquid chlorine", 12.5, "ML", Map.of());
		SignedInUser lena = rows.person(company, Role.TECHNICIAN, "Lena Ortiz").user();
		UUID pool = rows.pool(company, client, "Back yard", Map.of());
		visit = rows.visit(company, pool, lena.person(), DAY,
				columns("situation", "DIARRHOEA", "fc_ppm", 1.5, "ph", 7.4, "cya_ppm", 30, "cya_qualifier", "<", "tasks",
						new String[]{ "SKIMMED" }));
		rows.dose(company, visit, 0, product, 3785.411784, null);
		rows.visit(company, pool, lena.person(), DAY.plusDays(7), columns("fc_ppm", 3.0));
		UUID other = rows.pool(company, rows.client(company, "Ada Finch", Map.of()), "Spa", Map.of());
		rows.visit(company, other, lena.person(), DAY.minusMonths(2), columns("situation", "BLOOD"));
	}

	@Test
	void monthHoldsWhatVisitsRecordedAndSaysWhatIsMissing() throws Exception {
		String newest = page("/incidents");
		assertThat(newest).contains("Incident log, July 2026", "Rowan Hale, Back yard", "by Lena Ortiz", "1.5 ppm", "&lt; 30 ppm",
				"Liquid chlorine: 128 fl oz", "Incomplete", "/visits/" + visit + "/incident")
			.doesNotContain("Ada Finch");
		assertThat(page("/incidents?month=2026-05")).contains("Ada Finch, Spa", "not tested").doesNotContain("Back yard");
		assertThat(page("/incidents?month=2026-05&client=" + client)).contains("No incident in May 2026");
		assertThat(page("/incidents?month=x")).contains("Incident log, July 2026");
		assertThat(page("/visits/" + visit)).contains("/visits/" + visit + "/incident");
		assertThat(page("/clients/" + client)).contains("/incidents?client=" + client);
	}

	@Test
	void clientWithoutIncidentHasAnEmptySheet() throws Exception {
		UUID quiet = rows.client(company, "Noor Vale", Map.of());
		assertThat(page("/incidents?client=" + quiet)).contains("No incident in", "A visit comes here when")
			.doesNotContain("<article", "Signature");
	}

	@Test
	void timesAreReadAtTheCompanysPlaceAndStoredOnce() throws Exception {
		Map<String, String> typed = Map.of("version", "0", "closedAt", "2026-07-14T05:00", "heldFrom", "2026-07-14T08:00", "heldUntil",
				"2026-07-15T12:00", "fcFrom", "20", "fcUntil", "20.5", "phUntil", "7.4", "reopenedAt", "2026-07-15T18:30", "person",
				"Ines Marlow");
		assertThat(send(typed).getRedirectedUrl()).isEqualTo("/incidents?month=2026-07&saved");
		assertThat(send(typed).getRedirectedUrl()).as("sent twice").isEqualTo("/incidents?month=2026-07&saved");
		Incident stored = incident();
		assertThat(stored.version()).isOne();
		assertThat(stored.record().contactTime()).contains(Duration.ofHours(28));
		assertThat(stored.record().incomplete()).isFalse();
		assertThat(page("/incidents")).contains("Jul 14, 2026, 5:00 AM", "Jul 15, 2026, 12:00 PM · FC 20.5 ppm · pH 7.4", "28 h",
				"Ines Marlow")
			.doesNotContain("Incomplete");
		assertThat(page("/visits/" + visit + "/incident")).contains("value=\"2026-07-15T18:30\"", "value=\"20.5\"");
	}

	@Test
	void changedMeanwhileIsNotOverwritten() throws Exception {
		send(Map.of("version", "0", "person", "Ines Marlow"));
		String refused = send(Map.of("version", "0", "person", "Somebody else")).getContentAsString();
		assertThat(refused).contains("Somebody else changed this", "value=\"Somebody else\"");
		assertThat(incident().record().person()).isEqualTo("Ines Marlow");
		assertThatThrownBy(() -> TenantContext.runAs(company,
				() -> incidents.record(owner, new VisitId(visit), 0, IncidentRecord.NOTHING)))
			.isInstanceOf(StaleVersion.class);
		assertThat(send(Map.of("version", "1", "person", "Somebody else")).getRedirectedUrl()).contains("saved");
		assertThat(incident().version()).isEqualTo(2);
	}

	@ParameterizedTest
	@CsvSource({ "closedAt, 2999-01-01T00:00, This has not come yet", "closedAt, 2026-01-01T00:00, more than a month away",
			"closedAt, soon, Please enter a day and a time", "fcFrom, 101, a figure from 0 to 100", "fcUntil, much, Please enter a number",
			"phUntil, 3, a figure from 4 to 10", "heldUntil, 2026-07-14T07:00, This is before the start",
			"reopenedAt, 2026-07-14T04:00, This is before the pool was closed" })
	void wrongInputIsRefusedBesideItsField(String field, String value, String message) throws Exception {
		Map<String, String> typed = new java.util.HashMap<>(
				Map.of("version", "0", "closedAt", "2026-07-14T05:00", "heldFrom", "2026-07-14T08:00"));
		typed.put(field, value);
		assertThat(send(typed).getContentAsString()).containsPattern("id=\"" + field + "-error\"[^>]*>[^<]*" + message)
			.contains("value=\"" + value + "\"");
		assertThat(incident().version()).isZero();
	}

	@Test
	void routineVisitIsNoIncident() throws Exception {
		UUID routine = rows.visit(company, rows.pool(company, client, "Spa", Map.of()), owner.person(), DAY, Map.of());
		assertThat(pages.perform(get("/visits/" + routine + "/incident").with(signedInAs(owner))).andReturn().getResponse().getStatus())
			.isEqualTo(404);
		assertThat(page("/visits/" + routine)).doesNotContain("/incident\"");
		assertThat(TenantContext.runAs(company, () -> incidents.month(company, YearMonth.from(DAY), null))).hasSize(1);
	}

	private Incident incident() {
		return TenantContext.runAs(company, () -> incidents.incident(company, new VisitId(visit)));
	}

	private MockHttpServletResponse send(Map<String, String> fields) throws Exception {
		MockHttpServletRequestBuilder request = post("/visits/" + visit + "/incident").with(signedInAs(owner)).with(csrf());
		fields.forEach(request::param);
		return pages.perform(request).andReturn().getResponse();
	}

	private String page(String path) throws Exception {
		return pages.perform(get(path).with(signedInAs(owner))).andReturn().getResponse().getContentAsString();
	}

}
