package org.meniscus.water.explain;

import java.util.List;

import org.meniscus.water.units.UnitSystem;

/**
 * Why, or how: a code with its figures (measured, limit, by how much, source), never a sentence. Its text stands in the
 * message bundles under {@link #key()} and takes the terms in order.
 */
public record Reason(String code, List<Term> args) {

	public Reason {
		args = List.copyOf(args);
	}

	public static Reason of(String code, Term... args) {
		return new Reason(code, List.of(args));
	}

	/** Message key of the text. */
	public String key() {
		return "water." + this.code;
	}

	/** The sentence in the reader's units and language. */
	public String format(UnitSystem units, Wording.Texts texts) {
		return Wording.format(this, units, texts);
	}

}
