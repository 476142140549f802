package org.meniscus.visit.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.DecimalParser;
import org.meniscus.ui.Option;
import org.meniscus.visit.DoseUnits;
import org.meniscus.visit.ServiceTask;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingBounds;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.TestKit;
import org.meniscus.water.pool.TestMethod;
import org.meniscus.water.pool.TestMethods;
import org.meniscus.water.product.Product;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.UnitSystem;

/** Makes the form of a pool out of what was typed. */
final class VisitFormBuilder {

	/** Hours until people are expected, as one can choose. */
	private static final List<Integer> SWIM_HOURS = List.of(1, 2, 4, 8, 12, 24);

	private static final int MAX_CONFIRMED = 60;

	private final PoolFacts pool;

	private final List<Product> products;

	private final UnitSystem units;

	private final TestMethods tests;

	private final LevelFormatter formatter;

	private final Wording.Texts texts;

	/** @param products those on the truck first @param tests what the company usually reads with */
	VisitFormBuilder(PoolFacts pool, List<Product> products, UnitSystem units, TestMethods tests, Wording.Texts texts) {
		this.pool = pool;
		this.products = products;
		this.units = units;
		this.tests = tests;
		this.formatter = new LevelFormatter(units, texts);
		this.texts = texts;
	}

	/** @param last the visit before, whose readings stand beside the fields; null when there is none */
	VisitForm build(SubmittedForm submitted, List<FieldProblem> problems, @Nullable VisitRecord last) {
		Map<String, List<FieldProblem>> at = new LinkedHashMap<>();
		problems.forEach(problem -> at.computeIfAbsent(problem.field(), field -> new ArrayList<>()).add(problem));
		String situation = submitted.text("situation");
		return new VisitForm(submitted.text("id"), submitted.text("pool"), submitted.text("stop"), submitted.text("advice"),
				submitted.text("performedAt"),
				ReadingField.routine(pool).stream().map(field -> field(field, submitted, last)).toList(),
				ReadingField.further(pool).stream().map(field -> field(field, submitted, last)).toList(),
				SiteForm.of(submitted, pool, units, texts), submitted.text("drain"),
				kits(), submitted.text("kit"), situations(situation),
				situation.isEmpty() ? Situation.ROUTINE.name() : situation, swimOptions(), submitted.text("swimSoon"),
				doses(submitted.doses()),
				productGroups(), measures(), submitted.text("waterReplaced"), tasks(submitted), submitted.text("noteToClient"),
				submitted.text("noteToOffice"), submitted.all("confirm").stream().distinct().limit(MAX_CONFIRMED).toList(), at);
	}

	private VisitForm.ReadingInput field(ReadingField field, SubmittedForm submitted, @Nullable VisitRecord last) {
		ReadingBounds bounds = ReadingBounds.of(field.level(), pool.body());
		Double before = (last != null) ? field.value(last.readings()) : null;
		ReadingTests chosen = new ReadingTests(submitted, tests);
		String test = ReadingTests.field(field.level());
		return new VisitForm.ReadingInput(field.field(), formatter.code(field.level()), formatter.name(field.level()),
				formatter.unit(field.level()),
				(field == ReadingField.TEMPERATURE) ? "1" : field.step(pool.body()),
				(bounds != null) ? formatter.number(field.level(), bounds.hardMin()) : "",
				(bounds != null) ? formatter.number(field.level(), bounds.hardMax()) : "", submitted.text(field.field()),
				field.hasQualifier(),
				submitted.text(field.field() + "Mark"),
				(last != null && before != null) ? formatter.format(field.level(), before, last.readings().qualifier(field.level())) : "",
				(test != null) ? test : "", (test != null) ? chosen.options(field.level(), texts) : List.of(), chosen.chosen(field.level()),
				diluted(field, submitted.text(field.field()), chosen.method(field.level())), asked(field, submitted.text("situation")));
	}

	/** What was typed as it counts; empty where the sample was not diluted. */
	private String diluted(ReadingField field, String typed, TestMethod method) {
		if (method.dilution() == 1 || typed.isEmpty()) {
			return "";
		}
		try {
			double value = method.dilution() * field.canonical(DecimalParser.parse(typed).doubleValue(), units);
			return texts.text("visit.test.counts", Wording.level(field.level(), value, units));
		}
		catch (NumberFormatException ex) {
			return "";
		}
	}

	private static boolean asked(ReadingField field, String situation) {
		return Arrays.stream(Situation.values()).anyMatch(each -> each.name().equals(situation) && each.asksFor().contains(field.level()));
	}

	private List<Option> kits() {
		List<Option> kits = new ArrayList<>(List.of(new Option("", texts.text("visit.kit.usual"))));
		Arrays.stream(TestKit.values()).forEach(kit -> kits.add(new Option(kit.name(), texts.text("water.kit." + kit))));
		return kits;
	}

	private List<Option> situations(String chosen) {
		return Arrays.stream(Situation.values())
			.filter(situation -> situation.fits(pool) || situation.name().equals(chosen))
			.map(situation -> new Option(situation.name(), texts.text(Wording.situationKey(situation))))
			.toList();
	}

	private List<Option> swimOptions() {
		List<Option> options = new ArrayList<>(List.of(new Option("", texts.text("visit.swim.nobody"))));
		SWIM_HOURS.forEach(hours -> options.add(new Option(hours.toString(), texts.text("visit.swim.hours", hours))));
		return options;
	}

	private List<VisitForm.DoseInput> doses(List<DoseForm> submitted) {
		List<DoseForm> lines = submitted.isEmpty() ? List.of(DoseForm.blank()) : submitted;
		List<VisitForm.DoseInput> shown = new ArrayList<>();
		for (DoseForm line : lines) {
			shown.add(new VisitForm.DoseInput(shown.size(), line.product(), line.amount(), line.unit(), line.planned(), planned(line)));
		}
		return shown;
	}

	private String planned(DoseForm line) {
		if (line.planned().equals("label")) {
			return texts.text("visit.dose.planned.label");
		}
		Double planned = line.plannedAmount();
		Product product = products.stream().filter(one -> one.id().equals(line.product())).findFirst().orElse(null);
		if (planned == null || product == null) {
			return "";
		}
		return texts.text("visit.dose.planned", DoseUnits.of(product, units).quantity(planned).format(texts));
	}

	private List<VisitForm.ProductGroup> productGroups() {
		List<Option> truck = products.stream().filter(Product::onTruck).map(VisitFormBuilder::option).toList();
		List<Option> other = products.stream().filter(product -> !product.onTruck()).map(VisitFormBuilder::option).toList();
		List<VisitForm.ProductGroup> groups = new ArrayList<>();
		groups.add(new VisitForm.ProductGroup(texts.text("visit.dose.truck"), truck));
		if (!other.isEmpty()) {
			groups.add(new VisitForm.ProductGroup(texts.text("visit.dose.elsewhere"), other));
		}
		return groups;
	}

	private static Option option(Product product) {
		return new Option(product.id(), product.name());
	}

	/** Tablets only where a product is counted, and last: the first is what a new line stands on. */
	private List<Option> measures() {
		List<Option> measures = new ArrayList<>();
		for (AmountUnit unit : AmountUnit.values()) {
			DoseUnits.measures(units, unit)
				.forEach(measure -> measures.add(new Option(measure.name(), texts.text("water.measure." + measure.name()))));
		}
		if (products.stream().anyMatch(product -> DoseUnits.of(product, units).tablet() != null)) {
			measures.add(new Option(DoseUnits.TABLET, texts.text("visit.dose.tablets")));
		}
		return measures;
	}

	private List<VisitForm.TaskInput> tasks(SubmittedForm submitted) {
		return Arrays.stream(ServiceTask.values())
			.filter(task -> task.appliesTo(pool.sanitizer()))
			.map(task -> new VisitForm.TaskInput(task.name(), texts.text("visit.task." + task.name()), submitted.has("task", task.name())))
			.toList();
	}

	/** A stored visit as it would have been typed, for its correction. */
	SubmittedForm submitted(VisitRecord visit) {
		SubmittedForm submitted = SubmittedForm.empty().with("situation", visit.situation().name());
		for (ReadingField field : ReadingField.values()) {
			Double value = field.value(visit.readings());
			if (value != null) {
				TestMethod method = visit.readings().tests().method(field.level());
				submitted = submitted.with(field.field(), plainNumber(field, value / method.dilution()))
					.with("test" + TestMethods.test(field.level()), ReadingTests.value(method));
				ReadingQualifier qualifier = visit.readings().qualifier(field.level());
				submitted = field.hasQualifier() ? submitted.with(field.field() + "Mark", qualifier.sign()) : submitted;
			}
		}
		submitted = SiteForm.submitted(submitted, visit.readings().site(), units);
		Boolean drain = visit.readings().drainVisible();
		submitted = submitted.with("drain", (drain == null) ? "" : drain ? "yes" : "no");
		Double replaced = visit.waterReplaced();
		submitted = submitted.with("waterReplaced", (replaced != null) ? Wording.trimmedDecimal(replaced * 100, 1) : "");
		String toClient = visit.noteToClient();
		String toOffice = visit.noteToOffice();
		return submitted.with("noteToClient", (toClient != null) ? toClient : "")
			.with("noteToOffice", (toOffice != null) ? toOffice : "")
			.withAll("task", visit.tasks())
			.withDoses(visit.doses().stream().map(dose -> DoseForm.of(dose, products, units)).toList());
	}

	/**
	 * In the digits it was stored with, so that a correction of something else changes no reading; whole degrees Fahrenheit where
	 * they are what was typed, though a tenth of a degree Celsius was stored.
	 */
	private String plainNumber(ReadingField field, double value) {
		double shown = formatter.inUnits(field.level(), value);
		if (field == ReadingField.TEMPERATURE && Math.abs(field.canonical(Math.rint(shown), units) - value) <= 0.05 + 1e-9) {
			return Wording.trimmedDecimal(shown, 0);
		}
		return Wording.trimmedDecimal(shown, 2);
	}

}
