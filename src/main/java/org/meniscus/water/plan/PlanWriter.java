package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.AcidDemand;
import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.CellSetting;
import org.meniscus.water.assess.EquipmentWork;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.assess.ReadingFinding;
import org.meniscus.water.assess.ShockLevel;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.ProductKind;

/** The best candidate as a {@link Plan}: steps, other days, swimming, and its notes. */
final class PlanWriter {

	private static final int DAYS_OF_MONTH = 28;

	private final PlanContext context;

	private final PlanRequest request;

	private final Readings readings;

	private final PlanSearch search;

	private final DosingResult dosing;

	/** With the tablets of the plan. */
	private final TabletSupply tabletSupply;

	private final @Nullable ResidualTarget residualTarget;

	/** Null in other pools, and where bromine was not tested. */
	private final @Nullable ResidualTarget bromineTarget;

	private PlanWriter(PlanContext context, PlanSearch search) {
		this.context = context;
		this.request = context.request();
		this.readings = context.readings();
		this.search = search;
		this.dosing = search.best().dosing();
		this.tabletSupply = context.tabletSupply().with(search.best().assignment().tablets());
		this.residualTarget = this.tabletSupply.residualTarget(this.dosing.additions());
		Range range = this.context.pool().targets().range(Level.BROMINE);
		Double bromine = this.readings.bromine();
		this.bromineTarget = (this.context.pool().sanitizer() == Sanitizer.BROMINE && range != null && bromine != null)
				? ResidualTarget.ofBromine(this.request, range, bromine) : null;
	}

	/** @param nextVisitAssumed whether nobody knows when the next visit is */
	static Plan write(PlanContext context, PlanSearch search, List<ReadingFinding> findings, boolean nextVisitAssumed) {
		return new PlanWriter(context, search).plan(findings, nextVisitAssumed);
	}

	private Plan plan(List<ReadingFinding> findings, boolean nextVisitAssumed) {
		Situation situation = this.context.situation();
		List<Step> steps = new StepWriter(this.context, this.search).steps();
		PoolWater after = this.context.afterAmmonia(this.dosing.water());
		Levels levels = after.levels();
		SwimReadiness swim = swimReadiness(this.dosing.water().levels());
		List<FollowUpStep> followUps = followUps(swim);
		Reason notHeld = residualNotHeld();
		List<Plan.Note> notes = notes(findings, notHeld);
		if (nextVisitAssumed && (this.residualTarget != null || this.bromineTarget != null)) {
			notes.add(new Plan.Note(Plan.Note.Topic.NEXT_VISIT_UNKNOWN,
					Reason.of("note.next-visit-unknown", new Term.Days(this.request.daysToNextVisit()))));
		}
		Double swimWithin = this.request.swimWithinHours();
		if (swimWithin != null && (swim.closed() || swim.waitHours() > swimWithin)) {
			notes.add(0, new Plan.Note(Plan.Note.Topic.BEFORE_ALL, Reason.of("note.not-ready", new Term.Hours(swimWithin))));
		}
		List<Reason> suggestions = (notHeld == null) ? List.of()
				: (this.residualTarget != null) ? Offers.of(this.context, this.residualTarget, this.dosing)
						: (this.bromineTarget != null) ? Offers.ofBromine(this.bromineTarget, brominePerChlorine()) : List.of();
		return new Plan(this.context.assessment(), situation, steps, this.context.water().levels(), levels,
				swim, this.context.replacement(), followUps,
				tasks(notHeld), cautions(named(followUps)), notes, this.dosing.rejected(), this.search.best().cost(),
				ExpectedOutcome.of(this.request, ammonia(), this.tabletSupply.forecast(), this.context.water(),
						after, this.residualTarget, held(), !this.context.procedure().managesChlorine(this.request) || held() != null,
						suggestions),
				this.dosing.missing());
	}

	private ExpectedOutcome.AmmoniaDemand ammonia() {
		return new ExpectedOutcome.AmmoniaDemand(this.context.chlorineForAmmonia(), this.dosing.water().water().freeChlorine());
	}

	/** Null where the plan does not have FC brought back between visits. */
	private ExpectedOutcome.@Nullable Held held() {
		SituationProcedure procedure = this.context.procedure();
		return (procedure.holdDays() > 0 && holds())
				? new ExpectedOutcome.Held(procedure.heldFc(this.context, this.dosing), procedure.holdDays())
				: null;
	}

	/** Whether what the situation asks for on other days is done in this water. */
	private boolean holds() {
		return this.context.pool().sanitizer().usesChlorine() && this.context.shockLater() == null && !this.context.replacesFirst()
				&& !this.context.treatsInNewWater();
	}

	/** A spa is emptied before anything goes in: its new water is judged. */
	private SwimReadiness swimReadiness(Levels after) {
		WaterReplacement replacement = this.context.replacement();
		if (replacement != null && this.context.replacesFirst() && this.context.pool().body() == BodyOfWater.SPA) {
			return SwimReadiness.of(this.context.pool(), this.context.effectiveReadings(), this.context.situation(), this.request.policy(),
					replacement.share(), List.of());
		}
		List<SwimReadiness.TimedAddition> additions = this.dosing.additions()
			.stream()
			.map(addition -> new SwimReadiness.TimedAddition(addition.product().kind(), addition.startMinutes() / 60.0))
			.toList();
		return SwimReadiness.of(this.context.pool(), this.context.effectiveReadings(), this.context.situation(), this.request.policy(),
				additions, after);
	}

	private List<Reason> tasks(@Nullable Reason notHeld) {
		List<Reason> tasks = new ArrayList<>(this.dosing.tasks());
		tasks.addAll(this.context.procedure().tasks(this.context, this.dosing));
		tasks.addAll(EquipmentWork.of(this.context.pool(), this.readings, this.context.situation()));
		FeedStop feedStop = this.context.feedStop();
		if (feedStop != null && feedStop.work() != null) {
			tasks.add(feedStop.work());
		}
		Reason acid = (this.context.situation() == Situation.ROUTINE && this.context.replacement() == null && isFirstVisitOfMonth()
				&& !lifts())
						? AcidDemand.of(this.context.pool(), this.context.effectiveReadings(), this.request.forecast().phDrift(),
								this.request.units())
						: null;
		if (acid != null) {
			// Says the same with its figures.
			tasks.removeIf(task -> task.code().equals("work.cell-alkalinity"));
			tasks.add(acid);
		}
		Reason setting = (notHeld == null) ? cellCorrection() : null;
		if (setting != null) {
			tasks.add(setting);
		}
		Reason tablets = noTablets();
		if (tablets != null) {
			tasks.add(tablets);
		}
		return tasks;
	}

	/** What is suggested to the client is said at the first visit of four weeks. Common practice, no source. */
	private boolean isFirstVisitOfMonth() {
		return this.request.forecast().today().dayOfYear() % DAYS_OF_MONTH < Math.max(1, this.request.daysToNextVisit());
	}

	/** Whether pH or alkalinity has to rise, today or once the product is along. */
	private boolean lifts() {
		return Stream.of(Step.Purpose.RAISE_PH, Step.Purpose.RAISE_TA)
			.anyMatch(purpose -> this.dosing.productFor(purpose) != null
					|| this.dosing.missing().stream().anyMatch(missing -> missing.purpose() == purpose));
	}

	/** Where tablets have no place this time; null where some go in or nothing is to be said of them. */
	private @Nullable Reason noTablets() {
		if (FeedStop.floaterMarks(this.context.pool())) {
			return Reason.of("work.floater-surface", new Term.Word("water.surface." + this.context.pool().surface().name()));
		}
		return (this.context.pool().sanitizer() == Sanitizer.FLOATER && this.context.feedStop() == null && this.residualTarget != null
				&& this.search.best().assignment().tablets() == 0 && this.context.effectiveReadings().cya() != null
				&& this.tabletSupply.tablets() != null && this.dosing.productFor(Step.Purpose.RAISE_FC) != null
				&& this.dosing.productFor(Step.Purpose.RAISE_CYA) == null)
						? Reason.of("work.no-tablets") : null;
	}

	/** That the cell makes more or less than the pool uses up at the FC it is dosed to; null where it need not be set, or not now. */
	private @Nullable Reason cellCorrection() {
		SituationProcedure procedure = this.context.procedure();
		Set<SituationProcedure.Act> acts = procedure.acts(this.request, this.context.assessment());
		FeedStop feedStop = this.context.feedStop();
		if (this.residualTarget == null || feedStop != null || procedure.managesChlorine(this.request)
				|| acts.contains(SituationProcedure.Act.FEED_DOWN)
				|| acts.contains(SituationProcedure.Act.CELL_OFF)
				|| PoolCondition.FC_TOO_HIGH.holds(this.request, this.context.assessment())) {
			return null;
		}
		double use = this.request.forecast().demand().use(this.residualTarget.targetFc()).middle();
		Readings found = this.context.effectiveReadings();
		boolean lowers = FeedStop.feedsTooLittle(this.request, this.context.assessment())
				&& CellSetting.raised(this.context.pool(), found, use) == null;
		return lowers ? null : CellSetting.correction(this.context.pool(), found, use);
	}

	private List<FollowUpStep> followUps(SwimReadiness swim) {
		List<FollowUpStep> followUps = new ArrayList<>(this.dosing.followUps());
		bringForPh(swim, followUps);
		if (!this.context.replacesFirst() && !this.context.treatsInNewWater()) {
			followUps.addAll(this.context.procedure().followUps(this.context, this.dosing));
		}
		shockLater(followUps);
		if (this.readings.phQualifier() != ReadingQualifier.EXACT) {
			followUps.add(new FollowUpStep(SituationProcedure.DAY, null, null, Reason.of("later.ph-scale")));
		}
		WaterReplacement replacement = this.context.replacement();
		if (replacement != null) {
			drains(replacement, followUps);
		}
		followUps.sort(Comparator.comparingDouble(FollowUpStep::afterHours));
		return followUps;
	}

	/** What was tested may be in range and today's chlorine take it out: the pool stays closed until what is missing comes. */
	private void bringForPh(SwimReadiness swim, List<FollowUpStep> followUps) {
		if (swim.closedUntil().stream().noneMatch(reason -> reason.code().startsWith("swim.ph"))) {
			return;
		}
		for (Plan.MissingProduct missing : this.dosing.missing()) {
			if (missing.purpose().level() == Level.PH
					&& followUps.stream().noneMatch(later -> later.reason().code().equals("later.bring")
							&& later.product() == missing.product())) {
				followUps.add(new FollowUpStep(SituationProcedure.DAY, missing.product(), missing.amount(),
						Reason.of("later.bring", Term.of(missing.product().kind()))));
			}
		}
	}

	/** Two days after the sequestrant, which much chlorine would destroy. */
	private void shockLater(List<FollowUpStep> followUps) {
		ShockLevel shock = this.context.shockLater();
		if (shock == null) {
			return;
		}
		double sequestrant = followUps.stream()
			.filter(later -> later.product() != null && later.product().kind() == ProductKind.SEQUESTRANT)
			.mapToDouble(FollowUpStep::afterHours)
			.findFirst()
			.orElse(0);
		double fc = Math.min(shock.fc(this.context.water().water()) + this.context.chlorineForAmmonia(),
				this.request.policy().shockCeiling());
		followUps.add(new FollowUpStep(sequestrant + 2 * SituationProcedure.DAY, null, null,
				Reason.of("later.shock-after-metal", Term.of(Level.FC, fc))));
	}

	/** Where one drain takes too much at once: a part a week, each on a new test. */
	private void drains(WaterReplacement replacement, List<FollowUpStep> followUps) {
		Double minimum = this.context.assessment().fcMinimum();
		boolean dosedToday = this.context.treatsInNewWater()
				|| minimum != null && Assessor.minimumPassesCeiling(minimum, this.request.policy().fcCeiling());
		if (dosedToday) {
			followUps
				.add(new FollowUpStep(SituationProcedure.DAY, null, null,
						Reason.of("later.drain", new Term.Share(replacement.firstShare()))));
		}
		followUps
			.add(new FollowUpStep((dosedToday ? 2 : 1) * SituationProcedure.DAY, null, null, Reason.of("later.test-refilled")));
		int parts = replacement.drainCount();
		for (int part = 2; part <= parts; part++) {
			followUps.add(new FollowUpStep((part - 1) * 7 * SituationProcedure.DAY, null, null,
					Reason.of("later.drain-part", new Term.Number(part, 0), new Term.Number(parts, 0))));
		}
	}

	private List<Plan.Note> notes(List<ReadingFinding> findings, @Nullable Reason notHeld) {
		List<Plan.Note> notes = new ArrayList<>();
		findings.forEach(finding -> notes.add(Plan.Note.today(finding.reason())));
		this.request.lastKnown().notes(this.readings).forEach(reason -> notes.add(Plan.Note.earlierVisits(reason)));
		PoolWater.assumptions(this.context.pool(), this.context.effectiveReadings()).forEach(reason -> notes.add(Plan.Note.today(reason)));
		this.context.recommendation().notes().forEach(reason -> notes.add(Plan.Note.today(reason)));
		addUncertainties(notes);
		notes.addAll(this.dosing.notes());
		this.dosing.additions()
			.stream()
			.filter(addition -> addition.rank() >= ProductSelector.LAST_RESORT)
			.forEach(addition -> notes.add(Plan.Note.today(addition.choiceReason())));
		if (notHeld != null) {
			notes.add(new Plan.Note(Plan.Note.Topic.RESIDUAL_NOT_HELD, notHeld));
		}
		return notes;
	}

	/** What the volume on record and today's tests leave open. */
	private void addUncertainties(List<Plan.Note> notes) {
		if (this.context.pool().certainty() == VolumeCertainty.ESTIMATED) {
			notes.add(Plan.Note.today(Reason.of("note.volume-estimated")));
		}
		Double ph = this.readings.ph();
		if (ph != null && this.readings.phQualifier() != ReadingQualifier.EXACT) {
			notes.add(Plan.Note.today(Reason.of("note.ph-end-of-scale", new Term.Value(Level.PH, ph, this.readings.phQualifier()))));
		}
		if (this.context.pool().sanitizer().usesChlorine() && this.dosing.freeChlorine() > ReadingCheck.FC_PH_INTERFERENCE
				&& this.context.water().water().freeChlorine() <= ReadingCheck.FC_PH_INTERFERENCE) {
			notes.add(Plan.Note.today(Reason.of("note.ph-in-chlorine", Term.of(Level.FC, ReadingCheck.FC_PH_INTERFERENCE))));
		}
		if (this.readings.cyaQualifier() == ReadingQualifier.BELOW) {
			notes.add(Plan.Note.today(Reason.of("note.cya-below-tube")));
		}
		else if (this.readings.cyaQualifier() == ReadingQualifier.ABOVE) {
			notes.add(Plan.Note.today(Reason.of("note.cya-above-tube")));
		}
		if (this.context.effectiveReadings().ta() == null) {
			notes.add(Plan.Note.today(Reason.of("note.need-ta")));
		}
		if (this.readings.drainVisible() == null && this.context.shock() != null) {
			notes.add(Plan.Note.today(Reason.of("note.look-at-drain")));
		}
	}

	/** Bromine after all steps as the chlorine that makes as much, ppm. */
	private double brominePerChlorine() {
		Double bromine = this.dosing.water().bromine();
		return ((bromine != null) ? bromine : 0) / ResidualTarget.BROMINE;
	}

	private Reason notHeld(String code, Level level, double perChlorine, ResidualTarget target, double start) {
		int days = this.request.daysToNextVisit();
		double left = this.tabletSupply.forecast().demand().expected(start, days);
		return Reason.of(code, Term.of(level, target.minimum() * perChlorine), new Term.Days(days),
				new Term.Share(target.holdProbability(start)), Term.of(level, left * perChlorine));
	}

	/** That today's dose does not hold until the next visit; null where it does or has no range. */
	private @Nullable Reason residualNotHeld() {
		if (this.bromineTarget != null) {
			return (this.bromineTarget.isHeld(brominePerChlorine()) || this.context.situation().growth() || this.context.replacesFirst()
					|| this.context.procedure().managesChlorine(this.request)) ? null
							: notHeld("note.bromine-not-held", Level.BROMINE, ResidualTarget.BROMINE, this.bromineTarget,
									brominePerChlorine());
		}
		double fc = this.dosing.freeChlorine();
		ResidualTarget target = this.residualTarget;
		if (target == null || target.isHeld(fc) || this.context.chlorineForAmmonia() > 0
				|| this.context.procedure().managesChlorine(this.request) || this.context.replacesFirst()
				|| Assessor.minimumReachesCeiling(target.minimum(), this.request.policy().fcCeiling())) {
			return null;
		}
		return notHeld("note.fc-not-held", Level.FC, 1, target, fc);
	}

	/** What the plan names for another day. */
	static Set<ActiveIngredient> named(List<FollowUpStep> followUps) {
		Set<ActiveIngredient> named = EnumSet.noneOf(ActiveIngredient.class);
		for (FollowUpStep followUp : followUps) {
			if (followUp.product() != null) {
				named.add(followUp.product().kind().ingredient());
			}
		}
		return named;
	}

	/** Usual rules of handling, shown before any dose, then what is not to be done here. */
	private List<Reason> cautions(Set<ActiveIngredient> named) {
		List<Reason> cautions = new ArrayList<>();
		cautions.add(Reason.of("caution.label-first"));
		if (!this.dosing.additions().isEmpty()) {
			addHandling(cautions);
		}
		cautions.addAll(this.context.contraindications().warnings(this.dosing.additions(), named, this.context.replacement() != null));
		return cautions;
	}

	private void addHandling(List<Reason> cautions) {
		cautions.add(Reason.of("caution.one-at-a-time"));
		cautions.add(Reason.of("caution.into-water"));
		boolean chlorineOrAcid = false;
		boolean dryChlorine = false;
		for (DosingSequence.Addition addition : this.dosing.additions()) {
			ActiveIngredient ingredient = addition.product().kind().ingredient();
			chlorineOrAcid |= ingredient.chlorine() || ingredient.acid();
			dryChlorine |= ingredient == ActiveIngredient.CALCIUM_HYPOCHLORITE || ingredient.stabilizedChlorine();
		}
		if (chlorineOrAcid) {
			cautions.add(Reason.of("caution.chlorine-and-acid"));
		}
		if (dryChlorine) {
			cautions.add(Reason.of("caution.dry-families"));
			cautions.add(Reason.of("caution.spill"));
		}
		cautions.add(Reason.of("caution.nobody-in"));
	}

}
