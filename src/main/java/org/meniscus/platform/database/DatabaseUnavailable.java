package org.meniscus.platform.database;

import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.Set;

/** Distinguishes a database that is not there, or cannot serve now, from a faulty statement. */
public final class DatabaseUnavailable {

	private DatabaseUnavailable() {
	}

	/**
	 * By the SQLSTATE classes of PostgreSQL (appendix A of its manual): 08 connection, 53 out of connections, memory or disk,
	 * 57P shutting down or starting up; or because the pool has no connection to give.
	 */
	public static boolean isCauseOf(Throwable failure) {
		Set<Throwable> seen = Collections.newSetFromMap(new IdentityHashMap<>());
		for (Throwable cause = failure; cause != null && seen.add(cause); cause = cause.getCause()) {
			if (cause instanceof SQLTransientConnectionException) {
				return true;
			}
			if (cause instanceof SQLException sql && sql.getSQLState() != null
					&& (sql.getSQLState().startsWith("08") || sql.getSQLState().startsWith("53") || sql.getSQLState().startsWith("57P"))) {
				return true;
			}
		}
		return false;
	}

}
