package org.meniscus.platform.database;

/** The service was given a role that owns the tables or can bypass row level security. */
public class UnsafeDatabaseRole extends RuntimeException {

	public UnsafeDatabaseRole(String role) {
		super("the database role \"" + role + "\" owns the tables or can bypass row level security; use app_rw");
	}

}
