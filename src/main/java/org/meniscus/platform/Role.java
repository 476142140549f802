package org.meniscus.platform;

/** What somebody may do. */
public enum Role {

	/** Everything the office may, and spend, company settings and people. */
	OWNER,
	/** Clients, pools, products, the week, visits and reports. */
	OFFICE,
	/** Their own stops, the visits to them, and reading what is known about those pools. */
	TECHNICIAN;

	/** Spring Security's name for this role, for {@code hasAuthority}. */
	public String authority() {
		return "ROLE_" + name();
	}

}
