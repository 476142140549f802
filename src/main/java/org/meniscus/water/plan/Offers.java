package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.CellSetting;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.demand.ChlorineDemand;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.season.SeasonValue;
import org.meniscus.water.season.State;

/**
 * What would make chlorine last until the next visit where a plan's dose alone does not: actions that can be taken here. Each kind passes
 * the rules that products pass, and none goes against what the situation asks for or what the plan gives.
 */
final class Offers {

	/** What is offered. */
	private enum Kind {

		EARLIER_STOP, CLIENT_ADDS(ActiveIngredient.SODIUM_HYPOCHLORITE),
		TABLETS(ActiveIngredient.TRICHLOR, SituationProcedure.Act.FEED_DOWN, SituationProcedure.Act.OTHER_CHLORINE),
		CELL(null, SituationProcedure.Act.FEED_DOWN, SituationProcedure.Act.CELL_OFF),
		FEEDER(ActiveIngredient.TRICHLOR, SituationProcedure.Act.FEED_DOWN, SituationProcedure.Act.OTHER_CHLORINE),
		COVER(null, SituationProcedure.Act.COVER_OFF), STABILIZER(ActiveIngredient.CYANURIC_ACID), NEW_WATER;

		private final @Nullable ActiveIngredient ingredient;

		private final Set<SituationProcedure.Act> against;

		Kind() {
			this(null);
		}

		Kind(@Nullable ActiveIngredient ingredient, SituationProcedure.Act... against) {
			this.ingredient = ingredient;
			this.against = Set.of(against);
		}

	}

	/** Less supply than this is none that a setting could be a multiple of, ppm FC a day. */
	private static final double LEAST_SUPPLY = 0.1;

	/** Share of one drain. */
	private static final double ONE_DRAIN = 1.0 / 3;

	private static final double EPSILON = 1e-9;

	private final PlanContext context;

	private final PlanRequest request;

	private final PoolFacts pool;

	private final ResidualTarget target;

	private final DosingResult dosing;

	private final double fc;

	private final int days;

	/** A cell or feeder that did not hold FC: what it is set to says nothing of what it makes. */
	private final boolean feedsTooLittle;

	private final Set<SituationProcedure.Act> acts;

	private final List<Reason> offers = new ArrayList<>();

	private Offers(PlanContext context, ResidualTarget target, DosingResult dosing) {
		this.context = context;
		this.request = context.request();
		this.pool = context.pool();
		this.target = target;
		this.dosing = dosing;
		this.fc = dosing.freeChlorine();
		this.days = this.request.daysToNextVisit();
		this.acts = context.procedure().acts(this.request, context.assessment());
		this.feedsTooLittle = FeedStop.feedsTooLittle(this.request, context.assessment());
		FeedStop feedStop = context.feedStop();
		if (PoolCondition.FC_TOO_HIGH.holds(this.request, context.assessment())
				|| (feedStop != null && feedStop.lasts())) {
			this.acts.add(SituationProcedure.Act.FEED_DOWN);
		}
	}

	/** Each with its figure, the surest first. */
	static List<Reason> of(PlanContext context, ResidualTarget target, DosingResult dosing) {
		Offers all = new Offers(context, target, dosing);
		all.earlierStop();
		all.clientAdds();
		all.supply();
		all.cover();
		all.stabilizer();
		all.newWater();
		return all.offers;
	}

	/** @param start bromine today as the chlorine that makes as much, ppm */
	static List<Reason> ofBromine(ResidualTarget target, double start) {
		int sooner = target.lastHeldDay(start);
		Reason feed = Reason.of("offer.bromine-feeder");
		return (sooner > 0) ? List.of(Reason.of("offer.sooner", new Term.Days(sooner)), feed) : List.of(feed);
	}

	private void offer(Kind kind, Reason reason) {
		ActiveIngredient ingredient = kind.ingredient;
		if (kind.against.stream().noneMatch(this.acts::contains)
				&& (ingredient == null || (this.context.contraindications().reasonAgainst(ingredient) == null
						&& this.context.contraindications().warningOf(ingredient, List.of()) == null))) {
			this.offers.add(reason);
		}
	}

	private void earlierStop() {
		int sooner = this.target.lastHeldDay(this.fc);
		if (sooner == 0 && this.days > 1 && this.target.expected(this.fc, 1) >= this.target.minimum()) {
			// More likely than not.
			sooner = 1;
		}
		if (sooner > 0) {
			offer(Kind.EARLIER_STOP, Reason.of("offer.sooner", new Term.Days(sooner)));
		}
	}

	/** Between visits the client brings back what has been used up, as often as it takes; where nothing feeds the pool, or too little. */
	private void clientAdds() {
		FeedStop stop = this.context.feedStop();
		if (this.pool.sanitizer() != Sanitizer.CHLORINE_BY_HAND && this.pool.sanitizer() != Sanitizer.FLOATER && !this.feedsTooLittle
				&& (stop == null || !stop.lasts())) {
			return;
		}
		int each = Math.max(1, this.target.lastHeldDay(this.fc));
		Product poured = this.dosing.productFor(Step.Purpose.RAISE_FC);
		Product product = (poured != null && poured.kind().ingredient() == ActiveIngredient.SODIUM_HYPOCHLORITE) ? poured
				: Product.usual("usual", ProductKind.LIQUID_CHLORINE_10);
		MeasuredAmount amount = MeasuredAmount.down(
				ProductEffects.amount(product, this.fc - this.target.expected(this.fc, each), this.context.litres()), product,
				this.request.units());
		if (each < this.days && !amount.isZero() && this.fc > this.target.minimum() - EPSILON) {
			offer(Kind.CLIENT_ADDS, (each == 1)
					? Reason.of("offer.client-adds-daily", new Term.Amount(amount), Term.of(product.kind()))
					: Reason.of("offer.client-adds", new Term.Amount(amount), Term.of(product.kind()), new Term.Days(each)));
		}
	}

	private void supply() {
		double supply = this.target.supply(this.fc);
		if (!(supply > 0)) {
			return;
		}
		double own = this.request.forecast().demand().supply();
		Reason setting = this.feedsTooLittle ? CellSetting.raised(this.pool, this.context.effectiveReadings(), own + supply)
				: CellSetting.of(this.pool, this.context.effectiveReadings(), own + supply);
		if (setting != null) {
			offer(Kind.CELL, setting);
			return;
		}
		Term.Chlorine grams = new Term.Chlorine(supply * this.context.litres() / 1000);
		if (this.pool.sanitizer() == Sanitizer.SALT_CELL) {
			Double celsius = this.request.readings().celsius();
			// One that is set high enough is to be checked first.
			boolean set = this.feedsTooLittle && this.pool.equipment().cell() != null;
			if (celsius != null && celsius >= Equipment.CELL_CELSIUS && !set) {
				offer(Kind.CELL, (own < LEAST_SUPPLY) ? Reason.of("offer.cell", grams, Term.of(Level.FC, supply))
						: Reason.of("offer.cell-times", new Term.Number((own + supply) / own, 1), grams, Term.of(Level.FC, supply)));
			}
			return;
		}
		tablets(supply, grams);
	}

	/** Tablets where stabilizer still has room: in the feeder that is there, or in one to be fitted. */
	private void tablets(double supply, Term.Chlorine grams) {
		Product tablets = this.target.tablets();
		Product any = (tablets != null) ? tablets : Product.usual("usual", ProductKind.TRICHLOR_TAB);
		double cya = this.context.water().water().cyanuricAcid() + supply * this.days * Stoichiometry.CYA_PER_TRICHLOR_CHLORINE;
		boolean touches = this.pool.sanitizer() != Sanitizer.TABLET_FEEDER && any.kind().avoid().contains(this.pool.surface());
		if (this.request.forecast().tablets() != null || touches
				|| cya > SeasonValue.tabletCyaCap(this.pool, this.request.policy(), this.target.expectedFromCeiling(supply))
				|| any.preference() == ProductPreference.NEVER
				|| this.context.contraindications().rejection(any, Step.Purpose.FEED, this.context.water(), false) != null) {
			return;
		}
		if (this.pool.sanitizer() == Sanitizer.TABLET_FEEDER) {
			double own = this.request.forecast().demand().supply();
			offer(Kind.FEEDER, (own < LEAST_SUPPLY || this.feedsTooLittle) ? Reason.of("offer.feeder", grams, Term.of(Level.FC, supply))
					: Reason.of("offer.feeder-times", new Term.Number((own + supply) / own, 1), grams, Term.of(Level.FC, supply)));
		}
		Double count = this.target.tabletsFor(supply, this.context.litres());
		if (count != null) {
			double all = count * Objects.requireNonNull(any.tabletGrams());
			offer(Kind.TABLETS, Reason.of("offer.tablets", new Term.Amount(MeasuredAmount.up(all, any, this.request.units())),
					new Term.Days(this.days)));
		}
	}

	private void cover() {
		ChlorineDemand demand = this.request.forecast().demand();
		double lost = demand.firstOrderRate() * this.fc;
		if (this.target.isHeldCovered(this.fc) && outdoorPool() && this.pool.equipment().coverHours() == null) {
			offer(Kind.COVER, Reason.of("offer.cover", Term.of(Level.FC, lost), Term.of(Level.FC, demand.use(this.fc).middle())));
		}
	}

	/** Sun takes chlorine fast where little stabilizer shields it. */
	private void stabilizer() {
		Double cya = this.request.effectiveReadings().cya();
		Range range = this.pool.targets().range(Level.CYA);
		boolean comes = this.pool.sanitizer() == Sanitizer.TABLET_FEEDER || this.dosing.productFor(Step.Purpose.RAISE_CYA) != null
				|| this.dosing.missing().stream().anyMatch(missing -> missing.purpose() == Step.Purpose.RAISE_CYA)
				|| this.dosing.deferredDoses().stream()
					.anyMatch(dose -> dose.product().kind().ingredient() == ActiveIngredient.CYANURIC_ACID);
		if (this.context.balanceWaits() == null && cya != null && range != null
				&& cya < Math.min(range.idealLow(), ProductSelector.CYA_LIMIT) && outdoorPool() && !comes) {
			offer(Kind.STABILIZER, Reason.of("offer.stabilizer", Term.of(Level.CYA, cya), Term.of(Level.CYA, range.idealLow())));
		}
	}

	private void newWater() {
		Double cya = this.request.effectiveReadings().cya();
		Range range = this.pool.targets().range(Level.CYA);
		Double minimum = this.context.assessment().fcMinimum();
		SeasonValue season = this.context.season();
		boolean decided = !this.request.policy().costs().waterScarce()
				&& (this.request.readings().cya() == null || this.request.readings().tests().decidesDrain(Level.CYA));
		if (decided && cya != null && range != null && minimum != null && this.context.replacement() == null
				&& cya / this.request.policy().cyaPerFc() >= minimum - EPSILON && ((season == null) ? cya > range.idealHigh()
						: season.paysToReplace(new State(cya, this.context.water().water().calciumHardness()), ONE_DRAIN, 1))) {
			offer(Kind.NEW_WATER, Reason.of("offer.replace", Term.of(Level.CYA, cya), Term.of(Level.FC, minimum)));
		}
	}

	private boolean outdoorPool() {
		return !this.pool.indoor() && this.pool.body() == BodyOfWater.POOL;
	}

}
