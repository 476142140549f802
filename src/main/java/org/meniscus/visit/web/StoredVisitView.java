package org.meniscus.visit.web;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.meniscus.ui.LevelNames;
import org.meniscus.ui.LevelRule;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.visit.Advice;
import org.meniscus.visit.DatedFollowUp;
import org.meniscus.visit.DoseRecord;
import org.meniscus.visit.DoseUnits;
import org.meniscus.visit.VisitRecord;
import org.meniscus.visit.VisitReviewService;
import org.meniscus.visit.VisitVersion;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.TestMethods;
import org.meniscus.water.units.UnitSystem;

/**
 * A stored visit as its page shows it.
 *
 * @param rules readings against the pool's ranges as they are today
 * @param others readings without a range
 * @param notAdded steps of the plan that nothing was recorded for
 * @param closedUntil what has to be so before anybody swims; empty when the pool is not closed
 * @param swimReady from when people may swim by the clock; null when it is closed or nothing asks for waiting
 * @param unplanned what the plan has before anybody is planned to be there again
 * @param photos their numbers
 * @param plan null when none was worked out
 */
record StoredVisitView(String id, String pool, String client, String poolName, String day, String by, String situation,
		boolean implausibleTime,
		List<LevelRule> rules, List<String> others, @Nullable String drain, List<DoseView> doses, List<NotAdded> notAdded,
		@Nullable String water, List<String> closedUntil, @Nullable String swimReady, List<UnplannedStep> unplanned, List<String> tasks,
		@Nullable String noteToClient,
		@Nullable String noteToOffice, List<Integer> photos, @Nullable PlanView plan, List<VersionView> versions, boolean mayCorrect) {

	/**
	 * @param planned what the plan had said, in words
	 * @param differs it is not what the plan had said
	 * @param cost null when no price was known
	 */
	record DoseView(String product, String amount, String planned, boolean differs, @Nullable String cost) {
	}

	record NotAdded(String product, String planned) {
	}

	/** @param label of the button that adds a stop on the day */
	record UnplannedStep(LocalDate day, String text, String label) {
	}

	/** @param lines what stood in it */
	record VersionView(String title, List<String> lines) {
	}

	/** An amount within this share of the planned one is the planned one: a scale shows no more. */
	private static final double SAME_AMOUNT_SHARE = 0.005;

	static StoredVisitView of(VisitReviewService.StoredVisit file, boolean pricesShown, MessageSourceTexts texts) {
		VisitRecord visit = file.visit();
		UnitSystem units = file.company().units();
		Locale locale = texts.locale();
		LevelFormatter formatter = new LevelFormatter(units, texts);
		Advice advice = Advice.fromJson(visit.advice()).orElse(null);
		Assessment assessment = Assessment.of(file.pool().facts(), visit.readings(), file.company().treatment().policy());
		List<LevelRule> rules = new ArrayList<>();
		for (LevelState state : assessment.states().values()) {
			rules.add(formatter.rule(state.level(), state.range(), state.state(), state.value(), state.qualifier(), null));
		}
		Double replaced = visit.waterReplaced();
		Instant ready = visit.swimReadyAt().orElse(null);
		return new StoredVisitView(visit.id().toString(), visit.pool().toString(), file.pool().clientName(), file.pool().name(),
				QuantityFormatter.date(visit.performedOn(), locale),
				texts.text("visit.stored.by", visit.technicianName(),
						time(visit.performedAt(), visit.performedOn(), file.company().zone(), locale)),
				texts.text(Wording.situationKey(visit.situation())), visit.implausibleTime(), rules,
				Stream
					.of(readings(visit.readings(), formatter).filter(pair -> assessment.state(pair.level()) == null)
						.map(ReadingText::text), kit(visit.readings(), texts),
							SiteForm.describe(visit.readings().site(), units, texts).stream())
					.flatMap(lines -> lines)
					.toList(),
				drain(visit.readings(), texts), visit.doses().stream().map(dose -> dose(dose, advice, file, pricesShown, texts)).toList(),
				notAdded(advice, visit.doses(), texts),
				(replaced != null) ? texts.text("visit.stored.water", Wording.trimmedDecimal(replaced * 100, 1)) : null,
				visit.swim().closedUntil().stream().map(reason -> reason.format(units, texts)).toList(),
				(ready != null) ? texts.text("visit.stored.swim", time(ready, visit.performedOn(), file.company().zone(), locale)) : null,
				file.unplanned().stream().map(step -> unplanned(step, units, texts)).toList(),
				visit.tasks().stream().map(task -> texts.text("visit.task." + task)).toList(), visit.noteToClient(), visit.noteToOffice(),
				IntStream.range(0, visit.photos()).boxed().toList(), (advice != null) ? PlanView.of(advice, formatter) : null,
				file.versions().stream().map(old -> version(old, formatter, units, file.company().zone(), texts)).toList(),
				file.mayCorrect());
	}

	private static UnplannedStep unplanned(DatedFollowUp step, UnitSystem units, MessageSourceTexts texts) {
		String day = QuantityFormatter.weekdayAndDate(step.day(), texts.locale());
		return new UnplannedStep(step.day(), texts.text("visit.plan.followUp." + step.part(), day, step.describe(units, texts)),
				texts.text("visit.stored.unplannedSteps.add", day));
	}

	private record ReadingText(Level level, String text) {
	}

	private static Stream<ReadingText> readings(Readings readings, LevelFormatter formatter) {
		return Stream.of(ReadingField.values())
			.flatMap(field -> {
				Double value = field.value(readings);
				return (value == null) ? Stream.empty()
						: Stream.of(new ReadingText(field.level(), formatter.code(field.level()) + " "
								+ formatter.format(field.level(), value, readings.qualifier(field.level()))));
			});
	}

	/** Where it is not the usual one. */
	private static Stream<String> kit(Readings readings, Wording.Texts texts) {
		List<String> tests = readings.tested()
			.stream()
			.map(TestMethods::test)
			.distinct()
			.filter(level -> !readings.tests().method(level).equals(TestMethods.USUAL.method(level)))
			.map(level -> LevelNames.code(level, texts) + " " + ReadingTests.name(level, readings.tests().method(level), texts))
			.toList();
		return tests.isEmpty() ? Stream.empty() : Stream.of(texts.text("visit.stored.kit", String.join("; ", tests)));
	}

	private static @Nullable String drain(Readings readings, Wording.Texts texts) {
		Boolean visible = readings.drainVisible();
		return (visible == null) ? null : texts.text(visible ? "visit.drain.yes" : "visit.drain.no");
	}

	private static DoseView dose(DoseRecord dose, @Nullable Advice advice, VisitReviewService.StoredVisit file, boolean pricesShown,
			MessageSourceTexts texts) {
		Double planned = dose.plannedAmount();
		boolean byLabel = planned == null && advice != null
				&& advice.steps().stream().anyMatch(step -> step.amount() == null && step.productId().equals(dose.product().toString()));
		String plan = (planned != null) ? amount(planned, dose, file, texts)
				: byLabel ? texts.text("visit.stored.planned.label") : (advice != null) ? texts.text("visit.stored.unplanned") : "";
		boolean differs = (planned != null) ? Math.abs(dose.amount() - planned) > SAME_AMOUNT_SHARE * planned : advice != null && !byLabel;
		Long cents = dose.costCents();
		String cost = !pricesShown ? null
				: (cents != null) ? QuantityFormatter.money(cents, file.company().currency()) : texts.text("visit.stored.cost.none");
		return new DoseView(dose.productName(), amount(dose.amount(), dose, file, texts), plan, differs, cost);
	}

	private static List<NotAdded> notAdded(@Nullable Advice advice, List<DoseRecord> doses, Wording.Texts texts) {
		if (advice == null) {
			return List.of();
		}
		return advice.steps()
			.stream()
			.filter(step -> doses.stream().noneMatch(dose -> dose.product().toString().equals(step.productId())))
			.map(step -> new NotAdded(step.product(),
					(step.amountText() != null) ? step.amountText() : texts.text("visit.stored.planned.label")))
			.toList();
	}

	private static VersionView version(VisitVersion old, LevelFormatter formatter, UnitSystem units, ZoneId zone,
			MessageSourceTexts texts) {
		List<String> lines = new ArrayList<>();
		String tested = String.join(", ", readings(old.readings(), formatter).map(ReadingText::text).toList());
		if (!tested.isEmpty()) {
			lines.add(tested);
		}
		old.doses().forEach(dose -> lines.add(dose.product() + " " + QuantityFormatter.amount(units, dose.unit(), dose.amount())));
		old.notes().values().forEach(lines::add);
		LocalDate day = LocalDate.ofInstant(old.replacedAt(), zone);
		return new VersionView(
				texts.text("visit.stored.versions.line", String.valueOf(old.version() + 1), QuantityFormatter.date(day, texts.locale()),
						old.replacedBy(), old.reason()),
				lines.isEmpty() ? List.of(texts.text("visit.stored.versions.empty")) : lines);
	}

	/** "1 lb 8 oz", "3 tablets (1 lb 8 oz)". */
	private static String amount(double amount, DoseRecord dose, VisitReviewService.StoredVisit file, MessageSourceTexts texts) {
		UnitSystem units = file.company().units();
		DoseUnits.DoseQuantity entry = DoseUnits.of(dose, file.products(), units).quantity(amount);
		String measured = QuantityFormatter.amount(units, dose.unit(), amount);
		return entry.inTablets() ? entry.format(texts) + " (" + measured + ")" : measured;
	}

	/** The time of day, with the day when it is another one. */
	private static String time(Instant at, LocalDate day, ZoneId zone, Locale locale) {
		LocalDate date = LocalDate.ofInstant(at, zone);
		String time = QuantityFormatter.time(LocalTime.ofInstant(at, zone), locale);
		return date.equals(day) ? time : QuantityFormatter.weekdayAndDate(date, locale) + " " + time;
	}

}
