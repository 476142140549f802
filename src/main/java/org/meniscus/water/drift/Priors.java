package org.meniscus.water.drift;

import java.util.Arrays;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.demand.CyanuricAcidLoss;
import org.meniscus.water.pool.Level;

/** What is believed of a pool before its first reading. Every figure with its source: docs/season.md. */
final class Priors {

	/** Mean and standard deviation of each level at the start, ppm. Assumption, wide. */
	static final double[][] OPENING = { { 55, 35 }, { 320, 220 }, { 2500, 1800 }, { 2500, 1800 }, { 20, 25 } };

	/** A single dose that moves a level by more than this is taken for a slip, ppm. Assumption. */
	static final double[] LARGEST_DOSE = { 150, 500, 6000, 8000, 120 };

	/** Mean depth of a pool, mm, and its spread. City of Phoenix: average pool 16,000 gal; 1.2 to 1.7 m. */
	private static final double DEPTH = 1430, DEPTH_SPREAD = 0.12;

	/** Spread of recorded volume and area about the true ones. */
	private static final double VOLUME_SPREAD = 0.17, AREA_SPREAD = 0.08;

	/** Share of pools whose volume on record is wrong by more than a measuring error, and the spread then. */
	private static final double VOLUME_WRONG = 0.02, VOLUME_WRONG_SPREAD = 1.2;

	/** Free chlorine that nobody writes down, ppm a day in warm water, and its spread. Assumption. */
	static final double FLOATER = 0.675, FLOATER_SPREAD = 0.25;

	/** Chance that there is one at the start, that one begins or ends in a week. Assumption: in all about every third season. */
	static final double FLOATER_THERE = 0.15, FLOATER_BEGINS = 0.005, FLOATER_ENDS = 0.005;

	/** The same of a leak. Assumption: in all about every eighth season. */
	static final double LEAK_THERE = 0.06, LEAK_BEGINS = 0.002, LEAK_ENDS = 0.002;

	/** Usual days between two backwashes of a sand filter, and how many days of the pool's own record weigh as much. Assumption. */
	static final double WASH_DAYS = 25, WASH_TRUST = 40;

	private final SeasonPool pool;

	private final XorShiftRandom noise;

	Priors(SeasonPool pool, XorShiftRandom noise) {
		this.pool = pool;
		this.noise = noise;
	}

	void fill(LevelParticleFilter filter) {
		double[][] constants = filter.constants;
		for (int i = 0; i < filter.n; i++) {
			size(constants, i);
			constants[LevelParticleFilter.EVAPORATION][i] = noise.lognormal(pool.cover() ? 0.5 : 1, 0.22);
			constants[LevelParticleFilter.SPLASH][i] = noise.lognormal(0.35, 0.5);
			constants[LevelParticleFilter.LEAK][i] = noise.chance(LEAK_THERE) ? leak(noise) : 0;
			constants[LevelParticleFilter.ROOM][i] = noise.lognormal(25, 0.4);
			constants[LevelParticleFilter.BREAKDOWN][i] = noise.lognormal(CyanuricAcidLoss.BREAKDOWN_AT_28, 0.35);
			constants[LevelParticleFilter.WASH][i] = noise.uniform(0.5, 1.4) * 1000 / area();
			constants[LevelParticleFilter.SCALE][i] = noise.chance(0.35) ? noise.lognormal(0.0015, 0.2) : noise.lognormal(0.0002, 0.2);
			constants[LevelParticleFilter.PLASTER][i] = (pool.plaster() && pool.newPlaster()) ? noise.lognormal(66, 0.3) : 0;
			filter.floaterLevel[i] = -1;
			if (noise.chance(FLOATER_THERE)) {
				filter.floater(i);
			}
			constants[LevelParticleFilter.UNWRITTEN][i] = noise.chance(0.1) ? noise.lognormal(0.25, 0.2) : noise.lognormal(0.06, 0.3);
			filter.height[i] = pool.autofill() ? 0 : noise.uniform(-40, 10);
		}
		for (int level = 0; level < LevelParticleFilter.LEVELS.size(); level++) {
			water(LevelParticleFilter.LEVELS.get(level), constants[LevelParticleFilter.FILL + level]);
		}
	}

	/** mm a day. Assumption: median 4. */
	static double leak(XorShiftRandom noise) {
		return noise.lognormal(4, 0.6);
	}

	/** Depth and what a dose on the recorded volume really does, both told in part by the depth on record. */
	private void size(double[][] constants, int i) {
		boolean wrong = noise.chance(wrong());
		double volumeSpread = wrong ? VOLUME_WRONG_SPREAD : VOLUME_SPREAD;
		double depth = Math.log(DEPTH);
		double volume = 0;
		if (pool.volume() != null && pool.area() != null) {
			// ln recorded depth = ln depth + volume error - area error, all normal
			double off = Math.log(1000 * pool.volume() / pool.area()) - depth;
			double total = square(DEPTH_SPREAD) + square(volumeSpread) + square(AREA_SPREAD);
			double trueDepth = DEPTH_SPREAD * noise.normal();
			double volumeError = volumeSpread * noise.normal();
			double rest = off - trueDepth - volumeError - AREA_SPREAD * noise.normal();
			depth += trueDepth + rest * square(DEPTH_SPREAD) / total;
			volume = volumeError + rest * square(volumeSpread) / total;
		}
		else {
			depth += DEPTH_SPREAD * noise.normal();
			volume = volumeSpread * noise.normal();
		}
		constants[LevelParticleFilter.GAIN][i] = Math.exp(volume);
		constants[LevelParticleFilter.DEPTH][i] = Math.exp(depth);
	}

	/** Chance that the volume on record is wrong by far, told by the depth it makes with the area. */
	private double wrong() {
		if (pool.volume() == null || pool.area() == null) {
			return VOLUME_WRONG;
		}
		double off = Math.log(1000 * pool.volume() / pool.area() / DEPTH);
		double right = (1 - VOLUME_WRONG) * density(off, VOLUME_SPREAD);
		double wrong = VOLUME_WRONG * density(off, VOLUME_WRONG_SPREAD);
		return (wrong > 0) ? wrong / (right + wrong) : 1;
	}

	private static double density(double off, double volumeSpread) {
		double spread = Math.sqrt(square(DEPTH_SPREAD) + square(volumeSpread) + square(AREA_SPREAD));
		return DriftNormal.pdf(off / spread) / spread;
	}

	private double area() {
		if (pool.area() != null) {
			return pool.area();
		}
		return (pool.volume() != null) ? pool.volume() / (DEPTH / 1000) : 42;
	}

	private void water(Level level, double[] fill) {
		@Nullable
		Double known = pool.fill().get(level);
		switch (level) {
			case CYA, BORATE -> Arrays.fill(fill, 0);
			case CH -> spread(fill, (known != null) ? known : 160, (known != null) ? 0.2 : 0.6);
			case SALT -> spread(fill, (known != null) ? known : 100, (known != null) ? 0.2 : 0.7);
			default -> spread(fill, (known != null) ? known : 300, (known != null) ? 0.2 : 0.5);
		}
	}

	private void spread(double[] values, double median, double spread) {
		for (int i = 0; i < values.length; i++) {
			values[i] = noise.lognormal(Math.max(1, median), spread);
		}
	}

	private static double square(double x) {
		return x * x;
	}

}
