package org.meniscus.platform.security;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.meniscus.support.MutableClock;
import org.springframework.security.authentication.LockedException;

class SignInThrottleTests {

	private final MutableClock clock = new MutableClock(Instant.parse("2026-06-01T12:00:00Z"));

	private final SignInThrottle throttle = new SignInThrottle(clock, 100);

	@Test
	void waitDoublesWithEachFailureAfterTheFifth() {
		for (int i = 0; i < SignInThrottle.FREE_ATTEMPTS_PER_NAME; i++) {
			assertThat(passes("june@example.org", null)).isTrue();
		}
		for (long wait : new long[]{ 15, 30, 60, 120, 240, 480, 900, 900 }) {
			assertThat(passes("June@Example.org ", null)).as("too soon, however it is written").isFalse();
			clock.move(Duration.ofSeconds(wait - 1));
			assertThat(passes("june@example.org", null)).as("one second before " + wait).isFalse();
			clock.move(Duration.ofSeconds(1));
			assertThat(passes("june@example.org", null)).as("after " + wait).isTrue();
		}
		assertThat(passes("theo@example.org", null)).as("somebody else").isTrue();
	}

	@Test
	void successResetsTheCount() {
		for (int i = 0; i < 4; i++) {
			passes("june@example.org", null);
		}
		throttle.succeeded("june@example.org", null);
		for (int i = 0; i < SignInThrottle.FREE_ATTEMPTS_PER_NAME; i++) {
			assertThat(passes("june@example.org", null)).isTrue();
		}
		assertThat(passes("june@example.org", null)).isFalse();
	}

	@Test
	void attemptsOnManyNamesFromOneNetworkAreThrottled() {
		for (int i = 0; i < SignInThrottle.FREE_ATTEMPTS_PER_NETWORK; i++) {
			assertThat(passes("name " + i, "2001:db8:0:1::" + i)).isTrue();
		}
		assertThat(passes("another", "2001:db8:0:1:ffff::1")).as("same half of the address").isFalse();
		assertThat(passes("another", "2001:db8:0:2::1")).isTrue();
	}

	/** An office where everybody signs in all day long. */
	@Test
	void successfulSignInsDoNotCountAgainstTheNetwork() {
		for (int i = 0; i < 500; i++) {
			assertThat(passes("name " + i, "192.0.2.7")).isTrue();
			throttle.succeeded("name " + i, "192.0.2.7");
		}
	}

	@Test
	void numberOfKeysIsBounded() {
		for (int i = 0; i < 5000; i++) {
			passes("name " + i, null);
		}
		assertThat(throttle.keys()).isEqualTo(100);
	}

	private boolean passes(String name, @Nullable String network) {
		try {
			throttle.attempt(name, network);
			return true;
		}
		catch (LockedException ex) {
			return false;
		}
	}

}
