package org.meniscus.study.audit;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.plan.Step;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.units.UnitSystem;

/** Checks of levels and amounts: what the printed steps do to the water, and what is left to do; pH and index in {@link AuditBalance}. */
final class AuditLevels {

	private static final Set<MeasuredAmount.Measure> US = Set.of(MeasuredAmount.Measure.LB, MeasuredAmount.Measure.OZ,
			MeasuredAmount.Measure.GAL, MeasuredAmount.Measure.QT, MeasuredAmount.Measure.FL_OZ, MeasuredAmount.Measure.TSP);

	/** What one test step of its usual kit, and the test's own error, leaves open of a level: more than that is a dose. */
	private static final Map<Step.Purpose, Double> TEST_ERROR = Map.of(Step.Purpose.LOWER_PH, 0.1, Step.Purpose.RAISE_PH, 0.1,
			Step.Purpose.RAISE_FC, 0.5, Step.Purpose.RAISE_TA, 10.0, Step.Purpose.RAISE_CH, 25.0, Step.Purpose.RAISE_CYA, 10.0,
			Step.Purpose.RAISE_SALT, 200.0);

	/** Of the tube, ppm. */
	private static final double LOWEST_CYA_MARK = 30;

	private final AuditCase at;

	final List<AuditCheck.Finding> findings = new ArrayList<>();

	AuditLevels(AuditCase at) {
		this.at = at;
	}

	static List<AuditCheck.Finding> check(AuditCase at) {
		AuditLevels levels = new AuditLevels(at);
		levels.findings.addAll(AuditBalance.check(at));
		levels.minimum();
		levels.bromine();
		levels.again();
		at.plan().steps().forEach(levels::amount);
		levels.printedLevels();
		return levels.findings;
	}

	private void add(AuditCheck check, String format, Object... args) {
		this.findings.add(new AuditCheck.Finding(check, String.format(Locale.ROOT, format, args)));
	}

	private void minimum() {
		PlanRequest request = this.at.request();
		if (!request.pool().sanitizer().usesChlorine() || request.situation().chlorineWaits()) {
			return;
		}
		boolean restFollows = this.at.plan()
			.followUps()
			.stream()
			.anyMatch(later -> later.product() != null && later.product().kind().ingredient().chlorine() && later.afterHours() <= 24);
		if (restFollows || this.at.emptied()) {
			return;
		}
		double least = this.at.leastFc();
		double ceiling = request.policy().fcCeiling();
		double needed = (least < ceiling) ? least - 0.1 : ceiling - 0.5;
		double fc = this.at.after().fc();
		if (fc >= needed) {
			return;
		}
		double free = reach(false);
		double banned = reach(true);
		double from = this.at.now().fc();
		if (free > 0 && fc < Math.min(needed, from + free - 0.1)) {
			add(AuditCheck.BELOW_MINIMUM, "FC %.1f -> %.2f, least %.2f", from, fc, least);
		}
		// Where stabilizer leaves no room what adds to it, or to hardness, is no help until people may not swim; nor for stabilizer still to dissolve.
		else if (banned > 0 && fc < Math.min((least < ceiling) ? Math.min(needed, this.at.leastToday() - 0.1) : this.at.swimFc() - 0.1,
				from + banned - 0.1)) {
			add(AuditCheck.BELOW_MINIMUM_BAN, "FC %.1f -> %.2f, least %.2f", from, fc, least);
		}
		else if (!this.at.misses(Step.Purpose.RAISE_FC)) {
			add(AuditCheck.SHORTAGE_UNSAID, "FC %.1f -> %.2f, least %.2f", from, fc, least);
		}
	}

	/** FC in ppm that one addition of what is along can bring, by its label, as it can be measured out. */
	private double reach(boolean withBans) {
		double most = 0;
		double litres = Objects.requireNonNull(this.at.request().pool().volume()).litres();
		for (Product product : this.at.request().products()) {
			ActiveIngredient ingredient = product.kind().ingredient();
			if (product.onTruck() && AuditEffects.known(product) && ingredient.chlorine() && !forbidden(ingredient)
					&& (withBans || !sideEffect(ingredient))) {
				Double label = product.labelMaxPerM3();
				most = Math.max(most,
						(label == null) ? 100 : AuditEffects.chlorinePpm(product,
								MeasuredAmount.down(label * litres / 1000, product, this.at.request().units()).amount(), litres));
			}
		}
		return most;
	}

	/** Never, however little chlorine there is. */
	private boolean forbidden(ActiveIngredient ingredient) {
		PoolFacts pool = this.at.request().pool();
		Situation situation = this.at.request().situation();
		return switch (ingredient) {
			case DICHLOR -> pool.indoor() || situation == Situation.STABILIZER_GONE;
			case CALCIUM_HYPOCHLORITE -> situation == Situation.NEW_PLASTER || situation == Situation.CELL_START
					|| situation == Situation.STAINS_COPPER || AuditEquipment.stains(this.at.request().readings());
			default -> false;
		};
	}

	/** What it leaves is not wanted here, which weighs less than a pool without chlorine. */
	private boolean sideEffect(ActiveIngredient ingredient) {
		PoolFacts pool = this.at.request().pool();
		Double cya = this.at.readings().cya();
		Double ch = this.at.readings().ch();
		return switch (ingredient) {
			case DICHLOR -> cya == null || cya >= ((pool.body() == BodyOfWater.SPA) ? 30 : 50)
					|| this.at.request().situation() != Situation.ROUTINE;
			case CALCIUM_HYPOCHLORITE -> ch == null || ch >= 350 || pool.small() || pool.surface() == Surface.VINYL
					|| pool.sanitizer() == Sanitizer.SALT_CELL || this.at.request().swimWithinHours() != null
					|| this.at.request().situation() != Situation.ROUTINE;
			default -> false;
		};
	}

	private void bromine() {
		Double bromine = this.at.readings().bromine();
		if (this.at.request().pool().sanitizer() != Sanitizer.BROMINE || bromine == null
				|| bromine >= AuditSwim.bromineLeast(this.at.request()) || this.at.request().situation().chlorineWaits()
				|| this.at.emptied()) {
			return;
		}
		boolean along = this.at.request()
			.products()
			.stream()
			.filter(Product::onTruck)
			.map(product -> product.kind().ingredient())
			.anyMatch(AuditLevels::raisesBromine);
		if (along && !this.at.adds(Step.Purpose.RAISE_BROMINE)) {
			add(AuditCheck.BROMINE_LOW, "bromine %.1f", bromine);
		}
	}

	private static boolean raisesBromine(ActiveIngredient ingredient) {
		return ingredient == ActiveIngredient.MONOPERSULFATE || ingredient == ActiveIngredient.SODIUM_HYPOCHLORITE;
	}

	/** New readings are the settled levels on the steps of the tests; what was put off to another day is not asked again. */
	void again() {
		Plan plan = this.at.plan();
		boolean unfinished = this.at.sentences()
			.anyMatch(reason -> reason.code().startsWith("note.balance-") || reason.code().equals("later.balance-waits")
					|| reason.code().equals("later.rest-of-balance"));
		if (plan.isEmpty() || plan.replacement() != null || unfinished || this.at.request().situation() == Situation.CLOSING
				|| !this.at.tested(Level.TA)) {
			return;
		}
		PlanRequest request = this.at.request();
		PlanRequest next = new PlanRequest(request.pool(), settledReadings(), Situation.ROUTINE, request.products(), request.policy(),
				request.daysToNextVisit(), request.swimWithinHours(), request.units(), request.lastKnown(), forecast());
		if (!(Planner.plan(next) instanceof Plan second)) {
			return;
		}
		for (Step step : second.steps()) {
			Level level = step.purpose().level();
			Double error = TEST_ERROR.get(step.purpose());
			// what stabilizer in grains takes from pH is answered at the visit that finds it
			boolean dissolved = step.purpose() == Step.Purpose.RAISE_PH && this.at.dissolvesSlowly();
			// what the rest of the chlorine does to pH is answered with it
			boolean rest = step.purpose() == Step.Purpose.RAISE_PH && this.at.says("later.rest", "later.ammonia-again", "note.shock-label");
			boolean repeated = step.purpose() == Step.Purpose.RAISE_FC && this.at.says("later.ammonia-again", "note.shock-label");
			// of "less than 30" only what is certainly missing goes in; the test that shows the rest is named
			repeated |= step.purpose() == Step.Purpose.RAISE_CYA && this.at.says("note.cya-below-tube");
			// acid before a chlorine that the first plan had to leave out, and said what to bring instead
			dissolved |= step.reason().code().equals("why.ph-before-chlorine") && this.at.misses(Step.Purpose.RAISE_FC);
			if (level == null || error == null || dissolved || rest || repeated || deferred(step) || this.at.misses(step.purpose())) {
				continue;
			}
			double by = Math.abs(step.after().value(level, 0) - step.before().value(level, 0));
			double rounded = (level == Level.PH) ? 1.5 * Math.abs(AuditDraw.step(this.at.settled().ph(), 0.1) - this.at.settled().ph()) : 0;
			if (by > error + rounded + 1e-9) {
				add(AuditCheck.DOSE_AGAIN, "%s: %s %.2f -> %.2f", step.purpose(), level, step.before().value(level, 0),
						step.after().value(level, 0));
				return;
			}
		}
	}

	/** With the tablets that the plan put in. */
	PoolForecast forecast() {
		PoolForecast forecast = this.at.request().forecast();
		DissolvingTablets tablets = forecast.tablets();
		double fed = AuditEffects.fed(this.at.plan(), Objects.requireNonNull(this.at.request().pool().volume()).litres());
		return (tablets == null || fed <= 0) ? forecast : forecast.withTablets(tablets.plus(fed));
	}

	/** The first plan said that this would come, or that the rest has to wait. */
	private boolean deferred(Step step) {
		for (FollowUpStep later : this.at.plan().followUps()) {
			if (later.product() != null && (later.product().kind().ingredient() == step.product().kind().ingredient()
					|| serves(later.product().kind().ingredient(), step.purpose()))) {
				return true;
			}
		}
		return false;
	}

	/** By whichever product the rest then comes. */
	private static boolean serves(ActiveIngredient ingredient, Step.Purpose purpose) {
		return switch (purpose) {
			case RAISE_FC -> ingredient.chlorine();
			case LOWER_PH -> ingredient.acid();
			case RAISE_PH -> ingredient == ActiveIngredient.SODA_ASH || ingredient == ActiveIngredient.BORAX;
			default -> false;
		};
	}

	Readings settledReadings() {
		AuditWater settled = this.at.settled();
		Readings readings = this.at.request().readings();
		Readings.Builder next = readings.toBuilder().ph(AuditDraw.step(settled.ph(), 0.1));
		if (readings.bromine() != null) {
			next.bromine(this.at.plan().after().value(Level.BROMINE));
		}
		if (this.at.request().pool().sanitizer().usesChlorine()) {
			next.fc(AuditDraw.step(this.at.after().fc(), 0.1)).cc(null).tc(null);
		}
		next.ta(readings.ta() == null ? null : AuditDraw.step(settled.ta(), 10));
		next.ch(readings.ch() == null ? null : AuditDraw.step(settled.ch(), 10));
		// "less than 30" is a figure again once stabilizer has gone in
		boolean shown = readings.cyaQualifier() == ReadingQualifier.EXACT
				|| (readings.cyaQualifier() == ReadingQualifier.BELOW && settled.cya() >= LOWEST_CYA_MARK);
		if (readings.cya() != null && shown) {
			next.cya(AuditDraw.step(settled.cya(), 5), ReadingQualifier.EXACT);
		}
		next.salt(readings.salt() == null ? null : AuditDraw.step(settled.salt(), 50));
		next.borate(readings.borate() == null ? null : AuditDraw.step(settled.borate(), 5));
		return next.build();
	}

	private void amount(Step step) {
		MeasuredAmount amount = step.amount();
		Double unrounded = step.unroundedAmount();
		if (amount == null) {
			return;
		}
		double parts = amount.parts().stream().mapToDouble(part -> part.count() * part.measure().size()).sum();
		boolean units = amount.parts()
			.stream()
			.allMatch(part -> US.contains(part.measure()) == (this.at.request().units() == UnitSystem.US)
					|| (part.measure() == MeasuredAmount.Measure.G && amount.amount() < MeasuredAmount.Measure.OZ.size()));
		if (Math.abs(parts - amount.amount()) > ((amount.counted() == null) ? 1e-3 : 0.06) * amount.amount() || !units) {
			add(AuditCheck.AMOUNT, "%s: %.2f and parts %s", step.product().name(), amount.amount(), amount.parts());
		}
		Double most = mostFor(step.product());
		// acid in two additions on one visit is one dose
		List<Step> additions = this.at.plan()
			.steps()
			.stream()
			.filter(other -> other.purpose() == step.purpose() && other.product().equals(step.product()) && other.amount() != null)
			.toList();
		if (step != additions.get(0)) {
			return;
		}
		double given = additions.stream().mapToDouble(other -> Objects.requireNonNull(other.amount()).amount()).sum();
		double wanted = (unrounded == null) ? amount.amount() : (most == null) ? unrounded : Math.min(unrounded, most * additions.size());
		if (step.purpose() != Step.Purpose.FEED && !deferred(step)
				&& Math.abs(wanted - given) > Math.max(0.12 * wanted, 15)) {
			add(AuditCheck.AMOUNT, "%s: %.1f wanted, %.1f given, no word of the rest", step.product().name(), wanted, given);
		}
		if (most != null && step.purpose() != Step.Purpose.FEED && amount.amount() > 1.001 * most) {
			add(AuditCheck.ABOVE_MOST, "%s: %.1f above %.1f", step.product().name(), amount.amount(), most);
		}
	}

	private @Nullable Double mostFor(Product product) {
		return product.mostFor(Objects.requireNonNull(this.at.request().pool().volume()).litres());
	}

	/** Ammonia takes ten times its nitrogen of what went in, within the hour. */
	private AuditWater afterAmmonia(AuditWater water) {
		Double tested = this.at.readings().value(Level.AMMONIA);
		boolean takes = tested != null && tested > 0.2 + 1e-9 && this.at.request().pool().sanitizer().usesChlorine();
		double ammonia = takes ? tested : 0;
		return (takes && water.fc() > this.at.now().fc()) ? water.chlorineUsed(Math.min(water.fc(), 10 * ammonia)) : water;
	}

	private void printedLevels() {
		Map<Level, Double> tolerance = new EnumMap<>(Map.of(Level.PH, 0.03, Level.TA, 1.0, Level.CH, 1.0, Level.CYA, 0.5, Level.FC, 0.06,
				Level.SATURATION_INDEX, 0.04));
		for (int n = 0; n < this.at.waters().size(); n++) {
			AuditWater water = afterAmmonia(this.at.waters().get(n));
			Step step = this.at.plan().steps().get(n);
			Map<Level, Double> own = Map.of(Level.PH, water.ph(), Level.TA, water.ta(), Level.CH, water.ch(), Level.CYA, water.cya(),
					Level.FC, water.fc(), Level.SATURATION_INDEX, water.saturationIndex());
			for (Map.Entry<Level, Double> level : tolerance.entrySet()) {
				Double printed = step.after().value(level.getKey());
				if (printed != null && Math.abs(printed - own.getOrDefault(level.getKey(), 0.0)) > level.getValue()) {
					add(AuditCheck.LEVELS, "step %d: %s printed %.2f, checked %.2f", n + 1, level.getKey(), printed,
							own.getOrDefault(level.getKey(), 0.0));
					return;
				}
			}
		}
	}

}
