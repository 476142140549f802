package org.meniscus.water.drift;

import java.util.Arrays;
import java.util.stream.IntStream;

import org.meniscus.water.pool.SlowLevels;

/**
 * What enters the balance or a reading linearly: in every particle jointly normal. Components: each level, each level at the season's
 * start, the fill water of each level that it brings, the effect of doses, the rate of an unrecorded source, and the bias of each
 * technician. All are updated exactly as in a Kalman filter (1960), so that particles need only differ in what is not linear.
 */
final class JointNormalParticles {

	/** Not a component: the fill water brings none of the level. */
	static final int NONE = -1;

	final int particleCount;

	/** True change of a level per ppm that a dose makes in the recorded volume. */
	final int doseFactor;

	/** Rate of an unrecorded source, ppm a day at a demand of one. */
	final int unrecordedRate;

	private final int[] level = new int[SlowLevels.COUNT];

	private final int[] start = new int[SlowLevels.COUNT];

	private final int[] fill = new int[SlowLevels.COUNT];

	/** All before it drive the levels. */
	private final int firstStart;

	/** How many components there are, and for how many there is room. */
	private int size;

	private int stride;

	/** By particle and component. */
	private double[][] mean;

	/** By particle; component times stride plus component. */
	private double[][] covariance;

	/** One value for each component; no state. */
	private double[] scratch;

	JointNormalParticles(int particleCount, int[] followed) {
		this.particleCount = particleCount;
		Arrays.fill(level, NONE);
		Arrays.fill(start, NONE);
		Arrays.fill(fill, NONE);
		for (int slowLevel : followed) {
			level[slowLevel] = size++;
		}
		this.doseFactor = size++;
		this.unrecordedRate = size++;
		for (int slowLevel : followed) {
			if (Priors.inFillWater(slowLevel)) {
				fill[slowLevel] = size++;
			}
		}
		this.firstStart = size;
		for (int slowLevel : followed) {
			start[slowLevel] = size++;
		}
		this.stride = size + 2;
		this.scratch = new double[stride];
		this.mean = new double[particleCount][stride];
		this.covariance = new double[particleCount][stride * stride];
	}

	int level(int slowLevel) {
		return level[slowLevel];
	}

	int start(int slowLevel) {
		return start[slowLevel];
	}

	/** {@link #NONE} where fill water brings none. */
	int fill(int slowLevel) {
		return fill[slowLevel];
	}

	/** Components that drive the levels to come: the first ones. */
	int[] driving() {
		return IntStream.range(0, firstStart).toArray();
	}

	/** A component more, independent of all others and known to be 0 as yet. */
	int add() {
		if (size == stride) {
			int wider = stride + 4;
			for (int i = 0; i < particleCount; i++) {
				mean[i] = Arrays.copyOf(mean[i], wider);
				double[] wide = new double[wider * wider];
				for (int row = 0; row < size; row++) {
					System.arraycopy(covariance[i], row * stride, wide, row * wider, size);
				}
				covariance[i] = wide;
			}
			stride = wider;
			scratch = new double[stride];
		}
		return size++;
	}

	double mean(int component, int i) {
		return mean[i][component];
	}

	void setMean(int component, int i, double value) {
		mean[i][component] = value;
	}

	double variance(int component, int i) {
		return covariance[i][component * stride + component];
	}

	double covariance(int one, int other, int i) {
		return covariance[i][one * stride + other];
	}

	/** Fill water, ppm, in the mean. */
	double fillMean(int slowLevel, int i) {
		return (fill[slowLevel] != NONE) ? mean[i][fill[slowLevel]] : 0;
	}

	/** Sets one component, independent of all others. */
	void set(int component, int i, double value, double variance) {
		mean[i][component] = value;
		double[] c = covariance[i];
		for (int other = 0; other < size; other++) {
			c[component * stride + other] = 0;
			c[other * stride + component] = 0;
		}
		c[component * stride + component] = variance;
	}

	/** To one of the two symmetric places. */
	void addCovariance(int one, int other, int i, double ppmSquared) {
		covariance[i][one * stride + other] += ppmSquared;
	}

	/** The level at the start is from now on the level now. */
	void startHere(int slowLevel, int i) {
		int from = level[slowLevel];
		int to = start[slowLevel];
		mean[i][to] = mean[i][from];
		double[] c = covariance[i];
		for (int other = 0; other < size; other++) {
			if (other != to) {
				c[to * stride + other] = c[from * stride + other];
				c[other * stride + to] = c[from * stride + other];
			}
		}
		c[to * stride + to] = c[from * stride + from];
	}

	/**
	 * A level becomes {@code retained × level + dosed × dose factor + demand × unrecorded rate + filled × fill water}, with a noise of its
	 * own; its mean is given.
	 */
	void transform(int slowLevel, int i, double newMean, Step step) {
		int at = level[slowLevel];
		int fillAt = fill[slowLevel];
		double[] c = covariance[i];
		for (int other = 0; other < size; other++) {
			double sum = step.retained * c[at * stride + other] + step.dosed * c[doseFactor * stride + other];
			if (step.demand != 0) {
				sum += step.demand * c[unrecordedRate * stride + other];
			}
			if (fillAt != NONE) {
				sum += step.filled * c[fillAt * stride + other];
			}
			scratch[other] = sum;
		}
		double variance = step.retained * scratch[at] + step.dosed * scratch[doseFactor] + step.demand * scratch[unrecordedRate]
				+ ((fillAt != NONE) ? step.filled * scratch[fillAt] : 0) + step.noise;
		for (int other = 0; other < size; other++) {
			c[at * stride + other] = scratch[other];
			c[other * stride + at] = scratch[other];
		}
		c[at * stride + at] = variance;
		mean[i][at] = newMean;
	}

	/** Coefficients of {@link #transform}; may be added to day by day. */
	static final class Step {

		double retained = 1;

		double dosed;

		double demand;

		double filled;

		/** Variance. */
		double noise;

		/** One day more: what was there before is retained. */
		void day(double share, double dosedToday, double demandToday, double filledToday, double noiseToday) {
			retained *= share;
			dosed = share * dosed + dosedToday;
			demand = share * demand + demandToday;
			filled = share * filled + filledToday;
			noise = share * share * noise + noiseToday;
		}

	}

	/** Variance of {@code a × one + b × other}. */
	double variance(int one, double a, int other, double b, int i) {
		double[] c = covariance[i];
		return a * a * c[one * stride + one] + 2 * a * b * c[one * stride + other] + b * b * c[other * stride + other];
	}

	/**
	 * Takes in a measurement of {@code a × one + b × other}.
	 *
	 * @param innovation measured less expected, over the variance of that difference
	 * @param shrink by how much covariances shrink for each of theirs with what was measured: 1 over that variance
	 */
	void update(int i, int one, double a, int other, double b, double innovation, double shrink) {
		double[] c = covariance[i];
		double[] m = mean[i];
		double[] v = scratch;
		for (int k = 0; k < size; k++) {
			v[k] = a * c[one * stride + k] + b * c[other * stride + k];
			m[k] += v[k] * innovation;
		}
		for (int row = 0; row < size; row++) {
			double factor = v[row] * shrink;
			if (factor != 0) {
				int offset = row * stride;
				for (int k = 0; k < size; k++) {
					c[offset + k] -= factor * v[k];
				}
			}
		}
		keepPositive(i);
	}

	/** Rounding may take a variance below zero; no level, rate or fill water is below zero. */
	private void keepPositive(int i) {
		double[] c = covariance[i];
		for (int k = 0; k < size; k++) {
			if (c[k * stride + k] < 1e-9) {
				c[k * stride + k] = (c[k * stride + k] == 0) ? 0 : 1e-9;
			}
		}
		for (int slowLevel = 0; slowLevel < SlowLevels.COUNT; slowLevel++) {
			raise(i, level[slowLevel], 0);
			raise(i, fill[slowLevel], 0);
		}
		raise(i, unrecordedRate, 0);
		raise(i, doseFactor, 0.05);
	}

	private void raise(int i, int component, double least) {
		if (component != NONE && mean[i][component] < least) {
			mean[i][component] = least;
		}
	}

	double expected(int component, double[] weight) {
		double sum = 0;
		for (int i = 0; i < particleCount; i++) {
			sum += weight[i] * mean[i][component];
		}
		return sum;
	}

	/** Over all particles. */
	double totalVariance(int component, double[] weight, double expected) {
		double sum = 0;
		for (int i = 0; i < particleCount; i++) {
			double off = mean[i][component] - expected;
			sum += weight[i] * (off * off + variance(component, i));
		}
		return sum;
	}

	void gather(int[] from) {
		double[][] oldMean = mean.clone();
		double[][] oldCovariance = covariance.clone();
		for (int i = 0; i < from.length; i++) {
			// the first of its copies takes the arrays over
			boolean first = i == 0 || from[i] != from[i - 1];
			mean[i] = first ? oldMean[from[i]] : oldMean[from[i]].clone();
			covariance[i] = first ? oldCovariance[from[i]] : oldCovariance[from[i]].clone();
		}
	}

	/** Lower triangle of the Cholesky factor of some components of one particle, row by row; what is known exactly has a row of zeros. */
	double[][] cholesky(int[] components, int i) {
		int n = components.length;
		double[][] factor = new double[n][n];
		for (int row = 0; row < n; row++) {
			for (int column = 0; column <= row; column++) {
				double sum = covariance(components[row], components[column], i);
				for (int k = 0; k < column; k++) {
					sum -= factor[row][k] * factor[column][k];
				}
				if (row == column) {
					factor[row][row] = Math.sqrt(Math.max(0, sum));
				}
				else {
					factor[row][column] = (factor[column][column] > 1e-9) ? sum / factor[column][column] : 0;
				}
			}
		}
		return factor;
	}

}
