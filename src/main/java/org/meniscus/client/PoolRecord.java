package org.meniscus.client;

/** A pool as stored, with the version a form must name to change it. */
public record PoolRecord(PoolId id, long version, PoolDetails details, boolean archived) {
}
