package org.meniscus.platform.database;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Set;

import org.junit.jupiter.api.Test;
import org.meniscus.support.IntegrationTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionOperations;

/** Reads the database's own catalogue, so a table added tomorrow is held to the same rules (docs/decisions/0003). */
@IntegrationTest
class SchemaRulesIT {

	/** Web sessions, what runs by the clock and the migration history: the only tables without a company. */
	private static final Set<String> PLAIN = Set.of("spring_session", "spring_session_attributes", "scheduled_tasks",
			"flyway_schema_history");

	/** Found by their own key before a company is known: one more policy, for reading by that key; no foreign keys. */
	private static final Set<String> LOOKUP = Set.of("login", "report_link");

	@Autowired
	JdbcClient jdbc;

	@Autowired
	TransactionOperations transactions;

	@Test
	void everyPrimaryKeyStartsWithTheCompany() {
		assertThat(violations("""
				SELECT c.relname FROM pg_class c JOIN pg_index i ON i.indrelid = c.oid AND i.indisprimary
				JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum = i.indkey[0]
				WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r'
				  AND a.attname <> CASE c.relname WHEN 'company' THEN 'id' ELSE 'company_id' END""", LOOKUP)).isEmpty();
		assertThat(violations("""
				SELECT c.relname FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p')
				  AND NOT EXISTS (SELECT 1 FROM pg_index i WHERE i.indrelid = c.oid AND i.indisprimary)""", Set.of())).isEmpty();
	}

	@Test
	void everyCompanyColumnIsANonNullUuid() {
		assertThat(violations("""
				SELECT c.relname FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r' AND c.relname <> 'company'
				  AND NOT EXISTS (SELECT 1 FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attname = 'company_id'
				                  AND a.attnotnull AND a.atttypid = 'uuid'::regtype)""", Set.of())).isEmpty();
	}

	@Test
	void everyBusinessTableForcesRowLevelSecurityWithOnePermissivePolicy() {
		assertThat(violations("""
				SELECT relname FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind = 'r'
				  AND NOT (relrowsecurity AND relforcerowsecurity)""", Set.of())).isEmpty();
		assertThat(violations("""
				SELECT c.relname FROM pg_class c LEFT JOIN pg_policy p ON p.polrelid = c.oid
				WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r'
				GROUP BY c.relname HAVING count(p.oid) <> 1""", LOOKUP)).isEmpty();
		assertThat(rows("SELECT polrelid::regclass::text FROM pg_policy WHERE NOT polpermissive")).isEmpty();
		assertThat(rows("""
				SELECT polrelid::regclass::text || ' ' || polname FROM pg_policy WHERE polname <> 'tenant' ORDER BY 1"""))
			.containsExactly("login lookup", "report_link lookup");
		assertThat(rows("""
				SELECT DISTINCT cmd || ' ' || qual || ' ' || coalesce(with_check, '-') FROM pg_policies
				WHERE policyname = 'tenant' AND tablename <> 'company'""")).containsExactly(allowedWhen("company_id"));
		assertThat(rows("SELECT cmd || ' ' || qual || ' ' || coalesce(with_check, '-') FROM pg_policies WHERE tablename = 'company'"))
			.containsExactly(allowedWhen("id"));
		assertThat(rows("SELECT tablename || ' ' || qual FROM pg_policies WHERE policyname = 'lookup' ORDER BY 1")).containsExactly(
				"login (encode(sha256(convert_to(email, 'UTF8'::name)), 'hex'::text) = NULLIF(current_setting('app.lookup_key'::text, true), ''::text))",
				"report_link (token_hash = decode(NULLIF(current_setting('app.lookup_key'::text, true), ''::text), 'hex'::text))");
		assertThat(rows("SELECT tablename FROM pg_policies WHERE policyname = 'lookup' AND cmd <> 'SELECT'")).isEmpty();
	}

	private static String allowedWhen(String column) {
		String same = "(" + column + " = (NULLIF(current_setting('app.company_id'::text, true), ''::text))::uuid)";
		return "ALL " + same + " " + same;
	}

	@Test
	void everyForeignKeyIncludesTheCompany() {
		assertThat(
				rows("""
				SELECT k.conname FROM pg_constraint k
				WHERE k.contype = 'f' AND k.connamespace = 'public'::regnamespace
				  AND k.conrelid::regclass::text <> 'spring_session_attributes'
				  AND NOT EXISTS (SELECT 1 FROM pg_attribute a WHERE a.attrelid = k.conrelid AND a.attnum = ANY (k.conkey) AND a.attname = 'company_id')"""))
			.isEmpty();
		assertThat(rows("SELECT conname FROM pg_constraint WHERE contype = 'f' AND confdeltype IN ('n', 'd')")).isEmpty();
		assertThat(rows("SELECT conname FROM pg_constraint WHERE contype = 'f' AND conrelid::regclass::text IN ('login', 'report_link')"))
			.isEmpty();
	}

	@Test
	void everyIndexStartsWithTheCompany() {
		assertThat(violations("""
				SELECT c.relname || '.' || x.relname FROM pg_index i JOIN pg_class c ON c.oid = i.indrelid JOIN pg_class x ON x.oid = i.indexrelid
				JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum = i.indkey[0]
				WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r' AND a.attname <> 'company_id'
				  AND c.relname <> 'company'""", Set.of("login.login_pkey", "report_link.report_link_pkey"))).isEmpty();
	}

	@Test
	void everyForeignKeyHasAnIndex() {
		assertThat(rows("""
				SELECT k.conrelid::regclass || '.' || k.conname FROM pg_constraint k
				WHERE k.contype = 'f' AND k.connamespace = 'public'::regnamespace AND array_length(k.conkey, 1) > 1
				  AND NOT EXISTS (SELECT 1 FROM pg_index i WHERE i.indrelid = k.conrelid
				                  AND (string_to_array(i.indkey::text, ' ')::smallint[])[1:2] @> k.conkey)"""))
			.isEmpty();
	}

	@Test
	void schemaHasNoTriggersOrObjectsThatBypassRowLevelSecurity() {
		assertThat(rows("SELECT tgname FROM pg_trigger WHERE NOT tgisinternal")).isEmpty();
		assertThat(rows("SELECT rulename FROM pg_rules WHERE schemaname = 'public'")).isEmpty();
		assertThat(rows("SELECT proname FROM pg_proc WHERE pronamespace = 'public'::regnamespace AND prosecdef")).isEmpty();
		assertThat(rows("SELECT relname FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind IN ('m', 'p')")).isEmpty();
		assertThat(rows("""
				SELECT relname FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind = 'v'
				  AND NOT coalesce(reloptions::text LIKE '%security_invoker=true%', false)""")).isEmpty();
		assertThat(rows("SELECT sequencename FROM pg_sequences WHERE schemaname = 'public'")).isEmpty();
	}

	@Test
	void serviceRoleCannotBypassRowLevelSecurity() {
		assertThat(
				rows("""
				SELECT rolname FROM pg_roles WHERE rolname = current_user AND (rolsuper OR rolbypassrls OR rolcreaterole OR rolcreatedb)"""))
			.isEmpty();
		assertThat(rows("SELECT current_user::text")).containsExactly("app_rw");
		assertThat(rows("SELECT tablename FROM pg_tables WHERE schemaname = 'public' AND tableowner = current_user")).isEmpty();
	}

	@Test
	void serviceRoleMayWriteEveryTableButOnlyAppendToTheRecords() {
		assertThat(rows("""
				SELECT tablename || ' ' || p FROM pg_tables, unnest(ARRAY['SELECT', 'INSERT', 'UPDATE', 'DELETE']) p
				WHERE schemaname = 'public' AND tablename <> 'flyway_schema_history' AND NOT has_table_privilege('public.' || tablename, p)
				ORDER BY 1"""))
			.containsExactly("audit_event DELETE", "audit_event UPDATE", "visit_version DELETE", "visit_version UPDATE");
		assertThat(rows("""
				SELECT tablename || ' ' || p FROM pg_tables, unnest(ARRAY['TRUNCATE', 'REFERENCES', 'TRIGGER']) p
				WHERE schemaname = 'public' AND has_table_privilege('public.' || tablename, p)""")).isEmpty();
	}

	private List<String> violations(String sql, Set<String> allowed) {
		return rows(sql).stream().filter(name -> !PLAIN.contains(name.split("\\.")[0]) && !allowed.contains(name)).toList();
	}

	private List<String> rows(String sql) {
		return transactions.execute(status -> jdbc.sql(sql).query(String.class).list());
	}

}
