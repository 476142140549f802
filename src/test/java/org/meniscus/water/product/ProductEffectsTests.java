package org.meniscus.water.product;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.pool.Level;
import org.meniscus.water.product.ProductKind.DoseBasis;
import org.meniscus.water.units.Temperature;

/** Amounts, concentrations and what they do to a water, by strengths and molar masses worked out by hand. */
class ProductEffectsTests {

	private static final Water POOL = Water.of(7.5, 100, 300, 50, 3, 1000, 10, Temperature.ofCelsius(25));

	/** Grams or millilitres in 10 m³ against mg/L: strength x density x molar ratio; 125 g/L in 12.5 trade %. */
	@ParameterizedTest
	@CsvSource({ "LIQUID_CHLORINE_125, 800, 10", "CAL_HYPO_65, 100, 6.5", "DICHLOR_56, 100, 5.6", "TRICHLOR_TAB, 200, 18",
			"MPS, 100, 4.28", "MURIATIC_3145, 100, 3.6482", "DRY_ACID_93, 100, 9.32", "BICARB, 200, 19.9",
			"CAL_CHLORIDE_77, 100, 6.944", "BORATE, 1000, 17.306", "BORAX, 1000, 14.694" })
	void amountIsAConcentrationByStrengthDensityAndMolarMass(ProductKind kind, double amount, double concentration) {
		Product product = Product.usual("p", kind);
		assertThat(ProductEffects.concentration(product, amount, 10_000)).isCloseTo(concentration, within(0.0005 * concentration));
		assertThat(ProductEffects.amount(product, concentration, 10_000)).isCloseTo(amount, within(0.0005 * amount));
		assertThat(ProductEffects.concentration(product, amount, 20_000)).as("twice the water").isCloseTo(concentration / 2,
				within(0.0005 * concentration));
	}

	/** What lasts is what went in: the water just after, its new chlorine used up, differs from the water before by just that. */
	@ParameterizedTest
	@EnumSource(ProductKind.class)
	void levelsMoveByWhatLasts(ProductKind kind) {
		Product product = Product.usual("p", kind);
		assertThat(ProductEffects.computable(product)).isEqualTo(kind.dosing() == DoseBasis.COMPUTED);
		if (!ProductEffects.computable(product)) {
			return;
		}
		double amount = ProductEffects.amount(product, 5, 10_000);
		Water after = ProductEffects.after(POOL, product, amount, 10_000);
		double chlorine = after.freeChlorine() - POOL.freeChlorine();
		assertThat(chlorine).isCloseTo(kind.ingredient().chlorine() ? 5 : 0, within(1e-9));
		Water spent = Dosing.spendChlorine(after, chlorine);
		Map<Level, Double> changes = ProductEffects.lasting(product, amount, 10_000);
		assertThat(spent.totalAlkalinity() - 100).isCloseTo(changes.get(Level.TA), within(1e-9));
		assertThat(spent.calciumHardness() - 300).isCloseTo(changes.getOrDefault(Level.CH, 0.0), within(1e-9));
		assertThat(spent.cyanuricAcid() - 50).isCloseTo(changes.getOrDefault(Level.CYA, 0.0), within(1e-9));
		assertThat(spent.salt() - 1000).isCloseTo(changes.getOrDefault(Level.SALT, 0.0), within(1e-9));
		assertThat(spent.borate() - 10).isCloseTo(changes.getOrDefault(Level.BORATE, 0.0), within(1e-9));
	}

	/** 2 KHSO5 in 614.74 g of triple salt, whose three acid protons take 3 x 50.043 of alkalinity: 0.4932 by each of KHSO5. */
	@Test
	void monopersulfateTakesTheAlkalinityOfItsTripleSalt() {
		Product product = Product.usual("p", ProductKind.MPS);
		double grams = ProductEffects.amount(product, 10, 10_000);
		assertThat(ProductEffects.after(POOL, product, grams, 10_000).totalAlkalinity()).isCloseTo(100 - 4.932, within(0.005));
	}

	@Test
	void withoutStrengthOrBasisNothingIsWorkedOut() {
		Product liquid = Product.usual("p", ProductKind.LIQUID_CHLORINE_125);
		assertThat(liquid.strengthKnown()).isTrue();
		for (Product unknown : new Product[]{ liquid.withStrength(null, StrengthBasis.TRADE), liquid.withStrength(0.125, null),
				liquid.withStrength(0.125, StrengthBasis.PURITY),
				Product.usual("p", ProductKind.BICARB).withStrength(0.99, StrengthBasis.TRADE) }) {
			assertThat(unknown.strengthKnown()).isFalse();
			assertThat(ProductEffects.computable(unknown)).isFalse();
			assertThatIllegalArgumentException().isThrownBy(() -> ProductEffects.amount(unknown, 1, 1000));
		}
		assertThat(Product.usual("p", ProductKind.BICARB).withStrength(0.99, null).strengthKnown()).as("a solid is pure or it is not")
			.isTrue();
		assertThat(ProductEffects.computable(Product.usual("p", ProductKind.QUAT_10))).as("its label doses it").isFalse();
		assertThatIllegalArgumentException().isThrownBy(() -> ProductEffects.reagent(ActiveIngredient.CLARIFIER));
		assertThatIllegalArgumentException().isThrownBy(() -> ProductEffects.source(ActiveIngredient.SALT));
	}

	/** 141.5 g/L in 12.5 weight % (example e32 of worked-examples.csv). */
	@Test
	void liquidChlorineByWeightIsStrongerThanByTrade() {
		Product byWeight = Product.usual("p", ProductKind.LIQUID_CHLORINE_125).withStrength(0.125, StrengthBasis.WEIGHT);
		assertThat(ProductEffects.concentration(byWeight, 1000, 1000)).isCloseTo(141.5, within(0.5));
	}

	/** A product's own density goes before its kind's: an acid of 1.10 kg/L instead of 1.16 carries less. */
	@Test
	void densityOfTheProductInHandCounts() {
		Product usual = Product.usual("p", ProductKind.MURIATIC_3145);
		Product light = new Product("p", ProductKind.MURIATIC_3145, "light", 0.3145, StrengthBasis.PURITY, 1.10, 3785, null, null, null,
				null,
				true,
				null, ProductPreference.NONE, null);
		assertThat(light.densityOrUsual()).isEqualTo(1.10);
		assertThat(ProductEffects.concentration(light, 100, 1000) / ProductEffects.concentration(usual, 100, 1000))
			.isCloseTo(1.10 / 1.16, within(1e-9));
		Product unstated = new Product("p", ProductKind.MURIATIC_3145, "unstated", 0.3145, StrengthBasis.PURITY, null, 3785, null, null,
				null, null,
				true, null, ProductPreference.NONE, null);
		assertThat(unstated.densityOrUsual()).isEqualTo(1.16);
	}

	/** By hand: 2 lb in 10,000 US gal (products.csv) are 23.97 g/m³; a label figure goes before it; bleach has none. */
	@Test
	void mostInOneAdditionFollowsTheLabelThenTheTable() {
		Product product = Product.usual("p", ProductKind.CAL_HYPO_65);
		assertThat(product.mostFor(50_000)).isCloseTo(2 * 453.59237 / 37854.11784 * 50_000, within(1e-6));
		assertThat(product.withLabelMaxPerM3(15.0).mostFor(50_000)).isCloseTo(750, within(1e-9));
		assertThat(Product.usual("p", ProductKind.HOUSEHOLD_BLEACH).mostFor(50_000)).isNull();
	}

	@ParameterizedTest
	@EnumSource(ProductKind.class)
	void usualProductIsItsKindAtTheMiddleOfItsPrice(ProductKind kind) {
		Product product = Product.usual("p", kind);
		assertThat(product.strength()).isEqualTo(kind.strength());
		assertThat(product.densityOrUsual()).isEqualTo(kind.density());
		assertThat(product.packageAmount()).isEqualTo(kind.pricedAmount()).isPositive();
		assertThat(product.priceCents()).isBetween((long) kind.priceLowCents(), (long) kind.priceHighCents());
		assertThat(product.priceCents() - kind.priceLowCents()).isBetween(kind.priceHighCents() - product.priceCents() - 1,
				kind.priceHighCents() - product.priceCents() + 1);
		assertThat(product.tabletGrams() != null).isEqualTo(kind.form() == PhysicalForm.TABLET);
		assertThat(product.onTruck()).isTrue();
	}

	@Test
	void oneFactChangesAndTheOthersStay() {
		Product product = Product.usual("p", ProductKind.TRICHLOR_TAB);
		assertThat(product.withTabletGrams(200.0).withTabletGrams(product.tabletGrams())).isEqualTo(product);
		assertThat(product.withTabletGrams(200.0).tabletGrams()).isEqualTo(200);
		assertThat(product.withOnTruck(false).onTruck()).isFalse();
		assertThat(product.withOnTruck(false).withOnTruck(true)).isEqualTo(product);
		assertThat(product.withPreference(ProductPreference.values()[1]).preference()).isEqualTo(ProductPreference.values()[1]);
		assertThat(product.withPreference(ProductPreference.values()[1]).withPreference(product.preference())).isEqualTo(product);
		assertThat(product.withScoop(100.0).withScoop(null)).isEqualTo(product);
		assertThat(product.withLabelMaxPerM3(5.0).withLabelMaxPerM3(null)).isEqualTo(product);
	}

	/**
	 * Per ppm of chlorine once used up, by molar masses: CYA 129.075 / (3 or 2 x 70.90), CH 0.72 of the commercial product, salt
	 * 58.44 / 70.90, twice that for hypochlorite with its chloride; the extra hardness of the commercial product brings its chloride.
	 */
	@ParameterizedTest
	@CsvSource({ "TABLETS, 0.6068, 0, 0.8243", "DICHLOR, 0.9103, 0, 0.8243", "CALCIUM_HYPOCHLORITE, 0, 0.72, 0.8409",
			"LIQUID_CHLORINE, 0, 0, 1.6485", "STABILIZER, 0, 0, 0", "SALT, 0, 0, 0", "OTHER, 0, 0, 0" })
	void kindsOfDosesBringTheirCompanions(DoseKind kind, double cya, double ch, double salt) {
		assertThat(kind.perChlorine(Level.CYA)).isCloseTo(cya, within(0.0002));
		assertThat(kind.perChlorine(Level.CH)).isCloseTo(ch, within(0.0002));
		assertThat(kind.perChlorine(Level.SALT)).isCloseTo(salt, within(0.0002));
		assertThat(kind.perChlorine(Level.TDS)).isEqualTo(kind.perChlorine(Level.SALT));
		assertThat(kind.perChlorine(Level.PH)).isZero();
		assertThat(kind.routine()).isEqualTo(salt > 0);
	}

	@ParameterizedTest
	@EnumSource(ActiveIngredient.class)
	void everyDoseIsOfTheKindItsIngredientMoves(ActiveIngredient ingredient) {
		DoseKind kind = DoseKind.of(ingredient);
		assertThat(kind.routine()).as("chlorine is the routine").isEqualTo(ingredient.chlorine());
		assertThat(kind).isEqualTo(switch (ingredient) {
			case TRICHLOR -> DoseKind.TABLETS;
			case DICHLOR -> DoseKind.DICHLOR;
			case CALCIUM_HYPOCHLORITE -> DoseKind.CALCIUM_HYPOCHLORITE;
			case SODIUM_HYPOCHLORITE -> DoseKind.LIQUID_CHLORINE;
			case CYANURIC_ACID -> DoseKind.STABILIZER;
			case CALCIUM_CHLORIDE -> DoseKind.CALCIUM_CHLORIDE;
			case SALT -> DoseKind.SALT;
			case BORIC_ACID, BORAX -> DoseKind.BORATE;
			default -> DoseKind.OTHER;
		});
	}

	@ParameterizedTest
	@EnumSource(ActiveIngredient.class)
	void aProductNeedsNoGapToItself(ActiveIngredient ingredient) {
		assertThat(NeverMix.gapMinutes(ingredient, ingredient)).isZero();
		assertThat(NeverMix.of(ingredient, ingredient).severity()).isEqualTo(NeverMix.Severity.WASTE);
	}

}
