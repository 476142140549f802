package org.meniscus.client;

/** A client as stored, with the version a form must name to change it. */
public record ClientRecord(ClientId id, long version, ClientDetails details, boolean archived) {
}
