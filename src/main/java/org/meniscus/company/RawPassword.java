package org.meniscus.company;

/** A password on its way to being hashed: taken exactly as typed, blanks at its ends included, and never printed. */
public record RawPassword(String text) {

	@Override
	public String toString() {
		return "Secret";
	}

}
