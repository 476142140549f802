package org.meniscus.tools;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.text.MessageFormat;
import java.util.List;
import java.util.Locale;
import java.util.ResourceBundle;
import java.util.StringJoiner;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.SwimReadiness;
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
import org.meniscus.water.plan.Step;
import org.meniscus.water.plan.WaterReplacement;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.season.TotalCost;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.UnitSystem;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.json.JsonMapper;

/**
 * Prints the plan for each pool and water: {@code plan [--json] IN.json ...}, with {@code -} for standard input. See docs/plan-tool.md.
 */
public final class PlanPrinter {

	private final PrintStream out;

	private final UnitSystem units;

	private final Wording.Texts texts;

	private PlanPrinter(PrintStream out, UnitSystem units) {
		this.out = out;
		this.units = units;
		this.texts = texts();
	}

	private static Wording.Texts texts() {
		ResourceBundle bundle = ResourceBundle.getBundle("messages.water", Locale.ROOT);
		return (key, args) -> (args.length == 0) ? bundle.getString(key) : MessageFormat.format(bundle.getString(key), args);
	}

	private static final String READY = "Ready to swim when all of this is so";

	public static void main(String[] args) {
		int status = run(args, System.in, new PrintStream(System.out, true, StandardCharsets.UTF_8), System.err);
		if (status != 0) {
			System.exit(status);
		}
	}

	/** @return 0 when all plans were printed, 1 when no dose may be worked out for one, 2 when one was not understood */
	static int run(String[] args, InputStream in, PrintStream out, PrintStream err) {
		List<String> files = Stream.of(args).filter(arg -> !"--json".equals(arg)).toList();
		if (files.isEmpty() || files.stream().anyMatch(file -> file.startsWith("--"))) {
			err.println("plan: give files, or - for standard input: [--json] IN.json ...");
			return 2;
		}
		boolean json = files.size() < args.length;
		int status = 0;
		for (String file : files) {
			if (!json && files.size() > 1) {
				out.println("== " + file);
			}
			status = Math.max(status, json ? printJson(file, in, out) : print(file, in, out, err));
		}
		return status;
	}

	private static int print(String file, InputStream in, PrintStream out, PrintStream err) {
		try {
			PlanRequest request = read(file, in);
			PlanResult outcome = Planner.plan(request);
			new PlanPrinter(out, request.units()).print(outcome, request);
			return (outcome instanceof PlanRefusal) ? 1 : 0;
		}
		catch (IOException | JacksonException | IllegalArgumentException ex) {
			err.println("plan: " + fault(ex));
			return 2;
		}
	}

	/** One line of JSON, also for a file that is not understood. */
	private static int printJson(String file, InputStream in, PrintStream out) {
		String name = "-".equals(file) ? file : String.valueOf(Path.of(file).getFileName());
		try {
			PlanRequest request = read(file, in);
			PlanResult outcome = Planner.plan(request);
			out.println(JsonMapper.shared().writeValueAsString(PlanJson.of(name, request, outcome, texts())));
			return (outcome instanceof PlanRefusal) ? 1 : 0;
		}
		catch (IOException | JacksonException | IllegalArgumentException ex) {
			out.println(JsonMapper.shared().writeValueAsString(new PlanJson.Failure(name, fault(ex))));
			return 2;
		}
	}

	private static PlanRequest read(String file, InputStream in) throws IOException {
		String json = "-".equals(file) ? new String(in.readAllBytes(), StandardCharsets.UTF_8)
				: Files.readString(Path.of(file), StandardCharsets.UTF_8);
		return PlanRequestParser.parse(JsonMapper.shared().readTree(json));
	}

	private static String fault(Exception ex) {
		if (ex instanceof NoSuchFileException missing) {
			return "no such file: " + missing.getFile();
		}
		return (ex instanceof JacksonException notJson) ? "not JSON: " + notJson.getOriginalMessage() : String.valueOf(ex.getMessage());
	}

	private void print(PlanResult outcome, PlanRequest request) {
		heading(this.texts.text(Wording.situationKey(request.situation())));
		SwimReadiness swim = outcome.swim();
		if (swim.closed()) {
			list(describe(SwimReadiness.CLOSED), swim.closedUntil());
		}
		levels(outcome.assessment().levels(), (outcome instanceof Plan plan) ? plan.after() : null);
		list("Flags", outcome.assessment().reasons());
		if (outcome instanceof PlanRefusal refused) {
			list("No dose is worked out", refused.reasons());
			list("Meanwhile", refused.tasks());
			list(READY, swim.reasons());
			return;
		}
		Plan plan = (Plan) outcome;
		list("Cautions", plan.cautions());
		if (plan.isEmpty()) {
			heading(plan.missing().isEmpty() ? "No chemicals at this visit" : "What this water needs is not along: see what to bring");
		}
		int number = 1;
		for (Step step : plan.steps()) {
			step(number++, step);
		}
		list("To be brought", plan.missing().stream().map(Plan.MissingProduct::reason).toList());
		followUps(plan.followUps());
		replacement(plan.replacement());
		list("Work", plan.tasks());
		list(READY, swim.reasons());
		list("Notes", plan.notes().stream().map(Plan.Note::reason).toList());
		alternatives("Not used", plan.rejected());
		expectedOutcome(plan.outcome());
		if (!plan.isEmpty()) {
			heading("Cost" + (plan.cost().allPriced() ? "" : " (usual prices where none is known)"));
			cost(plan.cost());
		}
	}

	private void cost(TotalCost cost) {
		this.out.println("  today " + money(cost.productCost()) + ((cost.waitingCost() > 0) ? ", waiting " + money(cost.waitingCost()) : "")
				+ ((cost.laterCost() > 0) ? ", later " + money(cost.laterCost()) : "")
				+ ", with what stays in the water " + money(cost.withLastingEffects()));
		for (TotalCost.LevelCost left : cost.levelCosts()) {
			this.out.println("  leaves " + this.texts.text(Wording.levelKey(left.level())) + " " + Wording.decimal(left.change(), 1) + ": "
					+ money(left.cost()));
		}
	}

	private static String money(double cents) {
		return Wording.decimal(cents / 100, 2);
	}

	private void expectedOutcome(ExpectedOutcome outcome) {
		if (!outcome.justAfter().isEmpty()) {
			heading("After the plan, four times in five");
			outcome.justAfter().forEach(this::band);
		}
		if (outcome.days() > 0) {
			heading("Expected at the next visit, in " + Wording.format(new Term.Days(outcome.days()), this.units, this.texts)
					+ ", four times in five");
			outcome.nextVisit().forEach(this::band);
			if (outcome.holdProbability() != null) {
				this.out
					.println("  chance that free chlorine is then at its minimum or above: " + Wording.percent(outcome.holdProbability())
							+ " %");
			}
		}
		list("What would hold it", outcome.suggestions());
	}

	private void band(Level level, Band band) {
		this.out.println("  " + this.texts.text(Wording.levelKey(level)) + ": " + Wording.level(level, band.middle(), this.units) + " ("
				+ Wording.number(level, band.low()) + " to " + Wording.number(level, band.high()) + ")");
	}

	private void levels(Levels now, @Nullable Levels after) {
		heading("Levels" + ((after != null) ? ", now -> after" : ""));
		for (Level level : Level.values()) {
			Double value = now.value(level);
			if (value == null) {
				continue;
			}
			Double then = (after != null) ? after.value(level) : null;
			this.out.println("  " + this.texts.text(Wording.levelKey(level)) + ": " + Wording.level(level, value, this.units)
					+ ((then != null) ? " -> " + Wording.level(level, then, this.units) : ""));
		}
	}

	private void step(int number, Step step) {
		heading(number + ". " + this.texts.text("water.purpose." + step.purpose()) + ": " + amount(step.amount()) + " "
				+ name(step.product()));
		if (step.startMinutes() > 0) {
			this.out.println("  not earlier than " + Wording.hours(step.startMinutes() / 60.0, this.texts) + " after the first");
		}
		this.out.println("  why: " + describe(step.reason()) + ". " + describe(step.choiceReason()) + ".");
		step.instructions().forEach(instruction -> this.out.println("  how: " + describe(instruction)));
		step.cautions().forEach(caution -> this.out.println("  caution: " + describe(caution)));
		if (step.gapMinutes() > 0 || step.waitHours() > 0) {
			this.out.println("  next product after " + Wording.hours(step.gapMinutes() / 60.0, this.texts) + ", swimming not before "
					+ Wording.hours(step.waitHours(), this.texts));
		}
		StringJoiner changes = new StringJoiner(", ");
		for (Level level : Level.values()) {
			Double before = step.before().value(level);
			Double after = step.after().value(level);
			if (before != null && after != null && !Wording.number(level, before).equals(Wording.number(level, after))) {
				changes.add(this.texts.text(Wording.levelKey(level)) + " " + Wording.number(level, before) + " -> "
						+ Wording.number(level, after));
			}
		}
		if (changes.length() > 0) {
			this.out.println("  levels: " + changes);
		}
		if (step.costCents() != null) {
			this.out.println("  cost: " + Wording.decimal(step.costCents() / 100.0, 2));
		}
		for (Step.Alternative alternative : step.alternatives()) {
			this.out.println("  " + ((alternative.measured() != null) ? "or " + amount(alternative.measured()) + " " : "not ")
					+ this.texts.text(Wording.kindKey(alternative.product().kind())) + ": " + describe(alternative.reason())
					+ ((alternative.cost() != null) ? " (plan: today " + money(alternative.cost().productCost()) + ", with what it leaves "
							+ money(alternative.cost().withLastingEffects()) + ")" : ""));
		}
	}

	private void followUps(List<FollowUpStep> later) {
		if (later.isEmpty()) {
			return;
		}
		heading("Later");
		for (FollowUpStep step : later) {
			this.out.println("  in " + Wording.hours(step.afterHours(), this.texts) + ": " + describe(step.reason())
					+ ((step.expectedAmount() != null) ? " (about " + amount(step.expectedAmount()) + ")" : ""));
		}
	}

	private void replacement(@Nullable WaterReplacement replacement) {
		if (replacement == null) {
			return;
		}
		list("Replace water", replacement.reasons());
		this.out.println("  drain and refill " + Wording.volume(replacement.litres(), this.units) + " ("
				+ Wording.decimal(100 * replacement.share(), 0)
				+ " %)"
				+ ((replacement.drainCount() > 1)
						? (replacement.inParts() ? ", in " : ", or ") + replacement.drainCount() + " drains of at most a third" : "")
				+ ", or let "
				+ Wording.decimal(replacement.flowThroughVolumes(), 2)
				+ " pool volumes run through");
		replacement.cautions().forEach(caution -> this.out.println("  caution: " + describe(caution)));
	}

	private void alternatives(String title, List<Step.Alternative> alternatives) {
		if (!alternatives.isEmpty()) {
			heading(title);
			alternatives.forEach(alternative -> this.out
				.println("  " + this.texts.text(Wording.kindKey(alternative.product().kind())) + ": " + describe(alternative.reason())));
		}
	}

	private void list(String title, List<Reason> reasons) {
		if (!reasons.isEmpty()) {
			heading(title);
			reasons.forEach(reason -> this.out.println("  - " + describe(reason)));
		}
	}

	private void heading(String text) {
		this.out.println(text);
	}

	/** The name given, with the kind where the name does not say it. */
	private String name(Product product) {
		String kind = this.texts.text(Wording.kindKey(product.kind()));
		return product.name().equals(product.kind().name()) ? kind : product.name() + " (" + kind + ")";
	}

	private String describe(Reason reason) {
		return reason.format(this.units, this.texts);
	}

	private String amount(@Nullable MeasuredAmount amount) {
		return (amount == null) ? "as its label says" : Wording.amount(amount, this.texts);
	}

}
