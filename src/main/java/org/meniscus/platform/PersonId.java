package org.meniscus.platform;

import java.io.Serializable;
import java.util.UUID;

/** Somebody who can sign in: owner, office staff or technician. */
public record PersonId(UUID value) implements Serializable {

	@Override
	public String toString() {
		return value.toString();
	}

}
