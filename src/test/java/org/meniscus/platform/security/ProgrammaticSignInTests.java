package org.meniscus.platform.security;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.Objects;
import java.util.UUID;

import jakarta.servlet.http.HttpSession;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.mock.web.MockHttpSession;
import org.springframework.security.core.GrantedAuthority;
import org.springframework.security.core.context.SecurityContext;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;

class ProgrammaticSignInTests {

	private final MockHttpServletRequest request = new MockHttpServletRequest();

	@AfterEach
	void signedOut() {
		SecurityContextHolder.clearContext();
	}

	private static SignedInUser user(Role role) {
		return new SignedInUser(new CompanyId(UUID.randomUUID()), new PersonId(UUID.randomUUID()), role, "Theo Ashby");
	}

	private HttpSession signIn(SignedInUser user) {
		new ProgrammaticSignIn().signIn(user, request, new MockHttpServletResponse());
		return Objects.requireNonNull(request.getSession(false));
	}

	/** Session fixation: an id that somebody else has planted must not become the id of a signed-in session. */
	@Test
	void sessionFromBeforeSignInIsNotKept() {
		MockHttpSession before = (MockHttpSession) Objects.requireNonNull(request.getSession(true));
		before.setAttribute("planted", "by somebody else");
		HttpSession after = signIn(user(Role.OWNER));
		assertThat(before.isInvalid()).isTrue();
		assertThat(after.getId()).isNotEqualTo(before.getId());
		assertThat(after.getAttribute("planted")).isNull();
	}

	@Test
	void sessionKnowsTheUserAndTheRole() {
		SignedInUser user = user(Role.OFFICE);
		SecurityContext kept = (SecurityContext) signIn(user)
			.getAttribute(HttpSessionSecurityContextRepository.SPRING_SECURITY_CONTEXT_KEY);
		assertThat(kept.getAuthentication().getPrincipal()).isEqualTo(user);
		assertThat(kept.getAuthentication().isAuthenticated()).isTrue();
		assertThat(kept.getAuthentication().getAuthorities()).extracting(GrantedAuthority::getAuthority).containsExactly("ROLE_OFFICE");
		assertThat(SecurityContextHolder.getContext().getAuthentication()).isSameAs(kept.getAuthentication());
	}

	@ParameterizedTest
	@CsvSource({ "TECHNICIAN, 14", "OFFICE, 2", "OWNER, 2" })
	void sessionOfATechnicianLastsAWorkingDayAndOthersTwoHours(Role role, int hours) {
		assertThat(signIn(user(role)).getMaxInactiveInterval()).isEqualTo((int) Duration.ofHours(hours).toSeconds());
	}

}
