package org.meniscus.platform.security;

import java.text.Normalizer;

import org.jspecify.annotations.Nullable;
import org.springframework.security.crypto.password.PasswordEncoder;

/** Passwords in one Unicode form (NFC), so that an accented letter is the same from every keyboard. */
record NormalizingPasswordEncoder(PasswordEncoder encoder) implements PasswordEncoder {

	@Override
	public @Nullable String encode(@Nullable CharSequence password) {
		return encoder.encode(normalize(password));
	}

	@Override
	public boolean matches(@Nullable CharSequence password, @Nullable String hash) {
		return encoder.matches(normalize(password), hash);
	}

	@Override
	public boolean upgradeEncoding(@Nullable String hash) {
		return encoder.upgradeEncoding(hash);
	}

	private static @Nullable CharSequence normalize(@Nullable CharSequence password) {
		return (password != null) ? Normalizer.normalize(password, Normalizer.Form.NFC) : null;
	}

}
