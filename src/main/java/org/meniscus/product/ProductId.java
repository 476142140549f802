package org.meniscus.product;

import java.io.Serializable;
import java.util.UUID;

/** A product of a company. */
public record ProductId(UUID value) implements Serializable {

	@Override
	public String toString() {
		return value.toString();
	}

}
