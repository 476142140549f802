package org.meniscus.ui;

/** One of a few to choose from: what is sent, what is read, and a sentence on what it does. */
public record Choice(String value, String text, String why) {
}
