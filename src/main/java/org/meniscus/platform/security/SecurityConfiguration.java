package org.meniscus.platform.security;

import java.io.IOException;

import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;

import org.meniscus.platform.SignedInUser;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.http.HttpStatus;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.authentication.InsufficientAuthenticationException;
import org.springframework.security.config.annotation.method.configuration.EnableMethodSecurity;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.AuthenticationException;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.crypto.argon2.Argon2PasswordEncoder;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.security.web.AuthenticationEntryPoint;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.security.web.access.AccessDeniedHandler;
import org.springframework.security.web.access.AccessDeniedHandlerImpl;
import org.springframework.security.web.access.intercept.AuthorizationFilter;
import org.springframework.security.web.authentication.SavedRequestAwareAuthenticationSuccessHandler;
import org.springframework.security.web.csrf.CsrfException;
import org.springframework.security.web.header.writers.ReferrerPolicyHeaderWriter.ReferrerPolicy;
import org.springframework.security.web.util.matcher.RequestHeaderRequestMatcher;

/** Who may come in, and what every answer carries. Finer rules stand on the controllers and in the features' doors. */
@Configuration(proxyBeanMethods = false)
@EnableMethodSecurity
public class SecurityConfiguration {

	static final String CONTENT_SECURITY_POLICY = "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; "
			+ "connect-src 'self'; worker-src 'self'; manifest-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; "
			+ "frame-ancestors 'none'";

	/** Open to anybody; everything else needs a sign-in. */
	static final String[] PUBLIC = { "/", "/signin", "/signup", "/join/**", "/r/**", "/css/**", "/js/**", "/icons/**",
			"/webjars/**", "/favicon.ico", "/robots.txt", "/error", "/health" };

	@Bean
	SecurityFilterChain securityFilterChain(HttpSecurity http) throws Exception {
		// the one AuthenticationProvider bean is found by itself; named here as well it would be asked twice
		return http.authorizeHttpRequests(requests -> requests.requestMatchers(PUBLIC).permitAll().anyRequest().authenticated())
			.formLogin(form -> form.loginPage("/signin")
				.usernameParameter("email")
				.successHandler(new SessionTimeoutSuccessHandler())
				.failureHandler((request, response, failure) -> response
					.sendRedirect(request.getContextPath() + "/signin?refused=" + SignInFailure.of(failure))))
			.logout(logout -> logout.logoutUrl("/signout").logoutSuccessUrl("/signin?out").deleteCookies("SESSION"))
			.exceptionHandling(handling -> handling.defaultAuthenticationEntryPointFor(new ExpiredSessionEntryPoint(),
					new RequestHeaderRequestMatcher("HX-Request", "true"))
				.accessDeniedHandler(new ExpiredSessionAccessDeniedHandler()))
			.headers(headers -> headers.contentSecurityPolicy(policy -> policy.policyDirectives(CONTENT_SECURITY_POLICY))
				.referrerPolicy(policy -> policy.policy(ReferrerPolicy.SAME_ORIGIN))
				.permissionsPolicyHeader(policy -> policy.policy("geolocation=(), microphone=(), payment=()")))
			.addFilterAfter(new TenantFilter(), AuthorizationFilter.class)
			.build();
	}

	/** Argon2id with 19 MiB, two passes: the least that the OWASP password storage sheet names. */
	@Bean
	PasswordEncoder passwordEncoder() {
		return new NormalizingPasswordEncoder(new Argon2PasswordEncoder(16, 32, 1, 19 * 1024, 2));
	}

	/** Goes where they wanted to, else to the start; and says how long the session may lie idle. */
	private static final class SessionTimeoutSuccessHandler extends SavedRequestAwareAuthenticationSuccessHandler {

		@Override
		public void onAuthenticationSuccess(HttpServletRequest request, HttpServletResponse response, Authentication authentication)
				throws IOException, ServletException {
			if (authentication.getPrincipal() instanceof SignedInUser user) {
				request.getSession().setMaxInactiveInterval((int) ProgrammaticSignIn.sessionTimeout(user.role()).toSeconds());
			}
			super.onAuthenticationSuccess(request, response, authentication);
		}

	}

	/** An exchange inside a page cannot follow a redirect to the sign-in page: it would paste it into the page. */
	private static final class ExpiredSessionEntryPoint implements AuthenticationEntryPoint {

		@Override
		public void commence(HttpServletRequest request, HttpServletResponse response, AuthenticationException failure)
				throws IOException {
			response.setStatus(HttpStatus.UNAUTHORIZED.value());
			response.setHeader("HX-Redirect", request.getContextPath() + "/signin?expired");
		}

	}

	/**
	 * A form that is sent after its session has ended fails at its token, before anybody asks who sent it: that is no question
	 * of roles, and the way on is the sign-in page.
	 */
	private static final class ExpiredSessionAccessDeniedHandler implements AccessDeniedHandler {

		private final AccessDeniedHandler forbidden = new AccessDeniedHandlerImpl();

		@Override
		public void handle(HttpServletRequest request, HttpServletResponse response, AccessDeniedException failure)
				throws IOException, ServletException {
			boolean nobody = SecurityContextHolder.getContext().getAuthentication() == null;
			if (!nobody || !(failure instanceof CsrfException)) {
				forbidden.handle(request, response, failure);
			}
			else if (request.getHeader("HX-Request") != null) {
				new ExpiredSessionEntryPoint().commence(request, response,
						new InsufficientAuthenticationException("session ended", failure));
			}
			else {
				response.sendRedirect(request.getContextPath() + "/signin?expired");
			}
		}

	}

}
