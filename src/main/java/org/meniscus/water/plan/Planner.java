package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.assess.ReadingFinding;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.chemistry.Breakpoint;
import org.meniscus.water.chemistry.ContradictoryReadings;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Reagent;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.Mass;
import org.meniscus.water.units.Volume;

/**
 * Works out what to do at one stop: same request, same plan. Order: acid, chlorine or oxidizer, then what lifts pH, TA, CH, CYA and
 * salt; a product whose gap is longer than a stop goes last or on another day. Every dose moves by the equilibrium, every level after
 * it is worked out from the rounded amount. Aims and triggers are common practice without a source unless named.
 */
public final class Planner {

	/** pH aimed at by acid on an ordinary visit; the middle of the ideal range. */
	private static final double PH_AIM = 7.5;

	/** pH to start from before superchlorination and calcium hypochlorite: 7.2 to 7.4 (labels of generic calcium hypochlorite). */
	private static final double PH_SHOCK_FROM = ProductSelector.PH_CALCIUM_HYPOCHLORITE;

	private static final double PH_SHOCK_AIM = 7.3;

	/** Half a step of a pH test: what it shows as the trigger is not above it. */
	private static final double PH_TEST = 0.05;

	/** pH that acid goes down to when TA is to fall: acid, then aeration. */
	private static final double PH_FOR_TA = 7.2;

	/** CC asks for treatment from here on a routine visit, ppm. */
	static final double CC_LIMIT = 0.5;

	/** Usual dose of the non-chlorine oxidizer: 1 lb of product per 10,000 US gal, ppm of product. */
	private static final double OXIDIZER_PPM = Mass.GRAMS_PER_POUND * 1000 / ProductKind.LITRES_PER_10000_GALLONS;

	private static final double OXIDIZER_STRENGTH = 0.428;

	/** FC that dissolving tablets have still to bring, ppm, from which it is said that it is counted on. */
	private static final double TABLETS_TOLD = 0.3;

	/** Tests of CYA are repeated after so many hours: it dissolves slowly. */
	private static final double CYA_HOURS = 7 * 24;

	private final PlanRequest request;

	private final Assessment assessment;

	private final PoolFacts pool;

	/** Of today: a level is dosed on a test of today only. */
	private final Readings readings;

	/** With slow levels of earlier visits: what the water is taken to be. */
	private final Readings working;

	private final Situation situation;

	private final double litres;

	private final List<Reason> notes = new ArrayList<>();

	private final List<Reason> work = new ArrayList<>();

	private final List<FollowUpStep> later = new ArrayList<>();

	private final PoolWater now;

	private @Nullable WaterReplacement replacement;

	private final @Nullable ShockLevel shock;

	private final Contraindications bans;

	private final ProductSelector choice;

	private final ProductAssignment selection;

	private final TabletSupply supply;

	private final @Nullable ResidualTarget hold;

	private final DosingSequence additions;

	private Planner(PlanRequest request, Assessment assessment, double litres, PoolWater now, Contraindications bans,
			TabletSupply supply, ProductAssignment selection, boolean exactly) {
		this.request = request;
		this.assessment = assessment;
		this.pool = request.pool();
		this.readings = request.readings();
		this.working = request.effectiveReadings();
		this.situation = request.situation();
		this.litres = litres;
		this.now = now;
		this.shock = this.pool.sanitizer().usesChlorine() ? shockLevel() : null;
		this.bans = bans;
		this.selection = selection;
		this.choice = new ProductSelector(request, this.shock != null, bans, selection);
		this.supply = supply.with(selection.tablets());
		this.hold = this.supply.residualTarget();
		this.additions = new DosingSequence(request, this.choice, this.shock != null, now, litres, exactly);
	}

	/** A {@link Plan}, or {@link PlanRefusal} where no dose may be worked out; never an exception for readings a test can show. */
	public static PlanResult plan(PlanRequest request) {
		List<ReadingFinding> findings = ReadingCheck.check(request.readings(), null, request.pool(), Set.of());
		List<Reason> impossible = new ArrayList<>();
		for (ReadingFinding finding : findings) {
			if (finding.kind() == ReadingFinding.Kind.IMPOSSIBLE
					|| (finding.kind() == ReadingFinding.Kind.CONTRADICTION && finding.level() == Level.TA)) {
				impossible.add(finding.reason());
			}
		}
		if (!impossible.isEmpty()) {
			boolean shown = findings.stream().noneMatch(finding -> finding.kind() == ReadingFinding.Kind.IMPOSSIBLE);
			return refused(request, Assessment.of(request.pool(), Readings.none(), request.policy()),
					shown ? request.effectiveReadings() : Readings.none(), impossible);
		}
		try {
			Assessment assessment = Assessment.of(request.pool(), request.effectiveReadings(), request.policy());
			List<Reason> missing = missing(request);
			if (!missing.isEmpty()) {
				return refused(request, assessment, missing);
			}
			Volume volume = request.pool().volume();
			double litres = (volume != null) ? volume.litres() : 0;
			PoolWater now = PoolWater.of(request.pool(), request.effectiveReadings());
			Contraindications bans = Contraindications.of(request, assessment);
			TabletSupply supply = TabletSupply.of(request, assessment, tablets(request, now, bans), litres);
			PlanSearch combinations = new PlanSearch(request, now, litres);
			Planner best = combinations
				.best((selection, exactly) -> new Planner(request, assessment, litres, now, bans, supply, selection, exactly).dose());
			return best.write(findings, combinations);
		}
		catch (ContradictoryReadings contradictory) {
			return refused(request, Assessment.of(request.pool(), Readings.none(), request.policy()),
					List.of(Reason.of("refused.contradictory", Term.of(Level.TA, contradictory.totalAlkalinity()),
							Term.of(Level.TA, contradictory.heldWithoutCarbonate()))));
		}
	}

	/** That may go into floater or feeder; null where none may, or where the plan does not decide on them. */
	private static @Nullable Product tablets(PlanRequest request, PoolWater now, Contraindications bans) {
		if (request.forecast().tablets() == null || request.daysToNextVisit() == 0 || request.situation().chlorineWaits()) {
			return null;
		}
		List<ProductSelector.RankedProduct> along = new ProductSelector(request, false, bans, ProductAssignment.UNASSIGNED).allowed(
				Step.Purpose.FEED,
				now);
		return along.isEmpty() ? null : along.get(0).product();
	}

	private static PlanRefusal refused(PlanRequest request, Assessment assessment, List<Reason> reasons) {
		return refused(request, assessment, request.effectiveReadings(), reasons);
	}

	/** @param believed readings that a test can show */
	private static PlanRefusal refused(PlanRequest request, Assessment assessment, Readings believed, List<Reason> reasons) {
		return new PlanRefusal(assessment, SwimReadiness.of(request.pool(), believed, request.situation(), request.policy()), reasons,
				SituationProcedure.withoutDose(request.situation()));
	}

	/** Why no dose may be worked out: trade facts, section 1.1 rule 6, and the situations in which nothing goes in. */
	private static List<Reason> missing(PlanRequest request) {
		List<Reason> missing = new ArrayList<>();
		switch (request.situation()) {
			case PUMP_OFF -> missing.add(Reason.of("refused.pump-off"));
			case CONTAMINATION, DIARRHOEA, DEAD_ANIMAL -> missing.add(Reason.of("refused.contamination"));
			case FLOOD -> missing.add(Reason.of("refused.flood"));
			default -> {
			}
		}
		PoolFacts pool = request.pool();
		if (pool.sanitizer() == Sanitizer.BIGUANIDE) {
			missing.add(Reason.of("refused.biguanide"));
		}
		if (pool.volume() == null || pool.volume().litres() <= 0) {
			missing.add(Reason.of("refused.volume-missing"));
		}
		else if (pool.certainty() == VolumeCertainty.UNVERIFIED) {
			missing.add(Reason.of("refused.volume-unverified"));
		}
		if (request.readings().ph() == null) {
			missing.add(Reason.of("refused.missing", Term.of(Level.PH)));
		}
		if (pool.sanitizer().usesChlorine() && request.readings().fc() == null) {
			missing.add(Reason.of("refused.missing", Term.of(Level.FC)));
		}
		return missing;
	}

	/** Everything that goes in, one after the other. */
	private Planner dose() {
		this.replacement = WaterReplacementRule.of(this.request, this.assessment, this.now, this.litres, this.notes);
		doubts();
		lowerPh();
		if (this.pool.sanitizer().usesChlorine() && !this.situation.chlorineWaits()) {
			chlorine();
			oxidize();
		}
		if (this.replacement != null) {
			this.notes.add(Reason.of("note.balance-after-replacing"));
		}
		else {
			Reason waits = SituationProcedure.balanceWaits(this.situation);
			if (waits != null) {
				this.notes.add(waits);
			}
			else {
				balance();
			}
		}
		return this;
	}

	DosingSequence additions() {
		return this.additions;
	}

	ProductSelector choice() {
		return this.choice;
	}

	private Plan write(List<ReadingFinding> findings, PlanSearch combinations) {
		List<Reason> offers = offers();
		List<Reason> said = new ArrayList<>();
		for (ReadingFinding finding : findings) {
			said.add(finding.reason());
		}
		said.addAll(this.request.lastKnown().notes(this.readings));
		said.addAll(PoolWater.assumptions(this.pool, this.working));
		said.addAll(this.notes);
		new SituationProcedure(this.request, this.assessment, this.work, this.later).add(this.shock, this.additions, this.replacement);
		List<FollowUpStep> after = new ArrayList<>(this.additions.followUps());
		after.addAll(this.later);
		after.sort((a, b) -> Double.compare(a.afterHours(), b.afterHours()));
		List<Step> steps = this.additions.steps(combinations::others);
		Levels levels = this.additions.water().levels();
		List<Reason> cautions = new ArrayList<>(cautions(steps));
		cautions.addAll(this.bans.warnings(steps, this.replacement != null));
		return new Plan(this.assessment, this.situation, steps, this.now.levels(), levels,
				swimReadiness(steps, levels), this.replacement, after, this.work,
				cautions, said, this.additions.rejected(), combinations.cost(),
				OutcomeForecast.of(this.request, this.supply.forecast(), this.now, this.additions.water(), this.hold, offers));
	}

	private SwimReadiness swimReadiness(List<Step> steps, Levels after) {
		List<SwimReadiness.Addition> added = steps.stream()
			.map(step -> new SwimReadiness.Addition(step.product().kind(), step.startMinutes() / 60.0))
			.toList();
		return SwimReadiness.of(this.pool, this.working, this.situation, this.request.policy(), added, after);
	}

	private @Nullable ShockLevel shockLevel() {
		Double minimum = this.assessment.fcMinimum();
		return switch (this.situation) {
			case GREEN_ALGAE_LIGHT, PINK_SLIME, STABILIZER_GONE, CLOSING -> ShockLevel.LIGHT;
			case GREEN_ALGAE_HEAVY -> ShockLevel.HEAVY;
			case MUSTARD_ALGAE, BLACK_ALGAE -> ShockLevel.STUBBORN;
			case CLOUDY -> (minimum != null && SwimReadiness.lacksChlorine(this.readings, minimum)) ? ShockLevel.LIGHT : null;
			case HIGH_COMBINED_CHLORINE -> oxidizerAnswersCombined() ? null : ShockLevel.LIGHT;
			default -> null;
		};
	}

	private boolean below(Level level) {
		return this.assessment.is(level, LevelState.State.OUT_OF_RANGE, LevelState.Direction.LOW);
	}

	/** Indoors nobody shocks with people in the hall and no sun breaks chloramines; with people soon in the water likewise. */
	private boolean oxidizerAnswersCombined() {
		Double hours = this.request.swimWithinHours();
		boolean along = this.request.products()
			.stream()
			.anyMatch(product -> product.onTruck() && product.kind().family() == ActiveIngredient.MONOPERSULFATE
					&& ProductEffects.computable(product));
		return along && !below(Level.FC) && (this.pool.indoor() || (hours != null && hours < 8));
	}

	private void doubts() {
		if (this.pool.certainty() == VolumeCertainty.ESTIMATED) {
			this.notes.add(Reason.of("note.volume-estimated"));
		}
		if (this.readings.phQualifier() != ReadingQualifier.EXACT) {
			this.notes.add(Reason.of("note.ph-end-of-scale", new Term.Value(Level.PH, ph(), this.readings.phQualifier())));
		}
		if (this.readings.cyaQualifier() == ReadingQualifier.BELOW) {
			this.notes.add(Reason.of("note.cya-below-tube"));
		}
		else if (this.readings.cyaQualifier() == ReadingQualifier.ABOVE) {
			this.notes.add(Reason.of("note.cya-above-tube"));
		}
		if (this.working.ta() == null) {
			this.notes.add(Reason.of("note.need-ta"));
		}
		if (this.readings.drainVisible() == null && this.shock != null) {
			this.notes.add(Reason.of("note.look-at-drain"));
		}
	}

	private double ph() {
		Double ph = this.readings.ph();
		return (ph != null) ? ph : PH_AIM;
	}

	/** A colour test of pH reads too high above this FC: no dose on it. */
	private boolean phTrusted() {
		Double fc = this.readings.fc();
		return fc == null || fc <= ReadingCheck.FC_PH_INTERFERENCE;
	}

	private void lowerPh() {
		Range range = this.pool.targets().range(Level.PH);
		if (range == null || this.working.ta() == null || !phTrusted()) {
			return;
		}
		double ph = ph();
		double judged = settled(ph);
		double trigger = (this.pool.sanitizer() == Sanitizer.SALT_CELL || this.situation == Situation.NEW_PLASTER) ? range.idealHigh()
				: 0.5 * (range.idealHigh() + range.acceptableHigh());
		double aim = Math.min(PH_AIM, range.idealHigh());
		Reason reason = Reason.of("why.ph-high", Term.of(Level.PH, ph), Term.of(Level.PH, range.idealHigh()));
		boolean milky = this.situation == Situation.CLOUDY && SituationProcedure.scaling(this.assessment);
		if (this.situation.growth() || milky || (this.shock != null && this.situation != Situation.CLOSING)
				|| calciumHypochloriteNext()) {
			judged = ph;
			trigger = PH_SHOCK_FROM;
			aim = PH_SHOCK_AIM;
			reason = Reason.of(milky ? "why.ph-scale" : "why.ph-before-chlorine", Term.of(Level.PH, ph), Term.of(Level.PH, PH_SHOCK_FROM));
		}
		Range alkalinity = this.pool.targets().range(Level.TA);
		if (alkalinity != null && this.working.ta() > 0.5 * (alkalinity.idealHigh() + alkalinity.acceptableHigh())
				&& !this.situation.growth()) {
			judged = ph;
			trigger = Math.min(trigger, PH_SHOCK_FROM);
			aim = PH_FOR_TA;
			reason = Reason.of("why.ta-high", Term.of(Level.TA, this.working.ta()), Term.of(Level.TA, alkalinity.idealHigh()));
			this.work.add(Reason.of("work.aerate-for-ta"));
		}
		if (judged < trigger + PH_TEST - 1e-9) {
			return;
		}
		double target = aim;
		this.additions
			.add(new DosingSequence.DosingGoal(Step.Purpose.LOWER_PH, (water, product) -> forPh(water, product, target), null, 4, reason));
	}

	/** PH once the chlorine above the ideal is used up: hypochlorite that went in a while ago lifts pH only until then. */
	private double settled(double ph) {
		Range range = this.pool.targets().range(Level.FC);
		Double fc = this.readings.fc();
		if (range == null || fc == null || fc <= range.idealHigh()) {
			return ph;
		}
		return Dosing.spendChlorine(this.now.water(), fc - range.idealHigh()).ph();
	}

	private boolean calciumHypochloriteNext() {
		Double fc = this.readings.fc();
		if (!this.pool.sanitizer().usesChlorine() || fc == null || (this.shock == null && (this.hold == null || this.hold.isMet()))) {
			return false;
		}
		List<ProductSelector.RankedProduct> first = this.choice.allowed(Step.Purpose.RAISE_FC, this.additions.water().withPh(PH_SHOCK_AIM));
		return !first.isEmpty() && first.get(0).product().kind().family() == ActiveIngredient.CALCIUM_HYPOCHLORITE;
	}

	/** Amount that brings the water to a pH; zero when it is there or this product moves it the other way. */
	private double forPh(PoolWater water, Product product, double target) {
		Reagent reagent = ProductEffects.reagent(product.kind().family());
		double ph = water.water().ph();
		if (product.kind().family().acid() ? ph <= target : ph >= target) {
			return 0;
		}
		try {
			return ProductEffects.amount(product, Dosing.doseForPh(water.water(), reagent, target), this.litres);
		}
		catch (IllegalArgumentException unreachable) {
			return 0;
		}
	}

	/** How many tablets are worth trying beside none. */
	List<Integer> tabletCounts() {
		return (this.shock != null) ? List.of()
				: TabletCount.candidates(this.request, this.supply, this.now.water().cyanuricAcid(), this.litres);
	}

	TabletSupply supply() {
		return this.supply;
	}

	private void chlorine() {
		ShockLevel shock = this.shock;
		TreatmentPolicy policy = this.request.policy();
		Double minimum = this.assessment.fcMinimum();
		double fc = this.additions.water().water().freeChlorine();
		double least = (minimum != null) ? minimum : 0;
		if (shock != null) {
			Double combined = this.readings.combined();
			double asked = shock.fc(this.additions.water().water()) + ((combined != null) ? combined * Breakpoint.FREE_PER_COMBINED : 0);
			double aim = Math.min(asked, policy.shockCeiling());
			if (asked > policy.shockCeiling() + 1e-9) {
				this.notes.add(Reason.of("note.shock-ceiling", Term.of(Level.FC, asked), Term.of(Level.FC, policy.shockCeiling())));
			}
			this.additions.add(raise(aim, policy.shockCeiling(), Reason.of("why." + Wording.code(this.situation), Term.of(Level.FC, fc),
					Term.of(Level.FC, aim), Term.of(Level.HOCL, shock.hocl()))));
			return;
		}
		if (Assessor.minimumReachesCeiling(least, policy.fcCeiling())) {
			// No dose satisfies minimum and ceiling: none is printed.
			this.notes.add(Reason.of("note.no-dose-no-room", Term.of(Level.FC, least), Term.of(Level.FC, policy.fcCeiling())));
			return;
		}
		if (fc > policy.swimCeiling() + 1e-9) {
			this.notes.add(Reason.of("note.fc-too-high", Term.of(Level.FC, fc), Term.of(Level.FC, policy.swimCeiling())));
			return;
		}
		ResidualTarget hold = this.hold;
		if (hold == null) {
			return;
		}
		Reason tablets = hold.tabletsFromHistory(this.litres);
		if (tablets != null) {
			this.notes.add(tablets);
		}
		if (!hold.isMet()) {
			this.additions
				.add(new DosingSequence.DosingGoal(Step.Purpose.RAISE_FC, (water, product) -> toHold(water, product, hold, least),
						hold.ceiling(),
						this.pool.small() ? 1 : 24, whyChlorine(fc, least, hold)));
			if (this.pool.sanitizer() == Sanitizer.SALT_CELL) {
				this.notes.add(Reason.of("note.cell-boost-slow"));
			}
		}
		feed();
	}

	/** Tablets where the plan decides on them: how many, or why none. */
	private void feed() {
		DissolvingTablets dissolving = this.request.forecast().tablets();
		int days = this.request.daysToNextVisit();
		if (dissolving == null || days == 0) {
			return;
		}
		if (dissolving.undissolved() > TABLETS_TOLD) {
			this.notes.add(Reason.of("note.tablets-dissolving", Term.of(Level.FC, dissolving.dissolvedWithin(days)), new Term.Days(days)));
		}
		if (this.supply.tablets() == null || this.selection.tablets() > 0) {
			double ppm = this.supply.fc();
			this.additions.add(new DosingSequence.DosingGoal(Step.Purpose.FEED,
					(water, product) -> ProductEffects.amount(product, ppm, this.litres), null, 24,
					Reason.of("why.tablets", Term.of(Level.FC, ppm / DissolvingTablets.DISSOLVING_DAYS),
							new Term.Days(DissolvingTablets.DISSOLVING_DAYS),
							Term.of(Level.CYA, ppm * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE))));
		}
	}

	/** Amount up to the aim, and up to the minimum that stabilizer in this product asks for. */
	private double toHold(PoolWater water, Product product, ResidualTarget hold, double least) {
		double lacking = Math.max(0, hold.targetFc() - water.water().freeChlorine());
		double perChlorine = ProductEffects.lasting(product.kind().family(), 1).getOrDefault(Level.CYA, 0.0);
		if (perChlorine > 0) {
			double rise = (this.supply.minimumWithCya(least, perChlorine * lacking) - least)
					/ (1 - perChlorine / this.request.policy().cyaPerFc());
			lacking = Math.min(lacking + rise, Math.max(lacking, hold.ceiling() - water.water().freeChlorine()));
		}
		return ProductEffects.amount(product, lacking, this.litres);
	}

	private Reason whyChlorine(double fc, double least, ResidualTarget hold) {
		if (fc < least - 1e-9) {
			return Reason.of("why.fc-below-minimum", Term.of(Level.FC, fc), Term.of(Level.FC, least));
		}
		if (this.request.daysToNextVisit() == 0) {
			return Reason.of("why.fc-below-ideal", Term.of(Level.FC, fc), Term.of(Level.FC, hold.targetFc()));
		}
		return Reason.of("why.fc-to-next-visit", Term.of(Level.FC, fc), Term.of(Level.FC, hold.targetFc()),
				new Term.Days(this.request.daysToNextVisit()));
	}

	/** What else would hold chlorine until the next visit, when today's dose does not. */
	private List<Reason> offers() {
		double fc = this.additions.water().water().freeChlorine();
		int days = this.request.daysToNextVisit();
		Double minimum = this.assessment.fcMinimum();
		if (this.hold == null || minimum == null || this.hold.isHeld(fc)) {
			return List.of();
		}
		this.notes.add(Reason.of("note.fc-not-held", Term.of(Level.FC, minimum), new Term.Days(days),
				new Term.Share(this.hold.holdProbability(fc)),
				Term.of(Level.FC, this.supply.forecast().demand().expected(fc, days))));
		return this.hold.suggestions(fc, this.litres);
	}

	private DosingSequence.DosingGoal raise(double aim, double limit, Reason reason) {
		return new DosingSequence.DosingGoal(Step.Purpose.RAISE_FC,
				(water, product) -> ProductEffects.amount(product, Math.max(0, aim - water.water().freeChlorine()), this.litres), limit,
				this.pool.small() ? 1 : 24, reason);
	}

	private void oxidize() {
		Double combined = this.readings.combined();
		boolean answer = this.situation == Situation.HIGH_COMBINED_CHLORINE && this.shock == null;
		boolean routine = this.situation == Situation.ROUTINE && combined != null && combined > CC_LIMIT + 1e-9;
		if (this.situation != Situation.WEEKLY_REFRESH && !answer && !routine) {
			return;
		}
		double usual = OXIDIZER_PPM * OXIDIZER_STRENGTH;
		double asked = (combined != null) ? Math.max(usual, combined * Breakpoint.MONOPERSULFATE_PER_COMBINED) : usual;
		Reason reason = (combined != null && combined > 0) ? Reason.of("why.combined", Term.of(Level.CC, combined))
				: Reason.of("why.weekly-refresh");
		// One dose a visit, within its cap: the test next time says whether there is more to do.
		this.additions.add(new DosingSequence.DosingGoal(Step.Purpose.OXIDIZE, (water, product) -> {
			Double most = product.mostFor(this.litres);
			double amount = ProductEffects.amount(product, asked, this.litres);
			return (most != null) ? Math.min(most, amount) : amount;
		}, null, 24, reason));
	}

	/** What lifts pH, TA, CH, CYA and salt. Acts halfway between the ideal and the acceptable end. */
	private void balance() {
		Double ta = this.readings.ta();
		Range phRange = this.pool.targets().range(Level.PH);
		Range taRange = this.pool.targets().range(Level.TA);
		boolean taLow = ta != null && taRange != null && ta < taRange.halfwayLow() - 1e-9;
		Double alkalinity = this.working.ta();
		if (phRange != null && alkalinity != null && phTrusted() && ph() < phRange.acceptableLow() - 1e-9) {
			if (taRange != null && alkalinity > taRange.idealHigh()) {
				this.work.add(Reason.of("work.aerate"));
			}
			else if (!taLow || ph() < 7.0) {
				this.additions.add(new DosingSequence.DosingGoal(Step.Purpose.RAISE_PH,
						(water, product) -> forPh(water, product, phRange.idealLow()), null, 4,
						Reason.of("why.ph-low", Term.of(Level.PH, ph()), Term.of(Level.PH, phRange.acceptableLow()))));
			}
		}
		if (taLow && ta != null && taRange != null && this.additions.water().water().totalAlkalinity() < taRange.halfwayLow()) {
			raiseTo(Step.Purpose.RAISE_TA, Level.TA, taRange.idealLow() + 0.25 * (taRange.idealHigh() - taRange.idealLow()), ta, 24);
		}
		hardness();
		stabilizer();
		Range salt = this.pool.targets().range(Level.SALT);
		Double salinity = this.readings.salt();
		if (this.pool.sanitizer() == Sanitizer.SALT_CELL && this.situation != Situation.CLOSING && salt != null && salinity != null
				&& salinity < salt.halfwayLow()) {
			raiseTo(Step.Purpose.RAISE_SALT, Level.SALT, 0.5 * (salt.idealLow() + salt.idealHigh()), salinity, 24);
		}
	}

	private void hardness() {
		Range range = this.pool.targets().range(Level.CH);
		Double ch = this.readings.ch();
		if (range != null && ch != null && this.additions.water().water().calciumHardness() < range.halfwayLow()) {
			raiseTo(Step.Purpose.RAISE_CH, Level.CH, range.idealLow(), ch, 24);
		}
	}

	private void stabilizer() {
		Range range = this.pool.targets().range(Level.CYA);
		Double cya = this.readings.cya();
		if (range == null || cya == null || this.pool.indoor() || this.pool.body() == BodyOfWater.SPA
				|| !this.pool.sanitizer().usesChlorine()
				|| this.situation == Situation.CLOSING || range.idealLow() <= 0) {
			return;
		}
		// "Less than 30" may be 30 already: what is certain to be missing is dosed, no more.
		double brought = this.additions.water().water().cyanuricAcid() - this.now.water().cyanuricAcid()
				+ this.supply.fc() * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE;
		double known = cya + brought;
		if (known >= range.halfwayLow() - 1e-9) {
			return;
		}
		if (this.pool.sanitizer() == Sanitizer.TABLET_FEEDER) {
			this.notes.add(Reason.of("note.tablets-bring-cya"));
			return;
		}
		double held = this.additions.water().water().cyanuricAcid();
		this.additions.add(new DosingSequence.DosingGoal(Step.Purpose.RAISE_CYA,
				(water, product) -> ProductEffects.amount(product, range.idealLow() - known - (water.water().cyanuricAcid() - held),
						this.litres),
				null,
				CYA_HOURS, Reason.of("why.low", Term.of(Level.CYA), new Term.Value(Level.CYA, cya, this.readings.cyaQualifier()),
						Term.of(Level.CYA, range.idealLow()))));
		this.later.add(new FollowUpStep(CYA_HOURS, null, null, Reason.of("later.test-cya")));
	}

	private void raiseTo(Step.Purpose purpose, Level level, double target, double now, double restHours) {
		this.additions.add(new DosingSequence.DosingGoal(purpose, (water, product) -> {
			double change = ProductEffects.lasting(product, 1, this.litres).getOrDefault(level, 0.0);
			return (change > 0) ? (target - value(water.water(), level)) / change : 0;
		}, null, restHours, Reason.of("why.low", Term.of(level), Term.of(level, now), Term.of(level, target))));
	}

	private static double value(Water water, Level level) {
		return switch (level) {
			case TA -> water.totalAlkalinity();
			case CH -> water.calciumHardness();
			case SALT -> water.salt();
			default -> throw new IllegalArgumentException("not raised this way: " + level);
		};
	}

	/** The rules to be shown before any dose: trade facts, section 1.1. */
	private static List<Reason> cautions(List<Step> steps) {
		List<Reason> cautions = new ArrayList<>();
		cautions.add(Reason.of("caution.label-first"));
		if (steps.isEmpty()) {
			return cautions;
		}
		cautions.add(Reason.of("caution.one-at-a-time"));
		cautions.add(Reason.of("caution.into-water"));
		boolean chlorine = false;
		boolean dry = false;
		for (Step step : steps) {
			ActiveIngredient family = step.product().kind().family();
			chlorine |= family.chlorine() || family.acid();
			dry |= family == ActiveIngredient.CALCIUM_HYPOCHLORITE || family.stabilizedChlorine();
		}
		if (chlorine) {
			cautions.add(Reason.of("caution.chlorine-and-acid"));
		}
		if (dry) {
			cautions.add(Reason.of("caution.dry-families"));
			cautions.add(Reason.of("caution.spill"));
		}
		cautions.add(Reason.of("caution.nobody-in"));
		return cautions;
	}

}
