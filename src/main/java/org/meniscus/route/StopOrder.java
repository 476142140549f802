package org.meniscus.route;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.springframework.jdbc.core.namedparam.MapSqlParameterSource;
import org.springframework.jdbc.core.namedparam.NamedParameterJdbcTemplate;
import org.springframework.jdbc.core.namedparam.SqlParameterSource;
import org.springframework.stereotype.Component;

/** The order of one technician's stops on one day: 1, 2, 3 ... without gaps. Callers hold {@link #lock}. */
@Component
class StopOrder {

	/** Planned stops of archived pools and clients are not part of any day until the pool is restored. */
	static final String NOT_ARCHIVED = "NOT (s.state = 'PLANNED' AND (p.archived_at IS NOT NULL OR c.archived_at IS NOT NULL))";

	/** A stop in the order of its day; {@code schedulePlace} is absent for one added by hand. */
	record OrderedStop(UUID stop, @Nullable Integer schedulePlace) {
	}

	private final NamedParameterJdbcTemplate jdbc;

	StopOrder(NamedParameterJdbcTemplate jdbc) {
		this.jdbc = jdbc;
	}

	/**
	 * One change of a company's week at a time, over all replicas; held until the end of the transaction. Rows cannot be
	 * locked in its place: the day a stop moves to may have none yet.
	 */
	void lock(CompanyId company) {
		jdbc.query("SELECT 1 FROM pg_advisory_xact_lock(hashtextextended(:key, 0))",
				new MapSqlParameterSource("key", "week " + company), (row, n) -> 1);
	}

	List<OrderedStop> of(CompanyId company, PersonId technician, LocalDate day) {
		return jdbc.query("""
				SELECT s.id, ss.position FROM stop s
				JOIN pool p ON p.company_id = s.company_id AND p.id = s.pool_id
				JOIN client c ON c.company_id = p.company_id AND c.id = p.client_id
				LEFT JOIN service_schedule ss ON ss.company_id = s.company_id AND ss.id = s.service_schedule_id
				WHERE s.company_id = :company AND s.planned_on = :day AND s.technician_id = :technician AND %s
				ORDER BY s.position, s.id""".formatted(NOT_ARCHIVED),
				new MapSqlParameterSource("company", company.value()).addValue("day", day).addValue("technician", technician.value()),
				(row, n) -> new OrderedStop(row.getObject(1, UUID.class), row.getObject(2, Integer.class)));
	}

	void write(CompanyId company, List<OrderedStop> order) {
		List<SqlParameterSource> rows = new ArrayList<>();
		for (OrderedStop placed : order) {
			rows.add(new MapSqlParameterSource("company", company.value()).addValue("id", placed.stop()).addValue("position",
					rows.size() + 1));
		}
		if (!rows.isEmpty()) {
			jdbc.batchUpdate("UPDATE stop SET position = :position WHERE company_id = :company AND id = :id AND position <> :position",
					rows.toArray(SqlParameterSource[]::new));
		}
	}

	/** Puts a stop at a place, counted from 1 among the others; beyond the end, or without a place, it comes last. */
	static List<OrderedStop> insertAt(List<OrderedStop> order, OrderedStop stop, @Nullable Integer place) {
		List<OrderedStop> others = new ArrayList<>(order);
		others.removeIf(other -> other.stop().equals(stop.stop()));
		int index = (place != null) ? Math.max(0, Math.min(others.size(), place - 1)) : others.size();
		others.add(index, stop);
		return others;
	}

	/** Puts a stop of a schedule before the first that its schedule says comes later; what was arranged by hand stays in its order. */
	static List<OrderedStop> insertBySchedule(List<OrderedStop> order, OrderedStop stop) {
		List<OrderedStop> others = new ArrayList<>(order);
		others.removeIf(other -> other.stop().equals(stop.stop()));
		int index = 0;
		while (index < others.size() && !isLater(others.get(index), stop)) {
			index++;
		}
		others.add(index, stop);
		return others;
	}

	private static boolean isLater(OrderedStop other, OrderedStop stop) {
		return other.schedulePlace() != null && stop.schedulePlace() != null && other.schedulePlace() > stop.schedulePlace();
	}

}
