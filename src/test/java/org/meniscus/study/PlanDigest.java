package org.meniscus.study;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.math.BigDecimal;
import java.math.MathContext;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.text.MessageFormat;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Properties;
import java.util.Random;
import java.util.StringJoiner;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.LastKnownLevels;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.ExpectedOutcome;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.PlanResult;
import org.meniscus.water.plan.PlanResult.PlanRefusal;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.plan.Pools;
import org.meniscus.water.plan.Step;
import org.meniscus.water.plan.WaterReplacement;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.season.TotalCost;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.UnitSystem;

/**
 * Hash of the plans for 6,000 requests drawn with a fixed seed, to show that a change of code changes no plan. Each line holds one fact
 * of a request or its outcome: numbers to six significant digits and the sentences in English and Spanish, then after a tab the message
 * codes and enum constants behind them. No Java class or record names. The first hash leaves out what follows the tab, so it
 * survives renamed codes and constants. With a file argument the lines are written to it, to be compared with {@code diff}.
 */
public final class PlanDigest {

	private static final int REQUESTS = 6000;

	private static final long SEED = 20261125;

	private static final MathContext SIX_DIGITS = new MathContext(6);

	/** Magnitudes below this are rounding errors of sums that cancel. */
	private static final double ZERO = 1e-9;

	private final List<String> lines = new ArrayList<>();

	private final Wording.Texts english = texts("");

	private final Wording.Texts spanish = texts("_es");

	private UnitSystem units = UnitSystem.US;

	private int number;

	private int plans;

	private int refusals;

	private int steps;

	private int tabletSteps;

	private int sentences;

	private PlanDigest() {
	}

	public static void main(String[] args) throws IOException {
		if (args.length > 1) {
			System.err.println("plan-digest: at most one argument, the file to write the lines to");
			System.exit(2);
		}
		Random random = new Random(SEED);
		PlanDigest digest = new PlanDigest();
		for (int n = 0; n < REQUESTS; n++) {
			digest.add(n, draw(n, random));
		}
		if (args.length == 1) {
			Files.write(Path.of(args[0]), digest.lines);
		}
		System.out.printf("%d requests: %d plans, %d refusals, %d steps (%d of tablets), %d sentences, %d lines%n", REQUESTS, digest.plans,
				digest.refusals, digest.steps, digest.tabletSteps, digest.sentences, digest.lines.size());
		System.out.println(
				"numbers and sentences:  " + sha256(digest.lines.stream().map(line -> line.substring(0, line.indexOf('\t'))).toList()));
		System.out.println("with codes, constants:  " + sha256(digest.lines));
	}

	/** Every tenth pool has tablets that the service puts in; every third request knows levels and drift from earlier visits. */
	private static PlanRequest draw(int n, Random random) {
		PlanRequest request = (n % 10 == 0) ? Pools.fed(random) : Pools.random(random);
		if (n % 3 != 0) {
			return request;
		}
		LastKnownLevels carried = new LastKnownLevels(
				Map.of(Level.CYA, new LastKnownLevels.DatedValue(10 + 80 * random.nextDouble(), 1 + random.nextInt(50)), Level.TA,
						new LastKnownLevels.DatedValue(50 + 100 * random.nextDouble(), 1 + random.nextInt(20))));
		PoolForecast forecast = request.forecast();
		return request.withLastKnown(carried)
			.withForecast(forecast.withSeason(random.nextInt(200), forecast.seasonUse() * (0.5 + random.nextDouble()),
					Map.of(Level.CYA, -0.2 * random.nextDouble(), Level.CH, random.nextDouble())));
	}

	private void add(int number, PlanRequest asked) {
		this.number = number;
		this.units = asked.units();
		PoolFacts pool = asked.pool();
		line("request", both(Wording.situationKey(asked.situation())) + " volume " + digits(Objects.requireNonNull(pool.volume()).litres())
				+ " days " + asked.daysToNextVisit() + " swim " + digits(asked.swimWithinHours()) + " products " + asked.products().size(),
				asked.situation() + " " + pool.body() + " " + pool.surface() + " " + pool.sanitizer() + " " + asked.units());
		StringJoiner readings = new StringJoiner(", ");
		asked.readings().tested().forEach(level -> readings.add(name(level) + " " + digits(asked.readings().value(level))));
		line("readings", readings.toString(), "");
		PlanResult outcome = Planner.plan(asked);
		assessment(outcome.assessment());
		if (outcome instanceof PlanRefusal refused) {
			this.refusals++;
			line("refused", "", "");
			reasons("refused because", refused.reasons());
			reasons("refused, meanwhile", refused.tasks());
		}
		else {
			this.plans++;
			plan((Plan) outcome);
		}
	}

	private void assessment(Assessment assessment) {
		assessment.states().forEach((level, state) -> {
			Range range = state.range();
			line("state " + name(level), state.qualifier().sign() + digits(state.value()) + " limit " + digits(state.limit()) + " by "
					+ digits(state.deviation()) + " range " + digits(range.acceptableLow()) + " " + digits(range.idealLow()) + " "
					+ digits(range.idealHigh()) + " " + digits(range.acceptableHigh()) + " " + range.source(),
					level + " " + state.state() + " " + state.direction());
			if (state.reason() != null) {
				reason("state " + name(level) + " reason", state.reason());
			}
		});
		levels("assessed", assessment.levels());
		line("assessed", "trade index " + digits(assessment.tradeIndex()) + " FC minimum " + digits(assessment.fcMinimum()) + " FC ceiling "
				+ digits(assessment.fcCeiling()), "");
		reasons("flag", assessment.reasons());
	}

	private void plan(Plan plan) {
		line("plan", both(Wording.situationKey(plan.situation())) + " cents " + costCents(plan), plan.situation().name());
		levels("now", plan.before());
		levels("after", plan.after());
		for (int n = 0; n < plan.steps().size(); n++) {
			step("step " + (n + 1), plan.steps().get(n));
		}
		for (FollowUpStep later : plan.followUps()) {
			line("later",
					"after hours " + digits(later.afterHours()) + " " + product(later.product()) + " " + amount(later.expectedAmount()),
					"");
			reason("later reason", later.reason());
		}
		SwimReadiness swim = plan.swim();
		line("swim",
				"earliest hours " + digits(swim.waitHours()) + " only after test " + (swim.state() == SwimReadiness.State.CLOSED) + " FC "
						+ digits(swim.fcMinimum()) + " to " + digits(swim.fcMaximum()),
				"");
		reasons("swim", swim.reasons());
		if (plan.replacement() != null) {
			replacement(plan.replacement());
		}
		reasons("work", plan.tasks());
		reasons("caution", plan.cautions());
		reasons("note", plan.notes().stream().map(Plan.Note::reason).toList());
		plan.rejected().forEach(rejected -> alternative("not used", rejected));
		cost("cost", plan.cost());
		ExpectedOutcome prospect = plan.outcome();
		bands("just after", prospect.justAfter());
		line("next visit", "days " + prospect.days() + " chance " + digits(prospect.holdProbability()), "");
		bands("next visit", prospect.nextVisit());
		reasons("offer", prospect.suggestions());
	}

	private void step(String label, Step step) {
		this.steps++;
		if (step.purpose() == Step.Purpose.FEED) {
			this.tabletSteps++;
		}
		line(label,
				both("water.purpose." + step.purpose()) + " " + product(step.product()) + " exact " + digits(step.unroundedAmount()) + " "
						+ amount(step.amount()),
				step.purpose().name());
		line(label, "start minutes " + step.startMinutes() + " gap minutes " + step.gapMinutes() + " wait hours " + digits(step.waitHours())
				+ " cents " + step.costCents(), "");
		reason(label + " reason", step.reason());
		reason(label + " choice", step.choiceReason());
		reasons(label + " how", step.instructions());
		reasons(label + " caution", step.cautions());
		levels(label + " before", step.before());
		levels(label + " after", step.after());
		step.alternatives().forEach(alternative -> alternative(label + " alternative", alternative));
	}

	private void alternative(String label, Step.Alternative alternative) {
		line(label, product(alternative.product()) + " " + amount(alternative.measured()), "");
		reason(label + " why", alternative.reason());
		if (alternative.cost() != null) {
			cost(label + " cost", alternative.cost());
		}
		if (alternative.after() != null) {
			levels(label + " after", alternative.after());
		}
	}

	private void replacement(WaterReplacement replacement) {
		line("replace", "share " + digits(replacement.share()) + " run through " + digits(replacement.flowThroughVolumes()) + " litres "
				+ digits(replacement.litres()) + " partial drains " + replacement.drainCount(), "");
		levels("replace after", replacement.after());
		reasons("replace cause", replacement.reasons());
		reasons("replace caution", replacement.cautions());
	}

	private void cost(String label, TotalCost cost) {
		line(label,
				"now " + digits(cost.productCost()) + " waiting " + digits(cost.waitingCost()) + " by season end "
						+ digits(cost.withLastingEffects())
						+ " priced " + cost.allPriced(),
				"");
		cost.levelCosts()
			.forEach(left -> line(label + " left", name(left.level()) + " " + digits(left.change()) + " costs " + digits(left.cost()), ""));
	}

	private void levels(String label, Levels levels) {
		StringJoiner values = new StringJoiner(", ");
		levels.values().forEach((level, value) -> values.add(name(level) + " " + digits(value)));
		line(label + " levels", values.toString(), "");
	}

	private void bands(String label, Map<Level, Band> bands) {
		StringJoiner values = new StringJoiner(", ");
		bands.forEach((level, band) -> values
			.add(name(level) + " " + digits(band.low()) + " " + digits(band.middle()) + " " + digits(band.high())));
		line(label + " bands", values.toString(), "");
	}

	private void reasons(String label, List<Reason> reasons) {
		reasons.forEach(reason -> reason(label, reason));
	}

	private void reason(String label, Reason reason) {
		this.sentences++;
		StringJoiner numbers = new StringJoiner(" ", "[", "]");
		StringJoiner codes = new StringJoiner(" ");
		codes.add(reason.code());
		for (Term term : reason.args()) {
			term(term, numbers, codes);
		}
		line(label, numbers + " " + reason.format(this.units, this.english) + " / " + reason.format(this.units, this.spanish),
				codes.toString());
	}

	private static void term(Term term, StringJoiner numbers, StringJoiner codes) {
		if (term instanceof Term.Value value) {
			numbers.add(value.qualifier().sign() + digits(value.value()));
			codes.add(value.level().name());
		}
		else if (term instanceof Term.Difference difference) {
			numbers.add(digits(difference.amount()));
			codes.add(difference.level().name());
		}
		else if (term instanceof Term.Number bare) {
			numbers.add(digits(bare.value()));
		}
		else if (term instanceof Term.Share share) {
			numbers.add(digits(share.share()));
		}
		else if (term instanceof Term.Hours hours) {
			numbers.add(digits(hours.hours()));
		}
		else if (term instanceof Term.Days days) {
			numbers.add(digits(days.days()));
		}
		else if (term instanceof Term.WaterVolume water) {
			numbers.add(digits(water.litres()));
		}
		else if (term instanceof Term.Amount amount) {
			numbers.add(digits(amount.amount().amount()));
		}
		else if (term instanceof Term.Chlorine chlorine) {
			numbers.add(digits(chlorine.grams()));
		}
		else if (term instanceof Term.Word word) {
			codes.add(word.key());
		}
		else if (term instanceof Term.Words words) {
			words.keys().forEach(codes::add);
		}
		else if (term instanceof Term.Clause clause) {
			codes.add(clause.reason().code());
			clause.reason().args().forEach(arg -> term(arg, numbers, codes));
		}
		else if (!(term instanceof Term.Text)) {
			throw new IllegalStateException("a kind of term not in the digest: " + term);
		}
	}

	private String product(@Nullable Product product) {
		return (product == null) ? "no product" : both(Wording.kindKey(product.kind()));
	}

	private String amount(@Nullable MeasuredAmount amount) {
		return (amount == null) ? "no amount"
				: digits(amount.amount()) + " = " + Wording.amount(amount, this.english) + " / " + Wording.amount(amount, this.spanish);
	}

	private String name(Level level) {
		return this.english.text(Wording.levelKey(level));
	}

	private String both(String key) {
		return this.english.text(key) + " / " + this.spanish.text(key);
	}

	private void line(String label, String facts, String codes) {
		String line = this.number + " " + label + ": " + facts;
		if (line.indexOf('\t') >= 0 || line.indexOf('\n') >= 0) {
			throw new IllegalStateException("a tab or line end within: " + line);
		}
		this.lines.add(line + "\t" + codes);
	}

	private static String digits(@Nullable Number number) {
		if (number == null) {
			return "-";
		}
		double value = number.doubleValue();
		if (Double.isNaN(value) || Double.isInfinite(value)) {
			return Double.toString(value);
		}
		return (Math.abs(value) < ZERO) ? "0" : new BigDecimal(value).round(SIX_DIGITS).stripTrailingZeros().toPlainString();
	}

	private static Wording.Texts texts(String language) {
		Properties texts = new Properties();
		try (Reader reader = new InputStreamReader(
				Objects.requireNonNull(PlanDigest.class.getResourceAsStream("/messages/water" + language + ".properties")),
				StandardCharsets.UTF_8)) {
			texts.load(reader);
		}
		catch (IOException ex) {
			throw new IllegalStateException(ex);
		}
		return (key, args) -> MessageFormat.format(Objects.requireNonNull(texts.getProperty(key), key), args);
	}

	private static String sha256(List<String> lines) {
		try {
			MessageDigest sha = MessageDigest.getInstance("SHA-256");
			lines.forEach(line -> sha.update((line + "\n").getBytes(StandardCharsets.UTF_8)));
			return HexFormat.of().formatHex(sha.digest());
		}
		catch (NoSuchAlgorithmException ex) {
			throw new IllegalStateException(ex);
		}
	}

	/** Cost of all steps; null as soon as one has no known cost. */
	private static @Nullable Long costCents(Plan plan) {
		List<@Nullable Long> costs = plan.steps().stream().map(Step::costCents).toList();
		return costs.contains(null) ? null : Long.valueOf(costs.stream().mapToLong(Long::longValue).sum());
	}

}
