package org.meniscus.company;

import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;

/**
 * Somebody who works for the company, as the other features may know them.
 *
 * @param active false for those who have left; their past visits keep their name
 * @param joined false until they have chosen a password
 */
public record PersonSummary(PersonId id, String name, String email, Role role, boolean active, boolean joined) {
}
