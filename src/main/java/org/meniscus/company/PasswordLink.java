package org.meniscus.company;

import java.time.Instant;

import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;

/**
 * A way for one person to choose a password once: an invitation, or a way back in.
 *
 * @param token what stands in the link; readable only now, when it has just been made
 * @param invitation false for somebody who has joined before
 */
public record PasswordLink(CompanyId company, String companyName, PersonId person, String personName, String email, String token,
		Instant expiresAt, boolean invitation) {

	@Override
	public String toString() {
		return "PasswordLink for " + person;
	}

}
