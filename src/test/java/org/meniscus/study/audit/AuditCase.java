package org.meniscus.study.audit;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.Step;
import org.meniscus.water.pool.AssumedLevels;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.units.AmountUnit;

/**
 * A request, its plan, and what the printed steps do by the checker's own arithmetic.
 *
 * @param readings today's with earlier levels in place of what was not tested
 * @param now the water before anything goes in
 * @param waters after each step, in order
 */
record AuditCase(PlanRequest request, Plan plan, Readings readings, AuditWater now, List<AuditWater> waters) {

	static AuditCase of(PlanRequest request, Plan plan) {
		Readings readings = request.lastKnown().fillIn(request.readings());
		AuditWater now = water(request, readings);
		List<AuditWater> waters = new ArrayList<>();
		AuditWater water = now;
		double litres = Objects.requireNonNull(request.pool().volume()).litres();
		for (Step step : plan.steps()) {
			if (step.amount() != null && step.purpose() != Step.Purpose.FEED && AuditEffects.known(step.product())) {
				water = AuditEffects.after(water, step.product(), step.amount().amount(), litres);
			}
			waters.add(water);
		}
		return new AuditCase(request, plan, readings, now, List.copyOf(waters));
	}

	/** What was not tested is taken as the trade takes it, the same as the plan states it. */
	private static AuditWater water(PlanRequest request, Readings readings) {
		boolean chlorine = request.pool().sanitizer().usesChlorine();
		boolean shaded = request.pool().indoor() || request.pool().body() == BodyOfWater.SPA || !chlorine;
		Double cya = readings.cya();
		if (cya != null && readings.cyaQualifier() == ReadingQualifier.BELOW) {
			cya = cya / 2;
		}
		double salt = or(readings.salt(), (request.pool().sanitizer() == Sanitizer.SALT_CELL) ? AssumedLevels.CELL_SALT
				: Math.min(AssumedLevels.SALT, or(readings.tds(), AssumedLevels.SALT)));
		return AuditWater.ofPh(or(readings.ph(), 7.5), or(readings.ta(), AssumedLevels.TA), or(readings.ch(), AssumedLevels.CH),
				or(cya, shaded ? 0 : AssumedLevels.CYA_OUTDOORS), chlorine ? or(readings.fc(), 0) : 0, salt, or(readings.borate(), 0),
				or(readings.celsius(), (request.pool().body() == BodyOfWater.SPA) ? AssumedLevels.SPA_CELSIUS : AssumedLevels.CELSIUS));
	}

	private static double or(@Nullable Double value, double otherwise) {
		return (value != null) ? value : otherwise;
	}

	/** With all of it dissolved, the chlorine still there. */
	AuditWater after() {
		return this.waters.isEmpty() ? this.now : this.waters.get(this.waters.size() - 1);
	}

	/** The chlorine that the plan brought is used up. */
	AuditWater settled() {
		AuditWater after = after();
		return after.chlorineUsed(Math.max(0, after.fc() - this.now.fc()));
	}

	/** After those of its steps. */
	private AuditWater after(Predicate<Step> steps) {
		double litres = Objects.requireNonNull(this.request.pool().volume()).litres();
		AuditWater water = this.now;
		for (Step step : this.plan.steps()) {
			if (steps.test(step) && step.amount() != null && step.purpose() != Step.Purpose.FEED && AuditEffects.known(step.product())) {
				water = AuditEffects.after(water, step.product(), step.amount().amount(), litres);
			}
		}
		return water;
	}

	/** Before stabilizer in grains, which takes most of a week, has dissolved; chlorine still there. */
	private AuditWater today() {
		return dissolvesSlowly() ? after(step -> !slow(step)) : after();
	}

	boolean dissolvesSlowly() {
		return this.plan.steps().stream().anyMatch(AuditCase::slow);
	}

	private static boolean slow(Step step) {
		return step.purpose() == Step.Purpose.RAISE_CYA && step.product().unit() == AmountUnit.G;
	}

	/** By what a pool is closed without alone, chlorine, bromine and oxidizer against CC: settled, or as people may go in first. */
	AuditWater chlorineAlone(boolean settled) {
		AuditWater water = after(step -> step.purpose() == Step.Purpose.RAISE_FC || step.purpose() == Step.Purpose.RAISE_BROMINE
				|| step.reason().code().equals("why.combined"));
		double brought = water.fc() - this.now.fc();
		return water.chlorineUsed(Math.max(0, settled ? brought : Math.min(brought, water.fc() - this.request.policy().swimCeiling())));
	}

	/** Of today, with no more of the plan's chlorine than people may swim in. */
	AuditWater atCeiling() {
		AuditWater today = today();
		return today.chlorineUsed(Math.max(0, Math.min(today.fc() - this.now.fc(), today.fc() - this.request.policy().swimCeiling())));
	}

	/** Of today, the plan's chlorine used up. */
	AuditWater chlorineUsed() {
		AuditWater today = today();
		return today.chlorineUsed(Math.max(0, today.fc() - this.now.fc()));
	}

	/** FC that protects the water, stabilizer on its way counted: no less than people may swim in, and CYA / 20. */
	double leastFc() {
		return Math.max(swimFc(), (this.readings.cya() == null) ? 0 : after().cya() / this.request.policy().cyaPerFc());
	}

	/** The same before solid stabilizer has dissolved. */
	double leastToday() {
		return Math.max(swimFc(today().cya()), (this.readings.cya() == null) ? 0 : today().cya() / this.request.policy().cyaPerFc());
	}

	/**
	 * Least FC with which people may swim: 1 without, 2 with stabilizer, 3 in a spa (model code values), and CYA / 45 (model code of
	 * 2023: closure above that ratio).
	 */
	double swimFc() {
		return swimFc(after().cya());
	}

	private double swimFc(double stabilizer) {
		PoolFacts pool = this.request.pool();
		Double tested = this.readings.cya();
		double cya = (tested == null) ? 0 : stabilizer;
		boolean none = (tested == null) ? pool.indoor() : cya <= 0.5;
		double base = (pool.body() == BodyOfWater.SPA) ? 3 : none ? 1 : 2;
		return Math.max(base, cya / 45);
	}

	boolean tested(Level... levels) {
		return Stream.of(levels).allMatch(level -> this.readings.value(level) != null);
	}

	/** A spa whose water is to be replaced: nothing goes in before. */
	boolean emptied() {
		return this.plan.replacement() != null && this.request.pool().body() == BodyOfWater.SPA;
	}

	/** Whether it says what to bring for this. */
	boolean misses(Step.Purpose purpose) {
		return this.plan.missing().stream().anyMatch(missing -> missing.purpose() == purpose);
	}

	boolean adds(Step.Purpose... purposes) {
		Set<Step.Purpose> any = Set.of(purposes);
		return this.plan.steps().stream().anyMatch(step -> any.contains(step.purpose()));
	}

	/** Codes of all it says, where they stand aside. */
	boolean says(String... codes) {
		Set<String> any = Set.of(codes);
		return sentences().anyMatch(reason -> any.contains(reason.code()));
	}

	boolean offers(String... codes) {
		Set<String> any = Set.of(codes);
		return this.plan.outcome().suggestions().stream().anyMatch(reason -> any.contains(reason.code()));
	}

	Stream<Reason> sentences() {
		return Stream.of(this.plan.swim().reasons().stream(), this.plan.cautions().stream(),
				this.plan.steps()
					.stream()
					.flatMap(step -> Stream.of(Stream.of(step.reason(), step.choiceReason()), step.instructions().stream(),
							step.cautions().stream())
						.flatMap(each -> each)),
				this.plan.followUps().stream().map(FollowUpStep::reason), this.plan.tasks().stream(),
				this.plan.notes().stream().map(Plan.Note::reason),
				(this.plan.replacement() == null) ? Stream.<Reason>empty()
						: Stream.concat(this.plan.replacement().reasons().stream(), this.plan.replacement().cautions().stream()),
				this.plan.outcome().suggestions().stream(), this.plan.missing().stream().map(Plan.MissingProduct::reason))
			.flatMap(each -> each);
	}

}
