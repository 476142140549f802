package org.meniscus.tools;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.UnaryOperator;

import org.meniscus.water.chemistry.ChlorineSource;
import org.meniscus.water.chemistry.CyanurateConstants;
import org.meniscus.water.chemistry.Cyanurates;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.EquilibriumConstants;
import org.meniscus.water.chemistry.Reagent;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.units.Temperature;

/** A kind of table of waters: the columns it is known by, the columns it answers, and how. */
enum ReferenceTable {

	SPECIATION("grid-speciation-si", Set.of("pH", "TA_mg_L_CaCO3", "CH_mg_L_CaCO3", "chloride_as_salt_mg_L_NaCl"), List.of("sodium_mmol_kg",
			"ionic_strength_mol_kg", "HOCl_mg_L_Cl2", "OCl_mg_L_Cl2", "HClCy_mg_L_Cl2", "Cl2Cy_mg_L_Cl2",
			"cyanurate_alk_mg_L_CaCO3", "borate_alk_mg_L_CaCO3", "carbonate_alk_mg_L_CaCO3", "CT_inorganic_mmol_kg",
			"CO2aq_mg_L", "log10_pCO2_atm", "SI_calcite")) {

		@Override
		Map<String, String> compute(Map<String, String> row) {
			Water water = water(row, "pH");
			Speciation at = Speciation.of(water);
			return results(this, water.sodium(), at.ionicStrength(), at.hocl(), at.ocl(), at.hClCy(), at.cl2Cy(),
					at.cyanurateAlkalinity(), at.borateAlkalinity(), at.carbonateAlkalinity(), at.totalInorganicCarbon(),
					at.carbonDioxide(), at.log10CarbonDioxidePressure(), at.calciteSaturationIndex());
		}

	},

	TEN_SPECIES("cyanurate-ten-species-25C", Set.of("pH", "CYA_mg_L", "FC_mg_L_Cl2"), List.of("HOCl_ideal_mg_L_Cl2", "OCl_ideal_mg_L_Cl2",
			"HClCy_ideal_mg_L_Cl2", "Cl2Cy_ideal_mg_L_Cl2", "ClCy_ideal_mg_L_Cl2",
			"H2ClCy_ideal_mg_L_Cl2", "HCl2Cy_ideal_mg_L_Cl2", "Cl3Cy_ideal_mg_L_Cl2", "ionic_strength_davies_mol_kg",
			"HOCl_davies_mg_L_Cl2", "OCl_davies_mg_L_Cl2")) {

		@Override
		Map<String, String> compute(Map<String, String> row) {
			double celsius = row.getOrDefault("T_C", "").isBlank() ? 25 : number(row, "T_C");
			EquilibriumConstants constants = EquilibriumConstants.at(Temperature.ofCelsius(celsius), CyanurateConstants.OBRIEN);
			double ph = number(row, "pH");
			double cya = number(row, "CYA_mg_L");
			double fc = number(row, "FC_mg_L_Cl2");
			Cyanurates ideal = Cyanurates.of(ph, cya, fc, constants, 0);
			double strength = Cyanurates.ionicStrength(ph, cya, fc, constants, TEN_SPECIES_NACL);
			Cyanurates davies = Cyanurates.of(ph, cya, fc, constants, strength);
			return results(this, ideal.hocl(), ideal.ocl(), ideal.hClCy(), ideal.cl2Cy(), ideal.clCy(), ideal.h2ClCy(), ideal.hCl2Cy(),
					ideal.cl3Cy(), strength, davies.hocl(), davies.ocl());
		}

	},

	DOSE_TO_PH("dosing-forward", Set.of("pH_before", "reagent", "dose"), List.of("pH_after", "TA_after_mg_L_CaCO3", "SI_calcite_after",
			"CT_after_mmol_kg", "pH_after_set_O")) {

		@Override
		Map<String, String> compute(Map<String, String> row) {
			Water before = water(row, "pH_before");
			Reagent reagent = reagent(Objects.requireNonNull(row.get("reagent")));
			boolean pure = row.getOrDefault("dose_unit", "").contains("pure");
			double dose = number(row, "dose") * (pure ? dosedPerPure(reagent) : 1);
			Water after = Dosing.add(before, reagent, dose);
			Speciation at = Speciation.of(after);
			Map<String, String> answers = results(this, after.ph(), after.totalAlkalinity(), at.calciteSaturationIndex(),
					at.totalInorganicCarbon());
			answers.put("pH_after_set_O",
					hasCyanurate(after) ? text(Dosing.add(before, reagent, dose, CyanurateConstants.OBRIEN).ph()) : "");
			return answers;
		}

	},

	PH_TO_DOSE("dosing-inverse", Set.of("pH_before", "reagent", "pH_target"), List.of("dose_mmol_kg", "dose_mg_L_pure_reagent",
			"TA_after_mg_L_CaCO3", "SI_calcite_after", "dose_set_O_mg_L")) {

		@Override
		Map<String, String> compute(Map<String, String> row) {
			Water before = water(row, "pH_before");
			Reagent reagent = reagent(Objects.requireNonNull(row.get("reagent")));
			double target = number(row, "pH_target");
			double dose = doseForPh(before, reagent, target, CyanurateConstants.WAHMAN);
			Water after = Dosing.add(before, reagent, dose);
			double pure = dosedPerPure(reagent);
			Map<String, String> answers = results(this, dose / molarMass(reagent), dose / pure, after.totalAlkalinity(),
					Speciation.of(after).calciteSaturationIndex());
			answers.put("dose_set_O_mg_L",
					hasCyanurate(after) ? text(doseForPh(before, reagent, target, CyanurateConstants.OBRIEN) / pure) : "");
			return answers;
		}

	},

	CHLORINE_PRODUCTS("chlorine-products-ph", Set.of("pH_before", "product", "dose_mg_L_Cl2_equiv"), List.of("pH_after_addition",
			"TA_after_addition_mg_L_CaCO3", "HOCl_after_addition_mg_L_Cl2", "SI_calcite_after_addition",
			"pH_after_consumed", "TA_after_consumed_mg_L_CaCO3")) {

		@Override
		Map<String, String> compute(Map<String, String> row) {
			Water before = water(row, "pH_before");
			double dose = number(row, "dose_mg_L_Cl2_equiv");
			String product = Objects.requireNonNull(row.get("product")).toLowerCase(Locale.ROOT);
			if (product.contains("monopersulfate")) {
				Water spent = Dosing.addAndSpendMonopersulfate(before, dose);
				Map<String, String> answers = new LinkedHashMap<>();
				answers.put("pH_after_consumed", text(spent.ph()));
				answers.put("TA_after_consumed_mg_L_CaCO3", text(spent.totalAlkalinity()));
				return answers;
			}
			Water added = Dosing.addChlorine(before, source(product), dose);
			Water spent = Dosing.spendChlorine(added, dose);
			Speciation at = Speciation.of(added);
			return results(this, added.ph(), added.totalAlkalinity(), at.hocl(), at.calciteSaturationIndex(), spent.ph(),
					spent.totalAlkalinity());
		}

	},

	CARBON_DIOXIDE("co2", Set.of("case", "pH_before", "pCO2_ppm_by_volume_at_1_atm", "CO2_removed_mg_L"), List.of("pH_after",
			"CO2_lost_mg_L", "SI_calcite_after")) {

		@Override
		Map<String, String> compute(Map<String, String> row) {
			Water before = water(row, "pH_before");
			String air = row.getOrDefault("pCO2_ppm_by_volume_at_1_atm", "");
			if (!air.isBlank()) {
				Dosing.Exchanged open = Dosing.equilibrateWithAir(before, number(row, "pCO2_ppm_by_volume_at_1_atm") * 1e-6);
				return results(this, open.water().ph(), open.carbonDioxideLost(), Speciation.of(open.water()).calciteSaturationIndex());
			}
			double lost = number(row, "CO2_removed_mg_L");
			Water after = Dosing.loseCarbonDioxide(before, lost);
			return results(this, after.ph(), lost, Speciation.of(after).calciteSaturationIndex());
		}

	},

	MIXING("mixing-drain-refill", Set.of("pH_before", "fill_pH", "fraction_replaced"), List.of("pH_after", "TA_after_mg_L_CaCO3",
			"CH_after_mg_L_CaCO3", "CYA_after_mg_L", "salt_after_mg_L_NaCl",
			"borate_after_mg_L_B", "SI_calcite_after")) {

		@Override
		Map<String, String> compute(Map<String, String> row) {
			Water pool = water(row, "pH_before");
			Water fill = Water.of(number(row, "fill_pH"), number(row, "fill_TA_mg_L_CaCO3"), number(row, "fill_CH_mg_L_CaCO3"),
					orZero(row, "fill_CYA_mg_L"), orZero(row, "fill_FC_mg_L_Cl2"), orZero(row, "fill_chloride_as_salt_mg_L_NaCl"),
					orZero(row, "fill_borate_mg_L_B"), pool.temperature());
			Water after = Dosing.replace(pool, fill, number(row, "fraction_replaced"));
			return results(this, after.ph(), after.totalAlkalinity(), after.calciumHardness(), after.cyanuricAcid(), after.salt(),
					after.borate(), Speciation.of(after).calciteSaturationIndex());
		}

	},

	PRECIPITATION("ccpp", Set.of("pH_before", "CCPP_mg_L_CaCO3_precipitated"), List.of("SI_calcite", "CCPP_mg_L_CaCO3_precipitated",
			"pH_after")) {

		@Override
		Map<String, String> compute(Map<String, String> row) {
			Water before = water(row, "pH_before");
			Dosing.Precipitation fallen = Dosing.carbonatePrecipitationPotential(before);
			return results(this, Speciation.of(before).calciteSaturationIndex(), fallen.calciumCarbonate(), fallen.water().ph());
		}

	};

	/** Salt of the published ten-species solutions with Davies activities: 0.017 mol/kg NaCl. */
	private static final double TEN_SPECIES_NACL = 0.017 * 58440;

	/** Excess caustic of commercial liquid chlorine in the published rows: 0.2 % by weight is 2.333 g/L beside 125 g/L chlorine. */
	private static final double EXCESS_CAUSTIC = 2.333 / 125;

	private final String table;

	private final Set<String> identifyingColumns;

	private final List<String> resultColumns;

	ReferenceTable(String table, Set<String> known, List<String> answers) {
		this.table = table;
		this.identifyingColumns = known;
		this.resultColumns = answers;
	}

	/** The most particular kind whose columns are all there. @throws IllegalArgumentException when none fits */
	static ReferenceTable ofColumns(Set<String> columns) {
		for (ReferenceTable table : List.of(MIXING, PRECIPITATION, CARBON_DIOXIDE, CHLORINE_PRODUCTS, PH_TO_DOSE, DOSE_TO_PH, SPECIATION,
				TEN_SPECIES)) {
			if (columns.containsAll(table.identifyingColumns)) {
				return table;
			}
		}
		throw new IllegalArgumentException("not a table of waters that is known; its columns are " + String.join(", ", columns));
	}

	abstract Map<String, String> compute(Map<String, String> row);

	List<String> resultColumns() {
		return resultColumns;
	}

	String tableName() {
		return table;
	}

	private static Map<String, String> results(ReferenceTable table, double... values) {
		Map<String, String> answers = new LinkedHashMap<>();
		for (int i = 0; i < values.length; i++) {
			answers.put(table.resultColumns.get(i), text(values[i]));
		}
		return answers;
	}

	private static Water water(Map<String, String> row, String ph) {
		return new Water(number(row, ph), number(row, "TA_mg_L_CaCO3"), number(row, "CH_mg_L_CaCO3"), orZero(row, "CYA_mg_L"),
				orZero(row, "FC_mg_L_Cl2"), orZero(row, "chloride_as_salt_mg_L_NaCl"), orZero(row, "borate_mg_L_B"),
				orZero(row, "sulfate_mg_L"), Temperature.ofCelsius(number(row, "T_C")));
	}

	private static boolean hasCyanurate(Water water) {
		return water.cyanuricAcid() > 0;
	}

	private static double orZero(Map<String, String> row, String column) {
		return row.getOrDefault(column, "").isBlank() ? 0 : number(row, column);
	}

	private static double number(Map<String, String> row, String column) {
		String text = row.getOrDefault(column, "");
		try {
			return Double.parseDouble(text);
		}
		catch (NumberFormatException ex) {
			throw new IllegalArgumentException(text.isBlank() ? column + " is empty" : column + " is not a number: " + text);
		}
	}

	private static String text(double value) {
		if (Double.isNaN(value) || Double.isInfinite(value)) {
			return "";
		}
		return (value == 0) ? "0" : new BigDecimal(value).round(new MathContext(8)).stripTrailingZeros().toPlainString();
	}

	private static double doseForPh(Water water, Reagent reagent, double target, CyanurateConstants constants) {
		return Dosing.doseForPh(water, reagent, target, constants)
			.orElseThrow(() -> new IllegalArgumentException("no dose of " + reagent + " brings pH " + water.ph() + " to " + target));
	}

	private static Reagent reagent(String name) {
		String key = name.strip().toLowerCase(Locale.ROOT).replaceAll("\\s*\\(.*\\)", "");
		return switch (key) {
			case "hcl", "hydrochloric acid", "muriatic acid" -> Reagent.HYDROCHLORIC_ACID;
			case "nahso4", "sodium bisulfate" -> Reagent.SODIUM_BISULFATE;
			case "na2co3", "soda ash", "sodium carbonate" -> Reagent.SODIUM_CARBONATE;
			case "nahco3", "sodium bicarbonate" -> Reagent.SODIUM_BICARBONATE;
			case "naoh", "sodium hydroxide" -> Reagent.SODIUM_HYDROXIDE;
			case "na2b4o7", "borax", "sodium tetraborate" -> Reagent.BORAX;
			case "h3bo3", "b(oh)3", "boric acid" -> Reagent.BORIC_ACID;
			case "cya", "h3cy", "cyanuric acid" -> Reagent.CYANURIC_ACID;
			case "co2", "carbon dioxide" -> Reagent.CARBON_DIOXIDE;
			case "cacl2", "calcium chloride" -> Reagent.CALCIUM_CHLORIDE;
			case "nacl", "salt", "sodium chloride" -> Reagent.SODIUM_CHLORIDE;
			default -> throw new IllegalArgumentException("no such reagent: " + name);
		};
	}

	/** What turns a dose of the reagent, in its own unit, into mmol. */
	private static double molarMass(Reagent reagent) {
		return switch (reagent) {
			case HYDROCHLORIC_ACID -> 36.458;
			case SODIUM_BISULFATE -> 120.054;
			case SODIUM_CARBONATE -> 105.988;
			case SODIUM_BICARBONATE -> 84.006;
			case SODIUM_HYDROXIDE -> 39.997;
			case BORAX -> 4 * 10.81;
			case BORIC_ACID -> 10.81;
			case CYANURIC_ACID -> 129.075;
			case CARBON_DIOXIDE -> 44.009;
			case CALCIUM_CHLORIDE -> 100.086;
			case SODIUM_CHLORIDE -> 58.44;
		};
	}

	/** The reagent's own unit of dose (boron, hardness as CaCO3) in 1 mg/L of the pure substance. */
	private static double dosedPerPure(Reagent reagent) {
		return switch (reagent) {
			// 2 x 22.990 + 4 x 10.81 + 7 x 15.999
			case BORAX -> molarMass(reagent) / 201.213;
			case BORIC_ACID -> molarMass(reagent) / 61.831;
			case CALCIUM_CHLORIDE -> molarMass(reagent) / 110.978;
			default -> 1;
		};
	}

	private static ChlorineSource source(String product) {
		UnaryOperator<ChlorineSource> caustic = source -> product.contains("excess naoh") && !product.contains("no excess")
				? source.withExcessCaustic(EXCESS_CAUSTIC) : source;
		if (product.startsWith("sodium hypochlorite") || product.startsWith("liquid chlorine")) {
			return caustic.apply(ChlorineSource.SODIUM_HYPOCHLORITE);
		}
		if (product.startsWith("calcium hypochlorite")) {
			return ChlorineSource.CALCIUM_HYPOCHLORITE;
		}
		if (product.startsWith("lithium hypochlorite")) {
			return ChlorineSource.LITHIUM_HYPOCHLORITE;
		}
		if (product.startsWith("dichlor") || product.startsWith("sodium dichlor")) {
			return ChlorineSource.DICHLOR;
		}
		if (product.startsWith("trichlor")) {
			return ChlorineSource.TRICHLOR;
		}
		if (product.startsWith("chlorine gas")) {
			return ChlorineSource.CHLORINE_GAS;
		}
		if (product.startsWith("salt cell") || product.startsWith("salt-cell")) {
			return ChlorineSource.SALT_CELL;
		}
		throw new IllegalArgumentException("no such chlorine product: " + product);
	}

}
