package org.meniscus.water.season;

/** Numbers that look random and are the same for the same seed everywhere: xorshift64*, normals by the polar method. */
final class Noise {

	private long state;

	private double spare = Double.NaN;

	Noise(long seed) {
		state = seed * 0x9E3779B97F4A7C15L + 0x632BE59BD9B4E019L;
		if (state == 0) {
			state = 1;
		}
		uniform();
	}

	/** In [0, 1). */
	double uniform() {
		state ^= state >>> 12;
		state ^= state << 25;
		state ^= state >>> 27;
		return ((state * 0x2545F4914F6CDD1DL) >>> 11) * 0x1.0p-53;
	}

	double uniform(double from, double to) {
		return from + (to - from) * uniform();
	}

	boolean chance(double probability) {
		return uniform() < probability;
	}

	/** Standard normal. */
	double normal() {
		if (!Double.isNaN(spare)) {
			double kept = spare;
			spare = Double.NaN;
			return kept;
		}
		double x;
		double y;
		double square;
		do {
			x = 2 * uniform() - 1;
			y = 2 * uniform() - 1;
			square = x * x + y * y;
		}
		while (square >= 1 || square == 0);
		double scale = Math.sqrt(-2 * Math.log(square) / square);
		spare = y * scale;
		return x * scale;
	}

	/** @param spread standard deviation of the logarithm */
	double lognormal(double median, double spread) {
		return median * Math.exp(spread * normal());
	}

	double exponential(double mean) {
		return -mean * Math.log(1 - uniform());
	}

}
