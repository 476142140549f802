package org.meniscus.spend.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.meniscus.support.MockMvcSignIn.signedInAs;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.Mockito.verify;
import static org.mockito.Mockito.verifyNoInteractions;
import static org.mockito.Mockito.when;

import java.math.BigDecimal;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.SecurityConfiguration;
import org.meniscus.spend.DoseCost;
import org.meniscus.spend.Spend;
import org.meniscus.spend.SpendBreakdown;
import org.meniscus.spend.SpendService;
import org.meniscus.support.TestCompanies;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.boot.webmvc.test.autoconfigure.WebMvcTest;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Import;
import org.springframework.test.context.bean.override.mockito.MockitoBean;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResultAssert;

/** The period asked for, what is refused of it, and the files. */
@WebMvcTest(SpendController.class)
@Import(SecurityConfiguration.class)
class SpendControllerTests {

	private static final CompanyId COMPANY = new CompanyId(UUID.randomUUID());

	/** The evening before in Phoenix: seven hours behind UTC. */
	private static final Instant NOW = Instant.parse("2026-11-25T03:00:00Z");

	private static final LocalDate TODAY = LocalDate.of(2026, 11, 24);

	private static final LocalDate FROM = LocalDate.of(2026, 3, 15);

	private static final LocalDate TO = LocalDate.of(2026, 4, 10);

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
	SpendService spending;

	@MockitoBean
	CompanyService companies;

	@BeforeEach
	void fortyDollarsOnOnePool() {
		when(companies.settings(COMPANY)).thenReturn(TestCompanies.settings(COMPANY));
		when(spending.between(any(), any(), any())).thenAnswer(call -> {
			Spend.SpendTotal total = new Spend.SpendTotal(4000, 5, 0);
			return new Spend(call.getArgument(1), call.getArgument(2), total, Map.of(SpendBreakdown.POOL,
					List.of(new Spend.BreakdownLine(UUID.randomUUID(), null, "Back yard", "Ida Brook", total, 10_000L))), List.of());
		});
	}

	@Test
	void lastTwelveMonthsUntilTodayAtTheCompanyAreShownByDefault() {
		open("/spend").hasStatusOk()
			.bodyText()
			.contains("40.00", "name=\"from\" value=\"2025-12-01\"", "name=\"to\" value=\"2026-11-24\"");
		verify(spending).between(COMPANY, LocalDate.of(2025, 12, 1), TODAY);
	}

	@Test
	void periodAskedForIsShown() {
		open("/spend?by=pool&from=2026-03-15&to=2026-04-10").hasStatusOk().bodyText().contains("Back yard", "60.00");
		verify(spending).between(COMPANY, FROM, TO);
	}

	@Test
	void periodThatEndsBeforeItBeginsIsMarkedAndKeptAndTheUsualOneShown() {
		open("/spend?from=2026-05-01&to=2026-04-30").hasStatusOk()
			.bodyText()
			.contains("id=\"to-error\"", "value=\"2026-05-01\"", "value=\"2026-04-30\"");
		verify(spending).between(COMPANY, LocalDate.of(2025, 12, 1), TODAY);
	}

	@Test
	void breakdownIsAFileNamedAfterItsPeriod() {
		open("/spend.csv?by=pool&from=2026-03-15&to=2026-04-10").hasStatusOk()
			.hasContentTypeCompatibleWith("text/csv;charset=UTF-8")
			.hasHeader("Content-Disposition", "attachment; filename=\"spend-pool-2026-03-15-2026-04-10.csv\"")
			.bodyText()
			.contains("Ida Brook,Back yard,5,0,40.00,USD,100.00,60.00");
	}

	@Test
	void dosesAreAFileInUnitsOfTheCompany() {
		when(spending.doses(COMPANY, FROM, TO)).thenReturn(List.of(new DoseCost(FROM, "Ida Brook", "Back yard", "Theo Ashby", "Salt",
				new BigDecimal("907.18474"), false, 1234, UUID.randomUUID())));
		open("/spend.csv?by=doses&from=2026-03-15&to=2026-04-10").hasStatusOk()
			.hasHeader("Content-Disposition", "attachment; filename=\"spend-doses-2026-03-15-2026-04-10.csv\"")
			.bodyText()
			.contains("2026-03-15,Ida Brook,Back yard,Theo Ashby,Salt,2.0000,lb,12.34,USD");
	}

	@Test
	void fileOfAWrongPeriodLeadsBackToThePage() {
		open("/spend.csv?from=2026-05-01&to=2026-04-30").hasStatus(302).hasHeader("Location", "/spend");
		verifyNoInteractions(spending);
	}

	@ParameterizedTest
	@EnumSource(mode = EnumSource.Mode.EXCLUDE, names = "OWNER")
	void onlyTheOwnerSeesSpend(Role role) {
		assertThat(mvc.get().uri("/spend").with(signedInAs(user(role)))).hasStatus(403);
		assertThat(mvc.get().uri("/spend.csv").with(signedInAs(user(role)))).hasStatus(403);
		verifyNoInteractions(spending);
	}

	private MvcTestResultAssert open(String address) {
		return assertThat(mvc.get().uri(address).with(signedInAs(user(Role.OWNER))).exchange());
	}

	private static SignedInUser user(Role role) {
		return new SignedInUser(COMPANY, new PersonId(UUID.randomUUID()), role, "Mae Linden");
	}

}
