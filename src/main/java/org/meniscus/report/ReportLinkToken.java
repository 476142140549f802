package org.meniscus.report;

import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.util.Base64;

import org.meniscus.platform.TenantContext;

/**
 * The secret part of a link: 32 random bytes, base64url without padding. Only its SHA-256 is stored; with 256 random bits that
 * needs no salt (OWASP ASVS 5.0, 6.5.2). It names no company: whose it is, only the stored hash tells.
 */
final class ReportLinkToken {

	private static final int BYTES = 32;

	private static final int LENGTH = 43;

	private static final SecureRandom RANDOM = new SecureRandom();

	private ReportLinkToken() {
	}

	static String generate() {
		byte[] bytes = new byte[BYTES];
		RANDOM.nextBytes(bytes);
		return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
	}

	/** Of the bytes the token stands for; of the text as it is when it is no token, so that it is looked up, in vain, like any other. */
	static byte[] hash(String token) {
		return TenantContext.sha256(bytes(token));
	}

	private static byte[] bytes(String token) {
		if (token.length() == LENGTH) {
			try {
				return Base64.getUrlDecoder().decode(token);
			}
			catch (IllegalArgumentException ex) {
				// falls through: not base64url
			}
		}
		return token.getBytes(StandardCharsets.UTF_8);
	}

}
