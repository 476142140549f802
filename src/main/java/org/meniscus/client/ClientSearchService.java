package org.meniscus.client;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.CompanyId;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.VolumeCertainty;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The office's list of clients, searched by name, street and town. */
@Service
public class ClientSearchService {

	/** Clients on one page of the list. */
	public static final int PAGE_SIZE = 60;

	private static final int WORDS_MAX = 6;

	private static final int WORD_LENGTH_MAX = 60;

	private final JdbcClient jdbc;

	ClientSearchService(JdbcClient jdbc) {
		this.jdbc = jdbc;
	}

	/** Some of the clients found. */
	public record ClientSearchResult(List<ClientListLine> lines, int total, int page) {

		public boolean hasMore() {
			return (page + 1) * PAGE_SIZE < total;
		}

		public int pools() {
			return lines.stream().mapToInt(line -> line.pools().size()).sum();
		}

	}

	/** A client with the pools that are not archived, or for an archived client with all of them. */
	public record ClientListLine(ClientId id, String name, @Nullable String phone, boolean archived, List<PoolListLine> pools) {
	}

	/** @param volumeLitres null when not known */
	public record PoolListLine(PoolId id, String name, String street, String town, BodyOfWater body, @Nullable Double volumeLitres,
			VolumeCertainty certainty, boolean archived) {
	}

	/**
	 * Clients whose name, or a street, town, postcode or name of one of their pools, holds every word; all clients when there is
	 * no word.
	 *
	 * @param page from 0
	 */
	@Transactional(readOnly = true)
	public ClientSearchResult search(CompanyId company, @Nullable String query, boolean archived, int page) {
		StringBuilder where = new StringBuilder("c.company_id = :company AND c.archived_at IS ").append(archived ? "NOT NULL" : "NULL");
		Map<String, Object> params = new LinkedHashMap<>();
		params.put("company", company.value());
		List<String> patterns = likePatterns(query);
		for (int i = 0; i < patterns.size(); i++) {
			params.put("w" + i, patterns.get(i));
			where.append("""
					 AND (lower(c.name) LIKE :w%1$d OR EXISTS (SELECT 1 FROM pool q WHERE q.company_id = c.company_id
					  AND q.client_id = c.id AND lower(q.name || ' ' || q.street || ' ' || q.town || ' ' || q.postcode) LIKE :w%1$d))
					""".formatted(i));
		}
		int total = jdbc.sql("SELECT count(*) FROM client c WHERE " + where).params(params).query(Integer.class).single();
		Map<UUID, ClientListLine> lines = new LinkedHashMap<>();
		jdbc.sql("SELECT c.id, c.name, c.phone, c.archived_at IS NOT NULL AS archived FROM client c WHERE " + where
				+ " ORDER BY lower(c.name), c.id LIMIT " + PAGE_SIZE + " OFFSET :skip")
			.params(params)
			.param("skip", Math.max(0, page) * PAGE_SIZE)
			.query((row, n) -> new ClientListLine(new ClientId(row.getObject("id", UUID.class)), row.getString("name"),
					row.getString("phone"),
					row.getBoolean("archived"), new ArrayList<>()))
			.list()
			.forEach(line -> lines.put(line.id().value(), line));
		addPools(company, lines, archived);
		return new ClientSearchResult(List.copyOf(lines.values()), total, Math.max(0, page));
	}

	/** Every pool of one client, archived ones last. */
	@Transactional(readOnly = true)
	public List<PoolListLine> pools(CompanyId company, ClientId client) {
		return jdbc.sql(POOLS + " AND p.client_id = :client ORDER BY p.archived_at IS NOT NULL, lower(p.name), p.id")
			.param("company", company.value())
			.param("client", client.value())
			.query((row, n) -> pool(row))
			.list();
	}

	/** Every client that is looked after, by name: for choosing. */
	@Transactional(readOnly = true)
	public List<ClientOption> options(CompanyId company) {
		return jdbc.sql("SELECT id, name FROM client WHERE company_id = ? AND archived_at IS NULL ORDER BY lower(name), id")
			.param(company.value())
			.query((row, n) -> new ClientOption(new ClientId(row.getObject("id", UUID.class)), row.getString("name")))
			.list();
	}

	/** A client to choose. */
	public record ClientOption(ClientId id, String name) {
	}

	private static final String POOLS = """
			SELECT p.client_id, p.id, p.name, p.street, p.town, p.body, p.volume_litres, p.volume_certainty,
			       p.archived_at IS NOT NULL AS archived
			FROM pool p WHERE p.company_id = :company""";

	private void addPools(CompanyId company, Map<UUID, ClientListLine> lines, boolean archived) {
		if (lines.isEmpty()) {
			return;
		}
		jdbc.sql(POOLS + " AND p.client_id IN (:clients)" + (archived ? "" : " AND p.archived_at IS NULL")
				+ " ORDER BY lower(p.name), p.id")
			.param("company", company.value())
			.param("clients", lines.keySet())
			.query(row -> {
				ClientListLine line = lines.get(row.getObject("client_id", UUID.class));
				if (line != null) {
					line.pools().add(pool(row));
				}
			});
	}

	private static PoolListLine pool(java.sql.ResultSet row) throws java.sql.SQLException {
		double litres = row.getDouble("volume_litres");
		return new PoolListLine(new PoolId(row.getObject("id", UUID.class)), row.getString("name"), row.getString("street"),
				row.getString("town"), BodyOfWater.valueOf(row.getString("body")), (litres > 0) ? litres : null,
				VolumeCertainty.valueOf(row.getString("volume_certainty")), row.getBoolean("archived"));
	}

	/** Words as patterns; what LIKE takes for a sign of its own is taken literally. */
	private static List<String> likePatterns(@Nullable String query) {
		if (query == null || query.isBlank()) {
			return List.of();
		}
		List<String> patterns = new ArrayList<>();
		for (String word : TextNormalizer.singleLine(query).toLowerCase(Locale.ROOT).split(" +")) {
			if (patterns.size() < WORDS_MAX && !word.isEmpty()) {
				String shortened = word.substring(0, Math.min(word.length(), WORD_LENGTH_MAX));
				patterns.add("%" + shortened.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_") + "%");
			}
		}
		return patterns;
	}

}
