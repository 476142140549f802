package org.meniscus.client;

import java.io.Serializable;
import java.util.UUID;

/** A pool or spa of a client. */
public record PoolId(UUID value) implements Serializable {

	@Override
	public String toString() {
		return value.toString();
	}

}
