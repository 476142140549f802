package org.meniscus.platform.security;

import org.springframework.security.authentication.LockedException;
import org.springframework.security.core.AuthenticationException;

/** Why a sign-in was refused, as far as one may say: never whether the address is known. */
public enum SignInFailure {

	/** Address or password wrong, invitation not accepted, or no longer active. */
	BAD_CREDENTIALS,
	/** Too many attempts in a short time. */
	LOCKED;

	static SignInFailure of(AuthenticationException failure) {
		return (failure instanceof LockedException) ? LOCKED : BAD_CREDENTIALS;
	}

}
