package org.meniscus.client;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

import org.jspecify.annotations.Nullable;

/**
 * Who is who. Two lines speak of the same client when the names are the same and neither e-mail nor telephone speaks against
 * it; of the same pool when street and pool name are the same too. Capitals and blanks do not matter.
 */
final class ClientMatcher {

	/** @param line where in the file the client was first named; 0 when already kept */
	record Match(ClientId client, int line) {
	}

	private record Known(Match match, @Nullable String email, @Nullable String phone, Map<String, Integer> pools) {
	}

	private final Map<String, List<Known>> byName = new HashMap<>();

	/** A client who is already kept, once for each pool. */
	void kept(ClientId client, String name, @Nullable String email, @Nullable String phone, @Nullable String pool,
			@Nullable String street) {
		remember(new Match(client, 0), name, email, phone, (pool != null) ? key(street) + '\n' + key(pool) : null, 0);
	}

	void add(int line, ClientId client, ClientDetails details, @Nullable PoolDetails pool) {
		remember(new Match(client, line), details.name(), details.email(), details.phone(), (pool != null) ? key(pool) : null, line);
	}

	/**
	 * Who this is.
	 *
	 * @param match null when nobody of that kind is known
	 * @param duplicate whether that client, or that pool of the client, has been seen as it is; then the match names the line
	 * @param several whether it could be more than one client
	 */
	record Found(@Nullable Match match, boolean duplicate, boolean several) {
	}

	Found find(ClientDetails details, @Nullable PoolDetails pool) {
		List<Known> candidates = byName.getOrDefault(key(details.name()), List.of())
			.stream()
			.filter(known -> agrees(known.email(), details.email()) && agrees(known.phone(), details.phone()))
			.toList();
		if (candidates.isEmpty()) {
			return new Found(null, false, false);
		}
		if (pool == null) {
			return new Found(candidates.get(0).match(), true, false);
		}
		for (Known known : candidates) {
			Integer line = known.pools().get(key(pool));
			if (line != null) {
				return new Found(new Match(known.match().client(), line), true, false);
			}
		}
		return new Found(candidates.get(0).match(), false, candidates.size() > 1);
	}

	private void remember(Match match, String name, @Nullable String email, @Nullable String phone, @Nullable String pool, int line) {
		List<Known> sameName = byName.computeIfAbsent(key(name), any -> new ArrayList<>());
		Known known = sameName.stream().filter(one -> one.match().client().equals(match.client())).findFirst().orElse(null);
		if (known == null) {
			known = new Known(match, email, phone, new HashMap<>());
			sameName.add(known);
		}
		if (pool != null) {
			known.pools().putIfAbsent(pool, line);
		}
	}

	private static boolean agrees(@Nullable String one, @Nullable String other) {
		return one == null || other == null || key(one).equals(key(other));
	}

	private static String key(PoolDetails pool) {
		return key(pool.place().street()) + '\n' + key(pool.name());
	}

	private static String key(@Nullable String text) {
		return (text != null) ? text.strip().replaceAll("\\s+", " ").toLowerCase(Locale.ROOT) : "";
	}

}
