package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.ChlorineSource;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;

/**
 * Carries many alternatives of one pool (particles) from visit to visit. Each holds a full set of the pool's unknown constants and,
 * given these, every level as a normal distribution that is updated exactly; readings weigh the alternatives against each other.
 * Equations, priors and their sources: docs/season.md.
 */
final class LevelParticleFilter {

	/** Levels that only water leaving brings down, in the order of the arrays. */
	static final List<Level> LEVELS = List.of(Level.CYA, Level.CH, Level.SALT, Level.TDS, Level.BORATE);

	static final int CYA = 0;

	static final int CH = 1;

	/** Unknown constants of a pool, in the order of {@link #constants}. */
	static final int GAIN = 0, DEPTH = 1, EVAPORATION = 2, SPLASH = 3, LEAK = 4, ROOM = 5, BREAKDOWN = 6, WASH = 7, SCALE = 8,
			PLASTER = 9, UNWRITTEN = 10, FILL = 11;

	/** CH above which scale falls out, ppm. */
	static final double SCALING_FROM = 450;

	/** New plaster gives off a third of what is left in so many days. Assumption. */
	static final double PLASTER_DAYS = 25;

	/** Share of readings that have nothing to do with the level. */
	private static final double GROSS = 0.02;

	/** Spread of the logarithm of a gross reading about the level. */
	private static final double GROSS_SPREAD = 0.8;

	/** Chance per visit that a product in use is given up, and that one given up comes back. Assumption. */
	private static final double GIVEN_UP = 0.006, TAKEN_UP = 0.02;

	/** Wander of a level that nothing explains, share of it per root day. */
	private static final double WANDER = 0.001;

	/** Constants are moved by this share of their spread when alternatives are drawn anew. */
	private static final double MOVE = 0.1;

	final SeasonPool pool;

	final Weather weather;

	final int n;

	/** How many alternatives an outlook carries on. */
	final int outlooks;

	final XorShiftRandom noise;

	final double[][] constants;

	/** Height of the water above the operating level, mm. */
	final double[] height;

	/** Given the constants: mean and variance of each level, and of it at the start, and the covariance of both. */
	final double[][] mean, variance, startMean, startVariance, shared;

	double[] weight;

	/** Level that something nobody writes down raises, such as a floater the homeowner fills; -1 for none. */
	final int[] floaterLevel;

	/** What it adds, ppm a day at a demand of one: mean, variance, and covariance with its level now and at the start. */
	final double[] floaterMean, floaterVariance, floaterShared, floaterStart;

	final boolean[] followed = new boolean[LEVELS.size()];

	final int[] readings = new int[LEVELS.size()];

	final int[] exactReadings = new int[LEVELS.size()];

	final double[] lastMark = new double[LEVELS.size()];

	final long[] lastReading = new long[LEVELS.size()];

	final Map<String, double[][]> biases = new java.util.LinkedHashMap<>();

	/** What was believed of each bias apart from this pool's own readings. */
	private final Map<TechnicianBias.Key, TechnicianBias.Estimate> before = new java.util.HashMap<>();

	final Map<DoseKind, RoutineDosing> routines = new EnumMap<>(DoseKind.class);

	/** Whether the product is in use. */
	final Map<DoseKind, boolean[]> inUse = new EnumMap<>(DoseKind.class);

	/** Whether it was put in at the last visit though no record says so. */
	final Map<DoseKind, boolean[]> unwritten = new EnumMap<>(DoseKind.class);

	/** What is on record, ppm by kind, level and day since the start. */
	final double[][][] recorded = new double[DoseKind.values().length][LEVELS.size()][];

	final long start;

	/** Everything before this day has happened. */
	long day;

	/** First day of what is told together: the start, or the first visit after a long gap. */
	long seasonStart;

	private boolean washed;

	/** Days of backwashes, and share of the water replaced by day. */
	final java.util.Set<Long> washes = new java.util.HashSet<>();

	final Map<Long, Double> drained = new java.util.HashMap<>();

	final List<DriftNote> notes = new ArrayList<>();

	int strengthUnknown;

	LevelParticleFilter(SeasonPool pool, Weather weather, DriftSettings settings, long start, boolean[] followed, long seed) {
		this.pool = pool;
		this.weather = weather;
		this.n = settings.particles();
		this.outlooks = settings.ensembleSize();
		this.start = start;
		this.day = start;
		this.seasonStart = start;
		this.noise = new XorShiftRandom(seed);
		System.arraycopy(followed, 0, this.followed, 0, followed.length);
		int levels = LEVELS.size();
		int[] sizes = new int[levels];
		for (int level = 0; level < levels; level++) {
			sizes[level] = followed[level] ? n : 0;
		}
		this.mean = arrays(sizes);
		this.variance = arrays(sizes);
		this.startMean = arrays(sizes);
		this.startVariance = arrays(sizes);
		this.shared = arrays(sizes);
		this.height = new double[n];
		this.weight = new double[n];
		this.floaterLevel = new int[n];
		this.floaterMean = new double[n];
		this.floaterVariance = new double[n];
		this.floaterShared = new double[n];
		this.floaterStart = new double[n];
		this.constants = new double[FILL + levels][n];
		Arrays.fill(lastReading, Long.MIN_VALUE);
		Arrays.fill(weight, 1.0 / n);
		new Priors(pool, noise).fill(this);
		for (int level = 0; level < levels; level++) {
			forget(level);
		}
	}

	private static double[][] arrays(int[] sizes) {
		double[][] arrays = new double[sizes.length][];
		for (int level = 0; level < sizes.length; level++) {
			arrays[level] = new double[sizes[level]];
		}
		return arrays;
	}

	/** Back to knowing nothing of the level. */
	private void forget(int level) {
		double[] usual = Priors.OPENING[level];
		Arrays.fill(mean[level], usual[0]);
		Arrays.fill(variance[level], usual[1] * usual[1]);
		Arrays.fill(startMean[level], usual[0]);
		Arrays.fill(startVariance[level], usual[1] * usual[1]);
		Arrays.fill(shared[level], usual[1] * usual[1]);
		for (int i = 0; followed[level] && i < n; i++) {
			if (floaterLevel[i] == level) {
				floaterShared[i] = 0;
				floaterStart[i] = 0;
			}
		}
	}

	/** The pool was left alone for long: its constants are still believed, its levels are not. */
	void restart() {
		seasonStart = day;
		for (int level = 0; level < LEVELS.size(); level++) {
			forget(level);
			readings[level] = 0;
			exactReadings[level] = 0;
		}
	}

	double expected(int level) {
		double sum = 0;
		for (int i = 0; i < n; i++) {
			sum += weight[i] * mean[level][i];
		}
		return sum;
	}

	/** Recorded volume over what doses do and depth allows, as a volume. */
	double likelierVolume(double recordedVolume) {
		double sum = 0;
		for (int i = 0; i < n; i++) {
			sum += weight[i] * Math.log(constants[GAIN][i]);
		}
		return recordedVolume / Math.exp(sum);
	}

	/** What is on record of a level, ppm by kind and day since the start. */
	double[][] recorded(int level) {
		double[][] kinds = new double[recorded.length][];
		for (int kind = 0; kind < kinds.length; kind++) {
			kinds[kind] = recorded[kind][level];
		}
		return kinds;
	}

	/** Share of a level that is neither broken down nor scaled out on a day. */
	double keep(int level, int i, int dayOfYear, double c) {
		if (level == CYA) {
			return 1 - constants[BREAKDOWN][i] * weather.breakdown[dayOfYear];
		}
		return (level == CH && c > SCALING_FROM) ? 1 - constants[SCALE][i] * (1 - SCALING_FROM / c) : 1;
	}

	/** Begins, with nothing yet known of how much it adds. */
	void floater(int i) {
		double kind = noise.uniform();
		floaterLevel[i] = (kind < 0.9) ? CYA : CH;
		double per = (kind < 0.8) ? 0.607 : (kind < 0.9) ? 0.910 : 0.72;
		floaterMean[i] = per * Priors.FLOATER;
		floaterVariance[i] = per * Priors.FLOATER_SPREAD * per * Priors.FLOATER_SPREAD;
		floaterShared[i] = 0;
		floaterStart[i] = 0;
	}

	private void noFloater(int i) {
		floaterLevel[i] = -1;
		floaterMean[i] = 0;
		floaterVariance[i] = 0;
		floaterShared[i] = 0;
		floaterStart[i] = 0;
	}

	/** Floaters and leaks begin and end. */
	private void change(int i, int days) {
		double weeks = days / 7.0;
		if (floaterLevel[i] < 0) {
			if (noise.chance(Priors.FLOATER_BEGINS * weeks)) {
				floater(i);
			}
		}
		else if (noise.chance(Priors.FLOATER_ENDS * weeks)) {
			noFloater(i);
		}
		if (constants[LEAK][i] == 0) {
			if (noise.chance(Priors.LEAK_BEGINS * weeks)) {
				constants[LEAK][i] = Priors.leak(noise);
			}
		}
		else if (noise.chance(Priors.LEAK_ENDS * weeks)) {
			constants[LEAK][i] = 0;
		}
	}

	/** Whether CYA and CH of a visit stand in each other's place; then a note says so and neither should be used. */
	boolean swapped(SeasonVisit visit) {
		SeasonVisit.Reading cya = visit.readings().get(Level.CYA);
		SeasonVisit.Reading ch = visit.readings().get(Level.CH);
		if (cya == null || ch == null || cya.qualifier() != ReadingQualifier.EXACT || ch.qualifier() != ReadingQualifier.EXACT) {
			return false;
		}
		double straight = fit(CYA, cya.value(), cya.error()) + fit(CH, ch.value(), ch.error());
		double crossed = fit(CYA, ch.value(), cya.error()) + fit(CH, cya.value(), ch.error());
		// each a sum of two squared deviations: crossed fits well, straight does not at all
		boolean so = crossed < 12 && straight > crossed + 20;
		if (so) {
			notes.add(DriftNote.of(DriftNote.Code.READINGS_SWAPPED, null, visit.day()));
		}
		return so;
	}

	/** Squared deviation of a reading from what is expected, in variances. */
	private double fit(int level, double y, ReadingError error) {
		double expected = expected(level);
		double spread = 0;
		for (int i = 0; i < n; i++) {
			double off = mean[level][i] - expected;
			spread += weight[i] * (off * off + variance[level][i]);
		}
		return (y - expected) * (y - expected) / (spread + error.variance(Math.min(y, expected)));
	}

	/** Lets the days before {@code to} pass. */
	void advance(long to) {
		int days = (int) (to - day);
		if (days <= 0) {
			return;
		}
		int from = (int) (day - start);
		int levels = LEVELS.size();
		double[][] input = new double[levels][days];
		for (int level = 0; level < levels; level++) {
			for (double[][] kind : recorded) {
				double[] parts = kind[level];
				for (int d = 0; parts != null && d < days && from + d < parts.length; d++) {
					input[level][d] += parts[from + d];
				}
			}
		}
		int[] season = new int[days];
		for (int d = 0; d < days; d++) {
			season[d] = Weather.dayOfYear(day + d);
		}
		int[] active = java.util.stream.IntStream.range(0, levels).filter(level -> followed[level]).toArray();
		WaterBalance water = new WaterBalance(pool.autofill());
		double[] kept = new double[days];
		double[] dosed = new double[days];
		double[] filled = new double[days];
		double[] missed = new double[levels];
		long week = day / 7;
		for (int i = 0; i < n; i++) {
			water.depth = constants[DEPTH][i];
			water.height = height[i];
			water.room = constants[ROOM][i];
			double evaporation = constants[EVAPORATION][i];
			double splash = constants[SPLASH][i];
			double leak = constants[LEAK][i];
			double[] rain = weather.rain[rainScenario(i, week)];
			missed(i, missed);
			change(i, days);
			for (int d = 0; d < days; d++) {
				int at = season[d];
				double out = splash * weather.bathing[at] + leak + ((d == 0 && washed) ? constants[WASH][i] : 0);
				water.day(rain[at], weather.evaporation[at] * evaporation, out);
				kept[d] = water.kept;
				dosed[d] = water.dosed;
				filled[d] = water.filled;
			}
			height[i] = water.height;
			for (int level : active) {
				advance(level, i, season, input[level], missed[level], kept, dosed, filled);
			}
		}
		washed = false;
		day = to;
	}

	/** One level of one alternative through days whose water is known: by so much each kept, added to and filled. */
	private void advance(int level, int i, int[] season, double[] input, double missed, double[] kept, double[] dosed,
			double[] filled) {
		int from = (int) (day - start);
		double gain = constants[GAIN][i];
		double fill = constants[FILL + level][i];
		boolean floats = floaterLevel[i] == level;
		boolean plaster = level == CH && constants[PLASTER][i] > 0;
		double m = mean[level][i];
		double v = variance[level][i];
		double c = shared[level][i];
		for (int d = 0; d < season.length; d++) {
			double demand = weather.demand[season[d]];
			double in = gain * (input[d] + missed * demand) + (plaster ? plaster(i, from + d) : 0);
			double a = kept[d] * keep(level, i, season[d], m);
			m = a * m + dosed[d] * in + filled[d] * fill;
			double wander = WANDER * m;
			v = a * a * v + wander * wander;
			c *= a;
			if (floats) {
				double b = dosed[d] * demand;
				m += b * floaterMean[i];
				v += b * (2 * a * floaterShared[i] + b * floaterVariance[i]);
				c += b * floaterStart[i];
				floaterShared[i] = a * floaterShared[i] + b * floaterVariance[i];
			}
		}
		mean[level][i] = m;
		variance[level][i] = v;
		shared[level][i] = c;
	}

	/** Which way the rain falls for an alternative in a week. */
	static int rainScenario(int particle, long week) {
		return (int) ((particle * 0x9E3779B1L + week * 0x85EBCA6BL) >>> 8) & (Weather.RAIN_SCENARIOS - 1);
	}

	/** ppm that new plaster gives off on a day. */
	double plaster(int i, int sinceStart) {
		double total = constants[PLASTER][i];
		return (total > 0) ? total / PLASTER_DAYS * Math.exp(-sinceStart / PLASTER_DAYS) : 0;
	}

	private void missed(int i, double[] missed) {
		Arrays.fill(missed, 0);
		for (Map.Entry<DoseKind, boolean[]> kind : unwritten.entrySet()) {
			if (kind.getValue()[i]) {
				RoutineDosing routine = Objects.requireNonNull(routines.get(kind.getKey()));
				for (int level = 0; level < missed.length; level++) {
					missed[level] += routine.rate(level);
				}
			}
		}
	}

	/** Takes in what was tested; the level is that of the beginning of the day. */
	void test(SeasonVisit visit, TechnicianBias known) {
		for (int level = 0; level < LEVELS.size(); level++) {
			SeasonVisit.Reading reading = visit.readings().get(LEVELS.get(level));
			if (reading != null && followed[level]) {
				read(level, reading, bias(visit.technician(), level, reading.error(), known), visit.day());
				readings[level]++;
				lastReading[level] = visit.day();
				lastMark[level] = reading.value();
				if (reading.qualifier() == ReadingQualifier.EXACT) {
					exactReadings[level]++;
				}
				resampleIfDegenerate();
			}
		}
	}

	private double[] bias(@Nullable String technician, int level, ReadingError error, TechnicianBias known) {
		String name = (technician != null) ? technician : "";
		double[][] own = biases.computeIfAbsent(name, key -> new double[LEVELS.size()][]);
		if (own[level] == null) {
			own[level] = new double[n];
			TechnicianBias.Key key = new TechnicianBias.Key(name, LEVELS.get(level));
			TechnicianBias.Estimate belief = known.estimates().getOrDefault(key, new TechnicianBias.Estimate(0, error.bias()));
			before.put(key, belief);
			double middle = belief.mean();
			double spread = belief.deviation();
			for (int i = 0; i < n; i++) {
				own[level][i] = middle + spread * noise.normal();
			}
		}
		else {
			learn(new TechnicianBias.Key(name, LEVELS.get(level)), own[level], known);
		}
		return own[level];
	}

	/** Other pools have told more of the technician since: weighs the alternatives by it. */
	private void learn(TechnicianBias.Key key, double[] bias, TechnicianBias known) {
		TechnicianBias.Estimate now = known.estimates().get(key);
		TechnicianBias.Estimate then = before.get(key);
		if (now == null || then == null || now.equals(then)) {
			return;
		}
		before.put(key, now);
		double sum = 0;
		for (int i = 0; i < n; i++) {
			double a = (bias[i] - now.mean()) / now.deviation();
			double b = (bias[i] - then.mean()) / then.deviation();
			weight[i] *= Math.exp(Math.max(-20, Math.min(20, 0.5 * (b * b - a * a))));
			sum += weight[i];
		}
		for (int i = 0; i < n; i++) {
			weight[i] /= sum;
		}
	}

	/** What this pool's own readings say of a technician's bias: precision, and precision times mean; null when nothing. */
	double @Nullable [] biasLikelihood(TechnicianBias.Key key) {
		double[][] own = biases.get(key.technician());
		TechnicianBias.Estimate then = before.get(key);
		double[] bias = (own != null) ? own[LEVELS.indexOf(key.level())] : null;
		if (bias == null || then == null) {
			return null;
		}
		double middle = 0;
		double squares = 0;
		for (int i = 0; i < n; i++) {
			middle += weight[i] * bias[i];
			squares += weight[i] * bias[i] * bias[i];
		}
		double after = 1 / Math.max(1e-6, squares - middle * middle);
		double prior = 1 / (then.deviation() * then.deviation());
		// sampling noise may make it look as if a reading had taken knowledge away
		return (after > prior) ? new double[]{ after - prior, after * middle - prior * then.mean() } : null;
	}

	private void read(int level, SeasonVisit.Reading reading, double[] bias, long when) {
		double y = reading.value();
		double[] m = mean[level];
		double[] v = variance[level];
		double sum = 0;
		double gross = 0;
		double expected = 0;
		for (int i = 0; i < n; i++) {
			double factor = Math.exp(bias[i]);
			double predicted = m[i] * factor;
			double own = v[i] * factor * factor;
			double spoilt = grossDensity(reading, predicted);
			expected += weight[i] * predicted;
			double fit;
			double noiseVariance;
			if (reading.qualifier() == ReadingQualifier.EXACT) {
				double guess = reading.error().variance(y);
				double between = (predicted * guess + y * own) / (guess + own);
				noiseVariance = reading.error().variance(between);
				double s = own + noiseVariance;
				fit = Math.exp(-0.5 * (y - predicted) * (y - predicted) / s) / Math.sqrt(2 * Math.PI * s);
			}
			else {
				noiseVariance = reading.error().variance(y);
				double z = (y - predicted) / Math.sqrt(own + noiseVariance);
				fit = DriftNormal.cdf((reading.qualifier() == ReadingQualifier.BELOW) ? z : -z);
			}
			double likelihood = (1 - GROSS) * fit + GROSS * spoilt;
			boolean wrong = noise.uniform() * likelihood < GROSS * spoilt;
			double w = weight[i] * likelihood;
			sum += w;
			weight[i] = w;
			if (wrong) {
				gross += w;
			}
			else {
				update(level, i, reading, factor, noiseVariance);
			}
		}
		if (!(sum > 1e-300)) {
			Arrays.fill(weight, 1.0 / n);
			return;
		}
		for (int i = 0; i < n; i++) {
			weight[i] /= sum;
		}
		if (gross / sum > 0.5) {
			notes.add(DriftNote.of(DriftNote.Code.READING_DOUBTED, LEVELS.get(level), when, y, expected));
		}
	}

	private static double grossDensity(SeasonVisit.Reading reading, double predicted) {
		double y = Math.max(reading.value(), 1);
		double z = Math.log(y / Math.max(predicted, 1)) / GROSS_SPREAD;
		if (reading.qualifier() == ReadingQualifier.EXACT) {
			return Math.exp(-0.5 * z * z) / (y * GROSS_SPREAD * Math.sqrt(2 * Math.PI));
		}
		return DriftNormal.cdf((reading.qualifier() == ReadingQualifier.BELOW) ? z : -z);
	}

	/** Moves the level's normal distribution of one alternative to the reading. */
	private void update(int level, int i, SeasonVisit.Reading reading, double factor, double noiseVariance) {
		double prior = variance[level][i];
		double predicted = mean[level][i] * factor;
		double s = prior * factor * factor + noiseVariance;
		double innovation;
		double shrink;
		if (reading.qualifier() == ReadingQualifier.EXACT) {
			innovation = (reading.value() - predicted) / s;
			shrink = 1 / s;
		}
		else {
			// first two moments of the normal cut off at the mark
			double sign = (reading.qualifier() == ReadingQualifier.BELOW) ? -1 : 1;
			double root = Math.sqrt(s);
			double z = sign * (predicted - reading.value()) / root;
			double hazard = DriftNormal.inverseMillsRatio(z);
			innovation = sign * hazard / root;
			shrink = hazard * (hazard + z) / s;
		}
		double gain = prior * factor;
		double startGain = shared[level][i] * factor;
		mean[level][i] = Math.max(0, mean[level][i] + gain * innovation);
		variance[level][i] = Math.max(1e-6, prior - gain * gain * shrink);
		startMean[level][i] += startGain * innovation;
		startVariance[level][i] = Math.max(1e-6, startVariance[level][i] - startGain * startGain * shrink);
		shared[level][i] -= gain * startGain * shrink;
		if (floaterLevel[i] == level) {
			double floaterGain = floaterShared[i] * factor;
			floaterMean[i] = Math.max(0, floaterMean[i] + floaterGain * innovation);
			floaterVariance[i] = Math.max(1e-9, floaterVariance[i] - floaterGain * floaterGain * shrink);
			floaterStart[i] -= startGain * floaterGain * shrink;
			floaterShared[i] -= gain * floaterGain * shrink;
		}
	}

	/** Takes in the routine doses of a visit: chlorine, and with it the gaps in its records. */
	void routine(SeasonVisit visit) {
		for (SeasonVisit.Dose dose : visit.doses()) {
			if (dose.kind().routine()) {
				routines.computeIfAbsent(dose.kind(), kind -> new RoutineDosing(LEVELS.size()));
			}
		}
		for (Map.Entry<DoseKind, RoutineDosing> entry : routines.entrySet()) {
			RoutineDosing routine = entry.getValue();
			routine.passVisit(visit.day());
			boolean found = false;
			for (SeasonVisit.Dose dose : visit.doses()) {
				if (dose.kind() == entry.getKey()) {
					found |= record(dose, visit.day(), routine);
				}
			}
			use(entry.getKey(), routine, found);
		}
		resampleIfDegenerate();
	}

	private boolean record(SeasonVisit.Dose dose, long when, RoutineDosing routine) {
		double[] change = change(dose, when);
		if (change == null) {
			return false;
		}
		int days = Math.max(1, dose.spreadDays());
		schedule(dose.kind(), change, when, days);
		double demand = 0;
		int lasts = (dose.spreadDays() > 1) ? dose.spreadDays() : 7;
		for (int d = 0; d < lasts; d++) {
			demand += weather.demand[Weather.dayOfYear(when + d)];
		}
		routine.record(change, dose.chlorine(), demand, when + lasts);
		return true;
	}

	/** What a product in use, and a gap in its records, mean for each alternative. */
	private void use(DoseKind kind, RoutineDosing routine, boolean found) {
		boolean[] used = inUse.computeIfAbsent(kind, key -> new boolean[n]);
		boolean[] missing = unwritten.computeIfAbsent(kind, key -> new boolean[n]);
		if (!routine.recordedAtMostVisits()) {
			Arrays.fill(used, routine.hasRecords());
			Arrays.fill(missing, false);
			return;
		}
		double sum = 0;
		for (int i = 0; i < n; i++) {
			double gap = constants[UNWRITTEN][i];
			missing[i] = false;
			if (found) {
				weight[i] *= used[i] ? (1 - GIVEN_UP) * (1 - gap) : TAKEN_UP;
				used[i] = true;
			}
			else if (used[i]) {
				double silent = GIVEN_UP + (1 - GIVEN_UP) * gap;
				weight[i] *= silent;
				used[i] = noise.uniform() * silent >= GIVEN_UP;
				missing[i] = used[i];
			}
			sum += weight[i];
		}
		for (int i = 0; i < n; i++) {
			weight[i] /= sum;
		}
	}

	/** Takes in what a visit did beyond the routine: drain, backwash, products that set a level right. */
	void correct(SeasonVisit visit) {
		if (visit.replaced() > 0) {
			drained.merge(visit.day(), visit.replaced(), (one, other) -> 1 - (1 - one) * (1 - other));
			double keep = 1 - visit.replaced();
			for (int level = 0; level < LEVELS.size(); level++) {
				for (int i = 0; followed[level] && i < n; i++) {
					mean[level][i] = keep * mean[level][i] + visit.replaced() * constants[FILL + level][i];
					variance[level][i] = keep * keep * variance[level][i] + 1e-6;
					shared[level][i] *= keep;
					if (floaterLevel[i] == level) {
						floaterShared[i] *= keep;
					}
				}
			}
		}
		if (visit.backwashed()) {
			washed = true;
			washes.add(visit.day());
		}
		for (SeasonVisit.Dose dose : visit.doses()) {
			if (!dose.kind().routine()) {
				double[] change = change(dose, visit.day());
				if (change != null) {
					schedule(dose.kind(), change, visit.day(), Math.max(1, dose.spreadDays()));
				}
			}
		}
	}

	/** ppm by level; null when it cannot be told or believed. */
	private double @Nullable [] change(SeasonVisit.Dose dose, long when) {
		if (dose.change() == null) {
			strengthUnknown++;
			return null;
		}
		double[] change = new double[LEVELS.size()];
		for (int level = 0; level < change.length; level++) {
			change[level] = dose.change().getOrDefault(LEVELS.get(level), 0.0);
			if (Math.abs(change[level]) > Priors.LARGEST_DOSE[level]) {
				notes.add(DriftNote.of(DriftNote.Code.DOSE_DOUBTED, LEVELS.get(level), when, change[level]));
				return null;
			}
		}
		return change;
	}

	private void schedule(DoseKind kind, double[] change, long when, int days) {
		int from = (int) (when - start);
		for (int level = 0; level < change.length; level++) {
			if (change[level] == 0) {
				continue;
			}
			double[] parts = recorded[kind.ordinal()][level];
			if (parts == null || parts.length < from + days) {
				parts = (parts == null) ? new double[Math.max(380, from + days)] : Arrays.copyOf(parts, from + days + 100);
				recorded[kind.ordinal()][level] = parts;
			}
			for (int d = 0; d < days; d++) {
				parts[from + d] += change[level] / days;
			}
		}
	}

	/** Draws the alternatives anew in proportion to their weights once few of them carry most of it. */
	private void resampleIfDegenerate() {
		double squares = 0;
		for (double w : weight) {
			squares += w * w;
		}
		if (1 / squares > 0.5 * n) {
			return;
		}
		int[] from = systematicResample(n);
		Arrays.fill(weight, 1.0 / n);
		for (double[][] group : List.of(constants, mean, variance, startMean, startVariance, shared)) {
			for (double[] values : group) {
				gather(values, from);
			}
		}
		for (double[] values : List.of(height, floaterMean, floaterVariance, floaterShared, floaterStart)) {
			gather(values, from);
		}
		int[] old = floaterLevel.clone();
		for (int i = 0; i < n; i++) {
			floaterLevel[i] = old[from[i]];
		}
		for (double[][] own : biases.values()) {
			for (double[] values : own) {
				if (values != null) {
					gather(values, from);
					jitter(values, false);
				}
			}
		}
		inUse.values().forEach(flags -> gather(flags, from));
		unwritten.values().forEach(flags -> gather(flags, from));
		for (int constant = 0; constant < FILL + LEVELS.size(); constant++) {
			if (constant < FILL || followed[constant - FILL]) {
				jitter(constants[constant], true);
			}
		}
	}

	/** So many alternatives, each as often as its weight says. */
	int[] systematicResample(int count) {
		int[] from = new int[count];
		double step = 1.0 / count;
		double target = step / 2;
		double cumulated = weight[0];
		for (int i = 0, k = 0; i < count; i++, target += step) {
			while (cumulated < target && k < n - 1) {
				cumulated += weight[++k];
			}
			from[i] = k;
		}
		return from;
	}

	private static void gather(double[] values, int[] from) {
		if (values.length == 0) {
			return;
		}
		double[] old = values.clone();
		for (int i = 0; i < from.length; i++) {
			values[i] = old[from[i]];
		}
	}

	private static void gather(boolean[] values, int[] from) {
		boolean[] old = values.clone();
		for (int i = 0; i < from.length; i++) {
			values[i] = old[from[i]];
		}
	}

	/**
	 * Moves the values a little, their mean and spread kept (Liu and West 2001); those that are 0 are off and stay.
	 *
	 * @param positive moved in their logarithm
	 */
	private void jitter(double[] values, boolean positive) {
		double sum = 0;
		double squares = 0;
		int count = 0;
		for (int i = 0; i < n; i++) {
			if (values[i] != 0) {
				double x = positive ? Math.log(values[i]) : values[i];
				sum += x;
				squares += x * x;
				count++;
			}
		}
		if (count < 2) {
			return;
		}
		double middle = sum / count;
		double spread = Math.sqrt(Math.max(0, squares / count - middle * middle));
		if (spread < 1e-9) {
			return;
		}
		double shrink = Math.sqrt(1 - MOVE * MOVE);
		for (int i = 0; i < n; i++) {
			if (values[i] != 0) {
				double x = positive ? Math.log(values[i]) : values[i];
				x = middle + shrink * (x - middle) + MOVE * spread * noise.normal();
				values[i] = positive ? Math.exp(x) : x;
			}
		}
	}

	/** Free chlorine a day at a demand of one, ppm on the recorded volume, by product in use; what is not on record is no part of it. */
	Map<DoseKind, Double> chlorine() {
		Map<DoseKind, Double> rates = new EnumMap<>(DoseKind.class);
		routines.forEach((kind, routine) -> {
			double share = 0;
			boolean[] used = inUse.get(kind);
			for (int i = 0; used != null && i < n; i++) {
				share += used[i] ? weight[i] : 0;
			}
			if (share > 0) {
				rates.put(kind, share * routine.chlorineRate());
			}
		});
		return rates;
	}

	/** Backwashes a day to come: the pool's own so far, and at first what such filters usually need. */
	double washRate() {
		double usual = pool.sandFilter() ? 1.0 / Priors.WASH_DAYS : 0;
		return (washes.size() + usual * Priors.WASH_TRUST) / (day - start + Priors.WASH_TRUST);
	}

	static double per(ChlorineSource source, int level) {
		return switch (LEVELS.get(level)) {
			case CYA -> source.cyanuricAcid();
			case CH -> source.hardness();
			case SALT, TDS -> source.salt() + org.meniscus.water.chemistry.Stoichiometry.SALT_PER_CHLORINE;
			default -> 0;
		};
	}

}
