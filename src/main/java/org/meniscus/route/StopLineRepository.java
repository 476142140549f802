package org.meniscus.route;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Reads stops with the names that lists show beside them. */
@Component
class StopLineRepository {

	private static final String LINES = """
			SELECT s.id, s.version, s.pool_id, p.name AS pool_name, c.name AS client_name, p.street, p.town, p.postcode, s.technician_id,
			       s.planned_on, s.due_on, s.state, s.missed_reason, s.missed_note,
			       row_number() OVER (PARTITION BY s.technician_id, s.planned_on ORDER BY s.position, s.id) AS place,
			       (SELECT v.id FROM visit v WHERE v.company_id = s.company_id AND v.stop_id = s.id ORDER BY v.received_at LIMIT 1) AS visit_id
			FROM stop s
			JOIN pool p ON p.company_id = s.company_id AND p.id = s.pool_id
			JOIN client c ON c.company_id = p.company_id AND c.id = p.client_id
			WHERE s.company_id = :company AND s.planned_on BETWEEN :from AND :to AND %s
			ORDER BY s.planned_on, s.technician_id, s.position, s.id""".formatted(StopOrder.NOT_ARCHIVED);

	private final JdbcClient jdbc;

	StopLineRepository(JdbcClient jdbc) {
		this.jdbc = jdbc;
	}

	/** All technicians' stops, day by day, each technician's in order. */
	List<StopLine> between(CompanyId company, LocalDate from, LocalDate to) {
		return jdbc.sql(LINES)
			.param("company", company.value())
			.param("from", from)
			.param("to", to)
			.query((row, n) -> line(row))
			.list();
	}

	Optional<StopLine> find(CompanyId company, UUID stop) {
		return jdbc.sql("SELECT planned_on FROM stop WHERE company_id = ? AND id = ?")
			.params(company.value(), stop)
			.query(LocalDate.class)
			.optional()
			.flatMap(day -> between(company, day, day).stream().filter(line -> line.id().value().equals(stop)).findFirst());
	}

	private static StopLine line(ResultSet row) throws SQLException {
		String reason = row.getString("missed_reason");
		return new StopLine(new StopId(row.getObject("id", UUID.class)), row.getLong("version"),
				new PoolId(row.getObject("pool_id", UUID.class)), row.getString("pool_name"), row.getString("client_name"),
				row.getString("street"), row.getString("town"), row.getString("postcode"),
				new PersonId(row.getObject("technician_id", UUID.class)), row.getObject("planned_on", LocalDate.class),
				row.getInt("place"), row.getObject("due_on", LocalDate.class), StopState.valueOf(row.getString("state")),
				(reason != null) ? MissedReason.valueOf(reason) : null, row.getString("missed_note"),
				row.getObject("visit_id", UUID.class));
	}

}
