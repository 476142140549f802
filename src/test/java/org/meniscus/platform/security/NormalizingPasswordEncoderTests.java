package org.meniscus.platform.security;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.security.authentication.LockedException;
import org.springframework.security.crypto.argon2.Argon2PasswordEncoder;
import org.springframework.security.crypto.password.PasswordEncoder;

class NormalizingPasswordEncoderTests {

	private final PasswordEncoder encoder = new NormalizingPasswordEncoder(new Argon2PasswordEncoder(16, 32, 1, 1024, 1));

	/** U+00E9, and e with U+0301: the same letter to whoever types it. */
	@Test
	void accentedLetterIsTheSameFromEveryKeyboard() {
		String composed = encoder.encode("caf\u00e9 by the weir");
		assertThat(encoder.matches("cafe\u0301 by the weir", composed)).isTrue();
		assertThat(encoder.matches("caf\u00e9 by the weir", encoder.encode("cafe\u0301 by the weir"))).isTrue();
		assertThat(encoder.matches("cafe by the weir", composed)).isFalse();
	}

	@Test
	void hashWithLessMemoryIsToBeUpgraded() {
		String weak = encoder.encode("nine herons walk the weir");
		assertThat(encoder.upgradeEncoding(weak)).isFalse();
		assertThat(new SecurityConfiguration().passwordEncoder().upgradeEncoding(weak)).isTrue();
	}

	/** The least of the OWASP password storage sheet: Argon2id, 19 MiB, 2 passes, 1 thread. */
	@Test
	void passwordsAreHashedAsOwaspAdvises() {
		assertThat(new SecurityConfiguration().passwordEncoder().encode("nine herons walk the weir"))
			.startsWith("$argon2id$v=19$m=19456,t=2,p=1$");
	}

	@Test
	void onlyALockIsNamedAsTheReasonOfARefusal() {
		assertThat(SignInFailure.of(new LockedException("too often"))).isEqualTo(SignInFailure.LOCKED);
		assertThat(SignInFailure.of(new BadCredentialsException("no"))).isEqualTo(SignInFailure.BAD_CREDENTIALS);
	}

}
