package org.meniscus.water.plan;

import java.util.Collections;
import java.util.Comparator;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.chemistry.Breakpoint;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;

/**
 * What binds metal and phosphate, by the reading and the label's rate, for phosphate else by the lanthanum in the product; where neither is
 * known the plan names the product and leaves the amount to its label. Figures: common practice, no source.
 */
final class TraceDosing {

	/** What a sequestrant holds, the first where two are as far above what stains. */
	private static final List<Level> METALS = List.of(Level.COPPER, Level.IRON, Level.MANGANESE);

	/** Copper above it is diluted rather than held, ppm: row stain_copper of the trade table {@code situations.csv}. */
	private static final double COPPER_TO_DILUTE = 1;

	/** Copper that a part of new water is to leave, ppm. */
	private static final double COPPER_LEFT = 0.3;

	private static final double RETRY_HOURS = 24;

	/** Phosphate that one dose may bind, ppm: a larger one clouds the water for days. */
	private static final double PHOSPHATE_AT_ONCE = 1;

	/** A part of the phosphate today, the rest on a new test: the trade gives it in split doses. */
	private static final double FIRST_PART = 0.5;

	/** TA from which lanthanum goes in, ppm: it takes carbonate too (trade table {@code never-mix.csv}). */
	static final double TA_FOR_LANTHANUM = 60;

	private static final PoolCondition PH_OR_TA_LOW = (request, assessment) -> PoolCondition.PH_LOW.holds(request, assessment)
			|| PoolCondition.TA_LOW.holds(request, assessment);

	private final DosingRun run;

	private final PlanContext context;

	TraceDosing(DosingRun run) {
		this.run = run;
		this.context = run.context();
	}

	/** Before chlorine and what lifts pH in a chlorine pool, last in a bromine pool, whose dose is not a small one. */
	void metal() {
		Double copper = this.context.readings().value(Level.COPPER);
		Level beyond = metalBeyond(this.context);
		boolean tested = beyondLimit(this.context, beyond) > 0;
		Reason why = tested ? Reason.of("why.metal", Term.of(beyond), Term.of(beyond, value(this.context, beyond)),
				Term.of(beyond, limit(this.context, beyond)))
				: Reason.of("why.stains-copper");
		add(ProductKind.SEQUESTRANT, new DosingSequence.DosingGoal(Step.Purpose.HOLD_METAL, tested ? beyond : null,
				(water, product) -> this.run.amount(product, metal(this.context)), RETRY_HOURS, why));
		if (this.context.situation() != Situation.STAINS_COPPER) {
			this.run.task(switch (beyond) {
				case IRON -> "work.iron-source";
				case MANGANESE -> "work.manganese-source";
				default -> "work.copper-source";
			});
			Reason dilute = copperToDilute(this.context);
			if (dilute != null && copper != null && copper > COPPER_TO_DILUTE) {
				if (!this.context.readings().tests().decidesDrain(Level.COPPER)) {
					this.run.task("work.test-copper");
				}
				this.run.task(dilute);
			}
			if (PH_OR_TA_LOW.holds(this.context.request(), this.context.assessment())) {
				this.run.test(RETRY_HOURS, "later.balance-after-sequestrant");
			}
		}
		if (value(this.context, Level.IRON) > limit(this.context, Level.IRON)) {
			this.run.note(Reason.of("note.iron-swimming", Term.of(Level.IRON, value(this.context, Level.IRON)),
					Term.of(Level.IRON, limit(this.context, Level.IRON))));
		}
		if (this.context.shockLater() != null) {
			this.run.note("note.shock-after-metal");
		}
	}

	/** Copper for which a part of the water is replaced, as nothing takes it out; null where it need not go. */
	static @Nullable Reason copperToDilute(PlanContext context) {
		Double copper = context.readings().value(Level.COPPER);
		if (copper == null || !context.readings().tests().decidesDrain(Level.COPPER)) {
			return Reason.of("work.copper-dilute");
		}
		return (copper > COPPER_TO_DILUTE)
				? Reason.of("work.copper-dilute-share", Term.of(Level.COPPER, copper), new Term.Share(1 - COPPER_LEFT / copper)) : null;
	}

	/** What ammonia takes of chlorine, by the reading where there is one. */
	static Reason ammoniaDemand(PlanContext context) {
		Double ammonia = context.readings().value(Level.AMMONIA);
		double chlorine = context.chlorineForAmmonia();
		return (ammonia != null && chlorine > 0)
				? Reason.of("work.ammonia-takes", Term.of(Level.AMMONIA, ammonia), Term.of(Level.FC, chlorine))
				: Reason.of("work.ammonia-demand", new Term.Number(Breakpoint.CHLORINE_PER_AMMONIA_NITROGEN, 1));
	}

	/** The metal that is furthest above what stains. */
	private static Level metalBeyond(PlanContext context) {
		return Collections.max(METALS, Comparator.comparingDouble(metal -> beyondLimit(context, metal)));
	}

	private static double beyondLimit(PlanContext context, Level level) {
		return value(context, level) - limit(context, level);
	}

	private static double value(PlanContext context, Level level) {
		Double value = context.readings().value(level);
		return (value != null) ? value : 0;
	}

	private static double limit(PlanContext context, Level level) {
		Range range = context.pool().targets().range(level);
		return (range != null) ? range.acceptableHigh() : Double.MAX_VALUE;
	}

	/** Only against growth that comes back, and once chlorine is right: phosphate uses none up. */
	void phosphate() {
		LevelState state = this.context.assessment().state(Level.PHOSPHATE);
		Double now = this.context.readings().value(Level.PHOSPHATE);
		if (now == null || state == null || state.state() != LevelState.State.OUT_OF_RANGE || this.context.replacement() != null) {
			return;
		}
		if (this.context.situation() != Situation.HIGH_PHOSPHATE) {
			boolean growth = this.context.situation().growth();
			this.run.note(Reason.of(growth ? "note.phosphate-after-growth" : "note.phosphate-left", Term.of(Level.PHOSPHATE, now)));
			return;
		}
		if (!PoolCondition.LANTHANUM_TODAY.holds(this.context.request(), this.context.assessment())) {
			return;
		}
		add(ProductKind.LANTHANUM, new DosingSequence.DosingGoal(Step.Purpose.LOWER_PHOSPHATE, Level.PHOSPHATE,
				(water, product) -> this.run.amount(product, phosphateAtOnce(now, state.range())), RETRY_HOURS,
				Reason.of("why.phosphate", Term.of(Level.PHOSPHATE, now), Term.of(Level.PHOSPHATE, state.range().acceptableHigh()))));
	}

	/** What goes in of a product on another day, by today's reading; null where its amount follows from none. */
	static @Nullable MeasuredAmount expectedAmount(PlanContext context, Product product) {
		if (!product.bindsKnownAmount()) {
			return null;
		}
		Double phosphate = context.readings().value(Level.PHOSPHATE);
		Range range = context.pool().targets().range(Level.PHOSPHATE);
		double ppm = (product.kind() == ProductKind.SEQUESTRANT) ? metal(context)
				: (phosphate != null && range != null) ? phosphateAtOnce(phosphate, range) : 0;
		MeasuredAmount amount = MeasuredAmount.down(ProductEffects.amount(product, Math.max(0, ppm), context.litres()), product,
				context.request().units());
		return amount.isZero() ? null : amount;
	}

	/** All metal together, ppm: a sequestrant holds each. */
	private static double metal(PlanContext context) {
		return METALS.stream().mapToDouble(metal -> value(context, metal)).sum();
	}

	/** Ppm. */
	private static double phosphateAtOnce(double ppb, Range range) {
		return Math.min(PHOSPHATE_AT_ONCE, FIRST_PART * (ppb - range.idealHigh()) / 1000);
	}

	private void add(ProductKind kind, DosingSequence.DosingGoal goal) {
		Product labelled = labelled(kind);
		if (this.run.selector().allowed(goal.purpose(), this.run.water()).isEmpty() && labelled != null) {
			this.run.addByLabel(goal, labelled);
			return;
		}
		this.run.add(goal);
		if (this.context.request().products().stream()
			.noneMatch(product -> product.kind() == kind && (product.onTruck() || product.bindsKnownAmount()))) {
			this.run.task("work.bring-sequestrant");
		}
	}

	/** Along, allowed here, and its amount known from its label only. */
	private @Nullable Product labelled(ProductKind kind) {
		List<Product> products = this.context.request().products();
		return products.stream()
			.filter(product -> product.kind() == kind && product.onTruck() && !product.bindsKnownAmount()
					&& product.preference() != ProductPreference.NEVER
					&& this.context.contraindications().reasonAgainst(product.kind().ingredient()) == null)
			.findFirst()
			.orElse(null);
	}

}
