package org.meniscus.water.season;

import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.pool.Level;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.ProductEffects;

/**
 * The weeks of a pool's year: water may be replaced (a third or half) or stabilizer or hardness raised, then tablets (none to five, or
 * steps of the feeder) and poured chlorine keep the water for a week. States are a grid of CYA and CH, between which values are
 * interpolated on straight lines.
 */
final class SeasonOperator implements BellmanOperator {

	/** Of a drain that the year ahead reckons with. */
	static final double[] SHARES = { 1.0 / 3, 0.5 };

	/** Visits that such a drain takes, a third at most in one. */
	private static final int[] VISITS = { 1, 2 };

	static final int MAX_STEPS = 5;

	static final double CYA_STEP = 10;

	static final int CYA_NODES = 15;

	static final double CH_STEP = 100;

	static final int CH_NODES = 12;

	/** Calcium hypochlorite is not poured from here on, CH ppm: the trade's table of products. */
	private static final double CALCIUM_HYPOCHLORITE_LIMIT = 350;

	/** Below the first, degrees Celsius, water without chlorine does no harm within a week; from the second every day counts. Assumption. */
	private static final double COOL = 10, WARM = 20;

	/** Acid that holds pH against the loss of carbon dioxide, ppm TA a week: pH rises by 0.2 a week at TA 100. Common practice, no source. */
	private static final double ACID_A_WEEK = 4;

	/** Alkalinity that a ppm of FC from trichlor takes once it is used up, ppm. */
	private static final double TA_OF_TABLETS = -ProductEffects.lasting(ActiveIngredient.TRICHLOR, 1).getOrDefault(Level.TA, 0.0);

	private final SeasonProblem problem;

	private final TransitionModel transitions;

	/** A week in water for which plans ask for new water costs as much as that, so that the year ahead reckons with it. */
	private final double replacing;

	/** By week, CYA node and steps: cost without poured chlorine, infinite where not allowed; FC poured, ppm; CYA a week later, ppm. */
	private final double[] cost = new double[TransitionModel.WEEKS * CYA_NODES * (MAX_STEPS + 1)];

	private final double[] poured = new double[this.cost.length];

	private final double[] cyaAfter = new double[this.cost.length];

	private final double[] row = new double[CH_NODES];

	private final double[] kept = new double[CYA_NODES * CH_NODES];

	/** Cost of the hardness of a week by CH node. */
	private final double[] hardness = new double[CH_NODES];

	/** Where a week ends in CH, by week and CH node; with calcium hypochlorite poured, by week, CYA node and CH node. */
	private final Places after = new Places(TransitionModel.WEEKS * CH_NODES);

	private final Places afterHypochlorite = new Places(TransitionModel.WEEKS * CYA_NODES * CH_NODES);

	/** Where a drain of each share leads, by state and share; where hardness bought leads, by CYA node. */
	private final Places drained = new Places(CYA_NODES * CH_NODES * SHARES.length);

	private final Places hardened = new Places(CYA_NODES);

	SeasonOperator(SeasonProblem problem) {
		this.problem = problem;
		this.replacing = SHARES[0] * problem.prices().water() + problem.prices().drainVisit();
		this.transitions = new TransitionModel(problem.climate(), problem.fillCh(), problem.cyaSource(), problem.chSource());
		double warmest = 0;
		for (int week = 0; week < TransitionModel.WEEKS; week++) {
			warmest = Math.max(warmest, this.transitions.celsius(week));
		}
		double capacity = WeeklyStage.cellCapacity(problem, warmest);
		for (int week = 0; week < TransitionModel.WEEKS; week++) {
			for (int cya = 0; cya < CYA_NODES && !this.transitions.closed(week); cya++) {
				boolean tablets = problem.supply() == Supply.TABLETS && cya * CYA_STEP < problem.cyaLimit();
				for (int steps = 0; steps <= MAX_STEPS; steps++) {
					int at = index(week, cya, steps);
					this.cost[at] = Double.POSITIVE_INFINITY;
					if (steps == 0 || tablets) {
						set(at, week, cya * CYA_STEP,
								WeeklyStage.of(problem, cya * CYA_STEP, this.transitions.celsius(week), steps, capacity));
					}
				}
			}
		}
		placeAll();
	}

	private void placeAll() {
		for (int ch = 0; ch < CH_NODES; ch++) {
			double ppm = ch * CH_STEP;
			this.hardness[ch] = hardnessCost(ppm);
			for (int week = 0; week < TransitionModel.WEEKS; week++) {
				this.after.set(week * CH_NODES + ch, 0, this.transitions.chAfter(week, ppm));
				for (int cya = 0; cya < CYA_NODES; cya++) {
					double raised = this.poured[index(week, cya, 0)] * Stoichiometry.CH_PER_CALCIUM_HYPOCHLORITE_CHLORINE;
					this.afterHypochlorite.set((week * CYA_NODES + cya) * CH_NODES + ch, 0, this.transitions.chAfter(week, ppm + raised));
				}
			}
			for (int cya = 0; cya < CYA_NODES; cya++) {
				int state = cya * CH_NODES + ch;
				this.hardened.set(cya, cya * CYA_STEP, this.problem.hardness().idealLow());
				for (int n = 0; n < SHARES.length; n++) {
					this.drained.set(state * SHARES.length + n, cya * CYA_STEP * (1 - SHARES[n]),
							ppm + SHARES[n] * (this.problem.fillCh() - ppm));
				}
			}
		}
	}

	private void set(int at, int week, double cya, WeeklyStage stage) {
		if (!stage.allowed()) {
			return;
		}
		SeasonPrices prices = this.problem.prices();
		boolean trichlor = this.problem.supply() != Supply.CELL;
		double taken = trichlor ? stage.supplied() * TA_OF_TABLETS : 0;
		this.cost[at] = stage.supplied() * prices.supplied() + alkalinity(week, taken)
				+ ((cya > this.problem.cyaReplaced() + 1e-9) ? this.replacing : 0)
				+ stage.daysBelow() * prices.dayBelowMinimum() * warmth(this.transitions.celsius(week));
		this.poured[at] = stage.poured();
		this.cyaAfter[at] = this.transitions.cyaAfter(week,
				cya + (trichlor ? stage.supplied() * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE : 0));
	}

	/** Acid and alkali of a week. @param taken alkalinity that tablets take, ppm: acid that need not be poured */
	private double alkalinity(int week, double taken) {
		double acid = Math.max(0, ACID_A_WEEK - taken);
		double balance = this.transitions.filled(week) * this.problem.fillTa() - taken - acid;
		return this.problem.prices().acid() * (acid + Math.max(0, balance)) + this.problem.prices().alkali() * Math.max(0, -balance);
	}

	/** Share of a day's price that a day below the minimum costs in water of this temperature. */
	static double warmth(double celsius) {
		return Math.max(0, Math.min(1, (celsius - COOL) / (WARM - COOL)));
	}

	@Override
	public int periods() {
		return TransitionModel.WEEKS;
	}

	@Override
	public int states() {
		return CYA_NODES * CH_NODES;
	}

	@Override
	public void backUp(int week, double[] next, double[] values) {
		if (this.transitions.closed(week)) {
			for (int cya = 0; cya < CYA_NODES; cya++) {
				for (int ch = 0; ch < CH_NODES; ch++) {
					values[cya * CH_NODES + ch] = interpolate(next, this.transitions.cyaAfter(week, cya * CYA_STEP),
							this.transitions.chAfter(week, ch * CH_STEP));
				}
			}
			return;
		}
		keep(week, next);
		for (int cya = 0; cya < CYA_NODES; cya++) {
			for (int ch = 0; ch < CH_NODES; ch++) {
				values[cya * CH_NODES + ch] = Math.min(replaced(cya, ch), raised(cya, ch));
			}
		}
	}

	/** Least cost from here on by chlorine alone, into {@link #kept}. */
	private void keep(int week, double[] next) {
		SeasonPrices prices = this.problem.prices();
		for (int cya = 0; cya < CYA_NODES; cya++) {
			for (int ch = 0; ch < CH_NODES; ch++) {
				this.kept[cya * CH_NODES + ch] = Double.POSITIVE_INFINITY;
			}
			for (int steps = 0; steps <= MAX_STEPS; steps++) {
				int at = index(week, cya, steps);
				double base = this.cost[at];
				if (base == Double.POSITIVE_INFINITY) {
					continue;
				}
				mix(next, this.cyaAfter[at]);
				double fc = this.poured[at];
				for (int ch = 0; ch < CH_NODES; ch++) {
					double least = fc * prices.chlorine() + this.after.alongRow(week * CH_NODES + ch, this.row);
					if (steps == 0 && ch * CH_STEP < CALCIUM_HYPOCHLORITE_LIMIT
							&& prices.calciumHypochlorite() < Double.POSITIVE_INFINITY) {
						least = Math.min(least, fc * prices.calciumHypochlorite()
								+ this.afterHypochlorite.alongRow((week * CYA_NODES + cya) * CH_NODES + ch, this.row));
					}
					int state = cya * CH_NODES + ch;
					this.kept[state] = Math.min(this.kept[state], base + this.hardness[ch] + least);
				}
			}
		}
	}

	/** As it is, or with water replaced first. */
	private double replaced(int cya, int ch) {
		double least = this.kept[cya * CH_NODES + ch];
		for (int n = 0; n < SHARES.length; n++) {
			double after = this.drained.of((cya * CH_NODES + ch) * SHARES.length + n, this.kept);
			least = Math.min(least, after + SHARES[n] * this.problem.prices().water() + VISITS[n] * this.problem.prices().drainVisit());
		}
		return least;
	}

	/** With stabilizer or hardness bought first; infinite where neither may be. */
	private double raised(int cya, int ch) {
		double least = Double.POSITIVE_INFINITY;
		for (int to = cya + 1; to < CYA_NODES && to * CYA_STEP <= this.problem.stabilizerLimit(); to++) {
			least = Math.min(least, this.kept[to * CH_NODES + ch] + (to - cya) * CYA_STEP * this.problem.prices().stabilizer());
		}
		double missing = this.problem.hardness().idealLow() - ch * CH_STEP;
		if (missing > 0) {
			least = Math.min(least,
					this.hardened.of(cya, this.kept) + missing * this.problem.prices().hardness());
		}
		return least;
	}

	/**
	 * What scale or bare plaster costs in a week at this CH: with the square of how far it is outside the ideal range, at the acceptable end as
	 * much as a day below the minimum FC. A drain then begins to pay about where the acceptable range ends, as practice has it.
	 */
	private double hardnessCost(double ch) {
		SeasonProblem.HardnessRange range = this.problem.hardness();
		double outside = (ch > range.idealHigh()) ? (ch - range.idealHigh()) / Math.max(1, range.acceptableHigh() - range.idealHigh())
				: Math.max(0, range.idealLow() - ch) / Math.max(1, range.idealLow() - range.acceptableLow());
		return this.problem.prices().dayBelowMinimum() * outside * outside + (isTooHard(ch) ? this.replacing : 0);
	}

	/** Whether a plan asks for new water for its hardness alone; not where fill water is no softer. */
	private boolean isTooHard(double ch) {
		return ch > this.problem.hardness().limit() && this.problem.fillCh() < this.problem.hardness().idealHigh();
	}

	/** Values at one CYA, by CH node. */
	private void mix(double[] values, double cya) {
		int node = node(cya, CYA_STEP, CYA_NODES);
		double share = Math.min(1, cya / CYA_STEP - node);
		for (int ch = 0; ch < CH_NODES; ch++) {
			int low = node * CH_NODES + ch;
			this.row[ch] = values[low] + share * (values[low + CH_NODES] - values[low]);
		}
	}

	/** Value between the nodes; beyond the last as at the last, so that values stay bounded over the years. */
	private static double interpolate(double[] values, double cya, double ch) {
		return extrapolate(values, Math.min(cya, (CYA_NODES - 1) * CYA_STEP), Math.min(ch, (CH_NODES - 1) * CH_STEP));
	}

	/** Places between the nodes, the same each year and so found once; beyond the last node they stand on it. */
	private static final class Places {

		/** Nodes below. */
		private final int[] cyaNode;

		private final int[] chNode;

		/** Shares of the way from there to the next. */
		private final double[] cyaShare;

		private final double[] chShare;

		Places(int count) {
			this.cyaNode = new int[count];
			this.chNode = new int[count];
			this.cyaShare = new double[count];
			this.chShare = new double[count];
		}

		void set(int place, double cya, double ch) {
			this.cyaNode[place] = node(cya, CYA_STEP, CYA_NODES);
			this.chNode[place] = node(ch, CH_STEP, CH_NODES);
			this.cyaShare[place] = Math.min(1, cya / CYA_STEP - this.cyaNode[place]);
			this.chShare[place] = Math.min(1, ch / CH_STEP - this.chNode[place]);
		}

		double alongRow(int place, double[] row) {
			return between(row, this.chNode[place], this.chShare[place]);
		}

		double of(int place, double[] values) {
			int at = this.cyaNode[place] * CH_NODES + this.chNode[place];
			double low = between(values, at, this.chShare[place]);
			return low + this.cyaShare[place] * (between(values, at + CH_NODES, this.chShare[place]) - low);
		}

		private static double between(double[] values, int at, double share) {
			return values[at] + share * (values[at + 1] - values[at]);
		}

	}

	/** Value between the nodes; beyond the last on the line through the last two. @param cya,ch ppm */
	static double extrapolate(double[] values, double cya, double ch) {
		int cyaNode = node(cya, CYA_STEP, CYA_NODES);
		int chNode = node(ch, CH_STEP, CH_NODES);
		int at = cyaNode * CH_NODES + chNode;
		double share = ch / CH_STEP - chNode;
		double low = values[at] + share * (values[at + 1] - values[at]);
		double high = values[at + CH_NODES] + share * (values[at + CH_NODES + 1] - values[at + CH_NODES]);
		return low + (cya / CYA_STEP - cyaNode) * (high - low);
	}

	private static int node(double value, double step, int nodes) {
		return Math.max(0, Math.min(nodes - 2, (int) (value / step)));
	}

	private static int index(int week, int cya, int steps) {
		return (week * CYA_NODES + cya) * (MAX_STEPS + 1) + steps;
	}

}
