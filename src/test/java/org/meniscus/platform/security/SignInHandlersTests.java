package org.meniscus.platform.security;

import static org.assertj.core.api.Assertions.assertThat;
import static org.meniscus.support.MockMvcSignIn.signedInAs;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.Mockito.when;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import java.time.Duration;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.support.TestCompanies;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.boot.webmvc.test.autoconfigure.WebMvcTest;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Import;
import org.springframework.http.MediaType;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.security.authentication.LockedException;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.stereotype.Controller;
import org.springframework.test.context.bean.override.mockito.MockitoBean;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.ResponseBody;

/** Who is let in, for how long, and where somebody is sent whose session has ended. */
@WebMvcTest(SignInHandlersTests.Page.class)
@Import({ SecurityConfiguration.class, SignInHandlersTests.Page.class })
class SignInHandlersTests {

	@Controller
	static class Page {

		@GetMapping("/page")
		@ResponseBody
		String page() {
			return "inside";
		}

		@PostMapping("/page")
		@ResponseBody
		String send() {
			return "sent";
		}

	}

	@TestConfiguration
	static class Accounts {

		/** The password is the role, "locked" or anything else. */
		@Bean
		AuthenticationProvider accounts() {
			return new AuthenticationProvider() {

				@Override
				public Authentication authenticate(Authentication attempt) {
					String password = String.valueOf(attempt.getCredentials());
					if (password.equals("locked")) {
						throw new LockedException("too often");
					}
					for (Role role : Role.values()) {
						if (password.equals(role.name())) {
							return ProgrammaticSignIn.authenticationOf(user(role));
						}
					}
					throw new BadCredentialsException("wrong");
				}

				@Override
				public boolean supports(Class<?> type) {
					return UsernamePasswordAuthenticationToken.class.isAssignableFrom(type);
				}

			};
		}

	}

	@Autowired
	MockMvcTester mvc;

	/** For the model of every page. */
	@MockitoBean
	CompanyService companies;

	@BeforeEach
	void everyCompanyHasSettings() {
		when(companies.settings(any())).thenAnswer(call -> TestCompanies.settings(call.getArgument(0)));
	}

	@ParameterizedTest
	@CsvSource({ "TECHNICIAN, 14", "OFFICE, 2", "OWNER, 2" })
	void sessionsLieIdleAWorkingDayOfATechnicianAndTwoHoursElse(Role role, int hours) {
		MvcTestResult answer = signIn(role.name());
		assertThat(answer).hasStatus(302).hasRedirectedUrl("/");
		assertThat(answer.getRequest().getSession().getMaxInactiveInterval()).isEqualTo(hours * 3600);
	}

	@ParameterizedTest
	@CsvSource({ "wrong, BAD_CREDENTIALS", "locked, LOCKED" })
	void refusedSignInSaysWhyAndNoMore(String password, String reason) {
		assertThat(signIn(password)).hasStatus(302).hasRedirectedUrl("/signin?refused=" + reason);
	}

	@Test
	void pageOfSomebodyNotSignedInLeadsToTheSignIn() {
		assertThat(mvc.get().uri("/page").accept(MediaType.TEXT_HTML).exchange()).hasStatus(302).hasRedirectedUrl("/signin");
		assertThat(mvc.get().uri("/page").with(signedInAs(user(Role.TECHNICIAN))).exchange()).hasStatusOk().bodyText().isEqualTo("inside");
	}

	@Test
	void exchangeInsideAPageIsSentToTheSignInAsAWhole() {
		assertThat(mvc.get().uri("/page").header("HX-Request", "true").exchange()).hasStatus(401)
			.hasHeader("HX-Redirect", "/signin?expired");
	}

	@Test
	void formSentAfterItsSessionEndedLeadsToTheSignIn() {
		assertThat(mvc.post().uri("/page").exchange()).hasStatus(302).hasRedirectedUrl("/signin?expired");
		assertThat(mvc.post().uri("/page").header("HX-Request", "true").exchange()).hasStatus(401)
			.hasHeader("HX-Redirect", "/signin?expired");
	}

	@Test
	void formWithoutItsTokenIsForbiddenToWhoIsSignedIn() {
		assertThat(mvc.post().uri("/page").with(signedInAs(user(Role.OFFICE))).exchange()).hasStatus(403);
		assertThat(mvc.post().uri("/page").with(signedInAs(user(Role.OFFICE))).with(csrf()).exchange()).hasStatusOk();
	}

	@Test
	void everyAnswerForbidsForeignScriptsFramesAndDevices() {
		assertThat(mvc.get().uri("/page").with(signedInAs(user(Role.OFFICE))).exchange())
			.hasHeader("Content-Security-Policy", SecurityConfiguration.CONTENT_SECURITY_POLICY)
			.hasHeader("Referrer-Policy", "same-origin")
			.hasHeader("Permissions-Policy", "geolocation=(), microphone=(), payment=()")
			.hasHeader("X-Content-Type-Options", "nosniff");
	}

	@Test
	void signingOutEndsTheSessionAndItsCookie() {
		MvcTestResult answer = mvc.post().uri("/signout").with(signedInAs(user(Role.OWNER))).with(csrf()).exchange();
		assertThat(answer).hasStatus(302).hasRedirectedUrl("/signin?out");
		assertThat(answer).cookies().hasMaxAge("SESSION", Duration.ZERO);
	}

	private MvcTestResult signIn(String password) {
		return mvc.post().uri("/signin").with(csrf()).param("email", "mae@example.org").param("password", password).exchange();
	}

	private static SignedInUser user(Role role) {
		return new SignedInUser(new CompanyId(UUID.randomUUID()), new PersonId(UUID.randomUUID()), role, "Mae Linden");
	}

}
