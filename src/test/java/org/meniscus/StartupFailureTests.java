package org.meniscus;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.SQLException;

import org.flywaydb.core.api.FlywayException;
import org.junit.jupiter.api.Test;
import org.meniscus.platform.database.UnsafeDatabaseRole;
import org.meniscus.platform.embedded.DatabaseFolderUnusable;
import org.springframework.beans.factory.BeanCreationException;
import org.springframework.boot.web.server.PortInUseException;
import org.springframework.context.ApplicationContextException;

class StartupFailureTests {

	@Test
	void knownFailuresAreDescribedInOneLine() {
		assertLine(new ApplicationContextException("x", new PortInUseException(8080)), "Port 8080 is taken", "--server.port=8081");
		assertLine(new ApplicationContextException("x", new PortInUseException(65535)), "Port 65535 is taken", "--server.port=8081");
		assertLine(bean(new DatabaseFolderUnusable("The data folder data is in use by another running service.", null)),
				"is in use by another");
		assertLine(new UnsafeDatabaseRole("postgres"), "\"postgres\" owns the tables or can bypass row level security; use app_rw");
		assertLine(bean(new FlywayException("m", new SQLException("Connection to db:5432 refused.", "08001"))), "cannot be reached",
				"db:5432");
		assertLine(bean(new SQLException("FATAL: password authentication failed", "28P01")), "does not let the service in");
		assertLine(bean(new SQLException("FATAL: database \"x\" does not exist", "3D000")), "no such database");
		assertLine(
				bean(new FlywayException("Script V9 failed\n-----\nmany\nlines",
						new SQLException("ERROR: syntax error\n  Position: 8", "42601"))),
				"could not be brought up to date: ERROR: syntax error; Position: 8");
	}

	@Test
	void unknownFailuresHaveNoDescription() {
		assertThat(StartupFailure.describe(bean(new IllegalStateException("a bug")))).isEmpty();
		assertThat(StartupFailure.describe(bean(new SQLException("ERROR: relation does not exist", "42P01")))).isEmpty();
	}

	private static Throwable bean(Throwable cause) {
		return new BeanCreationException("dataSource", "outer", new BeanCreationException("inner", cause));
	}

	private static void assertLine(Throwable failure, String... parts) {
		String line = StartupFailure.describe(failure).orElseThrow();
		assertThat(line).contains(parts).doesNotContain("\n", "Exception", "\tat ");
	}

}
