package org.meniscus.water.chemistry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.meniscus.water.chemistry.Reference.number;
import static org.meniscus.water.chemistry.Reference.rows;

import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.meniscus.water.units.Temperature;
import org.meniscus.water.units.Volume;

/** The tables of constants and of published or derived figures, at the tolerances of the reference's README, section 5. */
class PublishedFiguresTests {

	private static final Volume TEN_THOUSAND_GALLONS = Volume.ofUsGallons(10_000);

	/** Molar masses of what only the published tables dose, out of those the engine has; H 1.008, O 15.999. */
	private static final double WATER = 2 * 1.008 + 15.999;

	private static final double SODIUM = Stoichiometry.SODIUM_CHLORIDE - Stoichiometry.CHLORINE / 2;

	private static final double DICHLOR = Stoichiometry.CYANURIC_ACID - 3 * 1.008 + SODIUM + Stoichiometry.CHLORINE;

	private static final double THIOSULFATE_PENTAHYDRATE = 2 * SODIUM + 2 * Stoichiometry.SULFATE + 10 * 1.008;

	static final double SODIUM_SULFITE = 2 * SODIUM + Stoichiometry.SULFATE - 15.999;

	private static final Percentage STOICHIOMETRY = Percentage.withPercentage(0.2);

	static Stream<Map<String, String>> constants() {
		return rows("constants").stream();
	}

	@ParameterizedTest(name = "{0}")
	@MethodSource("constants")
	void everyConstantIsItsExpressionAtEveryTemperature(Map<String, String> row) {
		int compared = 0;
		for (int celsius : List.of(5, 15, 25, 35, 40)) {
			String expected = row.get("value_" + celsius + "C");
			if (!expected.isBlank()) {
				assertThat(constant(row.get("name"), Temperature.ofCelsius(celsius))).as(row.get("name") + " at " + celsius)
					.isCloseTo(Double.parseDouble(expected), within(0.001));
				compared++;
			}
		}
		assertThat(compared).isPositive();
	}

	private static double constant(String name, Temperature at) {
		CyanurateConstants set = name.contains("set O") ? CyanurateConstants.OBRIEN : CyanurateConstants.WAHMAN;
		EquilibriumConstants constants = EquilibriumConstants.at(at, set);
		String key = name.replaceAll("[ (].*", "");
		return switch (key) {
			case "pKw" -> constants.pKw();
			case "pKH" -> constants.pKH();
			case "pK1" -> constants.pK1();
			case "pKsp" -> constants.pKCalcite();
			case "pKa" -> name.contains("boric") ? constants.pKBoricAcid() : constants.pKHypochlorousAcid();
			case "pK6" -> constants.pK6();
			case "pK7a" -> constants.pK7a();
			case "pK9a" -> constants.pK9a();
			case "log" -> name.contains("CaHCO3") ? constants.logCalciumBicarbonate()
					: name.contains("CaSO4") ? constants.logCalciumSulfate() : constants.logCalciumCarbonate();
			case "Davies" -> constants.daviesSlope();
			case "pK2" -> (set == CyanurateConstants.OBRIEN) ? ObrienConstants.PK2 : constants.pK2();
			case "pK1a" -> ObrienConstants.PK1A;
			case "pK4" -> ObrienConstants.PK4;
			case "pK8" -> ObrienConstants.PK8;
			case "pK10" -> ObrienConstants.PK10;
			case "pK12" -> ObrienConstants.PK12;
			// the redundant ones follow from cycles of the others
			case "pK5a" -> ObrienConstants.PK9A + ObrienConstants.PK4 - ObrienConstants.PK6;
			case "pK3a" -> ObrienConstants.PK7A + ObrienConstants.PK2 - ObrienConstants.PK4;
			case "pK11a" -> ObrienConstants.PK9A + ObrienConstants.PK10 - ObrienConstants.PK8;
			default -> throw new AssertionError("a constant without a check: " + name);
		};
	}

	@ParameterizedTest(name = "{0}")
	@MethodSource
	void everyProductDoseFollowsFromItsStrength(Map<String, String> row) {
		double effect = effectOf(row);
		assertThat(effect).as("effect").isCloseTo(number(row, "effect_mg_L_per_mg_L_product"), STOICHIOMETRY);
		double grams = number(row, "delta_mg_L") / effect * TEN_THOUSAND_GALLONS.litres() / 1000;
		assertThat(grams).as("g in 10,000 gal").isCloseTo(number(row, "dose_g_per_10000_US_gal"), STOICHIOMETRY);
		if (!row.get("density_g_mL").isBlank()) {
			assertThat(grams / number(row, "density_g_mL")).isCloseTo(number(row, "dose_mL_per_10000_US_gal"), STOICHIOMETRY);
		}
	}

	static Stream<Map<String, String>> everyProductDoseFollowsFromItsStrength() {
		return rows("product-doses").stream();
	}

	/** mg/L of the named effect per mg/L of product. */
	private static double effectOf(Map<String, String> row) {
		String product = row.get("product");
		if (product.startsWith("sodium hypochlorite")) {
			double percent = Double.parseDouble(product.replaceAll("[^0-9.]*([0-9.]+) .*", "$1"));
			double gramsPerLitre = product.contains("trade") ? ChlorineStrength.gramsPerLitreOfTradePercent(percent)
					: ChlorineStrength.gramsPerLitreOfWeightPercent(percent);
			return gramsPerLitre / (1000 * number(row, "density_g_mL"));
		}
		if (product.startsWith("calcium hypochlorite 65")) {
			return 0.65;
		}
		if (product.startsWith("calcium hypochlorite 73")) {
			return 0.73;
		}
		if (product.startsWith("dichlor anhydrous")) {
			return 2 * Stoichiometry.CHLORINE / DICHLOR;
		}
		if (product.startsWith("dichlor dihydrate, pure")) {
			return 2 * Stoichiometry.CHLORINE / (DICHLOR + 2 * WATER);
		}
		if (product.startsWith("dichlor dihydrate, commercial")) {
			return 0.56;
		}
		if (product.startsWith("trichlor")) {
			return 0.90;
		}
		if (product.startsWith("potassium monopersulfate")) {
			return 0.428 * Stoichiometry.CHLORINE / Stoichiometry.POTASSIUM_MONOPERSULFATE;
		}
		if (product.startsWith("muriatic")) {
			return -0.3145 * Reagent.HYDROCHLORIC_ACID.alkalinity();
		}
		if (product.startsWith("sodium bisulfate")) {
			return -0.932 * Reagent.SODIUM_BISULFATE.alkalinity();
		}
		if (product.startsWith("soda ash")) {
			return Reagent.SODIUM_CARBONATE.alkalinity();
		}
		if (product.startsWith("sodium bicarbonate")) {
			return Reagent.SODIUM_BICARBONATE.alkalinity();
		}
		if (product.startsWith("borax decahydrate")) {
			return 4 * Stoichiometry.BORON / (Stoichiometry.BORAX_PENTAHYDRATE + 5 * WATER);
		}
		if (product.startsWith("boric acid")) {
			return Stoichiometry.BORON / Stoichiometry.BORIC_ACID;
		}
		if (product.startsWith("calcium chloride")) {
			return (product.contains("97 %") ? 0.97 : 0.77) * Stoichiometry.CALCIUM_CARBONATE / Stoichiometry.CALCIUM_CHLORIDE;
		}
		if (product.contains("to sulfate")) {
			return 4 * Stoichiometry.CHLORINE / THIOSULFATE_PENTAHYDRATE;
		}
		if (product.contains("to tetrathionate")) {
			return Stoichiometry.CHLORINE / (2 * THIOSULFATE_PENTAHYDRATE);
		}
		if (product.startsWith("cyanuric acid")) {
			return Reagent.CYANURIC_ACID.cyanuricAcid();
		}
		if (product.startsWith("chlorine gas") || product.startsWith("carbon dioxide")) {
			return 1;
		}
		throw new AssertionError("a product without a check: " + product);
	}

	@ParameterizedTest(name = "{0}")
	@MethodSource
	void everyChlorineSourceLeavesWhatStoichiometrySays(Map<String, String> row) {
		String product = row.get("product");
		Water before = Water.of(7.5, 200, 300, 50, 2, 1000, 0, Temperature.ofCelsius(25));
		if (product.startsWith("potassium monopersulfate")) {
			double salt = 10 / (2 * Stoichiometry.CHLORINE) * Stoichiometry.MONOPERSULFATE_TRIPLE_SALT;
			Water spent = Dosing.addAndSpendMonopersulfate(before, salt);
			assertThat(spent.totalAlkalinity() - 200).isCloseTo(number(row, "TA_after_chlorine_spent_mg_L_CaCO3"), within(0.02));
			assertThat(spent.sulfate()).isCloseTo(number(row, "sulfate_mg_L"), STOICHIOMETRY);
			return;
		}
		Water added = Dosing.addChlorine(before, sourceOf(product), 10);
		Water spent = Dosing.spendChlorine(added, 10);
		assertThat(added.cyanuricAcid() - 50).isCloseTo(number(row, "CYA_mg_L"), within(0.01));
		assertThat(added.calciumHardness() - 300).isCloseTo(number(row, "CH_mg_L_CaCO3"), within(0.01));
		assertThat(added.totalAlkalinity() - 200).isCloseTo(number(row, "TA_at_addition_mg_L_CaCO3"), within(0.01));
		assertThat(spent.totalAlkalinity() - 200).isCloseTo(number(row, "TA_after_chlorine_spent_mg_L_CaCO3"), within(0.01));
		assertThat(spent.salt() - 1000).isCloseTo(number(row, "salt_mg_L_NaCl_after_spent"), within(0.02));
	}

	static Stream<Map<String, String>> everyChlorineSourceLeavesWhatStoichiometrySays() {
		return rows("side-effects").stream();
	}

	private static ChlorineSource sourceOf(String product) {
		if (product.contains("excess NaOH")) {
			return ChlorineSource.SODIUM_HYPOCHLORITE.withExcessCaustic(2.333 / 125);
		}
		return Map.of("sodium", ChlorineSource.SODIUM_HYPOCHLORITE, "calcium", ChlorineSource.CALCIUM_HYPOCHLORITE, "lithium",
				ChlorineSource.LITHIUM_HYPOCHLORITE, "dichlor", ChlorineSource.DICHLOR, "trichlor", ChlorineSource.TRICHLOR, "chlorine",
				ChlorineSource.CHLORINE_GAS, "salt-cell", ChlorineSource.SALT_CELL)
			.get(product.replaceAll("[ ,(].*", ""));
	}

	@Test
	void otherSideEffectsFollowFromTheReagents() {
		Map<String, Double> engine = Map.of("borax, per 10 mg/L B", 10 * Reagent.BORAX.alkalinity(), "boric acid, per 10 mg/L B",
				10 * Reagent.BORIC_ACID.alkalinity(), "calcium chloride, per 10 mg/L CH", 10 * Reagent.CALCIUM_CHLORIDE.salt(),
				"sodium bisulfate, per 10 mg/L TA drop",
				-10 * Reagent.SODIUM_BISULFATE.sulfate() / Reagent.SODIUM_BISULFATE.alkalinity(),
				"muriatic acid, per 10 mg/L TA drop", -10 * Reagent.HYDROCHLORIC_ACID.salt() / Reagent.HYDROCHLORIC_ACID.alkalinity(),
				"soda ash, per 10 mg/L TA", 10 * SODIUM / Stoichiometry.CACO3_EQUIVALENT,
				"any dechlorinator or sunlight, per 1 mg/L FC destroyed", -Stoichiometry.TA_PER_CHLORINE,
				"sodium thiosulfate to sulfate, per 1 mg/L FC destroyed", -1.5 * Stoichiometry.TA_PER_CHLORINE,
				"cyanuric acid solid, per 10 mg/L", 10 * Reagent.CYANURIC_ACID.alkalinity());
		List<Map<String, String>> rows = rows("side-effects-other");
		assertThat(rows).hasSize(engine.size());
		rows.forEach(row -> assertThat(engine.get(row.get("addition"))).as(row.get("addition"))
			.isCloseTo(number(row, "value"), within(0.0005 + 0.002 * Math.abs(number(row, "value")))));
	}

	@Test
	void tradeIndexIsReproducedAtItsNodes() {
		for (Map<String, String> row : rows("trade-index-nodes")) {
			Temperature at = Temperature.ofFahrenheit(number(row, "T_F"));
			double hardness = number(row, "CH_mg_L_CaCO3");
			double alkalinity = number(row, "carbonate_alk_mg_L_CaCO3");
			double solids = number(row, "TDS_mg_L");
			assertThat(tabledTradeIndex(number(row, "pH"), at, hardness, alkalinity, solids)).as(row.get("id"))
				.isCloseTo(number(row, "SI_from_table_nodes"), within(0.005));
			assertThat(LangelierIndex.of(number(row, "pH"), at, hardness, alkalinity, solids)).as(row.get("id"))
				.isCloseTo(number(row, "SI_with_log10_factors"), within(0.005));
		}
	}

	/** With both factors rounded to 0.1 as the tables print them. */
	static double tabledTradeIndex(double ph, Temperature at, double hardness, double alkalinity, double solids) {
		return LangelierIndex.of(ph, at, hardness, alkalinity, solids) + roundingOf(LangelierIndex.calciumFactor(hardness))
				+ roundingOf(LangelierIndex.alkalinityFactor(alkalinity));
	}

	private static double roundingOf(double factor) {
		return Math.round(factor * 10) / 10.0 - factor;
	}

	@Test
	void tradeFactorsAreThePublishedOnes() {
		int compared = 0;
		for (Map<String, String> row : rows("saturation-index-factors")) {
			String argument = row.get("argument");
			if (!argument.matches("[0-9.]+")) {
				continue;
			}
			double x = Double.parseDouble(argument);
			double published = number(row, "published_factor");
			switch (row.get("factor")) {
				case "temperature factor" ->
					assertThat(LangelierIndex.temperatureFactor(Temperature.ofFahrenheit(x))).isCloseTo(published, within(1e-9));
				case "calcium factor" -> assertThat(LangelierIndex.calciumFactor(x)).as(argument).isCloseTo(published, within(0.0501));
				case "alkalinity factor" ->
					assertThat(LangelierIndex.alkalinityFactor(x)).as(argument).isCloseTo(published, within(0.0501));
				case "CYA correction factor" ->
					assertThat(LangelierIndex.stabilizerFactor(x)).as(argument).isCloseTo(published, within(0.0125));
				default -> {
					continue;
				}
			}
			compared++;
		}
		assertThat(compared).isGreaterThan(35);
	}

	/** The table begins at 32 and ends at 128 °F; the constant changes at 1,000 mg/L (Montana Administrative Rules 37.115, table 7). */
	@Test
	void tradeFactorsAreHeldBeyondTheirTable() {
		assertThat(LangelierIndex.temperatureFactor(Temperature.ofFahrenheit(10))).isZero();
		assertThat(LangelierIndex.temperatureFactor(Temperature.ofFahrenheit(140))).isEqualTo(1.0);
		double at999 = LangelierIndex.of(7.5, Temperature.ofFahrenheit(84), 125, 150, 999);
		assertThat(LangelierIndex.of(7.5, Temperature.ofFahrenheit(84), 125, 150, 1000)).isCloseTo(at999 - 0.1, within(1e-9));
	}

	@Test
	void sulfatePairsWithCalcium() {
		for (Map<String, String> row : rows("sensitivity-sulfate")) {
			Water water = Water.of(7.6, 100, 300, 0, 0, 1500, 0, Temperature.ofCelsius(27)).withSulfate(number(row, "sulfate_mg_L"));
			assertThat(Speciation.of(water).calciteSaturationIndex()).isCloseTo(number(row, "SI_calcite_reference_with_CaSO4_pair"),
					within(0.01));
		}
	}

	/** The physical spread between whole geochemical databases that the pages speak of: not a tolerance of the engine. */
	@Test
	void fullDatabasesStayWithinTheStatedSpread() {
		Map<String, Map<String, String>> waters = rows("grid-speciation-si").stream()
			.collect(java.util.stream.Collectors.toMap(row -> row.get("id"), row -> row));
		for (Map<String, String> row : rows("model-spread")) {
			Map<String, String> grid = waters.get(row.get("id"));
			Water water = Water.of(number(grid, "pH"), number(grid, "TA_mg_L_CaCO3"), number(grid, "CH_mg_L_CaCO3"),
					number(grid, "CYA_mg_L"),
					number(grid, "FC_mg_L_Cl2"), number(grid, "chloride_as_salt_mg_L_NaCl"), number(grid, "borate_mg_L_B"),
					Temperature.ofCelsius(number(grid, "T_C")));
			double index = Speciation.of(water).calciteSaturationIndex();
			assertThat(index).as(row.get("id")).isCloseTo(number(row, "SI_full_WATEQ4F_database"), within(0.016 + 0.01));
			assertThat(index).as(row.get("id")).isCloseTo(number(row, "SI_full_PHREEQC_database"), within(0.055 + 0.01));
		}
	}

	@Test
	void evaporationFollowsTheFormula() {
		for (Map<String, String> row : rows("evaporation")) {
			Temperature water = Temperature.ofCelsius(number(row, "water_T_C"));
			Temperature air = Temperature.ofCelsius(number(row, "air_T_C"));
			assertThat(Evaporation.perHour(water, air, number(row, "relative_humidity"), number(row, "wind_m_s")))
				.isCloseTo(number(row, "evaporation_kg_m2_h"), STOICHIOMETRY);
			assertThat(Evaporation.vapourPressure(water)).isCloseTo(number(row, "pw_kPa"), STOICHIOMETRY);
			assertThat(Evaporation.latentHeat(water)).isCloseTo(number(row, "latent_heat_kJ_kg"), STOICHIOMETRY);
		}
	}

	@Test
	void dilutionFollowsMixing() {
		for (Map<String, String> row : rows("dilution")) {
			double start = number(row, "C_start_mg_L");
			double fill = number(row, "C_fill_mg_L");
			double fraction = number(row, "fraction_to_drain_once");
			assertThat(mixed(start, fill, fraction)).isCloseTo(number(row, "C_target_mg_L"), STOICHIOMETRY);
			double once = mixed(start, fill, 0.25);
			assertThat(once).isCloseTo(number(row, "C_after_one_25pct_drain"), STOICHIOMETRY);
			assertThat(mixed(once, fill, 0.25)).isCloseTo(number(row, "C_after_two_25pct_drains"), STOICHIOMETRY);
		}
	}

	/** Hardness of a pool after a drain and refill. */
	private static double mixed(double pool, double fill, double fraction) {
		Water before = Water.of(7.5, 100, pool, 0, 1, 1000, 0, Temperature.ofCelsius(25));
		Water filling = Water.of(7.5, 100, fill, 0, 0, 100, 0, Temperature.ofCelsius(25));
		return Dosing.replace(before, filling, fraction).calciumHardness();
	}

	@Test
	void breakpointFiguresAreStoichiometry() {
		Map<String, Double> engine = Map.of("ammonia to nitrogen gas, stoichiometric", Breakpoint.CHLORINE_PER_AMMONIA_NITROGEN,
				"monochloramine formed", Breakpoint.CHLORINE_PER_AMMONIA_NITROGEN / 1.5, "monochloramine to nitrogen gas",
				Breakpoint.FREE_PER_COMBINED,
				"monopersulfate to oxidise monochloramine", Breakpoint.MONOPERSULFATE_PER_COMBINED,
				"monopersulfate to oxidise monochloramine, commercial triple salt 42.8 % KHSO5",
				Breakpoint.MONOPERSULFATE_PER_COMBINED / 0.428,
				"monopersulfate, ammonia to nitrogen gas, commercial",
				Breakpoint.CHLORINE_PER_AMMONIA_NITROGEN * Breakpoint.MONOPERSULFATE_PER_COMBINED / Breakpoint.FREE_PER_COMBINED / 0.428,
				"urea to nitrogen and CO2", Breakpoint.CHLORINE_PER_AMMONIA_NITROGEN);
		long compared = rows("breakpoint").stream().filter(row -> engine.containsKey(row.get("item")))
			.peek(row -> assertThat(engine.get(row.get("item")))
				.as(row.get("item")).isCloseTo(number(row, "value"), STOICHIOMETRY))
			.count();
		assertThat(compared).isEqualTo(engine.size());
	}

}
