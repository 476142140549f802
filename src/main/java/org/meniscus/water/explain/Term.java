package org.meniscus.water.explain;

import java.util.List;

import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.ProductKind;

/** One figure or word inside a {@link Reason}: data, so that page, test and report agree. */
public sealed interface Term {

	/** A value of a level in the level's own unit. */
	record Value(Level level, double value, ReadingQualifier qualifier) implements Term {

		public Value(Level level, double value) {
			this(level, value, ReadingQualifier.EXACT);
		}

	}

	/** A difference between two values of a level, in the level's own unit. */
	record Difference(Level level, double amount) implements Term {
	}

	/** A bare number. */
	record Number(double value, int decimals) implements Term {
	}

	/** A share of one. */
	record Share(double share) implements Term {
	}

	/** A span of time. */
	record Hours(double hours) implements Term {
	}

	record Days(int days) implements Term {
	}

	/** A volume of water, litres. */
	record WaterVolume(double litres) implements Term {
	}

	/** An amount of a product as it is measured out. */
	record Amount(MeasuredAmount amount) implements Term {
	}

	/** Of water in a pipe, kilopascals above the air. */
	record Pressure(double kilopascals) implements Term {
	}

	/** Chlorine a day, grams of available chlorine. */
	record Chlorine(double grams) implements Term {
	}

	/** A word to be looked up in the reader's language under this key. */
	record Word(String key) implements Term {
	}

	/** Words to be looked up under these keys, read as a list. */
	record Words(List<String> keys) implements Term {

		public Words {
			keys = List.copyOf(keys);
		}

	}

	/** A sentence inside another. */
	record Clause(Reason reason) implements Term {
	}

	/** Printed as it stands: a product's own name, a source. */
	record Text(String text) implements Term {
	}

	static Term of(Level level, double value) {
		return new Value(level, value);
	}

	static Term of(Level level) {
		return new Word(Wording.levelKey(level));
	}

	static Term of(ProductKind kind) {
		return new Word(Wording.kindKey(kind));
	}

}
