package org.meniscus.route;

import java.io.Serializable;
import java.util.UUID;

/** A service schedule of visits to a pool. */
public record ServiceScheduleId(UUID value) implements Serializable {

	@Override
	public String toString() {
		return value.toString();
	}

}
