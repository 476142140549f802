package org.meniscus;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Optional;
import java.util.Set;

import org.flywaydb.core.api.FlywayException;
import org.hibernate.tool.schema.spi.SchemaManagementException;
import org.jspecify.annotations.Nullable;
import org.meniscus.platform.database.UnsafeDatabaseRole;
import org.meniscus.platform.embedded.DatabaseFolderUnusable;
import org.springframework.boot.context.properties.bind.BindException;
import org.springframework.boot.web.server.PortInUseException;

/** What keeps the service from starting, in one line for whoever runs it: what is wrong, and what to do. */
final class StartupFailure {

	private StartupFailure() {
	}

	/** Nothing for a fault that nobody has foreseen: then the trace is needed. */
	static Optional<String> describe(Throwable failure) {
		List<Throwable> chain = chain(failure);
		return first(chain, PortInUseException.class)
			.map(fault -> "Port " + fault.getPort() + " is taken by another program. Stop that one, or choose another port, for instance "
					+ "with --server.port=" + ((fault.getPort() < 65535) ? fault.getPort() + 1 : 8081) + ".")
			.or(() -> first(chain, DatabaseFolderUnusable.class).map(Throwable::getMessage))
			.or(() -> first(chain, UnsafeDatabaseRole.class)
				.map(fault -> "The service does not start as it is: " + fault.getMessage() + "."))
			.or(() -> first(chain, SQLException.class).flatMap(StartupFailure::describeConnection))
			.or(() -> first(chain, FlywayException.class)
				.map(fault -> "The database could not be brought up to date: " + reason(fault, chain)
						+ ". Nothing after that step was changed; look at the step, or restore the backup and start the version before."))
			.or(() -> first(chain, SchemaManagementException.class)
				.map(fault -> "The tables of the database are not those of this version: " + oneLine(fault.getMessage()) + "."))
			.or(() -> first(chain, BindException.class)
				.map(fault -> "A setting cannot be used: " + fault.getName() + " (" + oneLine(last(chain).getMessage()) + ")."));
	}

	/** SQLSTATE classes of PostgreSQL, appendix A of its manual. */
	private static Optional<String> describeConnection(SQLException fault) {
		String state = (fault.getSQLState() != null) ? fault.getSQLState() : "";
		String why = oneLine(fault.getMessage());
		if (state.startsWith("08")) {
			return Optional.of("The database cannot be reached: " + why + " Check spring.datasource.url, and that the database runs.");
		}
		if (state.startsWith("28")) {
			return Optional.of("The database does not let the service in: " + why
					+ " Check spring.datasource.username and password, and spring.flyway.user and password.");
		}
		if (state.equals("3D000")) {
			return Optional.of("There is no such database: " + why + " Create it, or check spring.datasource.url.");
		}
		if (state.startsWith("57P") || state.startsWith("53")) {
			return Optional.of("The database cannot serve now: " + why + " Start again when it can.");
		}
		return Optional.empty();
	}

	/** Flyway's own words span many lines; the database's are one. */
	private static String reason(FlywayException fault, List<Throwable> chain) {
		return oneLine(first(chain, SQLException.class).map(Throwable::getMessage).orElse(fault.getMessage()));
	}

	private static List<Throwable> chain(Throwable failure) {
		Set<Throwable> seen = Collections.newSetFromMap(new IdentityHashMap<>());
		List<Throwable> chain = new ArrayList<>();
		for (Throwable cause = failure; cause != null && seen.add(cause); cause = cause.getCause()) {
			chain.add(cause);
		}
		return chain;
	}

	private static <T extends Throwable> Optional<T> first(List<Throwable> chain, Class<T> type) {
		return chain.stream().filter(type::isInstance).map(type::cast).findFirst();
	}

	private static Throwable last(List<Throwable> chain) {
		return chain.get(chain.size() - 1);
	}

	private static String oneLine(@Nullable String text) {
		return (text == null) ? "no reason given" : text.strip().replaceAll("\\s*\\R\\s*", "; ");
	}

}
