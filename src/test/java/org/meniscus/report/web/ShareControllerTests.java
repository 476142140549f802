package org.meniscus.report.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.meniscus.support.MockMvcSignIn.signedInAs;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.ArgumentMatchers.anyInt;
import static org.mockito.ArgumentMatchers.eq;
import static org.mockito.Mockito.never;
import static org.mockito.Mockito.verify;
import static org.mockito.Mockito.verifyNoInteractions;
import static org.mockito.Mockito.when;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.client.ClientDetails;
import org.meniscus.client.ClientId;
import org.meniscus.client.ClientRecord;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSummary;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.platform.security.SecurityConfiguration;
import org.meniscus.report.ReportLink;
import org.meniscus.report.ReportService;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.units.Volume;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.boot.webmvc.test.autoconfigure.WebMvcTest;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Import;
import org.springframework.test.context.bean.override.mockito.MockitoBean;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.test.web.servlet.assertj.MvcTestResultAssert;

/** Making and ending the link to a pool's newest report. */
@WebMvcTest(ShareController.class)
@Import(SecurityConfiguration.class)
class ShareControllerTests {

	private static final CompanyId COMPANY = new CompanyId(UUID.randomUUID());

	private static final Instant NOW = Instant.parse("2026-11-25T17:00:00Z");

	private static final PoolId POOL = new PoolId(UUID.randomUUID());

	private static final ClientId CLIENT = new ClientId(UUID.randomUUID());

	private static final UUID LINK = UUID.randomUUID();

	private static final UUID MADE_HERE = UUID.randomUUID();

	private static final String SHARE = "/pools/" + POOL + "/share";

	private static final PoolSummary SUMMARY = new PoolSummary(POOL, CLIENT, "Rowan Hale", "Back yard", "5 Juniper Lane", "Alder Falls",
			"85001", null, null, PoolFacts.of(Volume.ofLitres(50_000), VolumeCertainty.MEASURED, BodyOfWater.POOL, Surface.PLASTER, false,
					Sanitizer.CHLORINE_BY_HAND),
			"", false);

	@TestConfiguration
	static class FixedTime {

		@Bean
		Clock clock() {
			return Clock.fixed(NOW, ZoneOffset.UTC);
		}

	}

	@Autowired
	MockMvcTester mvc;

	@MockitoBean
	ReportService reports;

	@MockitoBean
	ClientService clients;

	@MockitoBean
	CompanyService companies;

	@MockitoBean
	UuidGenerator ids;

	@BeforeEach
	void poolOfAClientWithAnAddress() {
		when(companies.settings(COMPANY)).thenReturn(TestCompanies.settings(COMPANY));
		when(reports.pool(any(), eq(POOL))).thenReturn(SUMMARY);
		when(clients.pool(COMPANY, POOL)).thenReturn(SUMMARY);
		when(ids.next()).thenReturn(MADE_HERE);
		clientSpeaks("es", "rowan@example.org");
	}

	@ParameterizedTest
	@CsvSource({ ",2026-12-25T16:59:59Z,End it now", ",2026-11-25T17:00:00Z,run out", "2026-11-20T10:00:00Z,2026-12-25T17:00:00Z,ended" })
	void linkSaysWhetherItOpens(Instant revoked, Instant expires, String words) {
		when(reports.links(any(), eq(POOL)))
			.thenReturn(List.of(new ReportLink(LINK, Instant.parse("2026-11-25T03:00:00Z"), "Mae Linden", expires, revoked)));
		open(Role.OFFICE).hasStatusOk()
			.bodyText()
			.as("made at eight in the evening before, at the company")
			.contains("Nov 24, 2026 8:00 PM", "Mae Linden", words)
			.satisfies(page -> assertThat(page.contains("End it now")).isEqualTo(words.equals("End it now")))
			.satisfies(page -> assertThat(page.contains("Replace the link")).isEqualTo(words.equals("End it now")));
	}

	@Test
	void formOffersHalfAYearAndCarriesAnIdOfItsOwn() {
		open(Role.OWNER).hasStatusOk()
			.bodyText()
			.contains("value=\"" + MADE_HERE + "\"")
			.containsPattern("<option[^>]*value=\"180\"[^>]*selected[^>]*>180 days");
	}

	@ParameterizedTest
	@ValueSource(strings = { "", "31", "soon", "-180" })
	void anyOtherTimeIsRefusedAndMarked(String days) {
		assertThat(post("/links", Role.OFFICE, "link", LINK.toString(), "days", days)).hasStatusOk()
			.bodyText()
			.contains("id=\"days-error\"", "value=\"" + LINK + "\"");
		verify(reports, never()).share(any(), any(), any(PoolId.class), anyInt());
	}

	@Test
	void madeLinkIsHandedOverOnceWithALetterInTheLanguageOfTheClient() {
		when(reports.share(any(), eq(LINK), eq(POOL), eq(180))).thenReturn(Optional.of("secret"));
		MvcTestResult answer = post("/links", Role.OFFICE, "link", LINK.toString(), "days", "180");
		assertThat(answer).hasStatus(302).hasRedirectedUrl(SHARE + "?saved");
		assertThat(answer).flash().hasEntrySatisfying("made", link -> assertThat(link).isEqualTo("http://localhost/r/secret"));
		assertThat(answer).flash()
			.hasEntrySatisfying("mail", mail -> assertThat((String) mail).startsWith("mailto:rowan%40example.org?subject=Informe")
				.contains("Alder%20Pools", "http%3A%2F%2Flocalhost%2Fr%2Fsecret"));
	}

	@Test
	void letterToAClientWithoutAnAddressHasNone() {
		clientSpeaks("en", null);
		when(reports.share(any(), eq(LINK), eq(POOL), eq(90))).thenReturn(Optional.of("secret"));
		assertThat(post("/links", Role.OWNER, "link", LINK.toString(), "days", "90")).flash()
			.hasEntrySatisfying("mail", mail -> assertThat((String) mail).startsWith("mailto:?subject=Your%20pool%20report"));
	}

	@Test
	void formSentTwiceShowsNoSecondLink() {
		when(reports.share(any(), eq(LINK), eq(POOL), eq(180))).thenReturn(Optional.empty());
		MvcTestResult answer = post("/links", Role.OFFICE, "link", LINK.toString(), "days", "180");
		assertThat(answer).hasRedirectedUrl(SHARE + "?again");
		assertThat(answer).flash().doesNotContainKey("made");
	}

	@ParameterizedTest
	@ValueSource(strings = { "", "no-id" })
	void formWithoutAnIdGetsOne(String link) {
		when(reports.share(any(), eq(MADE_HERE), eq(POOL), eq(180))).thenReturn(Optional.of("secret"));
		assertThat(post("/links", Role.OFFICE, "link", link, "days", "180")).hasRedirectedUrl(SHARE + "?saved");
	}

	@Test
	void linkIsEnded() {
		assertThat(post("/revoke", Role.OFFICE, "link", LINK.toString())).hasRedirectedUrl(SHARE + "?revoked");
		verify(reports).revoke(any(), eq(POOL), eq(LINK));
	}

	@Test
	void technicianMakesNoStandingLinks() {
		open(Role.TECHNICIAN).hasStatus(403);
		assertThat(post("/links", Role.TECHNICIAN, "link", LINK.toString(), "days", "180")).hasStatus(403);
		assertThat(post("/revoke", Role.TECHNICIAN, "link", LINK.toString())).hasStatus(403);
		verifyNoInteractions(reports);
	}

	private void clientSpeaks(String language, String email) {
		when(clients.client(COMPANY, CLIENT))
			.thenReturn(new ClientRecord(CLIENT, 0, new ClientDetails("Rowan Hale", email, null, language, null), false));
	}

	private MvcTestResultAssert open(Role role) {
		return assertThat(mvc.get().uri(SHARE).with(signedInAs(user(role))).exchange());
	}

	private MvcTestResult post(String action, Role role, String... namesAndValues) {
		var request = mvc.post().uri(SHARE + action).with(signedInAs(user(role))).with(csrf());
		for (int i = 0; i < namesAndValues.length; i += 2) {
			request = request.param(namesAndValues[i], namesAndValues[i + 1]);
		}
		return request.exchange();
	}

	private static SignedInUser user(Role role) {
		return new SignedInUser(COMPANY, new PersonId(UUID.randomUUID()), role, "Mae Linden");
	}

}
