package org.meniscus.water.drift;

import org.meniscus.water.demand.CyanuricAcidLoss;
import org.meniscus.water.drift.SeasonRecord.FillHardness;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.units.NormalDistribution;
import org.meniscus.water.units.XorShiftRandom;

/** Prior distributions of a pool's parameters and levels. Every figure with its source: docs/season.md. */
final class Priors {

	/** Mean and standard deviation of each level at the start where it has no range, ppm. Assumption, wide. */
	static final double[][] OPENING = { { 55, 35 }, { 320, 220 }, { 2500, 1800 }, { 2500, 1800 }, { 20, 25 } };

	/**
	 * Nine of ten pools are looked after, and of these nine of ten begin within their acceptable range; spread of the logarithm of the others.
	 * Assumption.
	 */
	private static final double LOOKED_AFTER = 0.9, NINE_OF_TEN = 2 * 1.645, ANY_OPENING_SPREAD = 0.6;

	/** Rain makes water softer than its fill water, and what is on record of that is old: spread of the logarithm. Assumption. */
	private static final double SOFTER_SPREAD = 0.25;

	/** Fill water above the range leaves little to draw. */
	private static final int MOST_TRIES = 20;

	/** A single dose that moves a level by more than this is taken for a slip, ppm. Assumption. */
	static final double[] LARGEST_DOSE = { 150, 500, 6000, 8000, 120 };

	/** Mean depth of a pool, mm, and its spread. City of Phoenix: average pool 16,000 gal; 1.2 to 1.7 m. */
	private static final double DEPTH = 1430, DEPTH_SPREAD = 0.12;

	/** Spread of recorded volume and area about the true ones. */
	private static final double VOLUME_SPREAD = 0.17, AREA_SPREAD = 0.08;

	/** Share of pools whose volume on record is wrong by more than a measuring error, and the spread then. */
	private static final double GROSS_VOLUME_CHANCE = 0.02, GROSS_VOLUME_SPREAD = 1.2;

	/** Free chlorine from a source nobody writes down, ppm a day in warm water, and its spread. Assumption. */
	static final double UNRECORDED_CHLORINE = 0.675, UNRECORDED_CHLORINE_SPREAD = 0.25;

	/** Chance that there is such a source at the start, that one begins or ends in a week. Assumption: in all about every third season. */
	static final double UNRECORDED_AT_START = 0.15, UNRECORDED_BEGINS = 0.005, UNRECORDED_ENDS = 0.005;

	/** The same of a leak. Assumption: in all about every eighth season. */
	static final double LEAK_AT_START = 0.06, LEAK_BEGINS = 0.002, LEAK_ENDS = 0.002;

	/** Usual days between two backwashes of a sand filter, and how many days of the pool's own record weigh as much. Assumption. */
	static final double BACKWASH_INTERVAL_DAYS = 25, BACKWASH_PRIOR_DAYS = 40;

	/** Spread up to which a lognormal distribution is taken for normal. */
	private static final double LINEAR_SPREAD = 0.2;

	private final SeasonPool pool;

	private final FillHardness fillHardness;

	private final XorShiftRandom random;

	Priors(SeasonPool pool, FillHardness fillHardness, XorShiftRandom random) {
		this.pool = pool;
		this.fillHardness = fillHardness;
		this.random = random;
	}

	/** Draws everything that is not known of the pool, but for its levels. */
	void draw(PoolParameters parameters, JointNormalParticles state, UnrecordedSource unrecordedSource, double[] height) {
		for (int i = 0; i < height.length; i++) {
			drawVolumeAndDepth(parameters, state, i);
			parameters.evaporationFactor[i] = random.lognormal(pool.cover() ? 0.5 : 1, 0.22);
			parameters.splashOut[i] = random.lognormal(0.35, 0.5);
			parameters.leak[i] = random.chance(LEAK_AT_START) ? drawLeak(random) : 0;
			parameters.freeboard[i] = random.lognormal(25, 0.4);
			parameters.breakdown[i] = random.lognormal(CyanuricAcidLoss.BREAKDOWN_AT_28, 0.35);
			parameters.backwash[i] = random.uniform(0.5, 1.4) * 1000 / area();
			parameters.scaling[i] = random.chance(0.35) ? random.lognormal(0.0015, 0.2) : random.lognormal(0.0002, 0.2);
			parameters.plaster[i] = (pool.plaster() && pool.newPlaster()) ? random.lognormal(66, 0.3) : 0;
			unrecordedSource.end(i);
			if (random.chance(UNRECORDED_AT_START)) {
				unrecordedSource.begin(i, random);
			}
			parameters.unrecordedDoses[i] = random.chance(0.1) ? random.lognormal(0.25, 0.2) : random.lognormal(0.06, 0.3);
			height[i] = pool.autofill() ? 0 : random.uniform(-40, 10);
		}
		for (int level = 0; level < SlowLevels.COUNT; level++) {
			if (state.fill(level) != JointNormalParticles.NONE) {
				drawFillWater(level, state);
			}
		}
	}

	/**
	 * A level at the start: about the middle of the acceptable range, and seldom below the fill water, whose hardness and salt evaporation
	 * leaves behind. Without a range nothing is taken to be known.
	 */
	void drawLevel(int slowLevel, JointNormalParticles state, int i) {
		Range range = pool.ranges().get(SlowLevels.ALL.get(slowLevel));
		int at = state.level(slowLevel);
		if (range == null || range.acceptableLow() <= 0) {
			state.set(at, i, OPENING[slowLevel][0], square(OPENING[slowLevel][1]));
			return;
		}
		double logLow = Math.log(range.acceptableLow());
		double logWidth = Math.log(range.acceptableHigh()) - logLow;
		double spread = random.chance(LOOKED_AFTER) ? logWidth / NINE_OF_TEN : ANY_OPENING_SPREAD;
		double least = state.fillMean(slowLevel, i) * random.lognormal(1, SOFTER_SPREAD);
		int tries = 0;
		do {
			set(state, at, i, logLow + logWidth / 2, spread);
		} while (state.mean(at, i) < least && ++tries < MOST_TRIES);
	}

	/** mm a day. Assumption: median 4. */
	static double drawLeak(XorShiftRandom random) {
		return random.lognormal(4, 0.6);
	}

	/** True depth, and true over recorded volume, given the depth that recorded volume and area make. */
	private void drawVolumeAndDepth(PoolParameters parameters, JointNormalParticles state, int i) {
		boolean wrong = random.chance(grossVolumeError());
		double volumeSpread = wrong ? GROSS_VOLUME_SPREAD : VOLUME_SPREAD;
		double depth = Math.log(DEPTH) + DEPTH_SPREAD * random.normal();
		double volume = 0;
		double spread = volumeSpread;
		if (pool.volume() != null && pool.area() != null) {
			// ln recorded depth = ln depth + volume error - area error, all normal
			double off = Math.log(1000 * pool.volume() / pool.area()) - Math.log(DEPTH);
			double both = square(volumeSpread) + square(AREA_SPREAD);
			double total = square(DEPTH_SPREAD) + both;
			depth = Math.log(DEPTH) + off * square(DEPTH_SPREAD) / total + DEPTH_SPREAD * Math.sqrt(both / total) * random.normal();
			volume = (off - depth + Math.log(DEPTH)) * square(volumeSpread) / both;
			spread = volumeSpread * AREA_SPREAD / Math.sqrt(both);
		}
		parameters.depth[i] = Math.exp(depth);
		set(state, state.doseFactor, i, volume, spread);
	}

	/** Lognormal; what exceeds a spread of {@link #LINEAR_SPREAD} is drawn, the rest taken for normal. */
	private void set(JointNormalParticles state, int component, int i, double logMedian, double spread) {
		double drawn = Math.sqrt(Math.max(0, square(spread) - square(LINEAR_SPREAD)));
		double rest = Math.min(spread, LINEAR_SPREAD);
		double mean = Math.exp(logMedian + drawn * random.normal() + square(rest) / 2);
		state.set(component, i, mean, square(mean) * Math.expm1(square(rest)));
	}

	/** Probability that the recorded volume is wrong by far, given the depth it makes with the area. */
	private double grossVolumeError() {
		if (pool.volume() == null || pool.area() == null) {
			return GROSS_VOLUME_CHANCE;
		}
		double off = Math.log(1000 * pool.volume() / pool.area() / DEPTH);
		double right = (1 - GROSS_VOLUME_CHANCE) * density(off, VOLUME_SPREAD);
		double wrong = GROSS_VOLUME_CHANCE * density(off, GROSS_VOLUME_SPREAD);
		return (wrong > 0) ? wrong / (right + wrong) : 1;
	}

	private static double density(double off, double volumeSpread) {
		double spread = Math.sqrt(square(DEPTH_SPREAD) + square(volumeSpread) + square(AREA_SPREAD));
		return NormalDistribution.pdf(off / spread) / spread;
	}

	private double area() {
		if (pool.area() != null) {
			return pool.area();
		}
		return (pool.volume() != null) ? pool.volume() / (DEPTH / 1000) : 42;
	}

	/** Whether fill water brings any of a level. */
	static boolean inFillWater(int slowLevel) {
		Level level = SlowLevels.ALL.get(slowLevel);
		return level != Level.CYA && level != Level.BORATE;
	}

	private void drawFillWater(int slowLevel, JointNormalParticles state) {
		Level level = SlowLevels.ALL.get(slowLevel);
		Double known = pool.fill().get(level);
		double median = (level == Level.SALT) ? Math.log(100) : Math.log(300);
		double spread = (level == Level.SALT) ? 0.7 : 0.5;
		if (known != null) {
			median = Math.log(Math.max(1, known));
			spread = 0.2;
		}
		else if (level == Level.CH) {
			median = fillHardness.mean();
			spread = fillHardness.deviation();
		}
		for (int i = 0; i < state.particleCount; i++) {
			set(state, state.fill(slowLevel), i, median, spread);
		}
	}

	private static double square(double x) {
		return x * x;
	}

}
