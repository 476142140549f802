package org.meniscus.season;

import static org.meniscus.platform.database.Decimals.number;

import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.TestMethods;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.product.StrengthBasis;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Readings and doses as a season needs them: few columns of many rows, for one pool or for all of a company at once. */
@Repository
class SeasonRepository {

	private final JdbcClient jdbc;

	SeasonRepository(JdbcClient jdbc) {
		this.jdbc = jdbc;
	}

	/** One visit: only levels that were read are in {@code values}, only marked ones in {@code qualifiers}. */
	record VisitRow(UUID id, UUID pool, LocalDate day, PersonId technician, Map<TrackedLevel, Double> values,
			Map<TrackedLevel, ReadingQualifier> qualifiers,
			@Nullable Double waterReplaced, boolean backwashed, Situation situation, TestMethods tests) {
	}

	record DoseRow(UUID pool, UUID visit, LocalDate day, String product, RecordedDose recorded) {
	}

	/** By pool, oldest first. @param pools not empty */
	Map<UUID, List<VisitRow>> visits(CompanyId company, List<UUID> pools, LocalDate from, LocalDate to) {
		return jdbc.sql("""
				SELECT id, pool_id, performed_on, technician_id, fc_ppm, ph, ph_qualifier, ta_ppm, ch_ppm, cya_ppm, cya_qualifier, salt_ppm,
				       borate_ppm, tds_ppm, water_replaced, 'FILTER_BACKWASHED' = ANY (tasks) AS backwashed, situation, test_kit,
				       test_methods
				FROM visit WHERE company_id = :company AND performed_on BETWEEN :from AND :to AND pool_id IN (:pools)
				ORDER BY pool_id, performed_at, id""")
			.param("company", company.value())
			.param("from", from)
			.param("to", to)
			.param("pools", pools)
			.query(SeasonRepository::visit)
			.list()
			.stream()
			.collect(Collectors.groupingBy(VisitRow::pool));
	}

	/** By pool, oldest first. @param pools not empty */
	Map<UUID, List<DoseRow>> doses(CompanyId company, List<UUID> pools, LocalDate from, LocalDate to) {
		return jdbc.sql("""
				SELECT pool_id, visit_id, dosed_on, product_name, product_kind, strength_percent, strength_basis, amount
				FROM dose WHERE company_id = :company AND dosed_on BETWEEN :from AND :to AND pool_id IN (:pools)
				ORDER BY pool_id, dosed_on, visit_id, seq""")
			.param("company", company.value())
			.param("from", from)
			.param("to", to)
			.param("pools", pools)
			.query(SeasonRepository::dose)
			.list()
			.stream()
			.collect(Collectors.groupingBy(DoseRow::pool));
	}

	/** Water surface by pool, square metres, where it is on record. @param pools not empty */
	Map<UUID, Double> areas(CompanyId company, List<UUID> pools) {
		Map<UUID, Double> areas = new HashMap<>();
		jdbc.sql("SELECT id, area_m2 FROM pool WHERE company_id = :company AND area_m2 IS NOT NULL AND id IN (:pools)")
			.param("company", company.value())
			.param("pools", pools)
			.query(row -> {
				areas.put(row.getObject("id", UUID.class), row.getDouble("area_m2"));
			});
		return areas;
	}

	/** What the company has chosen; empty when it has not. */
	Optional<Climate> climate(CompanyId company) {
		return jdbc.sql("SELECT climate FROM company WHERE id = ? AND climate IS NOT NULL")
			.param(company.value())
			.query(String.class)
			.optional()
			.map(Climate::valueOf);
	}

	void saveClimate(CompanyId company, Climate climate) {
		jdbc.sql("UPDATE company SET climate = ? WHERE id = ?")
			.params(climate.name(), company.value())
			.update();
	}

	private static VisitRow visit(ResultSet row, int n) throws SQLException {
		Map<TrackedLevel, Double> values = new EnumMap<>(TrackedLevel.class);
		Map<TrackedLevel, ReadingQualifier> qualifiersByLevel = new EnumMap<>(TrackedLevel.class);
		for (TrackedLevel tracked : TrackedLevel.values()) {
			Double value = number(row, tracked.column);
			if (value != null) {
				values.put(tracked, value);
				String sign = (tracked.qualifierColumn != null) ? row.getString(tracked.qualifierColumn) : null;
				if (sign != null) {
					qualifiersByLevel.put(tracked, ReadingQualifier.ofSign(sign));
				}
			}
		}
		return new VisitRow(row.getObject("id", UUID.class), row.getObject("pool_id", UUID.class),
				row.getObject("performed_on", LocalDate.class), new PersonId(row.getObject("technician_id", UUID.class)), values,
				qualifiersByLevel, number(row, "water_replaced"), row.getBoolean("backwashed"),
				Situation.valueOf(row.getString("situation")),
				TestMethods.parse(row.getString("test_kit"), List.of((String[]) row.getArray("test_methods").getArray())));
	}

	private static DoseRow dose(ResultSet row, int n) throws SQLException {
		BigDecimal percent = row.getBigDecimal("strength_percent");
		String basis = row.getString("strength_basis");
		return new DoseRow(row.getObject("pool_id", UUID.class), row.getObject("visit_id", UUID.class),
				row.getObject("dosed_on", LocalDate.class),
				row.getString("product_name"),
				new RecordedDose(ProductKind.valueOf(row.getString("product_kind")),
						(percent != null) ? percent.doubleValue() / 100 : null,
						(basis != null) ? StrengthBasis.valueOf(basis) : null, row.getDouble("amount")));
	}

}
