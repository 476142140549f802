package org.meniscus.client;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The door to clients and their pools. */
@Service
public class ClientBook {

	private static final String CARD = """
			SELECT p.id, p.client_id, c.name AS client_name, p.name, p.street, p.town, p.postcode, p.latitude, p.longitude,
			       coalesce(p.equipment_notes, '') AS equipment_notes,
			       (p.archived_at IS NOT NULL OR c.archived_at IS NOT NULL) AS archived, p.monthly_fee_cents
			FROM pool p JOIN client c ON c.company_id = p.company_id AND c.id = p.client_id
			WHERE p.company_id = :company
			""";

	private final JdbcClient jdbc;

	ClientBook(JdbcClient jdbc) {
		this.jdbc = jdbc;
	}

	/** One pool, archived or not. @throws NotFound when this company has no such pool */
	@Transactional(readOnly = true)
	public PoolCard pool(CompanyId company, PoolId pool) {
		return jdbc.sql(CARD + " AND p.id = :pool")
			.param("company", company.value())
			.param("pool", pool.value())
			.query(ClientBook::card)
			.optional()
			.orElseThrow(() -> new NotFound("pool"));
	}

	/** Every pool that is looked after, by client and name; archived pools and pools of archived clients are left out. */
	@Transactional(readOnly = true)
	public List<PoolCard> pools(CompanyId company) {
		return jdbc.sql(CARD + " AND p.archived_at IS NULL AND c.archived_at IS NULL ORDER BY lower(c.name), lower(p.name), p.id")
			.param("company", company.value())
			.query(ClientBook::card)
			.list();
	}

	/**
	 * Gate codes, keys, dogs; empty when there are none. The caller decides who may see them: office staff, and the technician
	 * of the day.
	 */
	@Transactional(readOnly = true)
	public String accessNotes(CompanyId company, PoolId pool) {
		return jdbc.sql("SELECT coalesce(access_notes, '') FROM pool WHERE company_id = :company AND id = :pool")
			.param("company", company.value())
			.param("pool", pool.value())
			.query(String.class)
			.optional()
			.orElseThrow(() -> new NotFound("pool"));
	}

	private static PoolCard card(ResultSet row, int n) throws SQLException {
		return new PoolCard(new PoolId(row.getObject("id", UUID.class)), new ClientId(row.getObject("client_id", UUID.class)),
				row.getString("client_name"), row.getString("name"), row.getString("street"), row.getString("town"),
				row.getString("postcode"), number(row, "latitude"), number(row, "longitude"), row.getString("equipment_notes"),
				row.getBoolean("archived"), row.getObject("monthly_fee_cents", Integer.class));
	}

	private static @Nullable Double number(ResultSet row, String column) throws SQLException {
		double value = row.getDouble(column);
		return row.wasNull() ? null : value;
	}

}
