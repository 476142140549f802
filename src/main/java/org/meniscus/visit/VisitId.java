package org.meniscus.visit;

import java.util.UUID;

/** Made on the phone before there is a signal, so that sending twice meets the same visit. */
public record VisitId(UUID value) {

	@Override
	public String toString() {
		return value.toString();
	}

}
