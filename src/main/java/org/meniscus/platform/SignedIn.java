package org.meniscus.platform;

import java.io.Serializable;

/** Who is asking, as kept in the session. The company always comes from here, never from a request. */
public record SignedIn(CompanyId company, PersonId person, Role role, String name) implements Serializable {

	/** Owners may do whatever the office may. */
	public boolean isOffice() {
		return role != Role.TECHNICIAN;
	}

	public boolean isOwner() {
		return role == Role.OWNER;
	}

}
