package org.meniscus.route;

import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;

/**
 * Somebody who has, or could be given, stops. Owners and office staff may drive too.
 *
 * @param active false for somebody who has left; their planned stops need another technician
 */
public record Technician(PersonId id, String name, Role role, boolean active) {
}
