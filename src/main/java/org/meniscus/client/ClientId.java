package org.meniscus.client;

import java.io.Serializable;
import java.util.UUID;

/** Somebody whose pools are looked after. */
public record ClientId(UUID value) implements Serializable {

	@Override
	public String toString() {
		return value.toString();
	}

}
