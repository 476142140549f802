package org.meniscus.company;

import org.meniscus.platform.SignedIn;
import org.meniscus.platform.security.Entrance;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.stereotype.Component;

/** Signs people in by address and password. */
@Component
class SignInProvider implements AuthenticationProvider {

	private final CompanyRegister register;

	SignInProvider(CompanyRegister register) {
		this.register = register;
	}

	@Override
	public Authentication authenticate(Authentication attempt) {
		SignedIn user = register.authenticate(String.valueOf(attempt.getPrincipal()), String.valueOf(attempt.getCredentials()))
			.orElseThrow(() -> new BadCredentialsException("refused"));
		return Entrance.proof(user);
	}

	@Override
	public boolean supports(Class<?> authentication) {
		return UsernamePasswordAuthenticationToken.class.isAssignableFrom(authentication);
	}

}
