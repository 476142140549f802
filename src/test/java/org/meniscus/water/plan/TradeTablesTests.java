package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingBounds;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.NeverMix;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;

/** The engine's defaults are those of the trade tables; every row names its source there. */
class TradeTablesTests {

	private static final double LITRES_PER_10000_GALLONS = 37854.11784;

	private static final Map<String, List<ActiveIngredient>> FAMILIES = families();

	private static Map<String, List<ActiveIngredient>> families() {
		Map<String, List<ActiveIngredient>> families = new HashMap<>();
		for (ActiveIngredient family : ActiveIngredient.values()) {
			families.put(family.name().toLowerCase(Locale.ROOT), List.of(family));
		}
		families.put("lanthanum_phosphate_remover", List.of(ActiveIngredient.LANTHANUM));
		families.put("sulfite_or_thiosulfate", List.of(ActiveIngredient.SULFITE, ActiveIngredient.THIOSULFATE));
		families.put("reducing_agent (sulfite, thiosulfate, ascorbic acid)",
				List.of(ActiveIngredient.SULFITE, ActiveIngredient.THIOSULFATE, ActiveIngredient.ASCORBIC_ACID));
		families.put("sequestrant (phosphonate)", List.of(ActiveIngredient.SEQUESTRANT));
		families.put("phosphate_or_polyphosphate_sequestrant", List.of(ActiveIngredient.SEQUESTRANT));
		families.put("clarifier same visit", List.of(ActiveIngredient.CLARIFIER));
		families.put("polyquat_or_anionic_product (soap, some clarifiers)", List.of(ActiveIngredient.POLYQUAT_ALGAECIDE));
		families.put("muriatic_acid (same bucket)", List.of(ActiveIngredient.MURIATIC_ACID));
		families.put("any oxidiser (dry)", List.of(ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.DICHLOR,
				ActiveIngredient.TRICHLOR, ActiveIngredient.MONOPERSULFATE));
		families.put("salt_or_any_chloride (dry, damp)", List.of(ActiveIngredient.SALT));
		families.put("superchlorination same day", List.of(ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.SODIUM_HYPOCHLORITE,
				ActiveIngredient.DICHLOR, ActiveIngredient.TRICHLOR));
		return families;
	}

	@TestFactory
	List<DynamicTest> everyPairOfTwoProductsIsKnownWithItsSeverityAndGap() {
		List<DynamicTest> tests = new ArrayList<>();
		for (CSVRecord row : TradeTable.rows("never-mix.csv")) {
			List<ActiveIngredient> first = FAMILIES.get(row.get("a").strip());
			List<ActiveIngredient> second = FAMILIES.get(row.get("b").strip());
			if (first == null || second == null) {
				continue;
			}
			for (ActiveIngredient a : first) {
				for (ActiveIngredient b : second) {
					tests.add(DynamicTest.dynamicTest(a + " and " + b, () -> {
						NeverMix.Pair pair = NeverMix.of(a, b);
						assertThat(pair.severity().ordinal() + 1).as("severity").isEqualTo(Integer.parseInt(row.get("severity")));
						assertThat(pair.gapMinutes()).as("gap").isEqualTo(Integer.parseInt(row.get("min_gap_in_pool_minutes")));
						assertThat(NeverMix.of(b, a)).isEqualTo(pair);
					}));
				}
			}
		}
		assertThat(tests).hasSizeGreaterThan(80);
		return tests;
	}

	@Test
	void aPairThatStandsNowhereHasTheDefaultOfTheTable() {
		CSVRecord fallback = TradeTable.rows("never-mix.csv").stream().filter(row -> row.get("a").equals("*")).findFirst().orElseThrow();
		assertThat(NeverMix.gapMinutes(ActiveIngredient.SALT, ActiveIngredient.BORAX))
			.isEqualTo(Integer.parseInt(fallback.get("min_gap_in_pool_minutes")));
		assertThat(NeverMix.of(ActiveIngredient.SALT, ActiveIngredient.BORAX).severity().ordinal() + 1)
			.isEqualTo(Integer.parseInt(fallback.get("severity")));
	}

	@TestFactory
	List<DynamicTest> everyProductOfTheTableIsKnownWithItsGapWaitAndStrength() {
		List<DynamicTest> tests = new ArrayList<>();
		for (CSVRecord row : TradeTable.rows("products.csv")) {
			tests.add(DynamicTest.dynamicTest(row.get("key"), () -> {
				ProductKind kind = kind(row.get("key"));
				assertThat(kind.gapMinutes()).isEqualTo(Integer.parseInt(row.get("gap_before_next_product_min")));
				assertThat(kind.waitHours()).isEqualTo(Double.parseDouble(row.get("wait_to_swim_hours_min")));
				assertThat(kind.pesticide()).as("pesticide").isEqualTo(row.get("us_registered_pesticide").startsWith("yes")
						|| row.get("us_registered_pesticide").startsWith("only if label"));
			}));
		}
		return tests;
	}

	/** One unit in 10,000 gal, worked out by stoichiometry, against the effect the table states for it. */
	@TestFactory
	List<DynamicTest> aUnitOfAProductDoesWhatTheTableSays() {
		double pound = 453.59237;
		double gallon = 3785.411784;
		record Effect(ProductKind kind, double amount, Level level, double says, double tolerance) {
		}
		List<Effect> effects = List.of(new Effect(ProductKind.LIQUID_CHLORINE_125, gallon, Level.FC, 12.5, 0.05),
				new Effect(ProductKind.LIQUID_CHLORINE_10, gallon, Level.FC, 10.0, 0.05),
				new Effect(ProductKind.CAL_HYPO_65, pound, Level.FC, 7.8, 0.05),
				new Effect(ProductKind.DICHLOR_56, pound, Level.FC, 6.7, 0.05),
				new Effect(ProductKind.DICHLOR_62, pound, Level.FC, 7.4, 0.05),
				new Effect(ProductKind.TRICHLOR_TAB, pound, Level.FC, 10.8, 0.05),
				new Effect(ProductKind.MURIATIC_3145, gallon, Level.TA, -50, 0.5),
				new Effect(ProductKind.MURIATIC_145, gallon, Level.TA, -21, 0.5),
				new Effect(ProductKind.DRY_ACID_93, pound, Level.TA, -4.7, 0.05),
				new Effect(ProductKind.SODA_ASH, pound, Level.TA, 11.2, 0.05),
				new Effect(ProductKind.BICARB, pound, Level.TA, 7.1, 0.05),
				new Effect(ProductKind.CAL_CHLORIDE_77, pound, Level.CH, 8.3, 0.05),
				new Effect(ProductKind.CAL_CHLORIDE_94, pound, Level.CH, 10.2, 0.05),
				new Effect(ProductKind.CYA, pound, Level.CYA, 11.9, 0.05),
				new Effect(ProductKind.SALT, pound, Level.SALT, 11.9, 0.05), new Effect(ProductKind.BORATE, pound, Level.BORATE, 2.1, 0.05),
				new Effect(ProductKind.BORAX, pound, Level.BORATE, 1.8, 0.05));
		List<DynamicTest> tests = new ArrayList<>();
		for (Effect effect : effects) {
			tests.add(DynamicTest.dynamicTest(effect.kind() + " " + effect.level(), () -> {
				Product product = Product.usual("p", effect.kind());
				double change = (effect.level() == Level.FC)
						? ProductEffects.concentration(product, effect.amount(), LITRES_PER_10000_GALLONS)
						: ProductEffects.lasting(product, effect.amount(), LITRES_PER_10000_GALLONS).getOrDefault(effect.level(), 0.0);
				assertThat(change).isCloseTo(effect.says(), within(effect.tolerance()));
			}));
		}
		return tests;
	}

	@TestFactory
	List<DynamicTest> boundsOfReadingsAreThoseOfTheTable() {
		List<ReadingBounds> bounds = new ArrayList<>(ReadingBounds.pool());
		ReadingBounds spa = ReadingBounds.of(Level.TEMPERATURE, BodyOfWater.SPA);
		assertThat(spa).isNotNull();
		bounds.add(spa);
		Map<String, CSVRecord> rows = new HashMap<>();
		TradeTable.rows("reading-bounds.csv").forEach(row -> rows.put(row.get(0), row));
		List<DynamicTest> tests = new ArrayList<>();
		for (ReadingBounds bound : bounds) {
			tests.add(DynamicTest.dynamicTest(bound.row(), () -> {
				CSVRecord row = rows.get(bound.row());
				assertThat(row).isNotNull();
				boolean heat = bound.level() == Level.TEMPERATURE;
				assertThat(fahrenheit(bound.hardMin(), heat)).isCloseTo(number(row, "hard_min"), within(1e-9));
				assertThat(fahrenheit(bound.hardMax(), heat)).isCloseTo(number(row, "hard_max"), within(1e-9));
				asks(bound.askBelow(), heat, row.get("ask_again_below"));
				asks(bound.askAbove(), heat, row.get("ask_again_above"));
				if (!heat) {
					assertThat(bound.step()).isEqualTo(Double.parseDouble(row.get("input_step").split(" ")[0]));
				}
			}));
		}
		return tests;
	}

	private static void asks(Double limit, boolean heat, String says) {
		if (says.isEmpty()) {
			assertThat(limit).isNull();
		}
		else {
			assertThat(limit).isNotNull();
			assertThat(fahrenheit(limit, heat)).isCloseTo(Double.parseDouble(says), within(1e-9));
		}
	}

	private static double number(CSVRecord row, String column) {
		return Double.parseDouble(row.get(column));
	}

	private static double fahrenheit(double value, boolean heat) {
		return heat ? value * 1.8 + 32 : value;
	}

	@Test
	void everyRowOfTheSituationsIsFollowedBySomething() {
		Set<String> followed = new HashSet<>();
		for (Situation situation : Situation.values()) {
			followed.addAll(situation.rows());
		}
		Set<String> rows = new HashSet<>();
		TradeTable.rows("situations.csv").forEach(row -> rows.add(row.get("key")));
		assertThat(followed).isEqualTo(rows);
	}

	private static ProductKind kind(String key) {
		for (ProductKind kind : ProductKind.values()) {
			if (kind != ProductKind.BORAX && kind.key().equals(key)) {
				return kind;
			}
		}
		throw new AssertionError("no kind for " + key);
	}

}
