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
	record MatchedClient(ClientId client, int line) {
	}

	private record KnownClient(MatchedClient match, @Nullable String email, @Nullable String phone, Map<String, Integer> pools) {
	}

	private final Map<String, List<KnownClient>> byName = new HashMap<>();

	/** A client who is already kept, once for each pool. */
	void addStored(ClientId client, String name, @Nullable String email, @Nullable String phone, @Nullable String pool,
			@Nullable String street) {
		register(new MatchedClient(client, 0), name, email, phone, (pool != null) ? normalized(street) + '\n' + normalized(pool) : null, 0);
	}

	void add(int line, ClientId client, ClientDetails details, @Nullable PoolDetails pool) {
		register(new MatchedClient(client, line), details.name(), details.email(), details.phone(),
				(pool != null) ? normalized(pool) : null, line);
	}

	/**
	 * Who this is.
	 *
	 * @param match null when nobody of that kind is known
	 * @param duplicate whether that client, or that pool of the client, has been seen as it is; then the match names the line
	 * @param ambiguous whether it could be more than one client
	 */
	record MatchResult(@Nullable MatchedClient match, boolean duplicate, boolean ambiguous) {
	}

	MatchResult find(ClientDetails details, @Nullable PoolDetails pool) {
		List<KnownClient> candidates = byName.getOrDefault(normalized(details.name()), List.of())
			.stream()
			.filter(known -> isCompatible(known.email(), details.email()) && isCompatible(known.phone(), details.phone()))
			.toList();
		if (candidates.isEmpty()) {
			return new MatchResult(null, false, false);
		}
		if (pool == null) {
			return new MatchResult(candidates.get(0).match(), true, false);
		}
		for (KnownClient known : candidates) {
			Integer line = known.pools().get(normalized(pool));
			if (line != null) {
				return new MatchResult(new MatchedClient(known.match().client(), line), true, false);
			}
		}
		return new MatchResult(candidates.get(0).match(), false, candidates.size() > 1);
	}

	private void register(MatchedClient match, String name, @Nullable String email, @Nullable String phone, @Nullable String pool,
			int line) {
		List<KnownClient> sameName = byName.computeIfAbsent(normalized(name), any -> new ArrayList<>());
		KnownClient known = sameName.stream().filter(one -> one.match().client().equals(match.client())).findFirst().orElse(null);
		if (known == null) {
			known = new KnownClient(match, email, phone, new HashMap<>());
			sameName.add(known);
		}
		if (pool != null) {
			known.pools().putIfAbsent(pool, line);
		}
	}

	private static boolean isCompatible(@Nullable String one, @Nullable String other) {
		return one == null || other == null || normalized(one).equals(normalized(other));
	}

	private static String normalized(PoolDetails pool) {
		return normalized(pool.place().street()) + '\n' + normalized(pool.name());
	}

	private static String normalized(@Nullable String text) {
		return (text != null) ? text.strip().replaceAll("\\s+", " ").toLowerCase(Locale.ROOT) : "";
	}

}
