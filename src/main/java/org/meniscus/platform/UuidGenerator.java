package org.meniscus.platform;

import java.security.SecureRandom;
import java.time.Clock;
import java.util.UUID;

import org.springframework.stereotype.Component;

/** Makes row ids: UUID version 7 (RFC 9562), so that new rows sort by time and index pages stay warm. */
@Component
public class UuidGenerator {

	private final Clock clock;

	private final SecureRandom random = new SecureRandom();

	public UuidGenerator(Clock clock) {
		this.clock = clock;
	}

	public UUID next() {
		long millis = clock.millis();
		long high = (millis << 16) | 0x7000L | (random.nextInt() & 0x0FFFL);
		long low = (random.nextLong() & 0x3FFFFFFFFFFFFFFFL) | 0x8000000000000000L;
		return new UUID(high, low);
	}

}
