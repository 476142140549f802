package org.meniscus.water.explain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Arrays;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.MeasuredAmount.Count;
import org.meniscus.water.product.MeasuredAmount.Counted;
import org.meniscus.water.product.MeasuredAmount.Measure;
import org.meniscus.water.product.MeasuredAmount.Part;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.UnitSystem;

/** Figures as they are written, by the rules of arithmetic and of units. Words are stood for by their keys. */
class WordingTests {

	private static final Wording.Texts KEYS = (key, args) -> key.replace("water.", "") + (args.length > 0 ? Arrays.toString(args) : "");

	@ParameterizedTest
	@CsvSource({ "7.5, 2, 7.50", "-0.3, 2, -0.30", "0, 0, 0", "0.04, 1, 0.0", "-0.04, 1, 0.0", "0.05, 1, 0.1", "-0.05, 1, -0.1",
			"0.005, 2, 0.01", "12.345, 0, 12", "2.5, 0, 3", "-2.5, 0, -3", "999.95, 1, 1000.0", "0.001, 3, 0.001", "1234567, 0, 1234567" })
	void decimalsAreRoundedHalfUpAndAllShown(double value, int decimals, String expected) {
		assertThat(Wording.decimal(value, decimals)).isEqualTo(expected);
	}

	/** Against decimal arithmetic, away from ties. */
	@Test
	void decimalsAreThoseOfDecimalArithmetic() {
		Random random = new Random(1);
		for (int n = 0; n < 10_000; n++) {
			int decimals = random.nextInt(4);
			double value = (random.nextInt(2_000_000) - 1_000_000 + 0.3) / Math.pow(10, 2 + random.nextInt(4));
			BigDecimal exact = new BigDecimal(value).setScale(decimals, RoundingMode.HALF_UP);
			BigDecimal off = new BigDecimal(value).subtract(exact).abs().movePointRight(decimals);
			if (Math.abs(off.doubleValue() - 0.5) > 1e-6) {
				assertThat(Wording.decimal(value, decimals)).isEqualTo(exact.toPlainString().replaceFirst("^-(0(\\.0*)?)$", "$1"));
			}
		}
	}

	@ParameterizedTest
	@CsvSource({ "1.25, 3, 1.25", "2, 3, 2", "100, 0, 100", "100, 1, 100", "0, 2, 0", "-0.5, 2, -0.5", "0.0004, 3, 0", "10.10, 2, 10.1" })
	void trimmedDecimalsEndInNoZeros(double value, int decimals, String expected) {
		assertThat(Wording.trimmedDecimal(value, decimals)).isEqualTo(expected);
	}

	@ParameterizedTest
	@CsvSource({ "0, 0", "0.0001, < 1", "0.0099, < 1", "0.01, 1", "0.5, 50", "0.99, 99", "0.9901, > 99", "0.9999, > 99", "1, 100" })
	void nearlyNothingAndNearlyCertainAreNotSaidToBeSo(double share, String expected) {
		assertThat(Wording.percent(share)).isEqualTo(expected);
		assertThat(format(new Term.Share(share), UnitSystem.US)).isEqualTo(expected + " %");
	}

	/** 82.4 °F are 28 °C; a difference of 10 °C is one of 18 °F. */
	@Test
	void temperaturesAreInTheReadersDegrees() {
		assertThat(Wording.level(Level.TEMPERATURE, 28, UnitSystem.US)).isEqualTo("82 °F");
		assertThat(Wording.level(Level.TEMPERATURE, 28, UnitSystem.METRIC)).isEqualTo("28 °C");
		assertThat(Wording.level(Level.TEMPERATURE, -40, UnitSystem.US)).isEqualTo("-40 °F");
		assertThat(format(new Term.Difference(Level.TEMPERATURE, 10), UnitSystem.US)).isEqualTo("18 °F");
		assertThat(format(new Term.Difference(Level.TEMPERATURE, 10), UnitSystem.METRIC)).isEqualTo("10 °C");
	}

	@ParameterizedTest
	@CsvSource({ "FC, 3, 3.0 ppm", "PH, 7.5, 7.5", "TA, 99.6, 100 ppm", "PHOSPHATE, 125, 125 ppb", "SATURATION_INDEX, -0.25, -0.25",
			"HOCL, 0.0123, 0.012 ppm" })
	void levelsHaveTheirUnitAndDigits(Level level, double value, String expected) {
		assertThat(Wording.level(level, value, UnitSystem.US)).isEqualTo(expected);
		assertThat(format(Term.of(level, value), UnitSystem.METRIC)).isEqualTo(expected);
		assertThat(format(new Term.Difference(level, value), UnitSystem.US)).isEqualTo(expected);
		assertThat(expected).startsWith(Wording.number(level, value));
	}

	@Test
	void readingsAtTheEndOfAScaleHaveTheirSign() {
		assertThat(format(new Term.Value(Level.CYA, 30, ReadingQualifier.BELOW), UnitSystem.US)).isEqualTo("< 30 ppm");
		assertThat(format(new Term.Value(Level.PH, 8.2, ReadingQualifier.ABOVE), UnitSystem.US)).isEqualTo("> 8.2");
	}

	/** One hour and one day are singular, and so is what rounds to one hour. */
	@ParameterizedTest
	@CsvSource(delimiter = ';', value = { "0.5; time.minutes[30]", "0.99; time.minutes[59]", "1; time.hour[1]", "1.04; time.hour[1]",
			"1.06; time.hours[1.1]", "8; time.hours[8]", "7.98; time.hours[8]", "2.5; time.hours[2.5]", "0.95; time.minutes[57]" })
	void shortTimesAreInMinutesAndLongOnesInHours(double hours, String expected) {
		assertThat(Wording.hours(hours, KEYS)).isEqualTo(expected);
		assertThat(format(new Term.Hours(hours), UnitSystem.US)).isEqualTo(expected);
	}

	@Test
	void daysAreCounted() {
		assertThat(format(new Term.Days(1), UnitSystem.US)).isEqualTo("time.day[1]");
		assertThat(format(new Term.Days(7), UnitSystem.US)).isEqualTo("time.days[7]");
	}

	/** 10,000 US gal are 37,854 L; cubic metres from 5 on. */
	@Test
	void volumesAreInGallonsLitresOrCubicMetres() {
		assertThat(Wording.volume(37_854.11784, UnitSystem.US)).isEqualTo("10000 gal");
		assertThat(Wording.volume(4999, UnitSystem.METRIC)).isEqualTo("4999 L");
		assertThat(Wording.volume(5000, UnitSystem.METRIC)).isEqualTo("5.0 m³");
		assertThat(format(new Term.WaterVolume(37_854), UnitSystem.METRIC)).isEqualTo("37.9 m³");
	}

	/** 453.592 g are one pound. */
	@Test
	void chlorineIsInPoundsOrGrams() {
		assertThat(format(new Term.Chlorine(680.388), UnitSystem.US)).isEqualTo("1.5 lb");
		assertThat(format(new Term.Chlorine(680.388), UnitSystem.METRIC)).isEqualTo("680 g");
	}

	@Test
	void amountsAreReadPartByPart() {
		MeasuredAmount weighed = new MeasuredAmount(992, AmountUnit.G, null, List.of(new Part(2, Measure.LB), new Part(3.5, Measure.OZ)));
		assertThat(Wording.amount(weighed, KEYS)).isEqualTo("2 measure.LB 3.5 measure.OZ");
		assertThat(format(new Term.Amount(weighed), UnitSystem.US)).isEqualTo("2 measure.LB 3.5 measure.OZ");
	}

	@Test
	void whatIsCountedHasItsWeightBeside() {
		List<Part> pound = List.of(new Part(1.25, Measure.KG));
		assertThat(Wording.amount(new MeasuredAmount(1250, AmountUnit.G, new Counted(2.5, Count.SCOOP), pound), KEYS))
			.isEqualTo("count.SCOOP[2.5] (1.25 measure.KG)");
		assertThat(Wording.amount(new MeasuredAmount(1250, AmountUnit.G, new Counted(1, Count.TABLET), pound), KEYS))
			.isEqualTo("count.TABLET.one[1] (1.25 measure.KG)");
	}

	@Test
	void wordsNumbersAndNamesStandAsTheyAre() {
		assertThat(format(new Term.Number(-1.234, 1), UnitSystem.US)).isEqualTo("-1.2");
		assertThat(format(new Term.Word("water.level.CYA"), UnitSystem.US)).isEqualTo("level.CYA");
		assertThat(format(new Term.Words(List.of("water.level.CYA", "water.level.CH")), UnitSystem.US)).isEqualTo("level.CYA, level.CH");
		assertThat(format(new Term.Words(List.of()), UnitSystem.US)).isEmpty();
		assertThat(format(new Term.Text("Label, page 3"), UnitSystem.US)).isEqualTo("Label, page 3");
	}

	@Test
	void reasonsTakeTheirTermsInOrder() {
		Reason reason = Reason.of("dose.low", Term.of(Level.FC), Term.of(Level.FC, 1), new Term.Days(2));
		assertThat(reason.key()).isEqualTo("water.dose.low");
		assertThat(reason.format(UnitSystem.US, KEYS)).isEqualTo("dose.low[level.FC, 1.0 ppm, time.days[2]]");
	}

	@ParameterizedTest
	@EnumSource(ActiveIngredient.class)
	void ingredientsHaveKeysOfTheirOwn(ActiveIngredient ingredient) {
		assertThat(Wording.ingredientKey(ingredient)).isEqualTo("water.ingredient." + ingredient.name());
	}

	@Test
	void kindsAndSituationsHaveKeysAndCodes() {
		assertThat(Term.of(ProductKind.TRICHLOR_TAB)).isEqualTo(new Term.Word("water.product.TRICHLOR_TAB"));
		assertThat(Wording.situationKey(Situation.GREEN_ALGAE_LIGHT)).isEqualTo("water.situation.GREEN_ALGAE_LIGHT");
		assertThat(Wording.code(Situation.GREEN_ALGAE_LIGHT)).isEqualTo("green-algae-light");
	}

	@Test
	void notesHoldTheirFiguresInOrder() {
		DriftNote note = DriftNote.of(DriftNote.Code.READING_DOUBTED, Level.CYA, 20_000, 7, 61.5);
		assertThat(note.level()).isEqualTo(Level.CYA);
		assertThat(note.figures()).hasSize(3);
		assertThat(note.figures().get(2)).isCloseTo(61.5, within(0.0));
	}

	private static String format(Term term, UnitSystem units) {
		return Wording.format(term, units, KEYS);
	}

}
