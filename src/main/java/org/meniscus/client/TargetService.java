package org.meniscus.client;

import java.util.Collections;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
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
			Level.SALT, Level.TDS, Level.BORATE, Level.PHOSPHATE);

	static final String SOURCE_COMPANY = "set by the company";

	static final String SOURCE_POOL = "set for this pool";

	private final JdbcClient jdbc;

	TargetService(JdbcClient jdbc) {
		this.jdbc = jdbc;
	}

	/** The company's own ranges for pools or for spas; levels it has none for are missing. */
	@Transactional(readOnly = true)
	public Map<Level, Range> companyRanges(CompanyId company, BodyOfWater body) {
		return companyRangesByBody(company).getOrDefault(body, Map.of());
	}

	/** One pool's own ranges. */
	@Transactional(readOnly = true)
	public Map<Level, Range> poolRanges(CompanyId company, PoolId pool) {
		return rangesByPool(company).getOrDefault(pool, Map.of());
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
		jdbc.sql("SELECT id FROM company WHERE id = :company FOR NO KEY UPDATE").param("company", company.value()).query(UUID.class)
			.single();
		requireUnchanged(companyRanges(company, body), seen);
		jdbc.sql("DELETE FROM company_target WHERE company_id = :company AND body = :body")
			.param("company", company.value())
			.param("body", body.name())
			.update();
		requireConfigurable(ranges).forEach((level, range) -> bindLimits(jdbc.sql("""
				INSERT INTO company_target (company_id, body, level, acceptable_low, ideal_low, ideal_high, acceptable_high)
				VALUES (:company, :body, :level, :a, :b, :c, :d)"""), range).param("company", company.value())
			.param("body", body.name())
			.param("level", level.name())
			.update());
	}

	/** Likewise for one pool. @throws NotFound when this company has no such pool */
	@Transactional
	public void setForPool(CompanyId company, PoolId pool, Map<Level, Range> ranges, String seen) {
		boolean found = jdbc.sql("SELECT id FROM pool WHERE company_id = :company AND id = :pool FOR NO KEY UPDATE")
			.param("company", company.value())
			.param("pool", pool.value())
			.query(UUID.class)
			.optional()
			.isPresent();
		if (!found) {
			throw new NotFound("pool");
		}
		requireUnchanged(poolRanges(company, pool), seen);
		jdbc.sql("DELETE FROM pool_target WHERE company_id = :company AND pool_id = :pool")
			.param("company", company.value())
			.param("pool", pool.value())
			.update();
		requireConfigurable(ranges).forEach((level, range) -> bindLimits(jdbc.sql("""
				INSERT INTO pool_target (company_id, pool_id, level, acceptable_low, ideal_low, ideal_high, acceptable_high)
				VALUES (:company, :pool, :level, :a, :b, :c, :d)"""), range).param("company", company.value())
			.param("pool", pool.value())
			.param("level", level.name())
			.update());
	}

	/** Every pool's targets of a company in two reads. */
	@Transactional(readOnly = true)
	public MergedTargets mergedTargets(CompanyId company) {
		return new MergedTargets(companyRangesByBody(company), rangesByPool(company));
	}

	/** The ranges of one company, ready to be merged. */
	public static final class MergedTargets {

		private final Map<BodyOfWater, Map<Level, Range>> company;

		private final Map<PoolId, Map<Level, Range>> pools;

		MergedTargets(Map<BodyOfWater, Map<Level, Range>> company, Map<PoolId, Map<Level, Range>> pools) {
			this.company = company;
			this.pools = pools;
		}

		/** Published, then company's, then the pool's own. */
		public Targets forPool(PoolId pool, BodyOfWater body, Surface surface, boolean indoor, Sanitizer sanitizer) {
			return forCompany(body, surface, indoor, sanitizer).with(pools.getOrDefault(pool, Map.of()));
		}

		/**
		 * Published, then company's. A company's range counts where the level has a range at all, and its CYA only outdoors: indoors
		 * there should be none, whatever the company likes elsewhere.
		 */
		public Targets forCompany(BodyOfWater body, Surface surface, boolean indoor, Sanitizer sanitizer) {
			Targets published = Targets.defaults(body, surface, indoor, sanitizer);
			Map<Level, Range> own = new EnumMap<>(Level.class);
			company.getOrDefault(body, Map.of()).forEach((level, range) -> {
				if (published.range(level) != null && !(indoor && level == Level.CYA)) {
					own.put(level, range);
				}
			});
			return published.with(own);
		}

	}

	private Map<BodyOfWater, Map<Level, Range>> companyRangesByBody(CompanyId company) {
		Map<BodyOfWater, Map<Level, Range>> all = new EnumMap<>(BodyOfWater.class);
		jdbc.sql("""
				SELECT body, level, acceptable_low, ideal_low, ideal_high, acceptable_high FROM company_target
				WHERE company_id = :company""").param("company", company.value()).query(row -> {
			all.computeIfAbsent(BodyOfWater.valueOf(row.getString("body")), any -> new EnumMap<>(Level.class))
				.put(Level.valueOf(row.getString("level")), range(row, SOURCE_COMPANY));
		});
		return all;
	}

	private Map<PoolId, Map<Level, Range>> rangesByPool(CompanyId company) {
		Map<PoolId, Map<Level, Range>> all = new HashMap<>();
		jdbc.sql("""
				SELECT pool_id, level, acceptable_low, ideal_low, ideal_high, acceptable_high FROM pool_target
				WHERE company_id = :company""").param("company", company.value()).query(row -> {
			all.computeIfAbsent(new PoolId(Objects.requireNonNull(row.getObject("pool_id", UUID.class))), any -> new EnumMap<>(Level.class))
				.put(Level.valueOf(row.getString("level")), range(row, SOURCE_POOL));
		});
		return all;
	}

	private static Range range(java.sql.ResultSet row, String source) throws java.sql.SQLException {
		return new Range(row.getDouble("acceptable_low"), row.getDouble("ideal_low"), row.getDouble("ideal_high"),
				row.getDouble("acceptable_high"), source);
	}

	private static JdbcClient.StatementSpec bindLimits(JdbcClient.StatementSpec statement, Range range) {
		return statement.param("a", range.acceptableLow())
			.param("b", range.idealLow())
			.param("c", range.idealHigh())
			.param("d", range.acceptableHigh());
	}

	private static Map<Level, Range> requireConfigurable(Map<Level, Range> ranges) {
		if (!CONFIGURABLE_LEVELS.containsAll(ranges.keySet())) {
			throw new IllegalArgumentException("no ranges of one's own for " + ranges.keySet());
		}
		return Collections.unmodifiableMap(ranges);
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
