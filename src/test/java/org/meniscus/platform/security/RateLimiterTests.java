package org.meniscus.platform.security;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;

import org.junit.jupiter.api.Test;

class RateLimiterTests {

	private final MovedClock clock = new MovedClock();

	@Test
	void anyMinuteHoldsAtMostSoMany() {
		RateLimiter limit = new RateLimiter(3, clock);
		assertThat(limit.allows("a")).isTrue();
		clock.move(Duration.ofSeconds(30));
		assertThat(limit.allows("a")).isTrue();
		assertThat(limit.allows("a")).isTrue();
		assertThat(limit.allows("a")).isFalse();
		assertThat(limit.allows("b")).as("another key").isTrue();
		clock.move(Duration.ofSeconds(30));
		assertThat(limit.allows("a")).as("the first is a minute old").isTrue();
		assertThat(limit.allows("a")).as("the other two are not").isFalse();
	}

	@Test
	void manyKeysTakeBoundedMemory() {
		RateLimiter limit = new RateLimiter(1, 100, clock);
		for (int i = 0; i < 5000; i++) {
			limit.allows("key " + i);
		}
		assertThat(limit.keys()).isEqualTo(100);
		assertThat(limit.allows("key 4999")).as("the newest are kept").isFalse();
	}

	private static final class MovedClock extends Clock {

		private Instant now = Instant.parse("2026-11-25T12:00:00Z");

		void move(Duration by) {
			now = now.plus(by);
		}

		@Override
		public Instant instant() {
			return now;
		}

		@Override
		public ZoneId getZone() {
			return ZoneOffset.UTC;
		}

		@Override
		public Clock withZone(ZoneId zone) {
			return this;
		}

	}

}
