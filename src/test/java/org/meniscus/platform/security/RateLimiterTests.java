package org.meniscus.platform.security;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;

import org.junit.jupiter.api.Test;
import org.meniscus.support.MutableClock;

class RateLimiterTests {

	private final MutableClock clock = new MutableClock(Instant.parse("2026-11-25T12:00:00Z"));

	@Test
	void atMostTheLimitIsAllowedInAnyMinute() {
		RateLimiter limit = new RateLimiter(3, clock);
		assertThat(limit.tryAcquire("a")).isTrue();
		clock.move(Duration.ofSeconds(30));
		assertThat(limit.tryAcquire("a")).isTrue();
		assertThat(limit.tryAcquire("a")).isTrue();
		assertThat(limit.tryAcquire("a")).isFalse();
		assertThat(limit.tryAcquire("b")).as("another key").isTrue();
		clock.move(Duration.ofSeconds(30));
		assertThat(limit.tryAcquire("a")).as("the first is a minute old").isTrue();
		assertThat(limit.tryAcquire("a")).as("the other two are not").isFalse();
	}

	@Test
	void numberOfKeysIsBounded() {
		RateLimiter limit = new RateLimiter(1, 100, clock);
		for (int i = 0; i < 5000; i++) {
			limit.tryAcquire("key " + i);
		}
		assertThat(limit.keys()).isEqualTo(100);
		assertThat(limit.tryAcquire("key 4999")).as("the newest are kept").isFalse();
	}

}
