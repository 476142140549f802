package org.meniscus.visit.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.text.MessageFormat;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Objects;
import java.util.Properties;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.ui.Option;
import org.meniscus.visit.Advice;
import org.meniscus.visit.AdviceFormatter;
import org.meniscus.visit.NewVisit.NewDose;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.TestMethods;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/** The lines of "what went in": filled in from a plan, read, and put right. */
class DoseFormTests {

	private static final PoolFacts POOL = PoolFacts.of(Volume.ofUsGallons(15_000), VolumeCertainty.MEASURED, BodyOfWater.POOL,
			Surface.PLASTER,
			false, Sanitizer.FLOATER);

	/** Wanted first, so that they are planned whatever the season's value of stabilizer says. */
	private static final Product TABLETS = Product.usual("00000000-0000-0000-0000-000000000001", ProductKind.TRICHLOR_TAB)
		.withPreference(ProductPreference.FIRST);

	private static final Product BLEACH = Product.usual("00000000-0000-0000-0000-000000000002", ProductKind.LIQUID_CHLORINE_125);

	private static final List<Product> TRUCK = List.of(BLEACH, TABLETS);

	private final Wording.Texts english = texts("");

	private Advice advice(UnitSystem units) {
		Readings readings = Readings.builder().fc(3.0).ph(7.6).ta(100.0).ch(280.0).cya(40.0).celsius(27.0).build();
		return new AdviceFormatter(units, "en", POOL.targets(), english, null).format(
				Planner.plan(new PlanRequest(POOL, readings, Situation.ROUTINE, TRUCK, TreatmentPolicy.defaults(), 7, units)),
				Situation.ROUTINE, "b",
				LocalDateTime.of(2026, 7, 1, 10, 0));
	}

	private VisitFormBuilder making(List<Product> products, UnitSystem units) {
		return new VisitFormBuilder(POOL, products, units, TestMethods.USUAL, english);
	}

	private VisitFormParser reading(UnitSystem units, DoseForm... lines) {
		return new VisitFormParser(SubmittedForm.empty().withDoses(List.of(lines)), units, POOL, TRUCK, TestMethods.USUAL, english);
	}

	@ParameterizedTest
	@EnumSource(UnitSystem.class)
	void plannedTabletsAreFilledInByCountAndParsedToTheGram(UnitSystem units) {
		Advice advice = advice(units);
		Advice.AdviceStep step = advice.steps().stream().filter(one -> one.productId().equals(TABLETS.id())).findFirst().orElseThrow();
		List<DoseForm> lines = PlannedDoses.merge(advice, List.of(), TRUCK, units);
		DoseForm line = lines.stream().filter(one -> one.product().equals(TABLETS.id())).findFirst().orElseThrow();
		double planned = Objects.requireNonNull(step.amount());
		long count = Math.round(planned / 227);
		assertThat(step.amountText()).startsWith(count + " tablet");
		assertThat(line.amount()).isEqualTo(String.valueOf(count));
		assertThat(line.unit()).isEqualTo("TABLET");
		assertThat(line.asPlanned(TABLETS, units)).isTrue();
		assertThat(new DoseForm(line.product(), "2.5", line.unit(), line.planned()).asPlanned(TABLETS, units)).isFalse();
		VisitForm form = making(TRUCK, units).build(SubmittedForm.empty().withDoses(List.of(line)), List.of(), null);
		assertThat(form.doses().get(0).plannedText()).isEqualTo("plan: " + count + ((count == 1) ? " tablet" : " tablets"));
		assertThat(reading(units, line).doses()).singleElement().extracting(NewDose::amount).isEqualTo(count * 227.0);
		assertThat(PlannedDoses.merge(advice, lines, TRUCK, units)).as("planned again, nobody touched them").isEqualTo(lines);
	}

	@ParameterizedTest
	@EnumSource(UnitSystem.class)
	void halfTabletsAndWeightsAreAccepted(UnitSystem units) {
		VisitFormParser half = reading(units, new DoseForm(TABLETS.id(), "2.5", "TABLET", ""));
		assertThat(half.doses()).singleElement().extracting(NewDose::amount).isEqualTo(2.5 * 227);
		assertThat(half.hasProblems()).isFalse();
		VisitFormParser weighed = reading(units, new DoseForm(TABLETS.id(), "1", (units == UnitSystem.US) ? "LB" : "KG", ""));
		assertThat(weighed.doses()).singleElement().extracting(NewDose::amount).isEqualTo((units == UnitSystem.US) ? 453.59237 : 1000.0);
		VisitFormParser litres = reading(units, new DoseForm(TABLETS.id(), "1", (units == UnitSystem.US) ? "GAL" : "L", ""));
		assertThat(litres.doses()).isEmpty();
		assertThat(litres.problems()).singleElement().extracting(FieldProblem::field).isEqualTo("dose-0");
	}

	@Test
	void productWithoutTabletsCannotBeCounted() {
		VisitFormParser reading = reading(UnitSystem.METRIC, new DoseForm(BLEACH.id(), "3", "TABLET", ""));
		assertThat(reading.doses()).isEmpty();
		assertThat(reading.problems())
			.containsExactly(FieldProblem.refused("dose-0", BLEACH.name() + " is measured as a liquid: choose a volume."));
	}

	@Test
	void moreThanTwiceThePlannedTabletsNeedsConfirmation() {
		VisitFormParser reading = reading(UnitSystem.US, new DoseForm(TABLETS.id(), "3", "TABLET", "227.0000"));
		assertThat(reading.doses()).hasSize(1);
		assertThat(reading.problems()).singleElement()
			.extracting(FieldProblem::message)
			.isEqualTo("3 tablets is more than twice what the plan says (1 tablet).");
	}

	@Test
	void tabletUnitIsOfferedLastAndOnlyForTabletProducts() {
		assertThat(measures(TRUCK)).containsExactly("LB", "OZ", "G", "GAL", "QT", "FL_OZ", "TSP", "TABLET");
		assertThat(measures(List.of(BLEACH, TABLETS.withTabletGrams(null)))).doesNotContain("TABLET");
		assertThat(texts("_es").text("visit.dose.tablets")).isEqualTo("tabletas");
	}

	private List<String> measures(List<Product> products) {
		return making(products, UnitSystem.US).build(SubmittedForm.empty(), List.of(), null).measures().stream().map(Option::value)
			.toList();
	}

	private static Wording.Texts texts(String language) {
		Properties texts = new Properties();
		for (String bundle : List.of("water", "visit")) {
			try (Reader reader = new InputStreamReader(
					Objects.requireNonNull(DoseFormTests.class.getResourceAsStream("/messages/" + bundle + language + ".properties")),
					StandardCharsets.UTF_8)) {
				texts.load(reader);
			}
			catch (IOException ex) {
				throw new IllegalStateException(ex);
			}
		}
		return (key, args) -> MessageFormat.format(Objects.requireNonNull(texts.getProperty(key), key), args);
	}

}
