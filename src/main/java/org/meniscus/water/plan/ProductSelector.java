package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessor;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.PriceList;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.units.Volume;

/**
 * Which product moves a level here: what is not allowed and why, and the order among what is. Rules are common practice without a
 * source unless the trade tables name one.
 */
final class ProductSelector {

	/**
	 * Which product is to be taken for which purpose, where it is allowed; what is not named is left to {@link ProductSelector}.
	 *
	 * @param tablets how many go into floater or feeder
	 */
	record ProductAssignment(Map<Step.Purpose, Product> products, int tablets) {

		static final ProductAssignment UNASSIGNED = new ProductAssignment(Map.of(), 0);

		ProductAssignment {
			products = products.isEmpty() ? Map.of() : Collections.unmodifiableMap(new EnumMap<>(products));
		}

		@Nullable
		Product product(Step.Purpose purpose) {
			return this.products.get(purpose);
		}

		ProductAssignment with(Step.Purpose purpose, Product product) {
			Map<Step.Purpose, Product> more = new EnumMap<>(Step.Purpose.class);
			more.putAll(this.products);
			more.put(purpose, product);
			return new ProductAssignment(more, this.tablets);
		}

		ProductAssignment withTablets(int tablets) {
			return new ProductAssignment(this.products, tablets);
		}

	}

	/** CYA from which chlorine that leaves CYA behind is not dosed by hand, ppm. */
	static final double CYA_LIMIT = 50;

	/** The same in a spa: dichlor until CYA 30, then unstabilized. */
	static final double CYA_LIMIT_SPA = 30;

	/** CH from which calcium hypochlorite is not dosed, ppm. */
	static final double CH_LIMIT = 350;

	/** Labels of generic calcium hypochlorite ask for pH 7.2 to 7.4 before it goes in. */
	static final double PH_CALCIUM_HYPOCHLORITE = 7.4;

	/** Half a step of a pH test. */
	static final double PH_TEST = 0.05;

	/** A product that is allowed. @param rank its group: a lower one is always taken first */
	record RankedProduct(Product product, int rank, Reason reason) {
	}

	/** Rank of chlorine that stands behind all that may go in but what is no more than a last resort. */
	private static final int FALLS_SHORT = 4;

	/** Ranks from here on: what goes in only because nothing else along does. */
	static final int LAST_RESORT = 10;

	private final PlanRequest request;

	private final boolean shock;

	private final ProductAssignment assignment;

	private final Contraindications contraindications;

	ProductSelector(PlanRequest request, boolean shock, Contraindications contraindications, ProductAssignment assignment) {
		this.request = request;
		this.shock = shock;
		this.contraindications = contraindications;
		this.assignment = assignment;
	}

	/**
	 * Products for a purpose: the selected one first, then by group, then by the price of what they bring. Where nothing along may go into
	 * a pool below what is to be reached, what is kept out only for the sake of later months may, and what only people who come soon keep out
	 * where the pool is closed.
	 */
	List<RankedProduct> allowed(Step.Purpose purpose, PoolWater water) {
		List<RankedProduct> allowed = new ArrayList<>();
		List<RankedProduct> yielding = new ArrayList<>();
		for (Product product : candidates(purpose)) {
			Contraindications.Rejection rejection = product.onTruck() ? rejectionOf(product, purpose, water) : null;
			if (product.onTruck() && rejection == null) {
				allowed.add(new RankedProduct(product, rank(product, purpose, water), reason(product, purpose)));
			}
			else if (rejection != null && rejection.yields()) {
				yielding.add(new RankedProduct(product, rejection.waitsForSwimmers() ? LAST_RESORT : LAST_RESORT + 1,
						Reason.of((purpose == Step.Purpose.RAISE_BROMINE) ? "choice.last-resort-bromine" : "choice.last-resort",
								Term.of(product.kind()), new Term.Clause(rejection.reason()))));
			}
		}
		if (allowed.isEmpty() && (purpose == Step.Purpose.RAISE_FC || purpose == Step.Purpose.RAISE_BROMINE)) {
			PoolFacts pool = this.request.pool();
			Readings readings = this.request.effectiveReadings();
			boolean closed = this.shock || bromineLow() || isBelow(Assessor.fcToSwim(pool, readings));
			boolean low = bromineLow() || isBelow(Assessor.fcToReach(pool, readings, this.request.policy()));
			yielding.removeIf(ranked -> !((ranked.rank() == LAST_RESORT) ? closed : low));
			allowed.addAll(yielding);
		}
		Product selected = this.assignment.product(purpose);
		allowed.sort(Comparator.comparing((RankedProduct ranked) -> !ranked.product().equals(selected))
			.thenComparingInt(RankedProduct::rank)
			.thenComparingDouble(ranked -> unitCost(ranked.product()))
			.thenComparing(ranked -> ranked.product().id()));
		return allowed;
	}

	/** What would serve a purpose if it were along: the company's own, else the usual one of its kind; null when nothing may. */
	@Nullable
	Product notAlong(Step.Purpose purpose, PoolWater water) {
		return candidates(purpose).stream()
			.filter(product -> !product.onTruck() && rejection(product, purpose, water) == null)
			.min(Comparator.comparingInt((Product product) -> rank(product, purpose, water))
				.thenComparingDouble(ProductSelector::unitCost)
				.thenComparing(Product::id))
			.orElseGet(() -> usual(purpose, water));
	}

	private @Nullable Product usual(Step.Purpose purpose, PoolWater water) {
		List<ProductKind> kinds = switch (purpose) {
			case LOWER_PH -> List.of(ProductKind.MURIATIC_3145);
			case RAISE_FC -> List.of(ProductKind.LIQUID_CHLORINE_125);
			case RAISE_BROMINE -> List.of(ProductKind.MPS, ProductKind.LIQUID_CHLORINE_125);
			case OXIDIZE -> List.of(ProductKind.MPS);
			case RAISE_PH -> List.of(ProductKind.SODA_ASH, ProductKind.BORAX);
			case RAISE_TA -> List.of(ProductKind.BICARB);
			case RAISE_CH -> List.of(ProductKind.CAL_CHLORIDE_77);
			case RAISE_CYA -> List.of(ProductKind.CYA);
			case RAISE_SALT -> List.of(ProductKind.SALT);
			case FEED, HOLD_METAL, LOWER_PHOSPHATE -> List.of();
		};
		return kinds.stream()
			.map(kind -> Product.usual(kind.name(), kind))
			.filter(product -> {
				Contraindications.Rejection rejection = rejectionOf(product, purpose, water);
				return rejection == null || rejection.yields();
			})
			.findFirst()
			.orElse(null);
	}

	/** The chlorine that only people who come soon keep out; null when there is none. */
	@Nullable
	Product afterSwimming(PoolWater water) {
		return candidates(Step.Purpose.RAISE_FC).stream()
			.filter(Product::onTruck)
			.filter(product -> {
				Contraindications.Rejection rejection = rejectionOf(product, Step.Purpose.RAISE_FC, water);
				return rejection != null && rejection.waitsForSwimmers();
			})
			.min(Comparator.comparingDouble(ProductSelector::unitCost).thenComparing(Product::id))
			.orElse(null);
	}

	private boolean bromineLow() {
		Double bromine = this.request.readings().bromine();
		Range range = this.request.pool().targets().range(Level.BROMINE);
		return this.request.pool().sanitizer() == Sanitizer.BROMINE && bromine != null && range != null
				&& bromine < range.acceptableLow() - 1e-9;
	}

	private boolean isBelow(double least) {
		Double fc = this.request.readings().fc();
		return fc != null && this.request.pool().sanitizer().usesChlorine() && fc < least - 1e-9;
	}

	/** Of each active ingredient the first in that order. */
	List<Product> bestOfEachIngredient(Step.Purpose purpose, PoolWater water) {
		List<Product> options = new ArrayList<>();
		for (RankedProduct ranked : allowed(purpose, water)) {
			if (options.stream().noneMatch(other -> other.kind().ingredient() == ranked.product().kind().ingredient())) {
				options.add(ranked.product());
			}
		}
		return options;
	}

	/** Products that would move the level but are not allowed or not along, each with its reason. */
	List<Step.Alternative> rejected(Step.Purpose purpose, PoolWater water) {
		List<Step.Alternative> rejected = new ArrayList<>();
		for (Product product : candidates(purpose)) {
			Reason reason = rejection(product, purpose, water);
			if (reason == null && !product.onTruck()) {
				reason = Reason.of("reject.not-on-truck");
			}
			// Tablets of this plan have a step of their own.
			boolean fed = purpose == Step.Purpose.RAISE_FC && this.assignment.tablets() > 0 && product.kind() == ProductKind.TRICHLOR_TAB;
			if (reason != null && !fed) {
				rejected.add(Step.Alternative.rejected(product, reason));
			}
		}
		rejected.sort(Comparator.comparing((Step.Alternative alternative) -> alternative.product().kind())
			.thenComparing(alternative -> alternative.product().id()));
		return rejected;
	}

	private List<Product> candidates(Step.Purpose purpose) {
		List<Product> candidates = new ArrayList<>();
		for (Product product : this.request.products()) {
			if (moves(product.kind(), purpose)) {
				candidates.add(product);
			}
		}
		return candidates;
	}

	private static boolean moves(ProductKind kind, Step.Purpose purpose) {
		ActiveIngredient ingredient = kind.ingredient();
		return switch (purpose) {
			case LOWER_PH -> ingredient.acid();
			// The oxidizer stands among the candidates so that the plan says why it is not the answer.
			case RAISE_FC -> ingredient.chlorine() || ingredient == ActiveIngredient.MONOPERSULFATE;
			case RAISE_BROMINE -> ingredient.chlorine() || ingredient == ActiveIngredient.MONOPERSULFATE;
			case FEED -> kind == ProductKind.TRICHLOR_TAB;
			case OXIDIZE -> ingredient == ActiveIngredient.MONOPERSULFATE;
			case RAISE_PH -> ingredient == ActiveIngredient.SODA_ASH || ingredient == ActiveIngredient.BORAX;
			case RAISE_TA -> ingredient == ActiveIngredient.BICARBONATE;
			case RAISE_CH -> ingredient == ActiveIngredient.CALCIUM_CHLORIDE;
			case RAISE_CYA -> ingredient == ActiveIngredient.CYANURIC_ACID;
			case RAISE_SALT -> ingredient == ActiveIngredient.SALT;
			case HOLD_METAL -> ingredient == ActiveIngredient.SEQUESTRANT;
			case LOWER_PHOSPHATE -> ingredient == ActiveIngredient.LANTHANUM;
		};
	}

	/** Why a product must not go into this pool for this purpose; null when it may. */
	@Nullable
	Reason rejection(Product product, Step.Purpose purpose, PoolWater water) {
		Contraindications.Rejection rejection = rejectionOf(product, purpose, water);
		return (rejection == null) ? null : rejection.reason();
	}

	private Contraindications.@Nullable Rejection rejectionOf(Product product, Step.Purpose purpose, PoolWater water) {
		return this.contraindications.rejection(product, purpose, water, this.assignment.tablets() > 0);
	}

	/** Group a product is taken in, zero for most, whose order is by cost: before it what the company or the trade wants first. */
	private int rank(Product product, Step.Purpose purpose, PoolWater water) {
		if (product.preference() == ProductPreference.FIRST) {
			return -10;
		}
		if (purpose == Step.Purpose.RAISE_FC && fallsShort(product)) {
			return FALLS_SHORT;
		}
		ActiveIngredient ingredient = product.kind().ingredient();
		if (purpose == Step.Purpose.RAISE_PH && ingredient == ActiveIngredient.SODA_ASH) {
			// For the same pH borax adds about half as much to an alkalinity that is high already.
			Range alkalinity = this.request.pool().targets().range(Level.TA);
			Double ta = this.request.readings().ta();
			return (alkalinity != null && ta != null && ta > alkalinity.idealHigh()) ? 1 : 0;
		}
		if (purpose == Step.Purpose.RAISE_FC) {
			if (ingredient == ActiveIngredient.CALCIUM_HYPOCHLORITE && water.water().ph() > PH_CALCIUM_HYPOCHLORITE + PH_TEST) {
				// Its label asks for a lower pH first.
				return 3;
			}
			if (ingredient == ActiveIngredient.DICHLOR && this.request.pool().body() == BodyOfWater.SPA) {
				return -1;
			}
			// Bleach from a shop is for an emergency; calcium leaves scale on a cell.
			if (product.kind() == ProductKind.HOUSEHOLD_BLEACH
					|| (ingredient == ActiveIngredient.CALCIUM_HYPOCHLORITE && this.request.pool().sanitizer() == Sanitizer.SALT_CELL)) {
				return 3;
			}
		}
		return 0;
	}

	/** Whether one addition by its label leaves the pool below what protects it. */
	private boolean fallsShort(Product product) {
		Volume volume = this.request.pool().volume();
		Double fc = this.request.readings().fc();
		Double most = (volume == null) ? null : product.mostFor(volume.litres());
		return volume != null && fc != null && most != null && product.strengthKnown()
				&& isBelow(Assessor.fcToReach(this.request.pool(), this.request.effectiveReadings(), this.request.policy())
						- ProductEffects.concentration(product, most, volume.litres()));
	}

	/** By the company's price or the usual one of its kind. */
	private static double unitCost(Product product) {
		return PriceList.cost(product, 1) / unitConcentration(product);
	}

	/** What one gram or millilitre brings to a cubic metre: makes prices of one kind comparable. */
	private static double unitConcentration(Product product) {
		return ProductEffects.concentration(product, 1, 1000);
	}

	private Reason reason(Product product, Step.Purpose purpose) {
		if (purpose == Step.Purpose.RAISE_BROMINE) {
			return Reason.of("choice.makes-bromine");
		}
		if (purpose != Step.Purpose.RAISE_FC) {
			return Reason.of("choice." + Wording.code(product.kind().ingredient()));
		}
		return switch (product.kind().ingredient()) {
			case CALCIUM_HYPOCHLORITE -> this.shock ? Reason.of("choice.cal-hypo-shock") : Reason.of("choice.cal-hypo");
			case DICHLOR -> Reason.of("choice.dichlor");
			default -> this.request.pool().small() ? Reason.of("choice.liquid-small") : Reason.of("choice.liquid");
		};
	}

}
