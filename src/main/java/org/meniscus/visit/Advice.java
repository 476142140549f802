package org.meniscus.visit;

import java.util.List;
import java.util.Objects;
import java.util.Optional;

import com.fasterxml.jackson.annotation.JsonSubTypes;
import com.fasterxml.jackson.annotation.JsonTypeInfo;
import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.UnitSystem;
import tools.jackson.core.JacksonException;

/**
 * A plan, or why there is none, as it was shown: sentences in the reader's language and units, and beside them the codes and
 * figures they were made from. Kept with the visit as JSON.
 *
 * @param language of the sentences, "en" or "es"
 * @param basis names the readings, situation and people expected that it was worked out from
 */
public record Advice(int schema, String language, UnitSystem units, Situation situation, String basis, WaterText water, SwimText swim,
		Content content) {

	/** Raised when what is stored changes. */
	static final int SCHEMA = 1;

	private static final int TEXT_MAX = 200_000;

	public Advice {
		Objects.requireNonNull(language);
		Objects.requireNonNull(units);
		Objects.requireNonNull(situation);
		Objects.requireNonNull(basis);
		Objects.requireNonNull(water);
		Objects.requireNonNull(swim);
		Objects.requireNonNull(content);
	}

	/** What is to be done, or why no dose was worked out. */
	@JsonTypeInfo(use = JsonTypeInfo.Id.NAME, property = "is")
	@JsonSubTypes({ @JsonSubTypes.Type(value = PlanText.class, name = "plan"),
			@JsonSubTypes.Type(value = RefusalText.class, name = "refusal") })
	public sealed interface Content permits PlanText, RefusalText {
	}

	/**
	 * @param replacement water to replace; null when dosing solves it
	 * @param tasks work besides the chemicals
	 * @param cost null for whoever is not shown costs
	 * @param first what is said before anything else: what is missing, that chlorine will not last and what would make it
	 * @param bring products that are needed but not along, with their amounts
	 */
	public record PlanText(List<AdviceStep> steps, @Nullable ReplacementText replacement, List<String> tasks, List<FollowUpText> followUps,
			NotesText notes, ForecastText forecast, @Nullable CostText cost, List<String> bring, List<String> first)
			implements
				Content {

		public PlanText {
			steps = copy(steps);
			tasks = copy(tasks);
			followUps = copy(followUps);
			bring = copy(bring);
			first = copy(first);
			Objects.requireNonNull(notes);
			Objects.requireNonNull(forecast);
		}

	}

	/** @param tasks what can be done without a dose */
	public record RefusalText(List<String> reasons, List<String> tasks) implements Content {

		public RefusalText {
			reasons = copy(reasons);
			tasks = copy(tasks);
		}

	}

	/**
	 * @param findings what stands out in the water now
	 * @param levels every level now and, with a plan, after all steps
	 */
	public record WaterText(List<String> findings, List<LevelChange> levels) {

		public WaterText {
			findings = copy(findings);
			levels = copy(levels);
		}

	}

	/**
	 * @param headline what is said first: that the pool is closed, or how long one waits; null when neither is so
	 * @param conditions before anyone enters, all of them
	 */
	public record SwimText(SwimReadiness.State state, @Nullable String headline, List<String> conditions) {

		public SwimText {
			Objects.requireNonNull(state);
			conditions = copy(conditions);
		}

		public boolean closed() {
			return state == SwimReadiness.State.CLOSED;
		}

	}

	/**
	 * @param fromEarlierVisits what was taken from earlier visits
	 * @param rejected products that were not allowed, each with its reason
	 */
	public record NotesText(List<String> cautions, List<String> notes, List<String> fromEarlierVisits, List<String> rejected) {

		public NotesText {
			cautions = copy(cautions);
			notes = copy(notes);
			fromEarlierVisits = copy(fromEarlierVisits);
			rejected = copy(rejected);
		}

	}

	/** What another day brings, in words and as data. */
	public record FollowUpText(String text, DatedFollowUp step) {

		public FollowUpText {
			Objects.requireNonNull(text);
			Objects.requireNonNull(step);
		}

	}

	/**
	 * One addition.
	 *
	 * @param amountText measured out, null when the label gives the amount
	 * @param amount grams or millilitres, null when the label gives it
	 * @param start when, counted from the first step; null for the first
	 * @param gap how long before anything else goes in
	 * @param swimWait how long nobody swims because of it
	 * @param changes the levels it moves
	 */
	public record AdviceStep(String productId, String product, ProductKind kind, String purpose, @Nullable String amountText,
			@Nullable Double amount, AmountUnit unit, String title, @Nullable String start, String gap, String swimWait, String reason,
			String choiceReason, List<String> instructions, List<String> cautions, List<LevelChange> changes,
			List<AlternativeProduct> alternatives) {

		public AdviceStep {
			Objects.requireNonNull(product);
			Objects.requireNonNull(kind);
			Objects.requireNonNull(unit);
			Objects.requireNonNull(title);
			instructions = copy(instructions);
			cautions = copy(cautions);
			changes = copy(changes);
			alternatives = copy(alternatives);
		}

	}

	/**
	 * What is expected, in words; bands hold four times in five.
	 *
	 * @param justAfter of what the plan moves
	 * @param when the next visit; null when none is known
	 * @param nextVisit levels then
	 * @param holdProbability that chlorine holds until then, as a sentence; null when unknown
	 * @param suggestions what would hold it where the plan does not
	 */
	public record ForecastText(List<String> justAfter, @Nullable String when, List<String> nextVisit, @Nullable String holdProbability,
			List<String> suggestions) {

		public ForecastText {
			justAfter = copy(justAfter);
			nextVisit = copy(nextVisit);
			suggestions = copy(suggestions);
		}

		public boolean isEmpty() {
			return justAfter.isEmpty() && nextVisit.isEmpty() && holdProbability == null && suggestions.isEmpty();
		}

	}

	/** What the plan costs, in words. @param levelCosts what each level that stays brings forward */
	public record CostText(String text, List<String> levelCosts) {

		public CostText {
			Objects.requireNonNull(text);
			levelCosts = copy(levelCosts);
		}

	}

	/** Another product for the same, and why it was not chosen. @param cost of the plan with it; null where it is not shown */
	public record AlternativeProduct(String product, @Nullable String amountText, String reason, @Nullable String cost) {

		public AlternativeProduct {
			Objects.requireNonNull(product);
			Objects.requireNonNull(reason);
		}

	}

	/**
	 * A level before and after, in the level's own unit.
	 *
	 * @param qualifier of {@code now}: "less than" or "more than" the end of the test's scale
	 * @param state of {@code now}; null when it is not known or the level has no range
	 * @param stateAfter of {@code after}; null likewise
	 */
	public record LevelChange(Level level, @Nullable Double now, ReadingQualifier qualifier, @Nullable Double after,
			LevelState.@Nullable State state, LevelState.@Nullable State stateAfter, @Nullable Double acceptableLow,
			@Nullable Double idealLow, @Nullable Double idealHigh, @Nullable Double acceptableHigh) {

		public LevelChange {
			Objects.requireNonNull(level);
			Objects.requireNonNull(qualifier);
		}

		public boolean changes() {
			return now != null && after != null && Math.abs(after - now) >= 0.5 * Math.pow(10, -level.decimals());
		}

	}

	/** Water to replace. */
	public record ReplacementText(double share, String text, List<String> reasons, List<String> cautions) {

		public ReplacementText {
			reasons = copy(reasons);
			cautions = copy(cautions);
		}

	}

	/** Null when no dose was worked out. */
	public @Nullable PlanText plan() {
		return (content instanceof PlanText plan) ? plan : null;
	}

	/** Null when there is a plan. */
	public @Nullable RefusalText refusal() {
		return (content instanceof RefusalText refusal) ? refusal : null;
	}

	/** In the order they go in; none without a plan. */
	public List<AdviceStep> steps() {
		return (content instanceof PlanText plan) ? plan.steps : List.of();
	}

	public String toJson() {
		return VisitJson.MAPPER.writeValueAsString(this);
	}

	/** Empty for anything that this service has not written. */
	public static Optional<Advice> fromJson(@Nullable String json) {
		if (json == null || json.isBlank() || json.length() > TEXT_MAX) {
			return Optional.empty();
		}
		try {
			Advice advice = VisitJson.MAPPER.readValue(json, Advice.class);
			return (advice != null && advice.schema == SCHEMA) ? Optional.of(advice) : Optional.empty();
		}
		catch (JacksonException ex) {
			return Optional.empty();
		}
	}

	private static <T> List<T> copy(@Nullable List<T> list) {
		return (list == null) ? List.of() : List.copyOf(list);
	}

}
