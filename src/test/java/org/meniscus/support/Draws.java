package org.meniscus.support;

/** How many inputs a test draws at random, with a fixed seed: 800, or as many as {@code mvn test -Ddraws=20000} says. */
public final class Draws {

	public static final int COUNT = Integer.getInteger("draws", 800);

	private Draws() {
	}

}
