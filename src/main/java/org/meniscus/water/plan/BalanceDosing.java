package org.meniscus.water.plan;

import java.util.Set;
import java.util.function.DoublePredicate;

import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.SaturationBand;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.season.SeasonValue;
import org.meniscus.water.units.RootFinder;

/**
 * What lifts TA, CH and salt, from halfway between the ideal and the acceptable low end, and CYA, where it pays; on a test of today.
 * Aims are common practice, no source.
 */
final class BalanceDosing {

	/** Shares of what lowers and of what lifts the balance as a side effect: stabilizer gives way before oxidizer. */
	record Shares(double oxidizer, double stabilizer, double lifting) {

		static final Shares ALL = new Shares(1, 1, 1);

		static final Set<Step.Purpose> PURPOSES = Set.of(Step.Purpose.OXIDIZE, Step.Purpose.RAISE_CYA, Step.Purpose.RAISE_TA,
				Step.Purpose.RAISE_CH);

		/** A smaller share of a dose is not worth while. */
		private static final double LEAST_SHARE = 0.15;

		private static final int HALVINGS = 6;

		double of(DosingSequence.DosingGoal goal) {
			return switch (goal.purpose()) {
				case OXIDIZE -> this.oxidizer;
				case RAISE_CYA -> this.stabilizer;
				case RAISE_TA, RAISE_CH -> this.lifting;
				default -> 1;
			};
		}

		Shares times(Shares other) {
			return new Shares(this.oxidizer * other.oxidizer, this.stabilizer * other.stabilizer, this.lifting * other.lifting);
		}

		/** The largest share of a dose with which a water is in order; none where little would be left. */
		static double largest(DoublePredicate inOrder) {
			double share = RootFinder.bisect(0, 1, HALVINGS, inOrder).low();
			return (share < LEAST_SHARE) ? 0 : share;
		}

		/** Clearly less of what is less than whole; none where little would be left. */
		Shares certainlyLess() {
			return new Shares(certainlyLess(this.oxidizer), certainlyLess(this.stabilizer), certainlyLess(this.lifting));
		}

		private static double certainlyLess(double share) {
			return (share >= 1) ? 1 : (share < 0.5) ? 0 : share - 0.05;
		}

		boolean isAll() {
			return this.equals(ALL);
		}

	}

	/** Tests of CYA are repeated at the first visit after so many hours: it dissolves slowly. */
	private static final double CYA_RETRY_HOURS = 7 * 24;

	/** Ppm of TA for each ppm below the trigger: a drop of the test (10 ppm) is a fifth of a usual dose (71 ppm). */
	private static final double TA_GAIN = 1.4;

	/** Ppm of CH for each ppm below the trigger: a drop of the test (10 ppm) is less than a third of a usual dose (80 ppm). */
	private static final double CH_GAIN = 2.5;

	/** Ppm of salt for each ppm below the trigger: a mark of the test (50 ppm) is a sixth of a usual dose (1000 ppm). */
	private static final double SALT_GAIN = 3;

	/** A drop of the test of CH, ppm: less is not asked for the sake of the index. */
	private static final double WORTH_WHILE = 10;

	/** A smaller rise is none, ppm. */
	private static final double LEAST_RISE = 1;

	private final DosingRun run;

	private final PlanContext context;

	private final PoolFacts pool;

	private final Readings readings;

	BalanceDosing(DosingRun run) {
		this.run = run;
		this.context = run.context();
		this.pool = this.context.pool();
		this.readings = this.context.readings();
	}

	/** What needs no gap of hours before another product. */
	void stabilizerAndSalt() {
		stabilizer();
		salt();
	}

	void alkalinityAndHardness() {
		alkalinity();
		hardness();
	}

	private void alkalinity() {
		Range range = this.pool.targets().range(Level.TA);
		if (range != null && this.readings.ta() != null) {
			raise(Step.Purpose.RAISE_TA, Level.TA, range.halfwayLow(), range.idealLow() + 0.25 * (range.idealHigh() - range.idealLow()),
					TA_GAIN);
		}
	}

	/** Before water is replaced: no more than brings TA back into its acceptable range. */
	void leastAlkalinity() {
		Range range = this.pool.targets().range(Level.TA);
		if (range != null && this.readings.ta() != null) {
			raise(Step.Purpose.RAISE_TA, Level.TA, range.acceptableLow(), range.acceptableLow(), 1);
		}
	}

	/** On closing day it clouds beside acid and much chlorine: it goes in with the algaecide, pH and chlorine back in range. */
	private boolean waitsForClosing() {
		return this.context.situation() == Situation.CLOSING && this.pool.sanitizer().usesChlorine();
	}

	private void hardness() {
		if (this.context.situation() == Situation.CLOSING
				&& !PoolCondition.PH_READABLE.holds(this.context.request(), this.context.assessment())) {
			return;
		}
		Range range = this.pool.targets().range(Level.CH);
		if (range != null && this.readings.ch() != null) {
			raise(Step.Purpose.RAISE_CH, Level.CH, range.halfwayLow(), range.idealLow(), CH_GAIN, forIndex(range));
		}
	}

	/** CH in ppm, a quarter into its ideal range at most, that keeps the index in its band at the pH that acid and stabilizer come to. */
	private double forIndex(Range range) {
		PoolWater water = this.run.water();
		Double known = this.context.water().levels().value(Level.SATURATION_INDEX);
		if (known == null) {
			return 0;
		}
		Water settled = Dosing.spendChlorine(water.water(),
				Math.max(0, water.water().freeChlorine() - this.context.water().water().freeChlorine()));
		double index = Speciation.of(settled).calciteSaturationIndex() + PhDosing.PH_AIM - settled.ph();
		double lacking = SaturationBand.of(this.pool).low() - index;
		double most = range.idealLow() + 0.25 * (range.idealHigh() - range.idealLow());
		return (lacking <= 0) ? 0 : Math.min(most, settled.calciumHardness() * Math.pow(10, lacking));
	}

	private void salt() {
		Range range = this.pool.targets().range(Level.SALT);
		if (this.pool.sanitizer() == Sanitizer.SALT_CELL && this.context.situation() != Situation.CLOSING && range != null
				&& this.readings.salt() != null) {
			raise(Step.Purpose.RAISE_SALT, Level.SALT, range.halfwayLow(), 0.5 * (range.idealLow() + range.idealHigh()), SALT_GAIN);
			if (this.run.goesIn(Step.Purpose.RAISE_SALT) && this.context.situation() != Situation.CELL_START) {
				this.run.test(SituationProcedure.DAY, "later.cell-on");
			}
		}
	}

	private void stabilizer() {
		Range range = this.pool.targets().range(Level.CYA);
		Double cya = this.readings.cya();
		SeasonValue season = this.context.season();
		if (range == null || cya == null || !isStabilized(range)) {
			return;
		}
		// "Less than 30" may be 30 already: what is certain to be missing is dosed, no more.
		PoolWater before = this.run.water();
		double fromChlorine = before.water().cyanuricAcid() - this.context.water().water().cyanuricAcid()
				+ this.run.tabletSupply().fc() * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE;
		double counted = cya + fromChlorine;
		double target = (season == null) ? 0 : stabilizerTarget(season, range, cya, before.water().calciumHardness());
		if (counted >= target - 1e-9) {
			return;
		}
		if (this.pool.sanitizer() == Sanitizer.TABLET_FEEDER) {
			this.run.note("note.tablets-bring-cya");
			return;
		}
		double visit = this.context.nextVisitHours();
		double retryHours = Math.ceil(CYA_RETRY_HOURS / visit) * visit;
		DosingSequence.DosingGoal goal = new DosingSequence.DosingGoal(Step.Purpose.RAISE_CYA, Level.CYA,
				(water, product) -> this.run.amount(product,
						target - counted - (water.water().cyanuricAcid() - before.water().cyanuricAcid())),
				retryHours, Reason.of("why.low", Term.of(Level.CYA), new Term.Value(Level.CYA, cya, this.readings.cyaQualifier()),
						Term.of(Level.CYA, target)));
		if (Boolean.FALSE.equals(this.readings.drainVisible())) {
			// It lies in the filter for days, which clearing water fills.
			this.run.later(goal, retryHours, "later.stabilizer-when-clear");
			return;
		}
		this.run.add(goal);
		if (this.run.goesIn(Step.Purpose.RAISE_CYA)) {
			this.run.test(retryHours, "later.test-cya");
		}
	}

	/**
	 * Up to what it pays, less the error of a test: what may be there already is not bought; the ideal low end at most. A cell's water is brought
	 * to that all the same, as makers of cells ask; and where any pays, enough that the sun does not take the chlorine of a day.
	 */
	private double stabilizerTarget(SeasonValue season, Range range, double cya, double ch) {
		double paying = season.stabilizerTarget(ch);
		double certain = paying - this.readings.tests().precision(Level.CYA).standardDeviation(cya);
		return (paying > 0 && this.pool.sanitizer() == Sanitizer.SALT_CELL) ? range.idealLow()
				: Math.min((paying > 0) ? Math.max(certain, PoolCondition.SHIELDING_CYA) : certain, range.idealLow());
	}

	/** Sun is what stabilizer is for. */
	private boolean isStabilized(Range range) {
		return !this.pool.indoor() && this.pool.body() != BodyOfWater.SPA && this.pool.sanitizer().usesChlorine()
				&& this.context.situation() != Situation.CLOSING && range.idealLow() > 0;
	}

	/**
	 * Lifts a level that is below the trigger, by so many times what is missing there, at most to the aim: a dose grows from nothing, so
	 * that a step of the test does not turn it on whole.
	 */
	private void raise(Step.Purpose purpose, Level level, double trigger, double aim, double gain) {
		raise(purpose, level, trigger, aim, gain, 0);
	}

	/** @param least what it is brought to in any case, where that is worth a dose */
	private void raise(Step.Purpose purpose, Level level, double trigger, double aim, double gain, double least) {
		double now = value(this.run.water().water(), level);
		double rise = Math.max(Math.min(aim - now, gain * (trigger - now)), (least - now >= WORTH_WHILE) ? least - now : 0);
		if (rise < LEAST_RISE) {
			return;
		}
		double target = now + rise;
		Double tested = this.readings.value(level);
		DosingSequence.DosingGoal goal = new DosingSequence.DosingGoal(purpose, level, (water, product) -> {
			double change = ProductEffects.lasting(product, 1, this.context.litres()).getOrDefault(level, 0.0);
			return (change > 0) ? (target - value(water.water(), level)) / change : 0;
		}, this.context.nextVisitHours(),
				Reason.of("why.low", Term.of(level), Term.of(level, (tested != null) ? tested : now), Term.of(level, target)));
		if (purpose == Step.Purpose.RAISE_CH && waitsForClosing()) {
			double fc = this.run.water().water().freeChlorine();
			this.run.later(goal,
					SituationProcedure.DAY + SituationProcedure.fallHours(this.context, fc, this.context.request().policy().swimCeiling()),
					"later.closing-calcium");
			return;
		}
		this.run.add(goal);
	}

	private double value(Water water, Level level) {
		return switch (level) {
			// As long as chlorine of today is there it counts with it.
			case TA -> water.totalAlkalinity() - Stoichiometry.TA_PER_CHLORINE
					* Math.max(0, water.freeChlorine() - this.context.water().water().freeChlorine());
			case CH -> water.calciumHardness();
			case SALT -> water.salt();
			default -> throw new IllegalArgumentException("not raised this way: " + level);
		};
	}

}
