package org.meniscus.platform.security;

import java.time.Clock;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * At most so many of something in any minute, for each key. Kept in memory and bounded: when there are too many keys, the one not
 * asked for the longest is forgotten. Each instance of the service counts for itself.
 */
public final class RateLimiter {

	private static final long MINUTE = 60_000;

	private static final int MAX_KEYS = 10_000;

	private final int perMinute;

	private final int maxKeys;

	private final Clock clock;

	private final Map<String, Deque<Long>> times;

	/** @param perMinute how many are let through in any 60 seconds */
	public RateLimiter(int perMinute, Clock clock) {
		this(perMinute, MAX_KEYS, clock);
	}

	RateLimiter(int perMinute, int mostKeys, Clock clock) {
		this.perMinute = perMinute;
		this.maxKeys = mostKeys;
		this.clock = clock;
		this.times = new LinkedHashMap<>(16, 0.75f, true) {

			@Override
			protected boolean removeEldestEntry(Map.Entry<String, Deque<Long>> eldest) {
				return size() > RateLimiter.this.maxKeys;
			}

		};
	}

	/** Counts this attempt, and says whether it may go on. A refused attempt does not count. */
	public synchronized boolean tryAcquire(String key) {
		long now = clock.millis();
		Deque<Long> past = times.computeIfAbsent(key, any -> new ArrayDeque<>(perMinute));
		while (!past.isEmpty() && past.peekFirst() <= now - MINUTE) {
			past.removeFirst();
		}
		if (past.size() >= perMinute) {
			return false;
		}
		past.addLast(now);
		return true;
	}

	synchronized int keys() {
		return times.size();
	}

}
