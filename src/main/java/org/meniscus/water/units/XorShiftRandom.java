package org.meniscus.water.units;

/** Pseudorandom numbers, the same for the same seed everywhere: xorshift64* (Vigna 2016, from memory). */
public final class XorShiftRandom {

	private static final int BITS = 12;

	private static final int QUANTILES = 1 << BITS;

	private static final double[] NORMALS = new double[QUANTILES];

	static {
		for (int k = 0; k < QUANTILES / 2; k++) {
			NORMALS[k] = NormalDistribution.quantile((k + 0.5) / QUANTILES);
			NORMALS[QUANTILES - 1 - k] = -NORMALS[k];
		}
	}

	private long state;

	public XorShiftRandom(long seed) {
		state = seed * 0x9E3779B97F4A7C15L + 0x632BE59BD9B4E019L;
		if (state == 0) {
			state = 1;
		}
		uniform();
	}

	/** In [0, 1). */
	public double uniform() {
		state ^= state >>> 12;
		state ^= state << 25;
		state ^= state >>> 27;
		return ((state * 0x2545F4914F6CDD1DL) >>> 11) * 0x1.0p-53;
	}

	public double uniform(double from, double to) {
		return from + (to - from) * uniform();
	}

	public boolean chance(double probability) {
		return uniform() < probability;
	}

	/** Standard normal, one of {@value #QUANTILES} equally likely values: fine enough here, and quick. */
	public double normal() {
		state ^= state >>> 12;
		state ^= state << 25;
		state ^= state >>> 27;
		return NORMALS[(int) ((state * 0x2545F4914F6CDD1DL) >>> (64 - BITS))];
	}

	/** @param spread standard deviation of the logarithm */
	public double lognormal(double median, double spread) {
		return median * Math.exp(spread * normal());
	}

	public double exponential(double mean) {
		return -mean * Math.log(1 - uniform());
	}

}
