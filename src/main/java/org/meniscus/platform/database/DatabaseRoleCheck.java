package org.meniscus.platform.database;

import java.util.Map;

import org.springframework.boot.ApplicationArguments;
import org.springframework.boot.ApplicationRunner;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Refuses to serve with a database role for which row level security would be off. */
@Component
@Order(Ordered.HIGHEST_PRECEDENCE)
public class DatabaseRoleCheck implements ApplicationRunner {

	private final JdbcTemplate jdbc;

	public DatabaseRoleCheck(JdbcTemplate jdbc) {
		this.jdbc = jdbc;
	}

	@Override
	@Transactional(readOnly = true)
	public void run(ApplicationArguments args) {
		Map<String, Object> role = jdbc.queryForMap("""
				SELECT current_user AS name, r.rolsuper OR r.rolbypassrls AS bypasses,
				       EXISTS (SELECT 1 FROM pg_tables t WHERE t.schemaname = 'public' AND t.tableowner = current_user) AS owns
				FROM pg_roles r WHERE r.rolname = current_user""");
		if (Boolean.TRUE.equals(role.get("bypasses")) || Boolean.TRUE.equals(role.get("owns"))) {
			throw new UnsafeDatabaseRole(String.valueOf(role.get("name")));
		}
	}

}
