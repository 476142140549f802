package org.meniscus.route;

import java.io.Serializable;
import java.util.UUID;

/** One planned visit to a pool. */
public record StopId(UUID value) implements Serializable {

	@Override
	public String toString() {
		return value.toString();
	}

}
