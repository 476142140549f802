package org.meniscus.company;

import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.ProgrammaticSignIn;
import org.meniscus.platform.security.SignInThrottle;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.security.web.authentication.WebAuthenticationDetails;
import org.springframework.stereotype.Component;

/** Signs people in by address and password. */
@Component
class PasswordAuthenticationProvider implements AuthenticationProvider {

	private final CompanyService companies;

	private final SignInThrottle throttle;

	PasswordAuthenticationProvider(CompanyService companies, SignInThrottle throttle) {
		this.companies = companies;
		this.throttle = throttle;
	}

	@Override
	public Authentication authenticate(Authentication attempt) {
		String email = String.valueOf(attempt.getPrincipal());
		String network = (attempt.getDetails() instanceof WebAuthenticationDetails details) ? details.getRemoteAddress() : null;
		throttle.attempt(email, network);
		SignedInUser user = companies.authenticate(email, String.valueOf(attempt.getCredentials()))
			.orElseThrow(() -> new BadCredentialsException("refused"));
		throttle.succeeded(email, network);
		return ProgrammaticSignIn.authenticationOf(user);
	}

	@Override
	public boolean supports(Class<?> authentication) {
		return UsernamePasswordAuthenticationToken.class.isAssignableFrom(authentication);
	}

}
