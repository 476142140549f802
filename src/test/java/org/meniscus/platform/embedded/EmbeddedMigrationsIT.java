package org.meniscus.platform.embedded;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;

import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What migrations do to a data folder, on an embedded database of its own. */
class EmbeddedMigrationsIT {

	@TempDir
	Path home;

	@TempDir
	Path later;

	private EmbeddedPostgresServer server;

	@BeforeEach
	void start() {
		server = EmbeddedPostgresServer.start(home, false);
	}

	@AfterEach
	void stop() throws IOException {
		server.close();
	}

	@Test
	void folderOfTheEarlierLineIsRefusedWithWhatToDo() throws IOException {
		Files.writeString(later.resolve("V004__service_plans_and_stops.sql"), "CREATE TABLE service_plan (id int);");
		flyway("filesystem:" + later).migrate();
		assertThatThrownBy(() -> EmbeddedPostgresAutoConfiguration.migrate(flyway("classpath:db/migration"), home))
			.isInstanceOf(DatabaseFolderUnusable.class)
			.hasMessageStartingWith("The data folder " + home + " was made by an earlier line of migrations")
			.hasMessageContaining("delete that folder, or choose another with meniscus.database.home");
	}

	@Test
	void tableOfALaterMigrationGetsItsPolicyAndGrantsWithoutAskingForThem() throws IOException, SQLException {
		Files.writeString(later.resolve("V900__later_table.sql"),
				"CREATE TABLE later_table (company_id uuid NOT NULL, id uuid NOT NULL, PRIMARY KEY (company_id, id));");
		EmbeddedPostgresAutoConfiguration.migrate(flyway("classpath:db/migration", "filesystem:" + later), home);
		assertThat(asService("SELECT qual FROM pg_policies WHERE tablename = 'later_table'"))
			.isEqualTo(asService("SELECT qual FROM pg_policies WHERE tablename = 'client'"));
		assertThat(asService("SELECT relrowsecurity AND relforcerowsecurity FROM pg_class WHERE relname = 'later_table'")).isEqualTo("t");
		assertThat(asService("SELECT count(*) FROM later_table")).isEqualTo("0");
	}

	@Test
	void tableWithoutACompanyFailsItsMigrationAndIsNotLeftBehind() throws IOException, SQLException {
		Files.writeString(later.resolve("V900__later_table.sql"), "CREATE TABLE later_table (id uuid PRIMARY KEY);");
		Flyway flyway = flyway("classpath:db/migration", "filesystem:" + later);
		assertThatThrownBy(() -> EmbeddedPostgresAutoConfiguration.migrate(flyway, home)).isInstanceOf(FlywayException.class)
			.hasMessageContaining("company_id");
		assertThat(asService("SELECT to_regclass('later_table') IS NULL AND to_regclass('client') IS NOT NULL")).isEqualTo("t");
	}

	private Flyway flyway(String... locations) {
		return Flyway.configure()
			.dataSource(server.url(), EmbeddedPostgresServer.OWNER_ROLE, server.password(EmbeddedPostgresServer.OWNER_ROLE))
			.locations(locations)
			.load();
	}

	private String asService(String query) throws SQLException {
		try (Connection connection = DriverManager.getConnection(server.url(), EmbeddedPostgresServer.RUNTIME_ROLE,
				server.password(EmbeddedPostgresServer.RUNTIME_ROLE));
				Statement sql = connection.createStatement();
				ResultSet row = sql.executeQuery(query)) {
			row.next();
			return row.getString(1);
		}
	}

}
