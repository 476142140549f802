package org.meniscus.water.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingBounds;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.NeverMix;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;

/** The engine's defaults are those of the trade tables; every row names its source there. */
class TradeTablesTests {

	private static final double LITRES_PER_10000_GALLONS = 37854.11784;

	private static final Map<String, List<ActiveIngredient>> INGREDIENTS = ingredients();

	private static Map<String, List<ActiveIngredient>> ingredients() {
		Map<String, List<ActiveIngredient>> ingredients = new HashMap<>();
		for (ActiveIngredient ingredient : ActiveIngredient.values()) {
			ingredients.put(ingredient.name().toLowerCase(Locale.ROOT), List.of(ingredient));
		}
		ingredients.put("lanthanum_phosphate_remover", List.of(ActiveIngredient.LANTHANUM));
		ingredients.put("sulfite_or_thiosulfate", List.of(ActiveIngredient.SULFITE, ActiveIngredient.THIOSULFATE));
		ingredients.put("reducing_agent (sulfite, thiosulfate, ascorbic acid)",
				List.of(ActiveIngredient.SULFITE, ActiveIngredient.THIOSULFATE, ActiveIngredient.ASCORBIC_ACID));
		ingredients.put("sequestrant (phosphonate)", List.of(ActiveIngredient.SEQUESTRANT));
		ingredients.put("phosphate_or_polyphosphate_sequestrant", List.of(ActiveIngredient.SEQUESTRANT));
		ingredients.put("clarifier same visit", List.of(ActiveIngredient.CLARIFIER));
		ingredients.put("polyquat_or_anionic_product (soap, some clarifiers)", List.of(ActiveIngredient.POLYQUAT_ALGAECIDE));
		ingredients.put("muriatic_acid (same bucket)", List.of(ActiveIngredient.MURIATIC_ACID));
		ingredients.put("any oxidiser (dry)", List.of(ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.DICHLOR,
				ActiveIngredient.TRICHLOR, ActiveIngredient.MONOPERSULFATE));
		ingredients.put("salt_or_any_chloride (dry, damp)", List.of(ActiveIngredient.SALT));
		ingredients.put("superchlorination same day", List.of(ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.SODIUM_HYPOCHLORITE,
				ActiveIngredient.DICHLOR, ActiveIngredient.TRICHLOR));
		return ingredients;
	}

	@TestFactory
	List<DynamicTest> everyPairOfTwoProductsIsKnownWithItsSeverityAndGap() {
		List<DynamicTest> tests = new ArrayList<>();
		for (CSVRecord row : TradeTable.rows("never-mix.csv")) {
			List<ActiveIngredient> first = INGREDIENTS.get(row.get("a").strip());
			List<ActiveIngredient> second = INGREDIENTS.get(row.get("b").strip());
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
				double unit = switch (row.get("price_per")) {
					case "gal" -> 3785.411784;
					case "qt" -> 3785.411784 / 4;
					case "lb" -> 453.59237;
					case "2 lb" -> 2 * 453.59237;
					case "40 lb bag" -> 40 * 453.59237;
					default -> 0;
				};
				if (unit > 0) {
					assertThat(kind.pricedAmount()).as("priced by").isCloseTo(unit, within(1e-6));
					assertThat(kind.priceLowCents()).isEqualTo((int) Math.round(100 * number(row, "price_usd_low")));
					assertThat(kind.priceHighCents()).isEqualTo((int) Math.round(100 * number(row, "price_usd_high")));
				}
			}));
		}
		return tests;
	}

	/** A cell without a plain range of figures is left to the label, and so is the kind then. */
	@TestFactory
	List<DynamicTest> everyProductHasTheStrengthDensityAndMaximumOfTheTable() {
		List<DynamicTest> tests = new ArrayList<>();
		for (CSVRecord row : TradeTable.rows("products.csv")) {
			ProductKind kind = kind(row.get("key"));
			tests.add(DynamicTest.dynamicTest(row.get("key"), () -> {
				String density = row.get("density_or_bulk_kg_per_L");
				assertThat(rangesIn(density)).as("density %s", density)
					.anyMatch(range -> kind.density() >= range[0] - 1e-9 && kind.density() <= range[1] + 1e-9);
				Matcher most = Pattern.compile("([0-9.]+) (lb|fl oz)").matcher(row.get("max_per_addition_per_10000_gal"));
				if (most.find()) {
					double unit = most.group(2).equals("lb") ? 453.59237 : 29.5735295625;
					assertThat(kind.mostPerLitre()).as("most").isNotNull();
					assertThat(kind.mostPerLitre() * LITRES_PER_10000_GALLONS).isCloseTo(Double.parseDouble(most.group(1)) * unit,
							within(1e-6));
				}
				else {
					assertThat(kind.mostPerLitre()).isNull();
				}
				String purity = row.get("available_chlorine_or_purity_pct_w");
				if (purity.matches("[0-9.]+(-[0-9.]+)?")) {
					double[] range = rangesIn(purity).get(0);
					assertThat(weightPercent(kind)).isBetween(range[0] - halfOfTheLastDigit(purity.replaceAll("-.*", "")),
							range[1] + halfOfTheLastDigit(purity.replaceAll(".*-", "")));
				}
			}));
		}
		assertThat(tests).hasSize(ProductKind.values().length - 1);
		return tests;
	}

	/** Per cent by weight; of chlorine what is available: trade per cent over the density, 70.90 of 74.44 g by weight. */
	private static double weightPercent(ProductKind kind) {
		double percent = 100 * Objects.requireNonNull(kind.strength());
		return switch (kind.basis()) {
			case TRADE -> percent / kind.density();
			case WEIGHT -> percent * 70.90 / 74.44;
			case PURITY -> percent;
		};
	}

	private static List<double[]> rangesIn(String cell) {
		List<double[]> ranges = new ArrayList<>();
		Matcher range = Pattern.compile("([0-9.]+)(?:-([0-9.]+))?").matcher(cell);
		while (range.find()) {
			double low = Double.parseDouble(range.group(1));
			ranges.add(new double[]{ low, (range.group(2) != null) ? Double.parseDouble(range.group(2)) : low });
		}
		return ranges;
	}

	/** Column surfaces_or_pools_avoid: "unless pre-dissolved" asks to dissolve, without it the surface is left alone. */
	@Test
	void surfacesOfTheTableAreKeptFromDamage() {
		for (CSVRecord row : TradeTable.rows("products.csv")) {
			String avoid = row.get("surfaces_or_pools_avoid").split(";")[0];
			ProductKind kind = kind(row.get("key"));
			boolean bleaches = avoid.matches("vinyl.*painted.*") || avoid.startsWith("as 65 %");
			// Dichlor: table situations.csv, row vinyl, "dissolved dichlor"; its row here names no surface.
			boolean dissolves = avoid.contains("unless pre-dissolved") || avoid.startsWith("as 65 %")
					|| kind.ingredient() == ActiveIngredient.DICHLOR;
			assertThat(kind.avoid().contains(Surface.VINYL)).as(row.get("key")).isEqualTo(bleaches && !dissolves);
			assertThat(kind.avoid().contains(Surface.PAINTED)).as(row.get("key")).isEqualTo(bleaches && !dissolves);
			for (Surface surface : List.of(Surface.VINYL, Surface.PAINTED)) {
				PoolFacts pool = Pools.of(15_000, BodyOfWater.POOL, surface, false, Sanitizer.CHLORINE_BY_HAND);
				assertThat(kind.isDissolvedFirst(pool, Situation.ROUTINE)).as(row.get("key")).isEqualTo(dissolves);
			}
		}
	}

	/**
	 * One unit in 10,000 gal, worked out by stoichiometry, against the columns of the table: the effect of a unit to half of its last
	 * digit, and what comes along with each ppm of chlorine. A cell that is no plain number names no effect that can be worked out.
	 */
	@TestFactory
	List<DynamicTest> aUnitOfAProductDoesWhatTheTableSays() {
		List<DynamicTest> tests = new ArrayList<>();
		for (CSVRecord row : TradeTable.rows("products.csv")) {
			Matcher effect = Pattern.compile("([+-]?[0-9.]+)( [A-Za-z]+)?( \\(.*)?").matcher(row.get("effect_per_unit_in_10000_gal"));
			Matcher unit = Pattern.compile("ppm (?:(FC|TA|CH|CYA|boron) )?per (lb|US gal).*").matcher(row.get("effect_unit"));
			if (!effect.matches() || !unit.matches()) {
				continue;
			}
			String name = (unit.group(1) != null) ? unit.group(1) : effect.group(2).strip().toUpperCase(Locale.ROOT);
			Level level = name.equals("boron") ? Level.BORATE : Level.valueOf(name);
			double amount = unit.group(2).equals("lb") ? 453.59237 : 3785.411784;
			tests.add(DynamicTest.dynamicTest(row.get("key") + " " + level, () -> {
				Product product = Product.usual("p", kind(row.get("key")));
				double change = (level == Level.FC) ? ProductEffects.concentration(product, amount, LITRES_PER_10000_GALLONS)
						: lasting(product, amount, level);
				assertThat(change).isCloseTo(Double.parseDouble(effect.group(1)), within(halfOfTheLastDigit(effect.group(1))));
				if (level == Level.FC) {
					perChlorine(product, change, Level.CYA, row.get("CYA_ppm_per_ppm_FC"), amount);
					perChlorine(product, change, Level.SALT, row.get("salt_ppm_per_ppm_FC"), amount);
				}
			}));
		}
		assertThat(tests).extracting(DynamicTest::getDisplayName)
			.contains("liquid_chlorine_125 FC", "cal_hypo_65 FC", "trichlor_tab FC", "muriatic_3145 TA", "cal_chloride_77 CH", "cya CYA",
					"salt SALT", "borate BORATE")
			.hasSize(18);
		return tests;
	}

	private static void perChlorine(Product product, double chlorine, Level level, String says, double amount) {
		if (says.matches("[0-9.]+")) {
			assertThat(lasting(product, amount, level) / chlorine).as(level.name())
				.isCloseTo(Double.parseDouble(says), within(halfOfTheLastDigit(says)));
		}
	}

	private static double lasting(Product product, double amount, Level level) {
		return ProductEffects.lasting(product, amount, LITRES_PER_10000_GALLONS).getOrDefault(level, 0.0);
	}

	private static double halfOfTheLastDigit(String number) {
		int point = number.indexOf('.');
		return 0.5 * Math.pow(10, (point < 0) ? 0 : point + 1 - number.length()) + 1e-9;
	}

	/** Ammonia and manganese have no row; their bounds are from memory. */
	@TestFactory
	List<DynamicTest> boundsOfReadingsAreThoseOfTheTable() {
		List<ReadingBounds> bounds = Stream.concat(
				Stream.of(Level.values()).map(level -> ReadingBounds.of(level, BodyOfWater.POOL)).filter(Objects::nonNull)
					.filter(bound -> bound.level() != Level.AMMONIA && bound.level() != Level.MANGANESE),
				Stream.of(ReadingBounds.of(Level.TEMPERATURE, BodyOfWater.SPA)))
			.toList();
		assertThat(bounds).doesNotContainNull().hasSize(16);
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
			// borax shares the row of boric acid
			if (kind != ProductKind.BORAX && kind.name().equalsIgnoreCase(key)) {
				return kind;
			}
		}
		throw new AssertionError("no kind for " + key);
	}

}
