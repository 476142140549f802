package org.meniscus.water.plan;

import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.demand.ChlorineDemand;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.demand.PoolKind;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.MeasurementUncertainty;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.units.RootFinder;

/**
 * Free chlorine that lasts until the next visit: from what FC it stays above its minimum with the chance the company asks for, and what
 * to do when that FC is above the ceiling.
 */
public final class ResidualTarget {

	/** Without a known next visit, or below a ceiling, FC is dosed when it misses the aim by more than a test can tell, ppm. */
	private static final double DEAD_BAND = 0.5;

	/** A test cannot tell more: FC that holds with this much less chance than asked is left alone. */
	private static final double PROBABILITY_BAND = 0.05;

	/** Ppm dosed for each ppm that FC falls short of what just holds. */
	private static final double GAIN = 3;

	/** Nothing routine starts above this, ppm, however late people come: model code maximum, from memory. */
	private static final double MAX_ROUTINE = 10;

	/** From so many hours until people come, FC may start above the ceiling if it has come down by then. */
	private static final double LATE_SWIM_HOURS = 12;

	/** More cannot be looked for, ppm. */
	private static final double MAX_SEARCH = 60;

	/** Largest supply that is offered, ppm FC a day. */
	private static final double MAX_SUPPLY = 6;

	/** Closes in below what a dose can be measured to. */
	private static final int HALVINGS = 30;

	/** Bromine that 1 mg of chlorine makes of bromide, mg. */
	static final double BROMINE = Stoichiometry.BROMINE / Stoichiometry.CHLORINE;

	private static final double EPSILON = 1e-9;

	private final PlanRequest request;

	private final PoolForecast forecast;

	private final ChlorineDemand demand;

	private final double minimum;

	private final double currentFc;

	private final int days;

	private final double confidence;

	private final double ceiling;

	/** Where FC that misses it by much is brought, ppm. */
	private final double fullTarget;

	private final double targetFc;

	private final double idealLow;

	/**
	 * @param forecast of the days until the next visit, tablets that go in today counted in
	 * @param minimum FC to be held, ppm
	 * @param currentFc FC tested today, ppm
	 * @param idealLow lower end of the pool's ideal range of FC, ppm
	 */
	public ResidualTarget(PlanRequest request, PoolForecast forecast, double minimum, double currentFc, double idealLow) {
		this(request, forecast, minimum, currentFc, idealLow, null);
	}

	private ResidualTarget(PlanRequest request, PoolForecast forecast, double minimum, double currentFc, double idealLow,
			@Nullable Double ceiling) {
		this.request = request;
		this.forecast = forecast;
		this.demand = forecast.demand();
		this.minimum = minimum;
		this.currentFc = currentFc;
		this.days = request.daysToNextVisit();
		this.confidence = request.policy().holdProbability();
		this.idealLow = idealLow;
		this.ceiling = (ceiling != null) ? ceiling : highestStart();
		double needed = (this.days == 0) ? minimum
				: this.demand.requiredStart(minimum, this::spread, this.days, this.confidence, MAX_SEARCH);
		this.fullTarget = (request.situation() == Situation.AFTER_HEAVY_USE) ? this.ceiling
				: Math.min(this.ceiling, Math.max(Math.max(idealLow, minimum), needed));
		this.targetFc = isMet() || isCapped() ? this.fullTarget : Math.min(this.fullTarget, partOfTarget());
	}

	/**
	 * Of bromine, by the chlorine that makes as much: each of its figures is ppm of bromine divided by {@link #BROMINE}. The use is taken to be
	 * as many moles as of chlorine; common practice, no source. No feeder is counted on. From the top of the range by the error of test and
	 * volume down to the middle of it is aimed at.
	 *
	 * @param tested bromine, ppm
	 */
	static ResidualTarget ofBromine(PlanRequest request, Range range, double tested) {
		double high = range.acceptableHigh();
		double error = MeasurementUncertainty.after(request.readings().tests(), Level.BROMINE, tested, Math.max(0, high - tested),
				request.pool().certainty());
		double middle = 0.5 * (range.acceptableLow() + high);
		return new ResidualTarget(request, request.forecast(), range.acceptableLow() / BROMINE, tested / BROMINE, middle / BROMINE,
				Math.max(middle, high - error) / BROMINE);
	}

	/** FC to be held, ppm. */
	double minimum() {
		return this.minimum;
	}

	/** FC to dose to, ppm. */
	public double targetFc() {
		return this.targetFc;
	}

	/** Highest FC a routine dose may bring, ppm. */
	double ceiling() {
		return this.ceiling;
	}

	/** Whether today's FC needs no chlorine. */
	public boolean isMet() {
		// Where stabilizer puts the minimum above the ceiling, the ceiling is all that can be asked for.
		if (this.currentFc >= this.fullTarget - EPSILON) {
			return true;
		}
		if (this.currentFc < this.minimum - EPSILON) {
			return false;
		}
		if (!isCapped() && holdProbability(this.currentFc) < this.confidence - PROBABILITY_BAND) {
			return false;
		}
		return this.currentFc >= (isCapped() ? this.fullTarget : Math.min(this.fullTarget, this.idealLow)) - DEAD_BAND - EPSILON;
	}

	/** Whether a ceiling is all that can be asked for. */
	private boolean isCapped() {
		return this.days == 0 || this.fullTarget >= this.ceiling - EPSILON;
	}

	/** A dose grows from the least worth one where today's FC just fails to hold, so that a step of a test does not turn it on whole. */
	private double partOfTarget() {
		double holds = this.demand.requiredStart(this.minimum, this::spread, this.days, this.confidence - PROBABILITY_BAND, MAX_SEARCH);
		double enough = Math.max(Math.max(holds, this.minimum), Math.min(this.fullTarget, this.idealLow) - DEAD_BAND);
		return this.currentFc + Math.max(DEAD_BAND, GAIN * (enough - this.currentFc));
	}

	/** Chance that FC is at least the minimum at the next visit when it starts from this, ppm. */
	double holdProbability(double fc) {
		return holdProbability(fc, this.days);
	}

	/** The same after so many days. */
	double holdProbability(double fc, int afterDays) {
		return this.demand.exceedanceProbability(fc, spread(fc), afterDays, this.minimum);
	}

	/** Whether tablets bring more than is used up: FC is expected above what people may swim in by the next visit. */
	boolean isOverfed() {
		double start = isMet() ? this.currentFc : Math.max(this.currentFc, this.targetFc);
		return this.demand.expected(start, this.days) > Math.max(start, this.request.policy().swimCeiling()) + EPSILON;
	}

	/** Expected days until the next visit on which FC is below its minimum when it starts from this, ppm; zero where no visit is known. */
	double expectedDaysBelow(double fc) {
		return this.demand.expectedDaysBelow(fc, spread(fc), this.days, this.minimum);
	}

	/** FC expected at the next visit from the highest that a routine dose may bring, ppm. */
	double expectedFromCeiling() {
		return this.demand.expected(this.ceiling, this.days);
	}

	/** Whether this FC holds with the chance asked for, as near as a test can tell. */
	boolean isHeld(double fc) {
		return this.days == 0 || holdProbability(fc) >= this.confidence - PROBABILITY_BAND;
	}

	/** S.d. of FC when the dose is in, ppm: test and volume. */
	double spread(double fc) {
		return MeasurementUncertainty.after(this.request.readings().tests(), Level.FC, this.currentFc, Math.max(0, fc - this.currentFc),
				this.request.pool().certainty());
	}

	/** The last day before the next visit on which this FC still holds; zero when not even the first. */
	int lastHeldDay(double fc) {
		int sooner = this.days - 1;
		while (sooner > 0 && this.demand.exceededQuantile(fc, spread(fc), sooner, this.confidence) < this.minimum) {
			sooner--;
		}
		return Math.max(0, sooner);
	}

	/** Whether this FC holds under a cover: no more of it is lost to sun and decay than in a roofed pool. */
	boolean isHeldCovered(double fc) {
		ChlorineDemand own = this.demand;
		double rate = Math.min(own.firstOrderRate(), new PoolKind(false, true, null, PoolKind.Feed.NONE).firstOrderRate(0, 0));
		return isHeld(new ChlorineDemand(rate, own.zeroOrderRate(), own.supply(), own.logStandardError(), own.logPredictionDeviation(),
				own.supplyDeviation(), own.intervals()), fc);
	}

	/** FC expected after so many days from this, ppm. */
	double expected(double fc, double afterDays) {
		return this.demand.expected(fc, afterDays);
	}

	/** FC expected at the next visit from the highest that a routine dose may bring, with so much more supply, ppm. @param supply ppm a day */
	double expectedFromCeiling(double supply) {
		return this.demand.withSupply(this.demand.supply() + supply).expected(this.ceiling, this.days);
	}

	/** What a feeder would have to bring a day more, ppm; zero when no supply that is offered would do. */
	double supply(double fc) {
		if (!isHeld(this.demand.withSupply(this.demand.supply() + MAX_SUPPLY), fc)) {
			return 0;
		}
		return RootFinder.bisect(0, MAX_SUPPLY, HALVINGS, supply -> !isHeld(this.demand.withSupply(this.demand.supply() + supply), fc))
			.high();
	}

	private boolean isHeld(ChlorineDemand demand, double fc) {
		return demand.exceededQuantile(fc, spread(fc), this.days, this.confidence) >= this.minimum;
	}

	/** Tablets counted on until the next visit because the last visits recorded as many; null when they recorded none. */
	@Nullable
	Reason tabletsFromHistory(double litres) {
		double supply = (this.forecast.tablets() == null) ? this.forecast.phDrift().tablets() : 0;
		Double count = (supply > 0 && this.days > 0) ? tabletsFor(supply, litres) : null;
		return (count == null) ? null : Reason.of("note.tablets-as-before", new Term.Number(count, 0), new Term.Days(this.days),
				Term.of(Level.CYA, supply * this.days * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE));
	}

	/** Whole tablets that bring so much FC a day until the next visit; null when the company has none that may be named. */
	@Nullable
	Double tabletsFor(double supply, double litres) {
		Product tablets = tablets();
		if (tablets == null) {
			return null;
		}
		double each = Objects.requireNonNull(tablets.tabletGrams()) * Objects.requireNonNull(tablets.strength());
		return Math.ceil(supply * this.days * litres / 1000 / each - EPSILON);
	}

	/** Those of the company that may be named; null when it has none. */
	@Nullable
	Product tablets() {
		for (Product product : this.request.products()) {
			if (product.kind() == ProductKind.TRICHLOR_TAB && product.strengthKnown() && product.tabletGrams() != null
					&& product.preference() != ProductPreference.NEVER) {
				return product;
			}
		}
		return null;
	}

	/** The ceiling, or above it what will have come down to it when people come. */
	private double highestStart() {
		double ceiling = this.request.policy().fcCeiling();
		Double hours = this.request.swimWithinHours();
		if (hours == null || hours < LATE_SWIM_HOURS) {
			return ceiling;
		}
		double limit = Math.max(ceiling, Math.min(MAX_ROUTINE, this.request.policy().shockCeiling()));
		return RootFinder.bisect(ceiling, limit, HALVINGS,
				fc -> this.demand.exceededQuantile(fc, spread(fc), hours / 24, 1 - this.confidence) <= this.request.policy().swimCeiling())
			.low();
	}

}
