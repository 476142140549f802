package org.meniscus.platform;

import java.io.Serializable;
import java.util.UUID;

/** A tenant. */
public record CompanyId(UUID value) implements Serializable {

	@Override
	public String toString() {
		return value.toString();
	}

}
