package org.meniscus.platform.security;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantContext;
import org.meniscus.platform.TenantContext.TenantScope;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.context.SecurityContextHolder;

class TenantFilterTests {

	private static final CompanyId COMPANY = new CompanyId(UUID.randomUUID());

	private final List<Optional<TenantScope>> scopes = new ArrayList<>();

	@AfterEach
	void signedOut() {
		SecurityContextHolder.clearContext();
	}

	private void filter(FilterChain chain) throws ServletException, IOException {
		new TenantFilter().doFilter(new MockHttpServletRequest(), new MockHttpServletResponse(), chain);
	}

	private static void signIn(Object principal) {
		SecurityContextHolder.getContext().setAuthentication(UsernamePasswordAuthenticationToken.authenticated(principal, null, List.of()));
	}

	private static SignedInUser user() {
		return new SignedInUser(COMPANY, new PersonId(UUID.randomUUID()), Role.OFFICE, "Olga Finch");
	}

	@Test
	void requestRunsForTheCompanyOfTheUserAndForNoneAfterwards() throws Exception {
		signIn(user());
		filter((request, response) -> scopes.add(TenantContext.current()));
		assertThat(scopes).containsExactly(Optional.of(new TenantScope.CompanyScope(COMPANY)));
		assertThat(TenantContext.current()).isEmpty();
	}

	@Test
	void requestOfAStrangerRunsForNoCompany() throws Exception {
		filter((request, response) -> scopes.add(TenantContext.current()));
		signIn("anonymousUser");
		filter((request, response) -> scopes.add(TenantContext.current()));
		assertThat(scopes).containsExactly(Optional.empty(), Optional.empty());
	}

	@Test
	void failureOfTheRequestComesThroughAsItIs() {
		signIn(user());
		IOException io = new IOException("client gone");
		assertThatThrownBy(() -> filter((request, response) -> {
			throw io;
		})).isSameAs(io);
		ServletException servlet = new ServletException("no such page");
		assertThatThrownBy(() -> filter((request, response) -> {
			throw servlet;
		})).isSameAs(servlet);
		assertThat(TenantContext.current()).isEmpty();
	}

	@Test
	void errorPagesAreFilteredToo() {
		assertThat(new TenantFilter().shouldNotFilterErrorDispatch()).isFalse();
	}

}
