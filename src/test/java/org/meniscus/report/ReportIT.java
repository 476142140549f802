package org.meniscus.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.header;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Clock;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.MockMvcSignIn;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ProductKind;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.MvcResult;
import org.springframework.web.context.WebApplicationContext;

@IntegrationTest
class ReportIT {

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	ClientService clients;

	@Autowired
	SeasonFixtures seasons;

	@Autowired
	ReportService reports;

	@Autowired
	Clock clock;

	@Autowired
	WebApplicationContext context;

	MockMvc pages;

	SeasonFixture season;

	PoolId pool;

	VisitRecord visit;

	/** Every test asks from an address of its own: openings are counted by address. */
	String address = "203.0.113." + UUID.randomUUID();

	@BeforeEach
	void oneVisit() {
		pages = MockMvcSignIn.mockMvc(context);
		season = seasons.newSeason();
		pool = season.pool("Rowan Halewood", "en", "Back yard", Sanitizer.CHLORINE_BY_HAND);
		season.visit(pool, season.today.minusDays(9), Situation.ROUTINE, Readings.builder().fc(1.23).ph(7.7).build(), "Earlier note");
		visit = season.visit(pool, season.today.minusDays(2), Situation.ROUTINE,
				Readings.builder().fc(0.5).ph(7.9).ta(95.0).cya(38.0).celsius(28.0).build(), "The heron is back.",
				season.dose(ProductKind.LIQUID_CHLORINE_125, 1_300), season.dose(ProductKind.MURIATIC_3145, 500));
	}

	@Test
	void sharedVisitIsReadableWithoutAnAccount() throws Exception {
		String token = share(season.office());
		MockHttpServletResponse answer = open("/r/" + token);
		assertThat(answer.getStatus()).isEqualTo(200);
		assertThat(answer.getContentAsString()).contains("Back yard", "Free chlorine", "out of range", "The heron is back.",
				"Free chlorine was 0.5 ppm, under its ideal range of 2.0 to 4.0.", "Liquid chlorine raises free chlorine at once",
				"pH was 7.9, over its ideal range of 7.4 to 7.6.", "Muriatic acid lowers pH", "82 °F", "No next visit is planned yet.",
				// muriatic acid and liquid chlorine: half an hour after two o'clock
				"From 2:30 PM on ", "you can clearly see the floor at the deepest point")
			.as("the acid brings pH to what it has to be")
			.doesNotContain("a test shows a pH");
		assertThat(answer.getHeader("X-Robots-Tag")).contains("noindex");
		assertThat(answer.getHeader("Referrer-Policy")).isEqualTo("no-referrer");
		assertThat(answer.getHeader("Cache-Control")).isEqualTo("no-store");
		assertThat(answer.getHeader("Content-Security-Policy")).contains("script-src 'self'", "style-src 'self'");
		assertThat(answer.getContentAsString()).as("nothing from elsewhere").doesNotContain("http://", "https://", "<script");
	}

	@Test
	void openingAReportSetsNoSessionAndNoCookie() throws Exception {
		String token = share(season.office());
		MvcResult read = pages.perform(get("/r/" + token).with(this::from)).andExpect(status().isOk()).andReturn();
		assertThat(read.getRequest().getSession(false)).as("no session").isNull();
		assertThat(read.getResponse().getCookies()).as("no cookie").isEmpty();
	}

	/** Tablets of 300 g, 90 % available chlorine, in 60 m³ leave 2.7 ppm of CYA a week: 129 g CYA for each 213 g Cl2, by stoichiometry. */
	@Test
	void forecastOfASlowLevelIsShownAsAnEstimate() throws Exception {
		PoolId tablets = season.pool("Ilse Falk", "en", "Courtyard", Sanitizer.TABLET_FEEDER);
		List<VisitRecord> stored = season.tabletSeason(tablets, 24);
		String token = tokenOf(make(season.office(), "/visits/" + stored.get(23).id() + "/share", UUID.randomUUID(), 30));
		Pattern sentence = Pattern.compile(
				"Stabilizer is expected to pass its upper limit of 100 (about [A-Z][a-z]{2} \\d+, 20\\d\\d \\([^)]+\\)|within the next week) if nothing is done; "
						+ "only fresh water");
		String html = open("/r/" + token).getContentAsString();
		Matcher said = sentence.matcher(html);
		assertThat(said.find()).as(html).isTrue();
		assertThat(html).contains("Trichlor gives its chlorine slowly");
		assertThat(open("/r/" + token + "?lang=es").getContentAsString())
			.contains("Estabilizador: si no se hace nada, se espera que supere");
		String early = tokenOf(make(season.office(), "/visits/" + stored.get(2).id() + "/share", UUID.randomUUID(), 30));
		assertThat(open("/r/" + early).getContentAsString()).as("later tests are not this visit's business").doesNotContain(said.group());
	}

	@Test
	void reportShowsNoInternalData() throws Exception {
		String html = open("/r/" + share(season.office())).getContentAsString();
		String standing = open("/r/" + standing()).getContentAsString();
		for (String page : List.of(html, standing)) {
			assertThat(page).contains("The heron is back.")
				.doesNotContain("4711", "gate", "owes us money", "pays late", "Lenadora", "Ortizano", "Ember Lane", "Rowan", "example.org",
						"555", "pump in the shed", "$", "17.33", "19.91", "Earlier note", "1.23", "1.2 ppm", season.owner.email(),
						"Ida Brook", visit.id().toString(), pool.value().toString());
		}
	}

	@Test
	void tokenIsShownOnceAndStoredOnlyAsHash() throws Exception {
		MvcResult made = make(season.office(), "/visits/" + visit.id() + "/share", UUID.randomUUID(), 7);
		String link = (String) made.getFlashMap().get("made");
		String token = link.substring(link.lastIndexOf('/') + 1);
		assertThat(token).matches("[A-Za-z0-9_-]{43}");
		assertThat((String) made.getFlashMap().get("mail")).startsWith("mailto:home%40example.org?subject=").contains(token);
		String again = page(season.office(), "/visits/" + visit.id() + "/share");
		assertThat(again).contains("Ida Brook", "opens").doesNotContain(token);
		String row = rows.inCompany(season.company, () -> rows.sql("SELECT l::text FROM report_link l WHERE company_id = :company")
			.param("company", season.company.value())
			.query(String.class)
			.single());
		assertThat(row).doesNotContain(token);
		assertThat(row).contains(java.util.HexFormat.of()
			.formatHex(TenantContext.sha256(java.util.Base64.getUrlDecoder().decode(token))));
	}

	@Test
	void allInvalidLinksGetTheSameAnswer() throws Exception {
		UUID revoked = UUID.randomUUID();
		String ended = tokenOf(make(season.office(), "/visits/" + visit.id() + "/share", revoked, 30));
		assertThat(open("/r/" + ended).getStatus()).isEqualTo(200);
		pages
			.perform(post("/visits/" + visit.id() + "/share/revoke").param("link", revoked.toString()).with(csrf())
				.with(MockMvcSignIn.signedInAs(season.office())))
			.andExpect(status().is3xxRedirection());
		UUID old = UUID.randomUUID();
		String expired = tokenOf(make(season.office(), "/visits/" + visit.id() + "/share", old, 30));
		expire(old);
		String replaced = standing();
		String archived = standing();
		TenantContext.runAs(season.company, () -> clients.archive(season.company, pool));
		String unknown = ReportLinkToken.generate();
		MockHttpServletResponse first = open("/r/" + unknown);
		assertThat(first.getStatus()).isEqualTo(404);
		assertThat(first.getContentAsString()).contains("This link does not open a report.");
		for (String token : List.of(ended, expired, replaced, archived, unknown, "x", "_".repeat(43), "=".repeat(43), "a".repeat(5000),
				visit.id().toString(), expired + "A", ended.substring(1), ended.toLowerCase(java.util.Locale.ROOT))) {
			MockHttpServletResponse answer = open("/r/" + token);
			assertThat(answer.getStatus()).as(token).isEqualTo(404);
			assertThat(answer.getContentAsString()).as(token).isEqualTo(first.getContentAsString());
			assertThat(headers(answer)).as(token).isEqualTo(headers(first));
			assertThat(open("/r/" + token + "/photos/0").getStatus()).as(token).isEqualTo(404);
		}
	}

	@Test
	void photosAreAvailableOnlyWhileTheLinkIs() throws Exception {
		byte[] jpeg = { (byte) 0xFF, (byte) 0xD8, 1, 2, 3 };
		season.photo(visit.id(), 0, jpeg);
		UUID id = UUID.randomUUID();
		String token = tokenOf(make(season.office(), "/visits/" + visit.id() + "/share", id, 7));
		assertThat(open("/r/" + token).getContentAsString()).contains("/r/" + token + "/photos/0", "Photo 1 of 1");
		MockHttpServletResponse photo = open("/r/" + token + "/photos/0");
		assertThat(photo.getContentAsByteArray()).isEqualTo(jpeg);
		assertThat(photo.getContentType()).isEqualTo("image/jpeg");
		assertThat(photo.getHeader("Cache-Control")).isEqualTo("no-store");
		assertThat(photo.getHeader("X-Robots-Tag")).contains("noindex");
		for (String other : List.of("1", "9", "-1", "10", "x", "0x0")) {
			assertThat(open("/r/" + token + "/photos/" + other).getStatus()).as(other).isEqualTo(404);
		}
		expire(id);
		assertThat(open("/r/" + token + "/photos/0").getStatus()).isEqualTo(404);
	}

	@Test
	void standingLinkShowsNewestVisitAndIsReplacedByANewOne() throws Exception {
		String first = standing();
		assertThat(open("/r/" + first).getContentAsString()).contains("The heron is back.");
		season.visit(pool, season.today, Situation.ROUTINE, Readings.builder().fc(3.0).ph(7.5).build(), "All is well.");
		assertThat(open("/r/" + first).getContentAsString()).contains("All is well.", "Every level we tested was in its ideal range.",
				"Nothing was added that calls for waiting.")
			.doesNotContain("The heron is back.");
		String second = standing();
		assertThat(open("/r/" + first).getStatus()).isEqualTo(404);
		assertThat(open("/r/" + second).getStatus()).isEqualTo(200);
		assertThat(page(season.office(), "/pools/" + pool.value() + "/share")).contains("Replace the link");
		List<ReportLink> links = TenantContext.runAs(season.company, () -> reports.links(season.office(), pool));
		assertThat(links).extracting(link -> link.state(clock.instant())).containsExactly(ReportLink.LinkState.OPEN,
				ReportLink.LinkState.REVOKED);
	}

	@Test
	void submittingTheFormTwiceMakesOneLink() throws Exception {
		UUID id = UUID.randomUUID();
		make(season.office(), "/visits/" + visit.id() + "/share", id, 30);
		MvcResult second = make(season.office(), "/visits/" + visit.id() + "/share", id, 30);
		assertThat(second.getFlashMap().get("made")).isNull();
		assertThat(second.getResponse().getRedirectedUrl()).contains("again");
		UUID standing = UUID.randomUUID();
		String token = tokenOf(make(season.office(), "/pools/" + pool.value() + "/share", standing, 90));
		make(season.office(), "/pools/" + pool.value() + "/share", standing, 90);
		assertThat(open("/r/" + token).getStatus()).as("the second sending ended nothing").isEqualTo(200);
	}

	@Test
	void technicianCanShareOnlyOwnVisits() throws Exception {
		SignedInUser own = season.technician.user();
		SignedInUser other = rows.person(season.company, Role.TECHNICIAN, "Tom Ashe").user();
		String path = "/visits/" + visit.id() + "/share";
		assertThat(open("/r/" + tokenOf(make(own, path, UUID.randomUUID(), 7))).getStatus()).isEqualTo(200);
		MvcResult made = make(own, path, UUID.randomUUID(), 7);
		assertThat((String) made.getFlashMap().get("mail")).as("no client's address for a technician").startsWith("mailto:?subject=");
		pages.perform(get(path).with(MockMvcSignIn.signedInAs(other))).andExpect(status().isNotFound());
		pages.perform(post(path + "/links").param("days", "7").with(csrf()).with(MockMvcSignIn.signedInAs(other)))
			.andExpect(status().isNotFound());
		pages.perform(get("/pools/" + pool.value() + "/share").with(MockMvcSignIn.signedInAs(own))).andExpect(status().isForbidden());
		SignedInUser stranger = companies.newCompany(org.meniscus.water.units.UnitSystem.US).user();
		pages.perform(get(path).with(MockMvcSignIn.signedInAs(stranger))).andExpect(status().isNotFound());
		pages.perform(get("/pools/" + pool.value() + "/share").with(MockMvcSignIn.signedInAs(stranger))).andExpect(status().isNotFound());
		UUID link = UUID.randomUUID();
		String token = tokenOf(make(season.office(), path, link, 7));
		pages.perform(post(path + "/revoke").param("link", link.toString()).with(csrf()).with(MockMvcSignIn.signedInAs(stranger)))
			.andExpect(status().isNotFound());
		assertThat(open("/r/" + token).getStatus()).isEqualTo(200);
	}

	@Test
	void unknownNumberOfDaysIsRejected() throws Exception {
		for (String days : List.of("", "0", "365", "100000", "soon", "-7")) {
			String html = pages
				.perform(post("/visits/" + visit.id() + "/share/links").param("link", UUID.randomUUID().toString()).param("days", days)
					.with(csrf()).with(MockMvcSignIn.signedInAs(season.office())))
				.andExpect(status().isOk())
				.andReturn().getResponse().getContentAsString();
			assertThat(html).as(days).contains("days-error");
		}
		assertThat(TenantContext.runAs(season.company, () -> reports.links(season.office(), visit.id()))).isEmpty();
	}

	@Test
	void reportIsInTheClientsLanguageUnlessAnotherIsRequested() throws Exception {
		PoolId alberca = season.pool("Marisol Quintero", "es", "Patio", Sanitizer.CHLORINE_BY_HAND);
		VisitRecord stored = season.visit(alberca, season.today, Situation.GREEN_ALGAE_LIGHT, Readings.builder().fc(0.2).ph(7.4).build(),
				null,
				season.dose(ProductKind.CAL_HYPO_65, 900));
		String token = tokenOf(make(season.office(), "/visits/" + stored.id() + "/share", UUID.randomUUID(), 7));
		assertThat(open("/r/" + token).getContentAsString()).contains("lang=\"es\"", "Contra las algas verdes.", "Lo que medimos",
				"fuera de rango", "Todavía no hay próxima visita prevista.", "cloro libre de 4.0 ppm o menos")
			.doesNotContain("Against", "??");
		assertThat(open("/r/" + token + "?lang=en").getContentAsString()).contains("lang=\"en\"", "Against green algae.",
				"Closed to swimmers until a new test or look. Please stay out of the water until we tell you that it is ready.",
				"that test is at least 8 hours after our visit", "free chlorine of 4.0 ppm or less")
			.as("eight hours after two o'clock would be a promise")
			.doesNotContain("10:00 PM");
		assertThat(open("/r/" + token + "?lang=%3Cb%3E").getContentAsString()).contains("lang=\"es\"");
	}

	@Test
	void thirtyOpeningsAMinutePerAddressAreAllowed() throws Exception {
		String token = share(season.office());
		for (int n = 0; n < 30; n++) {
			assertThat(open("/r/" + ((n % 2 == 0) ? token : ReportLinkToken.generate())).getStatus()).isIn(200, 404);
		}
		pages.perform(get("/r/" + token).with(this::from)).andExpect(status().isTooManyRequests())
			.andExpect(header().string("Retry-After", "60"));
		address = "198.51.100.7." + UUID.randomUUID();
		assertThat(open("/r/" + token).getStatus()).isEqualTo(200);
	}

	private String share(SignedInUser who) throws Exception {
		return tokenOf(make(who, "/visits/" + visit.id() + "/share", UUID.randomUUID(), 30));
	}

	private String standing() throws Exception {
		return tokenOf(make(season.office(), "/pools/" + pool.value() + "/share", UUID.randomUUID(), 180));
	}

	private MvcResult make(SignedInUser who, String path, UUID link, int days) throws Exception {
		return pages
			.perform(post(path + "/links").param("link", link.toString()).param("days", String.valueOf(days)).with(csrf())
				.with(MockMvcSignIn.signedInAs(who)))
			.andExpect(status().is3xxRedirection())
			.andReturn();
	}

	private static String tokenOf(MvcResult made) {
		String link = (String) made.getFlashMap().get("made");
		return link.substring(link.lastIndexOf('/') + 1);
	}

	private void expire(UUID link) {
		rows.inCompany(season.company, () -> rows.sql("UPDATE report_link SET expires_at = :now WHERE company_id = :company AND id = :id")
			.param("now", java.sql.Timestamp.from(clock.instant()))
			.param("company", season.company.value())
			.param("id", link)
			.update());
	}

	private MockHttpServletResponse open(String path) throws Exception {
		return pages.perform(get(java.net.URI.create(path)).with(this::from)).andReturn().getResponse();
	}

	private org.springframework.mock.web.MockHttpServletRequest from(org.springframework.mock.web.MockHttpServletRequest request) {
		request.setRemoteAddr(address);
		return request;
	}

	private String page(SignedInUser who, String path) throws Exception {
		return pages.perform(get(path).with(MockMvcSignIn.signedInAs(who))).andExpect(status().isOk()).andReturn().getResponse()
			.getContentAsString();
	}

	private static Map<String, List<String>> headers(MockHttpServletResponse answer) {
		Map<String, List<String>> headers = new java.util.TreeMap<>();
		answer.getHeaderNames().forEach(name -> headers.put(name, answer.getHeaders(name)));
		return headers;
	}

}
