package org.meniscus.ui;

/** One entry of a select: what is sent and what is read. */
public record Option(String value, String text) {
}
