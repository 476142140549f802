package org.meniscus.water.chemistry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import java.util.stream.Stream;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.meniscus.water.units.Temperature;
import org.meniscus.water.units.Volume;

/** Handbook-style examples with their answers; each row names its source and the tolerance it is held to. */
class WorkedExamplesTests {

	private static final double GRAMS_PER_POUND = 453.59237;

	private static final double GRAMS_PER_OUNCE = 28.349523125;

	static Stream<Map<String, String>> examples() {
		return Reference.rows("worked-examples").stream();
	}

	@ParameterizedTest(name = "{0}")
	@MethodSource("examples")
	void engineGivesThePublishedAnswer(Map<String, String> row) {
		double[] engine = answers(row.get("id"));
		String[] published = row.get("answer").replaceAll(";.*", "").split(" and ");
		assertThat(engine).as(row.get("find")).hasSameSizeAs(published);
		for (int i = 0; i < engine.length; i++) {
			double answer = Double.parseDouble(published[i].strip());
			assertThat(engine[i]).as(row.get("id") + " " + row.get("find")).isCloseTo(answer, within(tolerance(row, answer)));
		}
	}

	private static double tolerance(Map<String, String> row, double answer) {
		String stated = row.get("tolerance");
		if (stated.endsWith("%")) {
			return Double.parseDouble(stated.replace("%", "").strip()) / 100 * Math.abs(answer);
		}
		// "exact" is exact to the digits printed
		return stated.equals("exact") ? 0.5 * Math.pow(10, -decimals(row.get("answer"))) + 1e-9 : Double.parseDouble(stated.split(" ")[0]);
	}

	private static int decimals(String printed) {
		String number = printed.replaceAll(";.*", "").strip();
		return number.contains(".") ? number.length() - number.indexOf('.') - 1 : 0;
	}

	private static double[] answers(String id) {
		return switch (id) {
			case "e01" -> pounds(15_000, 50, Reagent.SODIUM_BICARBONATE.alkalinity());
			case "e02" -> pounds(90_000, 50, Reagent.SODIUM_BICARBONATE.alkalinity());
			case "e03" -> pounds(25_000, 180, Stoichiometry.CALCIUM_CARBONATE / Stoichiometry.CALCIUM_CHLORIDE);
			case "e05" -> pounds(60_000, 50, -0.932 * Reagent.SODIUM_BISULFATE.alkalinity());
			case "e06" -> fluidOunces(grams(20_000, 20, -0.3145 * Reagent.HYDROCHLORIC_ACID.alkalinity()) / 1.160);
			case "e07" -> fluidOunces(1000 * grams(10_000, 3, 1) / ChlorineStrength.gramsPerLitreOfTradePercent(12.5));
			case "e08" -> one(grams(10_000, 3, 0.65) / GRAMS_PER_OUNCE);
			case "e10" -> pounds(20_000, 2400, 1);
			case "e11" -> one(10 * (5 - 2) * 80_000 / 1e6 / 0.05);
			case "e13" -> one(tradeIndex(7.5, 85, 200, 100, 900));
			case "e14" -> one(tradeIndex(7.5, 84, 125, 150, 900));
			case "e15" -> one(120 - 100 * 0.27);
			case "e16" -> one(100 - 90 * 0.33);
			case "e18" -> one(cyaOf(ChlorineSource.TRICHLOR, 10));
			case "e19" -> one(cyaOf(ChlorineSource.DICHLOR, 10));
			case "e21" -> one(100 * cyaOf(ChlorineSource.TRICHLOR, 2));
			case "e23" -> one(Dosing.spendChlorine(water(0, 4), 4).totalAlkalinity() - 100);
			case "e24" -> one(shareToReplace(120, 60));
			case "e26" -> one(drained(drained(drained(100, 0.2), 0.2), 0.2));
			case "e29" -> one(grams(20_000, 5, Stoichiometry.CHLORINE / PublishedFiguresTests.SODIUM_SULFITE) / GRAMS_PER_OUNCE);
			case "e31" -> one(grams(10_000, 1, 1) * Breakpoint.MONOPERSULFATE_PER_COMBINED / 0.428 / GRAMS_PER_OUNCE);
			case "e32" ->
				new double[]{ ChlorineStrength.gramsPerLitreOfTradePercent(12.5), ChlorineStrength.gramsPerLitreOfWeightPercent(12.5) };
			case "e34" -> one(50 * Reagent.BORAX.alkalinity());
			case "e36" -> one(0.006 * 120 / 1.5 * 250);
			case "e38" -> one(100 * Cyanurates.of(7.5, 0, 1, at(25), 0).hocl());
			case "e39" -> one(freeOfDichlor(25));
			case "e40" -> one(freeOfDichlor(5));
			case "e41" -> one(60.0 / 3);
			default -> throw new AssertionError("an example without a check: " + id);
		};
	}

	private static double[] one(double value) {
		return new double[]{ value };
	}

	private static double[] pounds(double gallons, double change, double effect) {
		return one(grams(gallons, change, effect) / GRAMS_PER_POUND);
	}

	private static double[] fluidOunces(double millilitres) {
		return one(millilitres / 29.5735295625);
	}

	private static double grams(double gallons, double change, double effect) {
		return change / effect * Volume.ofUsGallons(gallons).litres() / 1000;
	}

	private static double tradeIndex(double ph, double fahrenheit, double hardness, double alkalinity, double solids) {
		return PublishedFiguresTests.tabledTradeIndex(ph, Temperature.ofFahrenheit(fahrenheit), hardness, alkalinity, solids);
	}

	private static double cyaOf(ChlorineSource source, double chlorine) {
		return Dosing.addChlorine(water(0, 1), source, chlorine).cyanuricAcid();
	}

	private static double drained(double cya, double fraction) {
		return Dosing.replace(water(cya, 1), water(0, 0), fraction).cyanuricAcid();
	}

	/** The share after which CYA is at the target, by halving. */
	private static double shareToReplace(double cya, double target) {
		double low = 0;
		double high = 1;
		for (int step = 0; step < 40; step++) {
			double middle = 0.5 * (low + high);
			if (drained(cya, middle) > target) {
				low = middle;
			}
			else {
				high = middle;
			}
		}
		return high;
	}

	private static Water water(double cya, double chlorine) {
		return Water.of(7.5, 100, 200, cya, chlorine, 1000, 0, Temperature.ofCelsius(25));
	}

	private static EquilibriumConstants at(double celsius) {
		return EquilibriumConstants.at(Temperature.ofCelsius(celsius), CyanurateConstants.WAHMAN);
	}

	/** HOCl and OCl- in pure water with 2 mg/L Cl2 of dichlor at pH 7. */
	private static double freeOfDichlor(double celsius) {
		Cyanurates at = Cyanurates.of(7, 2 * Stoichiometry.CYA_PER_DICHLOR_CHLORINE, 2, at(celsius), 0);
		return at.hocl() + at.ocl();
	}

}
