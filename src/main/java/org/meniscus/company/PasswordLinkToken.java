package org.meniscus.company;

import java.nio.ByteBuffer;
import java.security.SecureRandom;
import java.util.Arrays;
import java.util.Base64;
import java.util.Optional;
import java.util.UUID;

import org.meniscus.platform.CompanyId;
import org.meniscus.platform.TenantContext;

/**
 * What stands in a link by which somebody chooses a password: 16 bytes that say which company, 32 random bytes that nobody
 * guesses. Only the SHA-256 of the random bytes is stored.
 */
record PasswordLinkToken(CompanyId company, byte[] secret) {

	private static final int COMPANY_BYTES = 16;

	private static final int SECRET_BYTES = 32;

	private static final SecureRandom RANDOM = new SecureRandom();

	static PasswordLinkToken generate(CompanyId company) {
		byte[] secret = new byte[SECRET_BYTES];
		RANDOM.nextBytes(secret);
		return new PasswordLinkToken(company, secret);
	}

	/** Nothing when the text cannot be such a token. */
	static Optional<PasswordLinkToken> parse(String text) {
		byte[] bytes;
		try {
			bytes = Base64.getUrlDecoder().decode(text);
		}
		catch (IllegalArgumentException ex) {
			return Optional.empty();
		}
		if (bytes.length != COMPANY_BYTES + SECRET_BYTES) {
			return Optional.empty();
		}
		ByteBuffer company = ByteBuffer.wrap(bytes);
		return Optional.of(new PasswordLinkToken(new CompanyId(new UUID(company.getLong(), company.getLong())),
				Arrays.copyOfRange(bytes, COMPANY_BYTES, bytes.length)));
	}

	byte[] hash() {
		return TenantContext.sha256(secret);
	}

	/** As it stands in the link. */
	String encode() {
		byte[] bytes = ByteBuffer.allocate(COMPANY_BYTES + SECRET_BYTES)
			.putLong(company.value().getMostSignificantBits())
			.putLong(company.value().getLeastSignificantBits())
			.put(secret)
			.array();
		return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
	}

	@Override
	public String toString() {
		return "LinkToken of " + company;
	}

}
