package org.meniscus.visit.web;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.DecimalParser;
import org.meniscus.product.ProductId;
import org.meniscus.visit.Advice;
import org.meniscus.visit.AdviceFormatter;
import org.meniscus.visit.DoseUnits;
import org.meniscus.visit.NewVisit;
import org.meniscus.visit.NewVisit.NewDose;
import org.meniscus.visit.PhotoProcessor;
import org.meniscus.visit.ServiceTask;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.assess.ReadingFinding;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.TestMethod;
import org.meniscus.water.pool.TestMethods;
import org.meniscus.water.product.Product;
import org.meniscus.water.units.UnitSystem;
import org.springframework.web.multipart.MultipartFile;

/** Takes what was typed out of the company's units and says, beside its field, what cannot be or is asked about once. */
final class VisitFormParser {

	static final int MAX_NOTE_LENGTH = 2000;

	/** Nobody carries more than two tonnes, or two cubic metres, to a pool; grams or millilitres. */
	private static final double MAX_AMOUNT = 2_000_000;

	private static final double MAX_TIMES_PLANNED = 2;

	private final SubmittedForm form;

	private final UnitSystem units;

	private final PoolFacts pool;

	private final List<Product> products;

	private final ReadingTests tests;

	private final Wording.Texts texts;

	private final List<FieldProblem> problems = new ArrayList<>();

	VisitFormParser(SubmittedForm submitted, UnitSystem units, PoolFacts pool, List<Product> products, TestMethods tests,
			Wording.Texts texts) {
		this.form = submitted;
		this.units = units;
		this.pool = pool;
		this.products = products;
		this.tests = new ReadingTests(submitted, tests);
		this.texts = texts;
	}

	List<FieldProblem> problems() {
		return problems;
	}

	boolean hasProblems() {
		return !problems.isEmpty();
	}

	Readings readings() {
		Readings.Builder readings = Readings.builder();
		TestMethods methods = TestMethods.USUAL;
		for (ReadingField field : ReadingField.values()) {
			ReadingQualifier qualifier = field.hasQualifier() ? qualifier(form.text(field.field() + "Mark")) : ReadingQualifier.EXACT;
			Double value = number(field.field(), form.text(field.field()));
			if (value == null && qualifier != ReadingQualifier.EXACT && form.text(field.field()).isEmpty()) {
				value = field.endOfScale(qualifier);
			}
			TestMethod method = tests.method(field.level());
			if (value != null) {
				methods = methods.with(field.level(), method);
			}
			ReadingField.set(readings, field, (value != null) ? method.dilution() * field.canonical(value, units) : null,
					(value != null) ? qualifier : ReadingQualifier.EXACT);
		}
		String drain = form.text("drain");
		return readings.drainVisible(drain.equals("yes") ? Boolean.TRUE : drain.equals("no") ? Boolean.FALSE : null)
			.tests(methods)
			.site(SiteForm.parse(form, pool, units, this::inRange))
			.build();
	}

	Situation situation() {
		String name = form.text("situation");
		if (name.isEmpty()) {
			return Situation.ROUTINE;
		}
		for (Situation situation : Situation.values()) {
			if (situation.name().equals(name)) {
				return situation;
			}
		}
		problems.add(FieldProblem.refused("situation", texts.text("visit.choose")));
		return Situation.ROUTINE;
	}

	/** Hours until people are expected in the water; null when nobody in particular. */
	@Nullable
	Double swimWithinHours() {
		Long hours = form.number("swimSoon");
		return (hours != null && hours > 0 && hours <= 48) ? Double.valueOf(hours) : null;
	}

	/** What the engine finds odd, unless it has been confirmed. */
	void addFindings(List<ReadingFinding> findings) {
		for (ReadingFinding finding : findings) {
			ReadingField field = ReadingField.of(finding.level());
			String at = (field != null) ? field.field() : "";
			String message = finding.reason().format(units, texts);
			if (finding.kind() == ReadingFinding.Kind.IMPOSSIBLE) {
				problems.add(FieldProblem.refused(at, message));
				continue;
			}
			addQuestion(at, message, "reading:" + at + ":" + Integer.toHexString(finding.reason().toString().hashCode()));
		}
	}

	/** What went in: lines without a product and amount, and planned ones without an amount, were not put in. */
	List<NewDose> doses() {
		List<NewDose> doses = new ArrayList<>();
		List<DoseForm> lines = form.doses();
		for (int n = 0; n < lines.size(); n++) {
			DoseForm line = lines.get(n);
			if (line.isBlank() || (line.amount().isEmpty() && !line.planned().isEmpty())) {
				continue;
			}
			NewDose dose = dose("dose-" + n, line);
			if (dose != null) {
				doses.add(dose);
			}
		}
		return doses;
	}

	private @Nullable NewDose dose(String at, DoseForm line) {
		Product product = products.stream().filter(one -> one.id().equals(line.product())).findFirst().orElse(null);
		if (product == null) {
			problems.add(FieldProblem.refused(at, texts.text(line.product().isEmpty() ? "visit.dose.product.missing" : "visit.choose")));
			return null;
		}
		if (line.amount().isEmpty()) {
			problems.add(FieldProblem.refused(at, texts.text("visit.dose.amount.missing")));
			return null;
		}
		Double count = number(at, line.amount());
		if (count == null || count == 0) {
			return null;
		}
		DoseUnits.DoseUnit unit = DoseUnits.of(product, units).find(line.unit()).orElse(null);
		if (unit == null) {
			problems.add(FieldProblem.refused(at, texts.text("visit.dose.unit." + product.unit().name(), product.name())));
			return null;
		}
		double amount = count * unit.size();
		if (count < 0 || amount > MAX_AMOUNT || amount < 0.01) {
			problems.add(FieldProblem.refused(at, texts.text("visit.dose.amount.impossible")));
			return null;
		}
		checkPlausible(at, line, product, amount);
		return new NewDose(new ProductId(UUID.fromString(product.id())), amount, line.plannedAmount());
	}

	private void checkPlausible(String at, DoseForm line, Product product, double amount) {
		String key = "dose:" + product.id() + ":" + line.amount() + ":" + line.unit();
		Double planned = line.plannedAmount();
		Double max = (pool.volume() != null) ? product.mostFor(pool.volume().litres()) : null;
		if (planned != null && amount > MAX_TIMES_PLANNED * planned * (1 + 1e-6)) {
			addQuestion(at,
					texts.text("visit.dose.twice", DoseUnits.format(line.amount(), line.unit(), texts), amountText(planned, product)), key);
		}
		else if (max != null && amount > max * (1 + 1e-6)) {
			addQuestion(at, texts.text("visit.dose.above", DoseUnits.format(line.amount(), line.unit(), texts), amountText(max, product)),
					key);
		}
	}

	/** Share of the water, null when none was replaced. */
	@Nullable
	Double waterReplaced() {
		Double percent = number("waterReplaced", form.text("waterReplaced"));
		if (percent == null || percent == 0) {
			return null;
		}
		if (percent < 0 || percent > 100 || percent < 0.1) {
			problems.add(FieldProblem.refused("waterReplaced", texts.text("visit.water.impossible")));
			return null;
		}
		return percent / 100;
	}

	List<String> tasks() {
		List<String> tasks = new ArrayList<>();
		for (ServiceTask task : ServiceTask.values()) {
			if (form.has("task", task.name())) {
				tasks.add(task.name());
			}
		}
		return tasks;
	}

	@Nullable
	String note(String field) {
		String note = form.text(field).replace("\r\n", "\n");
		if (note.length() > MAX_NOTE_LENGTH) {
			problems.add(FieldProblem.refused(field, texts.text("visit.note.long", MAX_NOTE_LENGTH, note.length())));
		}
		return note.isEmpty() ? null : note;
	}

	/** Why a visit is corrected; refused when nothing is said. */
	String reason(int max) {
		String reason = form.text("reason");
		if (reason.isEmpty() || reason.length() > max) {
			problems.add(FieldProblem.refused("reason",
					texts.text(reason.isEmpty() ? "visit.correct.reason.missing" : "visit.correct.reason.long")));
		}
		return reason;
	}

	/** The plan as it was shown; asks when the readings have changed since. */
	@Nullable
	Advice advice(Readings readings, Situation situation) {
		Advice advice = Advice.fromJson(form.text("advice")).orElse(null);
		if (advice == null) {
			return null;
		}
		String basis = AdviceFormatter.basis(readings, situation, swimWithinHours());
		if (!advice.basis().equals(basis)) {
			addQuestion("plan", texts.text("visit.plan.old"), "plan:" + basis);
		}
		return advice;
	}

	/** The photos that could be read; each that could not is named, by its place among those chosen. */
	List<NewVisit.Photo> photos(@Nullable List<MultipartFile> files, PhotoProcessor intake) throws IOException {
		List<MultipartFile> chosen = (files != null) ? files.stream().filter(file -> !file.isEmpty()).toList() : List.of();
		if (chosen.size() > NewVisit.PHOTOS_MAX) {
			problems.add(FieldProblem.refused("photos", texts.text("visit.photos.many", NewVisit.PHOTOS_MAX, chosen.size())));
			return List.of();
		}
		List<NewVisit.Photo> photos = new ArrayList<>();
		for (int n = 0; n < chosen.size(); n++) {
			try {
				photos.add(intake.process(chosen.get(n).getBytes()));
			}
			catch (PhotoProcessor.PhotoRejected ex) {
				problems.add(FieldProblem.refused("photos", texts.text("visit.photos." + ex.fault().name(), n + 1)));
			}
		}
		return photos;
	}

	/** What is stored under this id is another visit. */
	void addConflict() {
		problems.add(FieldProblem.refused("visit", texts.text("visit.conflict")));
	}

	/** A stop is missed rather than visited without anything to show for it. */
	void requireContents(NewVisit visit) {
		if (visit.readings().tested().isEmpty() && visit.readings().drainVisible() == null && visit.doses().isEmpty()
				&& visit.tasks().isEmpty() && visit.photos().isEmpty() && visit.waterReplaced() == null && visit.noteToClient() == null
				&& visit.noteToOffice() == null && !hasProblems()) {
			problems.add(FieldProblem.refused("visit", texts.text("visit.nothing")));
		}
	}

	/** @param submitted the visit that the stop has already, if it has one */
	void askAboutSecondVisit(NewVisit visit, @Nullable VisitRecord submitted) {
		if (submitted != null && !submitted.id().equals(visit.id())) {
			addQuestion("visit", texts.text("visit.second"), "second:" + submitted.id());
		}
	}

	private void addQuestion(String at, String message, String key) {
		if (!form.has("confirm", key)) {
			problems.add(new FieldProblem(at, message, key));
		}
	}

	private @Nullable Double number(String at, String text) {
		if (text.isEmpty()) {
			return null;
		}
		try {
			return DecimalParser.parse(text).doubleValue();
		}
		catch (NumberFormatException ex) {
			problems.add(FieldProblem.refused(at, texts.text("visit.number", (text.length() > 20) ? text.substring(0, 20) + "…" : text)));
			return null;
		}
	}

	/** In the unit it is stored in, from zero; null when absent or refused. */
	private @Nullable Double inRange(String field, double perUnit, double max) {
		Double typed = number(field, form.text(field));
		if (typed != null && !(typed >= 0 && typed * perUnit <= max)) {
			problems.add(FieldProblem.refused(field, texts.text("visit.range", Wording.trimmedDecimal(max / perUnit, 0))));
			return null;
		}
		return (typed != null) ? Double.valueOf(typed * perUnit) : null;
	}

	private String amountText(double amount, Product product) {
		return DoseUnits.of(product, units).quantity(amount).format(texts);
	}

	private static ReadingQualifier qualifier(String sign) {
		return Objects.equals(sign, "<") ? ReadingQualifier.BELOW
				: Objects.equals(sign, ">") ? ReadingQualifier.ABOVE : ReadingQualifier.EXACT;
	}

}
