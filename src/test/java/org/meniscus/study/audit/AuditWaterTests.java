package org.meniscus.study.audit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;

/** The checker's own equilibrium against the published rows: {@code src/test/resources/reference}, tolerances of its section 5. */
class AuditWaterTests {

	/** TA in ppm and carbon in mol/L for each ppm of pure reagent: reference, section 2.7. */
	private static final Map<String, double[]> REAGENTS = Map.of("HCl", new double[]{ -1.3726, 0, 58.44 / 36.458, 0 }, "Na2CO3",
			new double[]{ 0.94431, 1 / 105_988.0, 0, 0 }, "NaHCO3", new double[]{ 0.59571, 1 / 84_006.0, 0, 0 });

	private static List<Map<String, String>> rows(String table) {
		try (CSVParser parser = CSVParser.parse(Path.of("src/test/resources/reference/" + table + ".csv"), StandardCharsets.UTF_8,
				CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get())) {
			return parser.stream().map(CSVRecord::toMap).toList();
		}
		catch (IOException ex) {
			throw new IllegalStateException(ex);
		}
	}

	private static double number(Map<String, String> row, String column) {
		return Double.parseDouble(row.get(column));
	}

	private static AuditWater water(Map<String, String> row, String ph) {
		return AuditWater.ofPh(number(row, ph), number(row, "TA_mg_L_CaCO3"), number(row, "CH_mg_L_CaCO3"), number(row, "CYA_mg_L"),
				number(row, "FC_mg_L_Cl2"), number(row, "chloride_as_salt_mg_L_NaCl"), number(row, "borate_mg_L_B"), number(row, "T_C"));
	}

	@Test
	void saturationIndexIsThatOfThePublishedGrid() {
		List<Map<String, String>> rows = rows("grid-speciation-si");
		assertThat(rows).hasSizeGreaterThan(100).allSatisfy(row -> {
			AuditWater water = water(row, "pH");
			assertThat(water.saturationIndex()).as(row.get("id")).isCloseTo(number(row, "SI_calcite"), within(0.01));
			assertThat(water.ph()).as(row.get("id")).isCloseTo(number(row, "pH"), within(0.001));
		});
	}

	@Test
	void acidAndAlkaliMoveThePhAsPublished() {
		Stream<Map<String, String>> rows = rows("dosing-forward").stream().filter(row -> REAGENTS.containsKey(row.get("reagent")));
		assertThat(rows.toList()).hasSizeGreaterThan(15).allSatisfy(row -> {
			double[] effect = REAGENTS.get(row.get("reagent"));
			double dose = number(row, "dose");
			AuditWater after = water(row, "pH_before").plus(effect[1] * dose, effect[0] * dose, 0, 0, 0, effect[2] * dose, 0, 0);
			assertThat(after.ph()).as(row.toString()).isCloseTo(number(row, "pH_after"), within(0.01));
			assertThat(after.saturationIndex()).as(row.toString()).isCloseTo(number(row, "SI_calcite_after"), within(0.011));
		});
	}

	@Test
	void chlorineMovesThePhAsPublishedWhenAddedAndWhenUsedUp() {
		Stream<Map<String, String>> rows = rows("chlorine-products-ph").stream()
			.filter(row -> row.get("product").startsWith("dichlor") || row.get("product").startsWith("calcium hypochlorite (pure")
					|| row.get("product").contains("no excess"));
		assertThat(rows.toList()).hasSizeGreaterThan(10).allSatisfy(row -> {
			String product = row.get("product");
			double dose = number(row, "dose_mg_L_Cl2_equiv");
			double[] effect = AuditEffects.chlorine(product.startsWith("dichlor") ? ActiveIngredient.DICHLOR
					: product.startsWith("calcium") ? ActiveIngredient.CALCIUM_HYPOCHLORITE
							: ActiveIngredient.SODIUM_HYPOCHLORITE);
			AuditWater after = water(row, "pH_before").plus(0, effect[0] * dose, effect[1] * dose, effect[2] * dose, dose, effect[3] * dose,
					0, 0);
			assertThat(after.ph()).as(row.toString()).isCloseTo(number(row, "pH_after_addition"), within(0.01));
			assertThat(after.chlorineUsed(dose).ph()).as(row.toString()).isCloseTo(number(row, "pH_after_consumed"), within(0.01));
		});
	}

	@Test
	void effectsAreThoseOfThePublishedDoses() throws IOException {
		assertThat(Files.readString(Path.of("src/test/resources/reference/product-doses.csv"))).contains("muriatic acid 31.45 %");
		// 25.561 fl oz of 31.45 % acid take 10 ppm of TA from 10,000 gal; 1.2018 lb of 77 % flake bring 10 ppm of CH: product-doses.csv
		AuditWater water = AuditWater.ofPh(7.8, 100, 300, 0, 0, 1000, 0, 25);
		double litres = 37_854.118;
		Product acid = Product.usual("a",
				ProductKind.MURIATIC_3145);
		assertThat(AuditEffects.after(water, acid, 755.93, litres).ta()).isCloseTo(90, within(0.05));
		Product flake = Product.usual("f",
				ProductKind.CAL_CHLORIDE_77);
		assertThat(AuditEffects.after(water, flake, 545.11, litres).ch()).isCloseTo(310, within(0.05));
		Product liquid = Product.usual("l",
				ProductKind.LIQUID_CHLORINE_125);
		assertThat(AuditEffects.after(water, liquid, 302.82, litres).fc()).isCloseTo(1, within(0.005));
		Product bleach = Product.usual("b",
				ProductKind.HOUSEHOLD_BLEACH);
		assertThat(AuditEffects.after(water, bleach, 431.28, litres).fc()).isCloseTo(1, within(0.005));
	}

}
