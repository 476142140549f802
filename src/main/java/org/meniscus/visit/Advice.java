package org.meniscus.visit;

import java.util.List;
import java.util.Objects;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.UnitSystem;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.DeserializationFeature;
import tools.jackson.databind.json.JsonMapper;

/**
 * A plan, or why there is none, as it was shown: sentences in the reader's language and units, and beside them the codes and
 * figures they were made from. Kept with the visit as JSON.
 *
 * @param language of the sentences, "en" or "es"
 * @param refused no dose was worked out; {@code reasons} say why and {@code meanwhile} what can be done without
 * @param basis names the readings, situation and people expected that it was worked out from
 * @param findings what stands out in the water now
 * @param levels every level now and, with a plan, after all steps
 * @param draining water to replace; null when dosing solves it
 * @param swim conditions before anyone enters, all of them
 * @param swimHours longest wait counted from the first step
 * @param earlier what was taken from earlier visits; among the notes in advice of schema 1 and 2
 * @param coming what {@code later} says, as data; none in advice of schema 1
 * @param ahead what is expected once the plan is done; null in advice of schema 1
 * @param costing what the plan costs; null for whoever is not shown costs
 */
public record Advice(int schema, String language, UnitSystem units, boolean refused, Situation situation, String basis,
		List<String> reasons, List<String> meanwhile, List<String> findings, List<AdviceStep> steps, List<LevelChange> levels,
		@Nullable ReplacementText draining, List<String> swim, @Nullable String swimWait, double swimHours, boolean swimOnlyAfterTest,
		List<String> later, List<String> work, List<String> cautions, List<String> notes, List<String> earlier,
		List<String> rejected, List<DatedFollowUp> coming, @Nullable ForecastText ahead, @Nullable CostText costing) {

	/** Raised when what is stored changes; every older one is still read. */
	static final int SCHEMA = 3;

	private static final int TEXT_MAX = 200_000;

	private static final JsonMapper JSON = JsonMapper.builder()
		.disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
		.disable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
		.addMixIn(Term.class, TermMixin.class)
		.build();

	public Advice {
		Objects.requireNonNull(situation);
		Objects.requireNonNull(units);
		Objects.requireNonNull(basis);
		reasons = copy(reasons);
		meanwhile = copy(meanwhile);
		findings = copy(findings);
		steps = copy(steps);
		levels = copy(levels);
		swim = copy(swim);
		later = copy(later);
		work = copy(work);
		cautions = copy(cautions);
		notes = copy(notes);
		earlier = copy(earlier);
		rejected = copy(rejected);
		coming = copy(coming);
	}

	/**
	 * One addition.
	 *
	 * @param amountText measured out, null when the label gives the amount
	 * @param amount grams or millilitres, null when the label gives it
	 * @param start when, counted from the first step; null for the first
	 * @param gap how long before anything else goes in
	 * @param noSwim how long nobody swims because of it
	 * @param changes the levels it moves
	 */
	public record AdviceStep(String productId, String product, ProductKind kind, String purpose, @Nullable String amountText,
			@Nullable Double amount, AmountUnit unit, String title, @Nullable String start, String gap, String noSwim, String reason,
			String choice, List<String> how, List<String> cautions, List<LevelChange> changes, List<AlternativeProduct> others) {

		public AdviceStep {
			Objects.requireNonNull(product);
			Objects.requireNonNull(kind);
			Objects.requireNonNull(unit);
			Objects.requireNonNull(title);
			how = copy(how);
			cautions = copy(cautions);
			changes = copy(changes);
			others = copy(others);
		}

	}

	/**
	 * What is expected, in words; bands hold four times in five.
	 *
	 * @param justAfter of what the plan moves
	 * @param when the next visit; null when none is known
	 * @param levels at the next visit
	 * @param chance that chlorine holds until then, as a sentence; null when that cannot be told
	 * @param offers what would hold it where the plan does not
	 */
	public record ForecastText(List<String> justAfter, @Nullable String when, List<String> levels, @Nullable String chance,
			List<String> offers) {

		public ForecastText {
			justAfter = copy(justAfter);
			levels = copy(levels);
			offers = copy(offers);
		}

		public boolean isEmpty() {
			return justAfter.isEmpty() && levels.isEmpty() && chance == null && offers.isEmpty();
		}

	}

	/** What the plan costs, in words. @param left what each level that stays brings forward */
	public record CostText(String text, List<String> left) {

		public CostText {
			Objects.requireNonNull(text);
			left = copy(left);
		}

	}

	/** Another product for the same, and why it was not chosen. @param cost of the plan with it; null where it is not told */
	public record AlternativeProduct(String product, @Nullable String amountText, String why, @Nullable String cost) {

		public AlternativeProduct {
			Objects.requireNonNull(product);
			Objects.requireNonNull(why);
		}

	}

	/**
	 * A level before and after, in the level's own unit.
	 *
	 * @param mark of {@code now}: "less than" or "more than" the end of the test's scale
	 * @param state of {@code now}; null when it is not known or the level not judged
	 * @param stateAfter of {@code after}; null likewise
	 */
	public record LevelChange(Level level, @Nullable Double now, ReadingQualifier mark, @Nullable Double after,
			LevelState.@Nullable State state,
			LevelState.@Nullable State stateAfter, @Nullable Double acceptableLow, @Nullable Double idealLow, @Nullable Double idealHigh,
			@Nullable Double acceptableHigh) {

		public LevelChange {
			Objects.requireNonNull(level);
			Objects.requireNonNull(mark);
		}

		public boolean changes() {
			return now != null && after != null && Math.abs(after - now) >= 0.5 * Math.pow(10, -level.decimals());
		}

	}

	/** Water to replace. */
	public record ReplacementText(double share, String text, List<String> causes, List<String> cautions) {

		public ReplacementText {
			causes = copy(causes);
			cautions = copy(cautions);
		}

	}

	public String toJson() {
		return JSON.writeValueAsString(this);
	}

	/** Empty for anything that this service has not written. */
	public static Optional<Advice> fromJson(@Nullable String json) {
		if (json == null || json.isBlank() || json.length() > TEXT_MAX) {
			return Optional.empty();
		}
		try {
			Advice advice = JSON.readValue(json, Advice.class);
			return (advice != null && advice.schema >= 1 && advice.schema <= SCHEMA) ? Optional.of(advice) : Optional.empty();
		}
		catch (JacksonException ex) {
			return Optional.empty();
		}
	}

	private static <T> List<T> copy(@Nullable List<T> list) {
		return (list == null) ? List.of() : List.copyOf(list);
	}

}
