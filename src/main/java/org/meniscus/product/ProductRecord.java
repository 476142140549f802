package org.meniscus.product;

/** A product as stored, with the version a form must name to change it. */
public record ProductRecord(ProductId id, long version, ProductDetails details, boolean archived) {
}
