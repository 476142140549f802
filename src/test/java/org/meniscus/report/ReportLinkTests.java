package org.meniscus.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Base64;
import java.util.HashSet;
import java.util.Set;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.platform.TenantContext;

class ReportLinkTests {

	@Test
	void tokensAre256RandomBits() {
		Set<String> tokens = new HashSet<>();
		for (int n = 0; n < 100; n++) {
			String token = ReportLinkToken.generate();
			assertThat(token).matches("[A-Za-z0-9_-]{43}");
			assertThat(Base64.getUrlDecoder().decode(token)).hasSize(32);
			tokens.add(token);
		}
		assertThat(tokens).hasSize(100);
	}

	@Test
	void hashIsTheSha256OfTheSecretBytes() {
		String token = ReportLinkToken.generate();
		assertThat(ReportLinkToken.hash(token)).hasSize(32)
			.isEqualTo(TenantContext.sha256(Base64.getUrlDecoder().decode(token)))
			.isNotEqualTo(TenantContext.sha256(token.getBytes(StandardCharsets.UTF_8)));
	}

	/** Looked up in vain like any other, so that nobody learns by the answer what a token looks like. */
	@ParameterizedTest
	@CsvSource({ "''", "x", "!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!", "AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA" })
	void textThatIsNoTokenIsHashedAsItIs(String text) {
		assertThat(ReportLinkToken.hash(text)).isEqualTo(TenantContext.sha256(text.getBytes(StandardCharsets.UTF_8)));
	}

	@ParameterizedTest
	@CsvSource({ "2026-06-30T23:59:59Z,, OPEN", "2026-07-01T00:00:00Z,, EXPIRED", "2026-06-01T00:00:00Z, 2026-05-20T00:00:00Z, REVOKED",
			"2026-07-02T00:00:00Z, 2026-05-20T00:00:00Z, REVOKED" })
	void linkOpensUntilItExpiresOrIsRevoked(Instant now, @Nullable Instant revoked, ReportLink.LinkState state) {
		ReportLink link = new ReportLink(UUID.randomUUID(), Instant.parse("2026-05-01T00:00:00Z"), "Olga Finch",
				Instant.parse("2026-07-01T00:00:00Z"), revoked);
		assertThat(link.state(now)).isEqualTo(state);
	}

}
