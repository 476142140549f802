package org.meniscus.client;

import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.StaleVersion;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.Targets;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The ranges water should be in: the published ones, the company's own in their place, one pool's own in theirs. */
@Service
public class TargetService {

	/** Levels a company may set a range of its own for. The others follow from them. */
	public static final List<Level> CONFIGURABLE_LEVELS = List.of(Level.FC, Level.CC, Level.BROMINE, Level.PH, Level.TA, Level.CH,
			Level.CYA,
			Level.SALT, Level.TDS, Level.BORATE, Level.PHOSPHATE, Level.COPPER, Level.IRON,
			Level.MANGANESE);

	/** Source of a range that a company has set. */
	public static final String SOURCE_COMPANY = "set by the company";

	static final String SOURCE_POOL = "set for this pool";

	private final JdbcClient jdbc;

	TargetService(JdbcClient jdbc) {
		this.jdbc = jdbc;
	}

	/** The company's own ranges for pools or for spas; levels it has none for are missing. */
	@Transactional(readOnly = true)
	public Map<Level, Range> companyRanges(CompanyId company, BodyOfWater body) {
		return companyRanges(company).getOrDefault(body.name(), Map.of());
	}

	/** One pool's own ranges. */
	@Transactional(readOnly = true)
	public Map<Level, Range> poolRanges(CompanyId company, PoolId pool) {
		return poolRanges(company).getOrDefault(pool.toString(), Map.of());
	}

	/**
	 * Puts the company's own ranges in place of the ones that were seen.
	 *
	 * @param seen {@link #fingerprint} of what the form was opened with
	 * @throws StaleVersion when somebody else has changed them since
	 */
	@Transactional
	public void setForCompany(CompanyId company, BodyOfWater body, Map<Level, Range> ranges, String seen) {
		// the company's row stands for its targets: of two who save at once the second waits, and gets StaleVersion
		jdbc.sql("SELECT id FROM company WHERE id = ? FOR NO KEY UPDATE").param(company.value()).query(UUID.class)
			.single();
		requireUnchanged(companyRanges(company, body), seen);
		replace(company, "company_target", "body", body.name(), ranges);
	}

	/** Likewise for one pool. @throws NotFound when this company has no such pool */
	@Transactional
	public void setForPool(CompanyId company, PoolId pool, Map<Level, Range> ranges, String seen) {
		boolean found = jdbc.sql("SELECT id FROM pool WHERE company_id = ? AND id = ? FOR NO KEY UPDATE")
			.params(company.value(), pool.value())
			.query(UUID.class)
			.optional()
			.isPresent();
		if (!found) {
			throw new NotFound("pool");
		}
		requireUnchanged(poolRanges(company, pool), seen);
		replace(company, "pool_target", "pool_id", pool.value(), ranges);
	}

	private void replace(CompanyId company, String table, String column, Object owner, Map<Level, Range> ranges) {
		if (!CONFIGURABLE_LEVELS.containsAll(ranges.keySet())) {
			throw new IllegalArgumentException("no ranges of one's own for " + ranges.keySet());
		}
		jdbc.sql("DELETE FROM " + table + " WHERE company_id = ? AND " + column + " = ?").params(company.value(), owner).update();
		ranges.forEach((level, range) -> jdbc
			.sql("INSERT INTO " + table + " (company_id, " + column + ", level, acceptable_low, ideal_low, ideal_high, acceptable_high) "
					+ "VALUES (?, ?, ?, ?, ?, ?, ?)")
			.params(company.value(), owner, level.name(), range.acceptableLow(), range.idealLow(), range.idealHigh(),
					range.acceptableHigh())
			.update());
	}

	/** Every pool's targets of a company in two reads. */
	@Transactional(readOnly = true)
	public MergedTargets mergedTargets(CompanyId company) {
		return new MergedTargets(companyRanges(company), poolRanges(company));
	}

	/** The ranges of one company, ready to be merged. */
	public record MergedTargets(Map<String, Map<Level, Range>> company, Map<String, Map<Level, Range>> pools) {

		/** Published, then company's, then the pool's own. */
		public Targets forPool(PoolId pool, BodyOfWater body, Surface surface, boolean indoor, Sanitizer sanitizer) {
			return forCompany(body, surface, indoor, sanitizer).with(pools.getOrDefault(pool.toString(), Map.of()));
		}

		/**
		 * Published, then company's. A company's range counts where the level has a range at all, and its CYA only outdoors: indoors
		 * there should be none, whatever the company likes elsewhere.
		 */
		public Targets forCompany(BodyOfWater body, Surface surface, boolean indoor, Sanitizer sanitizer) {
			Targets published = Targets.defaults(body, surface, indoor, sanitizer);
			Map<Level, Range> own = new EnumMap<>(Level.class);
			company.getOrDefault(body.name(), Map.of()).forEach((level, range) -> {
				if (published.range(level) != null && !(indoor && level == Level.CYA)) {
					own.put(level, range);
				}
			});
			return published.with(own);
		}

	}

	private Map<String, Map<Level, Range>> companyRanges(CompanyId company) {
		return ranges(company, "company_target", "body", SOURCE_COMPANY);
	}

	private Map<String, Map<Level, Range>> poolRanges(CompanyId company) {
		return ranges(company, "pool_target", "pool_id", SOURCE_POOL);
	}

	/** By the name of a body of water, or the id of a pool. */
	private Map<String, Map<Level, Range>> ranges(CompanyId company, String table, String column, String source) {
		Map<String, Map<Level, Range>> all = new HashMap<>();
		jdbc.sql("SELECT *, " + column + "::text AS owner FROM " + table + " WHERE company_id = ?")
			.param(company.value())
			.query(row -> {
				all.computeIfAbsent(row.getString("owner"), any -> new EnumMap<>(Level.class))
					.put(Level.valueOf(row.getString("level")), new Range(row.getDouble("acceptable_low"), row.getDouble("ideal_low"),
							row.getDouble("ideal_high"), row.getDouble("acceptable_high"), source));
			});
		return all;
	}

	private static void requireUnchanged(Map<Level, Range> stored, String seen) {
		if (!fingerprint(stored).equals(seen)) {
			throw new StaleVersion("targets");
		}
	}

	/** What a form carries, to find out whether somebody has changed the ranges since it was opened. */
	public static String fingerprint(Map<Level, Range> ranges) {
		StringBuilder text = new StringBuilder();
		for (Level level : CONFIGURABLE_LEVELS) {
			Range range = ranges.get(level);
			if (range != null) {
				text.append(level).append('=').append(range.acceptableLow()).append('/').append(range.idealLow()).append('/')
					.append(range.idealHigh()).append('/').append(range.acceptableHigh()).append(';');
			}
		}
		return text.toString();
	}

}
