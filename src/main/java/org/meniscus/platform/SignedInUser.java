package org.meniscus.platform;

import java.io.Serializable;
import java.security.Principal;

/** Who is asking, as kept in the session. The company always comes from here, never from a request. */
public record SignedInUser(CompanyId company, PersonId person, Role role, String fullName) implements Serializable, Principal {

	/** Owners may do whatever the office may. */
	public boolean hasOfficeAccess() {
		return role != Role.TECHNICIAN;
	}

	/** The person's id: what a session is found by. For reading there is {@link #fullName()}. */
	@Override
	public String getName() {
		return person.toString();
	}

	public boolean isOwner() {
		return role == Role.OWNER;
	}

}
