package org.meniscus.client;

import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.PoolFacts;

/**
 * A pool as the other features need it. Access notes are not on it: they are asked for apart, by those who may see them.
 *
 * @param latitude degrees north, or null when unknown
 * @param longitude degrees east, or null when unknown
 * @param facts what the treatment engine needs; its targets are merged: published, then the company's, then the pool's own
 */
public record PoolSummary(PoolId id, ClientId client, String clientName, String name, String street, String town, String postcode,
		@Nullable Double latitude, @Nullable Double longitude, PoolFacts facts, String equipmentNotes, boolean archived) {

	/** On one line; empty when it is not known. */
	public String address() {
		return Stream.of(street, (postcode + " " + town).strip()).filter(part -> !part.isBlank()).collect(Collectors.joining(", "));
	}

}
