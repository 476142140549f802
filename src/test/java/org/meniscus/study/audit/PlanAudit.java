package org.meniscus.study.audit;

import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.Supplier;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.PlanResult;
import org.meniscus.water.plan.PlanResult.PlanRefusal;
import org.meniscus.water.plan.Planner;

/**
 * Plans for drawn pools and waters, checked as an outsider would: levels by arithmetic of its own, and the plan's words against each other.
 * {@code audit [WATERS [SEED [EXAMPLES]]]} prints how many plans fail each check and the first examples of each.
 */
final class PlanAudit {

	private final Wording.Texts texts = AuditText.english();

	private final Map<AuditCheck, Integer> counts = new EnumMap<>(AuditCheck.class);

	private final Map<AuditCheck, List<String>> examples = new EnumMap<>(AuditCheck.class);

	private final int mostExamples;

	private int waters;

	private int plans;

	private int failed;

	private int explainedJumps;

	private AuditContinuity.@Nullable Jump worst;

	private PlanAudit(int mostExamples) {
		this.mostExamples = mostExamples;
	}

	public static void main(String[] args) {
		int waters = (args.length > 0) ? Integer.parseInt(args[0]) : 2000;
		long seed = (args.length > 1) ? Long.parseLong(args[1]) : 1;
		int examples = (args.length > 2) ? Integer.parseInt(args[2]) : 3;
		PlanAudit audit = run(waters, seed, examples);
		audit.print(new PrintStream(System.out, true, StandardCharsets.UTF_8));
	}

	static PlanAudit run(int waters, long seed, int examples) {
		PlanAudit audit = new PlanAudit(examples);
		AuditDraw draw = new AuditDraw(seed);
		for (int n = 0; n < waters; n++) {
			audit.add(draw.next());
		}
		return audit;
	}

	int count(AuditCheck check) {
		return this.counts.getOrDefault(check, 0);
	}

	int plans() {
		return this.plans;
	}

	List<String> examples(AuditCheck check) {
		return this.examples.getOrDefault(check, List.of());
	}

	private void add(PlanRequest request) {
		this.waters++;
		PlanResult result = Planner.plan(request);
		if (result instanceof PlanRefusal refused) {
			count(AuditSwim.check(request, refused), () -> AuditText.json(request));
			return;
		}
		Plan plan = (Plan) result;
		this.plans++;
		AuditCase at = AuditCase.of(request, plan);
		List<AuditCheck.Finding> findings = new ArrayList<>(AuditLevels.check(at));
		findings.addAll(AuditWords.check(at, this.texts));
		findings.addAll(AuditSwim.check(at));
		findings.addAll(AuditEquipment.check(at));
		AuditContinuity.Jump jump = (this.plans % 3 == 0) ? AuditContinuity.largest(at) : null;
		if (jump != null && jump.explained()) {
			this.explainedJumps++;
		}
		else if (jump != null) {
			findings.add(new AuditCheck.Finding(AuditCheck.JUMP, jump.text()));
			if (this.worst == null || jump.share() > this.worst.share()) {
				this.worst = jump;
			}
		}
		count(findings, () -> AuditText.json(request) + "\n" + AuditText.plan(at, this.texts));
	}

	/** Each check counts once a plan. */
	private void count(List<AuditCheck.Finding> findings, Supplier<String> shown) {
		Set<AuditCheck> once = EnumSet.noneOf(AuditCheck.class);
		for (AuditCheck.Finding finding : findings) {
			if (once.add(finding.check())) {
				this.counts.merge(finding.check(), 1, Integer::sum);
				List<String> examples = this.examples.computeIfAbsent(finding.check(), check -> new ArrayList<>());
				if (examples.size() < this.mostExamples) {
					examples.add("    water " + this.waters + ": " + finding.detail() + "\n      " + shown.get());
				}
			}
		}
		this.failed += once.isEmpty() ? 0 : 1;
	}

	private void print(PrintStream out) {
		out.printf(Locale.ROOT, "%d waters, %d plans, %d refused; %d of both fail a check%n%n", this.waters, this.plans,
				this.waters - this.plans, this.failed);
		for (AuditCheck check : AuditCheck.values()) {
			out.printf(Locale.ROOT, "%-4s %6d  %s%n", check.key(), count(check), check.text());
		}
		out.printf(Locale.ROOT, "%nContinuity is looked at in every third plan; %d jumps go with a limit that the plan shows.%n",
				this.explainedJumps);
		if (this.worst != null) {
			out.println("Worst other jump: " + this.worst.text());
		}
		for (AuditCheck check : AuditCheck.values()) {
			if (count(check) > 0) {
				out.println();
				out.println(check.key() + " " + check.name() + ": " + check.text());
				examples(check).forEach(out::println);
			}
		}
	}

}
