package org.meniscus.platform.security;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.TenantContext;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.security.authentication.LockedException;
import org.springframework.stereotype.Component;

/**
 * Slows down the guessing of passwords: after a few attempts that failed, each further one has to wait twice as long as the one
 * before. Counted by the name that is tried and by the network it is tried from. Kept in memory and bounded: when there are too
 * many keys the one not tried for the longest is forgotten. Each instance of the service counts for itself. NIST SP 800-63B-4,
 * section 3.2.2, asks for a limit and names growing waits; the figures here are common practice, no source.
 */
@Component
public class SignInThrottle {

	/** Attempts on one name without a wait. */
	static final int FREE_ATTEMPTS_PER_NAME = 5;

	/** A company's office may share one network. */
	static final int FREE_ATTEMPTS_PER_NETWORK = 30;

	static final Duration FIRST_WAIT = Duration.ofSeconds(15);

	static final Duration LONGEST_WAIT = Duration.ofMinutes(15);

	/** Whoever has not failed for so long begins anew. */
	private static final Duration RESET_AFTER = Duration.ofHours(6);

	private static final int MAX_KEYS = 10_000;

	private final Clock clock;

	private final Map<String, FailedAttempts> attempts;

	@Autowired
	SignInThrottle(Clock clock) {
		this(clock, MAX_KEYS);
	}

	SignInThrottle(Clock clock, int mostKeys) {
		this.clock = clock;
		this.attempts = new LinkedHashMap<>(16, 0.75f, true) {

			@Override
			protected boolean removeEldestEntry(Map.Entry<String, FailedAttempts> eldest) {
				return size() > mostKeys;
			}

		};
	}

	private record FailedAttempts(int failed, long last, long lockedUntil) {
	}

	/**
	 * Counts an attempt as failed until {@link #succeeded} says otherwise, so that many at once are not let through together.
	 *
	 * @param name address or id that is tried
	 * @param network address of the other end; absent when it is not known
	 * @throws LockedException when it comes too soon
	 */
	public synchronized void attempt(String name, @Nullable String network) {
		String byName = nameKey(name);
		String byNetwork = networkKey(network);
		if (isLocked(byName) || (byNetwork != null && isLocked(byNetwork))) {
			throw new LockedException("too many attempts");
		}
		count(byName, FREE_ATTEMPTS_PER_NAME);
		if (byNetwork != null) {
			count(byNetwork, FREE_ATTEMPTS_PER_NETWORK);
		}
	}

	/** The name begins anew; for the network this one attempt does not count. */
	public synchronized void succeeded(String name, @Nullable String network) {
		attempts.remove(nameKey(name));
		String byNetwork = networkKey(network);
		FailedAttempts past = (byNetwork != null) ? attempts.get(byNetwork) : null;
		if (byNetwork != null && past != null) {
			attempts.put(byNetwork, new FailedAttempts(Math.max(0, past.failed - 1), past.last, clock.millis()));
		}
	}

	private boolean isLocked(String key) {
		FailedAttempts past = attempts.get(key);
		return past != null && clock.millis() < past.lockedUntil;
	}

	private void count(String key, int free) {
		long now = clock.millis();
		FailedAttempts past = attempts.get(key);
		int failed = (past == null || now - past.last > RESET_AFTER.toMillis()) ? 1 : past.failed + 1;
		attempts.put(key, new FailedAttempts(failed, now, now + wait(failed - free)));
	}

	private static long wait(int beyond) {
		return (beyond < 0) ? 0 : Math.min(LONGEST_WAIT.toMillis(), FIRST_WAIT.toMillis() << Math.min(beyond, 10));
	}

	/** A hash, so that a long name takes no more memory than a short one. */
	private static String nameKey(String name) {
		return HexFormat.of().formatHex(TenantContext.sha256(name.strip().toLowerCase(Locale.ROOT).getBytes(StandardCharsets.UTF_8)));
	}

	/** Of an IPv6 address the first half: the rest is the other end's to choose. */
	private static @Nullable String networkKey(@Nullable String network) {
		if (network == null || network.indexOf(':') < 0) {
			return network;
		}
		try {
			byte[] address = InetAddress.getByName(network).getAddress();
			return (address.length == 16) ? HexFormat.of().formatHex(address, 0, 8) : network;
		}
		catch (UnknownHostException ex) {
			return network;
		}
	}

	synchronized int keys() {
		return attempts.size();
	}

}
