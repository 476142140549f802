package org.meniscus.season;

import static org.meniscus.platform.database.Decimals.number;
import static org.meniscus.platform.database.Decimals.scaled;

import java.math.BigDecimal;
import java.sql.Array;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.season.SeasonRepository.VisitRow;
import org.meniscus.water.drift.LevelDrift.Flag;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.units.Band;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** The tables of what was last assessed. */
@Repository
class DriftRepository {

	private final JdbcClient jdbc;

	private final Clock clock;

	DriftRepository(JdbcClient jdbc, Clock clock) {
		this.jdbc = jdbc;
		this.clock = clock;
	}

	/** Takes pools to be assessed anew: whoever else wants to assess them waits until this transaction ends. */
	void lock(CompanyId company, List<UUID> pools, LocalDate today) {
		pools.stream()
			.sorted()
			.forEach(pool -> jdbc
				.sql("""
					INSERT INTO pool_season (company_id, pool_id, assessed_on, assessed_at) VALUES (:company, :pool, :today, :now)
					ON CONFLICT (company_id, pool_id) DO UPDATE SET assessed_on = excluded.assessed_on, assessed_at = excluded.assessed_at""")
				.param("company", company.value())
				.param("pool", pool)
				.param("today", today)
				.param("now", Timestamp.from(clock.instant()))
				.update());
	}

	/** The flags that stand, by pool. @param pools not empty */
	Map<UUID, Map<Level, Flag>> flags(CompanyId company, List<UUID> pools) {
		Map<UUID, Map<Level, Flag>> flags = new HashMap<>();
		jdbc.sql("""
				SELECT pool_id, level, flag_side, flag_since, flag_probability FROM drift
				WHERE company_id = :company AND pool_id IN (:pools) AND flag_side IS NOT NULL""")
			.param("company", company.value())
			.param("pools", pools)
			.query(row -> {
				flags.computeIfAbsent(row.getObject("pool_id", UUID.class), any -> new EnumMap<>(Level.class))
					.put(Level.valueOf(row.getString("level")), new Flag(RangeEnd.valueOf(row.getString("flag_side")),
							row.getObject("flag_since", LocalDate.class).toEpochDay(), row.getDouble("flag_probability")));
			});
		return flags;
	}

	/** In place of what was assessed before; the pool must have been taken. */
	void save(CompanyId company, DriftInput year, LocalDate today, List<LevelSnapshot> levels) {
		UUID pool = year.pool().id().value();
		VisitRow last = year.lastVisit();
		jdbc.sql("""
				UPDATE pool_season SET last_visit_on = :day, last_technician_id = :technician, products = :products
				WHERE company_id = :company AND pool_id = :pool""")
			.param("day", (last != null) ? last.day() : null)
			.param("technician", (last != null) ? last.technician().value() : null, java.sql.Types.OTHER)
			.param("products", year.recentProducts(today).toArray(String[]::new))
			.param("company", company.value())
			.param("pool", pool)
			.update();
		jdbc.sql("DELETE FROM drift WHERE company_id = ? AND pool_id = ?")
			.params(company.value(), pool)
			.update();
		levels.forEach(level -> insert(company, pool, level));
		// a flag that no longer stands takes what was said about it along
		jdbc.sql("""
				DELETE FROM drift_dismissal d WHERE d.company_id = :company AND d.pool_id = :pool AND NOT EXISTS (
				    SELECT 1 FROM drift f WHERE f.company_id = :company AND f.company_id = d.company_id AND f.pool_id = d.pool_id
				      AND f.level = d.level AND f.flag_side = d.side)""")
			.param("company", company.value())
			.param("pool", pool)
			.update();
	}

	private void insert(CompanyId company, UUID pool, LevelSnapshot snapshot) {
		Map<String, @Nullable Object> values = new LinkedHashMap<>();
		values.put("company_id", company.value());
		values.put("pool_id", pool);
		values.put("level", snapshot.level().name());
		Band today = snapshot.today();
		values.put("low_ppm", (today != null) ? scaled(today.low(), 2) : null);
		values.put("middle_ppm", (today != null) ? scaled(today.middle(), 2) : null);
		values.put("high_ppm", (today != null) ? scaled(today.high(), 2) : null);
		values.put("baseline_drift_per_day", snapshot.baselineDrift());
		LevelSnapshot.ExitForecast leaving = snapshot.exit();
		values.put("side", (leaving != null) ? leaving.end().name() : null);
		values.put("limit_ppm", (leaving != null) ? scaled(leaving.limit(), 2) : null);
		values.put("exit_early", (leaving != null) ? leaving.early() : null);
		values.put("exit_day", (leaving != null) ? leaving.day() : null);
		values.put("exit_late", (leaving != null) ? leaving.late() : null);
		values.put("probability_within_horizon", (leaving != null) ? probability(leaving.probabilityWithinHorizon()) : null);
		values.put("probability_by_season_end", (leaving != null) ? probability(leaving.probabilityBySeasonEnd()) : null);
		LevelSnapshot.FlagSnapshot flag = snapshot.flag();
		values.put("flag_side", (flag != null) ? flag.end().name() : null);
		values.put("flag_since", (flag != null) ? flag.since() : null);
		values.put("flag_probability", (flag != null) ? probability(flag.probability()) : null);
		values.put("evidence", snapshot.evidence().toJson());
		List<String> placeholders = values.keySet().stream().map(name -> name.equals("evidence") ? "CAST(:evidence AS jsonb)" : ":" + name)
			.toList();
		jdbc.sql("INSERT INTO drift (" + String.join(", ", values.keySet()) + ") VALUES (" + String.join(", ", placeholders) + ")")
			.params(values)
			.update();
	}

	/** Every pool that is looked after, in the order of their clients; in one statement. */
	List<PoolSnapshot> all(CompanyId company) {
		Map<UUID, PoolSnapshot> pools = new LinkedHashMap<>();
		Map<UUID, List<LevelSnapshot>> levels = new HashMap<>();
		jdbc.sql("""
				SELECT p.id, p.name, c.name AS client_name, s.assessed_on, s.last_visit_on, s.last_technician_id, s.products, d.level,
				       d.low_ppm, d.middle_ppm, d.high_ppm, d.baseline_drift_per_day, d.side, d.limit_ppm, d.exit_early, d.exit_day, d.exit_late,
				       d.probability_within_horizon, d.probability_by_season_end, d.flag_side, d.flag_since, d.flag_probability, d.evidence::text AS evidence,
				       x.reason, x.dismissed_at, w.name AS dismissed_by
				FROM pool p
				JOIN client c ON c.company_id = p.company_id AND c.id = p.client_id
				LEFT JOIN pool_season s ON s.company_id = p.company_id AND s.pool_id = p.id
				LEFT JOIN drift d ON d.company_id = s.company_id AND d.pool_id = s.pool_id
				LEFT JOIN drift_dismissal x ON x.company_id = d.company_id AND x.pool_id = d.pool_id AND x.level = d.level
				     AND x.side = d.flag_side
				LEFT JOIN person w ON w.company_id = x.company_id AND w.id = x.dismissed_by
				WHERE p.company_id = ? AND p.archived_at IS NULL AND c.archived_at IS NULL
				ORDER BY lower(c.name), lower(p.name), p.id, d.level""")
			.param(company.value())
			.query(row -> {
				UUID id = row.getObject("id", UUID.class);
				pools.putIfAbsent(id, pool(row, id));
				if (row.getString("level") != null) {
					levels.computeIfAbsent(id, any -> new ArrayList<>()).add(level(row));
				}
			});
		return pools.values()
			.stream()
			.map(pool -> new PoolSnapshot(pool.pool(), pool.name(), pool.client(), pool.assessedOn(), pool.lastVisitOn(),
					pool.lastTechnician(),
					pool.products(), levels.getOrDefault(pool.pool().value(), List.of())))
			.toList();
	}

	private static PoolSnapshot pool(ResultSet row, UUID id) throws SQLException {
		UUID technician = row.getObject("last_technician_id", UUID.class);
		Array products = row.getArray("products");
		return new PoolSnapshot(new PoolId(id), row.getString("name"), row.getString("client_name"),
				row.getObject("assessed_on", LocalDate.class), row.getObject("last_visit_on", LocalDate.class),
				(technician != null) ? new PersonId(technician) : null,
				(products != null) ? List.of((String[]) products.getArray()) : List.of(), List.of());
	}

	private static LevelSnapshot level(ResultSet row) throws SQLException {
		Band today = (row.getBigDecimal("middle_ppm") == null) ? null
				: new Band(row.getDouble("low_ppm"), row.getDouble("middle_ppm"), row.getDouble("high_ppm"));
		LevelSnapshot.ExitForecast leaving = (row.getString("side") == null) ? null
				: new LevelSnapshot.ExitForecast(RangeEnd.valueOf(row.getString("side")), row.getDouble("limit_ppm"),
						row.getObject("exit_early", LocalDate.class), row.getObject("exit_day", LocalDate.class),
						row.getObject("exit_late", LocalDate.class), row.getDouble("probability_within_horizon"),
						row.getDouble("probability_by_season_end"));
		LevelSnapshot.FlagSnapshot flag = (row.getString("flag_side") == null) ? null
				: new LevelSnapshot.FlagSnapshot(RangeEnd.valueOf(row.getString("flag_side")), row.getObject("flag_since", LocalDate.class),
						row.getDouble("flag_probability"));
		LevelSnapshot.Dismissal dismissed = (row.getString("reason") == null) ? null
				: new LevelSnapshot.Dismissal(row.getString("reason"),
						LocalDate.ofInstant(row.getTimestamp("dismissed_at").toInstant(), java.time.ZoneOffset.UTC),
						row.getString("dismissed_by"));
		return new LevelSnapshot(Level.valueOf(row.getString("level")), today, number(row, "baseline_drift_per_day"), leaving, flag,
				dismissed,
				DriftEvidence.of(row.getString("evidence")));
	}

	/** By how much the levels of a pool move by themselves, ppm a day; those that are not known well enough are left out. */
	Map<Level, Double> baselineDrifts(CompanyId company, PoolId pool) {
		Map<Level, Double> perDay = new EnumMap<>(Level.class);
		jdbc.sql("""
				SELECT level, baseline_drift_per_day FROM drift
				WHERE company_id = ? AND pool_id = ? AND baseline_drift_per_day IS NOT NULL""")
			.params(company.value(), pool.value())
			.query(row -> {
				perDay.put(Level.valueOf(row.getString("level")), row.getDouble("baseline_drift_per_day"));
			});
		return perDay;
	}

	/** Handles a standing flag; said again, the newer reason counts. @return false when no such flag stands */
	boolean dismiss(CompanyId company, PoolId pool, Level level, PersonId by, String reason) {
		return jdbc.sql("""
				INSERT INTO drift_dismissal (company_id, pool_id, level, side, reason, dismissed_at, dismissed_by)
				SELECT company_id, pool_id, level, flag_side, :reason, :now, :by FROM drift
				WHERE company_id = :company AND pool_id = :pool AND level = :level AND flag_side IS NOT NULL
				ON CONFLICT (company_id, pool_id, level) DO UPDATE SET side = excluded.side, reason = excluded.reason,
				    dismissed_at = excluded.dismissed_at, dismissed_by = excluded.dismissed_by""")
			.param("reason", reason)
			.param("now", Timestamp.from(clock.instant()))
			.param("by", by.value())
			.param("company", company.value())
			.param("pool", pool.value())
			.param("level", level.name())
			.update() > 0;
	}

	/** @return false when nothing was dismissed */
	boolean reopen(CompanyId company, PoolId pool, Level level) {
		return jdbc.sql("DELETE FROM drift_dismissal WHERE company_id = ? AND pool_id = ? AND level = ?")
			.params(company.value(), pool.value(), level.name())
			.update() > 0;
	}

	private static BigDecimal probability(double probability) {
		return scaled(Math.min(1, Math.max(0, probability)), 4);
	}

}
