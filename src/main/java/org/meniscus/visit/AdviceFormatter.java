package org.meniscus.visit;

import java.nio.charset.StandardCharsets;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Currency;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.TenantContext;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.ExpectedOutcome;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.PlanResult;
import org.meniscus.water.plan.PlanResult.PlanRefusal;
import org.meniscus.water.plan.Step;
import org.meniscus.water.plan.WaterReplacement;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Targets;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.season.TotalCost;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.UnitSystem;

/** Puts an outcome of the planner into words. Costs are for the owner only. */
public final class AdviceFormatter {

	private final UnitSystem units;

	private final String language;

	private final Targets targets;

	private final Wording.Texts texts;

	private final @Nullable Currency currency;

	/** @param currency of the costs; null for whoever is not shown them */
	public AdviceFormatter(UnitSystem units, String language, Targets targets, Wording.Texts texts, @Nullable Currency currency) {
		this.currency = currency;
		this.units = units;
		this.language = language;
		this.targets = targets;
		this.texts = texts;
	}

	/** Names what advice was worked out from: other readings, another situation or another swim time give another name. */
	public static String basis(Readings readings, Situation situation, @Nullable Double swimWithinHours) {
		String all = readings + "|" + situation + "|" + swimWithinHours;
		return HexFormat.of().formatHex(TenantContext.sha256(all.getBytes(StandardCharsets.UTF_8))).substring(0, 16);
	}

	/** @param at when it is written, at the pool's place: later steps get their day from it */
	public Advice format(PlanResult outcome, Situation situation, String basis, LocalDateTime at) {
		Advice.Content content;
		Levels now = outcome.assessment().levels();
		Levels after = null;
		if (outcome instanceof Plan plan) {
			content = plan(plan, at);
			now = plan.before();
			after = plan.after();
		}
		else {
			PlanRefusal refused = (PlanRefusal) outcome;
			content = new Advice.RefusalText(describe(refused.reasons()), describe(refused.tasks()));
		}
		Advice.WaterText water = new Advice.WaterText(describe(outcome.assessment().reasons()), levels(outcome.assessment(), now, after));
		return new Advice(Advice.SCHEMA, language, units, situation, basis, water, swim(outcome.swim()), content);
	}

	private Advice.PlanText plan(Plan plan, LocalDateTime at) {
		Advice.NotesText notes = new Advice.NotesText(describe(plan.cautions()),
				describe(plan.notes(Plan.Note.Topic.TODAY)), describe(plan.notes(Plan.Note.Topic.EARLIER_VISITS)),
				plan.rejected().stream().map(other -> other.product().name() + ": " + describe(other.reason())).toList());
		return new Advice.PlanText(plan.steps().stream().map(step -> step(plan.assessment(), step)).toList(),
				replacement(plan.replacement()), describe(plan.tasks()),
				plan.followUps().stream().map(later -> followUp(DatedFollowUp.of(later, at))).toList(), notes, forecast(plan),
				costText(plan), plan.missing().stream().map(missing -> describe(missing.reason())).toList(), describe(plan.first()));
	}

	private Advice.SwimText swim(SwimReadiness swim) {
		String headline = switch (swim.state()) {
			case OPEN -> null;
			case AFTER_WAIT -> texts.text("visit.plan.swim.wait", Wording.hours(swim.waitHours(), texts));
			case CLOSED -> describe(SwimReadiness.CLOSED);
		};
		return new Advice.SwimText(swim.state(), headline, describe(swim.reasons()));
	}

	private Advice.AdviceStep step(Assessment assessment, Step step) {
		MeasuredAmount measured = step.amount();
		String amount = (measured != null) ? Wording.amount(measured, texts) : null;
		String title = (amount != null) ? texts.text("visit.plan.add", amount, step.product().name())
				: texts.text("visit.plan.add.label", step.product().name());
		String start = (step.startMinutes() > 0) ? texts.text("visit.plan.start", duration(step.startMinutes())) : null;
		String gap = (step.gapMinutes() > 0) ? texts.text("visit.plan.gap", duration(step.gapMinutes())) : "";
		String wait = (step.waitHours() > 0) ? texts.text("visit.plan.wait", Wording.hours(step.waitHours(), texts)) : "";
		List<Advice.LevelChange> changes = levels(assessment, step.before(), step.after()).stream().filter(Advice.LevelChange::changes)
			.toList();
		return new Advice.AdviceStep(step.product().id(), step.product().name(), step.product().kind(), step.purpose().name(), amount,
				(measured != null) ? measured.amount() : null, step.product().unit(), title, start, gap, wait, describe(step.reason()),
				describe(step.choiceReason()), describe(step.instructions()), describe(step.cautions()), changes,
				step.alternatives().stream().map(this::alternative).toList());
	}

	private Advice.AlternativeProduct alternative(Step.Alternative other) {
		MeasuredAmount amount = other.measured();
		return new Advice.AlternativeProduct(other.product().name(), (amount != null) ? Wording.amount(amount, texts) : null,
				describe(other.reason()),
				(currency != null && other.cost() != null) ? cost("visit.plan.cost.other", other.cost(), currency) : null);
	}

	private Advice.ForecastText forecast(Plan plan) {
		ExpectedOutcome outcome = plan.outcome();
		String when = (outcome.days() > 0) ? describe(Reason.of("time.in", new Term.Days(outcome.days()))) : null;
		Double chance = outcome.holdProbability();
		// That it does not hold is said before anything else, with what would make it.
		boolean said = !plan.notes(Plan.Note.Topic.RESIDUAL_NOT_HELD).isEmpty();
		return new Advice.ForecastText(bands(outcome.justAfter()), when, bands(outcome.nextVisit()),
				(chance != null && !said) ? texts.text("visit.plan.forecast.chance", Wording.percent(chance)) : null, List.of());
	}

	private List<String> bands(Map<Level, Band> bands) {
		List<String> words = new ArrayList<>();
		bands.forEach((level, band) -> words.add(texts.text("visit.plan.forecast.band", texts.text(Wording.levelKey(level)),
				Wording.level(level, band.middle(), units), Wording.number(level, band.low()), Wording.number(level, band.high()))));
		return words;
	}

	private Advice.@Nullable CostText costText(Plan plan) {
		Currency money = currency;
		if (money == null || plan.isEmpty()) {
			return null;
		}
		TotalCost cost = plan.cost();
		List<String> left = new ArrayList<>();
		for (TotalCost.LevelCost one : cost.levelCosts()) {
			long cents = Math.round(one.cost());
			if (one.level() == Level.FC) {
				left.add(texts.text("visit.plan.cost.kept", Wording.level(Level.FC, one.change(), units),
						QuantityFormatter.money(-cents, money)));
			}
			else if (cents != 0) {
				left.add(texts.text((cents > 0) ? "visit.plan.cost.brings" : "visit.plan.cost.saves",
						texts.text(Wording.levelKey(one.level())),
						((one.change() > 0) ? "+" : "") + Wording.number(one.level(), one.change()),
						QuantityFormatter.money(Math.abs(cents), money)));
			}
		}
		if (!cost.allPriced()) {
			left.add(texts.text("visit.plan.cost.usual"));
		}
		return new Advice.CostText(cost("visit.plan.cost", cost, money), left);
	}

	private String cost(String key, TotalCost cost, Currency money) {
		return texts.text(key, QuantityFormatter.money(Math.round(cost.productCost() + cost.waitingCost()), money),
				QuantityFormatter.money(Math.round(cost.withLastingEffects()), money));
	}

	private Advice.FollowUpText followUp(DatedFollowUp step) {
		String day = QuantityFormatter.weekdayAndDate(step.day(), Locale.forLanguageTag(language));
		return new Advice.FollowUpText(texts.text("visit.plan.followUp." + step.part(), day, step.describe(units, texts)), step);
	}

	private Advice.@Nullable ReplacementText replacement(@Nullable WaterReplacement replacement) {
		if (replacement == null) {
			return null;
		}
		String text = (replacement.share() > 0.999)
				? texts.text("visit.plan.draining.all", Wording.volume(replacement.litres(), units))
				: texts.text(replacement.inParts() ? "visit.plan.draining.parts"
						: (replacement.drainCount() > 1) ? "visit.plan.draining" : "visit.plan.draining.one",
						Wording.decimal(replacement.share() * 100, 0), Wording.volume(replacement.litres(), units),
						Wording.decimal(replacement.drainCount(), 0), Wording.trimmedDecimal(replacement.flowThroughVolumes(), 1));
		return new Advice.ReplacementText(replacement.share(), text, describe(replacement.reasons()), describe(replacement.cautions()));
	}

	/** Levels against the ranges they were assessed by: in chlorine pools the range of FC follows CYA. */
	private List<Advice.LevelChange> levels(Assessment assessment, Levels now, @Nullable Levels after) {
		List<Advice.LevelChange> changes = new ArrayList<>();
		for (Level level : Level.values()) {
			Double before = now.value(level);
			Double then = (after != null) ? after.value(level) : null;
			if (before == null && then == null) {
				continue;
			}
			LevelState state = assessment.state(level);
			Range range = (state != null) ? state.range() : targets.range(level);
			ReadingQualifier qualifier = (state != null) ? state.qualifier() : ReadingQualifier.EXACT;
			changes.add(new Advice.LevelChange(level, before, qualifier, then, state(level, before, qualifier, range),
					state(level, then, ReadingQualifier.EXACT, range), (range != null) ? range.acceptableLow() : null,
					(range != null) ? range.idealLow() : null, (range != null) ? range.idealHigh() : null,
					(range != null) ? range.acceptableHigh() : null));
		}
		return changes;
	}

	private static LevelState.@Nullable State state(Level level, @Nullable Double value, ReadingQualifier qualifier,
			@Nullable Range range) {
		return (range != null && value != null) ? LevelState.of(level, value, qualifier, range).state() : null;
	}

	private String duration(int minutes) {
		return (minutes < 120 && minutes % 60 != 0) ? texts.text("water.time.minutes", String.valueOf(minutes))
				: Wording.hours(minutes / 60.0, texts);
	}

	private String describe(Reason reason) {
		return reason.format(units, texts);
	}

	private List<String> describe(List<Reason> reasons) {
		return reasons.stream().map(this::describe).toList();
	}

}
