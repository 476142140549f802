package org.meniscus.tools;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.ExpectedOutcome;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.PlanResult;
import org.meniscus.water.plan.PlanResult.PlanRefusal;
import org.meniscus.water.plan.Step;
import org.meniscus.water.plan.WaterReplacement;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.Band;

/**
 * A plan as the plan tool prints it for programs, field by field as docs/plan-tool.schema.json says: ppm, pH, grams, millilitres, hours and
 * degrees Celsius whatever the units of the request; null where there is nothing.
 */
record PlanJson(String file, String outcome, List<String> reasons, boolean closed, List<String> closedBecause, Swim swim,
		List<PlanStep> steps, LevelSets levels, @Nullable Double minimumFc, @Nullable Replace replace, @Nullable Holds holds,
		List<Offer> offers, List<Later> later, List<RefusedProduct> refusedProducts, List<String> texts) {

	/** @param notBeforeHours by the clock, from the first addition; null when closed, and when nothing asks for waiting */
	record Swim(@Nullable Double notBeforeHours, List<Condition> conditions) {
	}

	/** @param level null when it is none that a test shows */
	record Condition(@Nullable String level, @Nullable Double min, @Nullable Double max, String text) {
	}

	/** @param millilitres null of a solid; grams and millilitres null where the label gives the amount */
	record PlanStep(String kind, @Nullable Double grams, @Nullable Double millilitres, String shown, double startAfterHours,
			String phase, double swimWaitHours) {
	}

	/** @param settled null where no plan was made */
	record LevelSets(Map<String, Double> before, List<Map<String, Double>> afterSteps, @Nullable Map<String, Double> settled) {
	}

	record Replace(double fraction, String because) {
	}

	record Holds(int untilDays, double chance, @Nullable Double fcLeft) {
	}

	record Offer(String kind, String text) {
	}

	record Later(double inHours, String text) {
	}

	record RefusedProduct(String kind, String because) {
	}

	/** What is printed of a file that was not understood. */
	record Failure(String file, String error) {
	}

	private static final MathContext SIX_DIGITS = new MathContext(6);

	static PlanJson of(String file, PlanRequest request, PlanResult result, Wording.Texts texts) {
		Writer writer = new Writer(request, texts);
		return (result instanceof Plan plan) ? writer.plan(file, plan) : writer.refusal(file, (PlanRefusal) result);
	}

	private static double neat(double value) {
		return new BigDecimal(value).round(SIX_DIGITS).doubleValue();
	}

	private record Writer(PlanRequest request, Wording.Texts texts) {

		PlanJson plan(String file, Plan plan) {
			SwimReadiness swim = plan.swim();
			return new PlanJson(file, "PLAN", sentences(plan.assessment().reasons()), swim.closed(), sentences(swim.closedUntil()),
					swim(swim), plan.steps().stream().map(this::step).toList(),
					new LevelSets(levels(plan.before()), plan.steps().stream().map(Step::after).map(Writer::levels).toList(),
							levels(settled(plan))),
					minimum(swim), replace(plan.replacement()), holds(plan.outcome()), offers(plan),
					plan.followUps().stream().map(later -> new Later(neat(later.afterHours()), sentence(later.reason()))).toList(),
					refusedProducts(plan), allSentences(plan));
		}

		PlanJson refusal(String file, PlanRefusal refused) {
			SwimReadiness swim = refused.swim();
			List<String> all = new ArrayList<>(sentences(swim.closedUntil()));
			all.addAll(sentences(refused.assessment().reasons()));
			all.addAll(sentences(refused.reasons()));
			all.addAll(sentences(refused.tasks()));
			all.addAll(sentences(swim.reasons()));
			return new PlanJson(file, "REFUSED", sentences(refused.reasons()), swim.closed(), sentences(swim.closedUntil()), swim(swim),
					List.of(), new LevelSets(levels(refused.assessment().levels()), List.of(), null), minimum(swim), null, null,
					List.of(), List.of(), List.of(), all);
		}

		private @Nullable Double minimum(SwimReadiness swim) {
			return this.request.pool().sanitizer().usesChlorine() ? Double.valueOf(neat(swim.fcMinimum())) : null;
		}

		private Swim swim(SwimReadiness swim) {
			Double hours = (swim.state() == SwimReadiness.State.AFTER_WAIT) ? Double.valueOf(neat(swim.waitHours())) : null;
			return new Swim(hours, swim.reasons().stream().map(this::condition).toList());
		}

		/** Two values of a level are its range, a single one the most it may be. */
		private Condition condition(Reason reason) {
			List<Term.Value> values = reason.args()
				.stream()
				.filter(term -> term instanceof Term.Value)
				.map(term -> (Term.Value) term)
				.toList();
			if (values.isEmpty()) {
				return new Condition(null, null, null, sentence(reason));
			}
			Term.Value last = values.get(values.size() - 1);
			Double least = reason.code().equals("swim.fc-falls") || values.size() == 1 ? null : Double.valueOf(neat(values.get(0).value()));
			return new Condition(levelName(last.level()), least, neat(last.value()), sentence(reason));
		}

		private PlanStep step(Step step) {
			MeasuredAmount amount = step.amount();
			boolean liquid = step.product().unit() == AmountUnit.ML;
			Double measured = (amount == null) ? null : Double.valueOf(neat(amount.amount()));
			Double grams = (amount == null || !liquid) ? measured
					: Double.valueOf(neat(amount.amount() * step.product().densityOrUsual()));
			return new PlanStep(step.product().kind().name(), grams, liquid ? measured : null,
					(amount == null) ? "as its label says" : Wording.amount(amount, this.texts), neat(step.startMinutes() / 60.0),
					"NOW", neat(step.waitHours()));
		}

		/** All dissolved, the chlorine of the plan used up, and a day later what the water has taken up or given off of carbon dioxide. */
		private Levels settled(Plan plan) {
			double litres = (this.request.pool().volume() == null) ? 0 : this.request.pool().volume().litres();
			PoolWater water = PoolWater.of(this.request.pool(), this.request.lastKnown().fillIn(this.request.readings()));
			for (Step step : plan.steps()) {
				if (step.amount() != null && step.purpose() != Step.Purpose.FEED) {
					water = water.after(step.product(), step.amount().amount(), litres);
				}
			}
			double brought = water.water().freeChlorine() - plan.before().value(Level.FC, 0);
			water = (brought > 0) ? water.withChlorineUsed(brought) : water;
			OptionalDouble ph = (water.knows(Level.PH) && water.knows(Level.TA))
					? this.request.forecast().phDrift().expectedPh(water.water(), 0, 1) : OptionalDouble.empty();
			return (ph.isPresent() ? water.withPh(ph.getAsDouble()) : water).levels();
		}

		private static Map<String, Double> levels(Levels levels) {
			Map<String, Double> values = new LinkedHashMap<>();
			levels.values().forEach((level, value) -> values.put(levelName(level), neat(value)));
			return values;
		}

		private static String levelName(Level level) {
			return (level == Level.SATURATION_INDEX) ? "SI" : level.name();
		}

		private static @Nullable Replace replace(@Nullable WaterReplacement replacement) {
			if (replacement == null) {
				return null;
			}
			String cause = replacement.reasons().get(0).code();
			return new Replace(neat(replacement.share()), constant(cause));
		}

		private static @Nullable Holds holds(ExpectedOutcome outcome) {
			if (outcome.holdProbability() == null) {
				return null;
			}
			Band left = outcome.nextVisit().get(Level.FC);
			return new Holds(outcome.days(), neat(outcome.holdProbability()),
					(left == null) ? null : Double.valueOf(neat(left.middle())));
		}

		private List<Offer> offers(Plan plan) {
			List<Offer> offers = new ArrayList<>();
			plan.outcome().suggestions().forEach(reason -> offers.add(new Offer(offerKind(reason), sentence(reason))));
			plan.missing().forEach(missing -> offers.add(new Offer("BRING", sentence(missing.reason()))));
			return offers;
		}

		private static String offerKind(Reason reason) {
			return switch (reason.code()) {
				case "offer.sooner" -> "EARLIER_STOP";
				case "offer.replace" -> "NEW_WATER";
				case "offer.cell-times", "offer.cell-set", "offer.cell-run", "offer.cell-small" -> "CELL";
				case "offer.feeder-times", "offer.bromine-feeder" -> "FEEDER";
				case "offer.client-adds-daily" -> "CLIENT_ADDS";
				default -> constant(reason.code());
			};
		}

		/** What follows the point of a code, as a constant: {@code replace.cya} is CYA. */
		private static String constant(String code) {
			return code.substring(code.lastIndexOf('.') + 1).toUpperCase(Locale.ROOT).replace('-', '_');
		}

		private List<RefusedProduct> refusedProducts(Plan plan) {
			LinkedHashSet<RefusedProduct> refused = new LinkedHashSet<>();
			plan.steps()
				.stream()
				.flatMap(step -> step.alternatives().stream())
				.filter(alternative -> alternative.reason().code().startsWith("reject."))
				.forEach(alternative -> refused.add(refused(alternative.product(), alternative.reason())));
			plan.rejected().forEach(rejected -> refused.add(refused(rejected.product(), rejected.reason())));
			return List.copyOf(refused);
		}

		private RefusedProduct refused(Product product, Reason because) {
			return new RefusedProduct(product.kind().name(), sentence(because));
		}

		/** In the order in which they are printed for people. */
		private List<String> allSentences(Plan plan) {
			List<String> all = new ArrayList<>(sentences(plan.swim().closedUntil()));
			all.addAll(sentences(plan.assessment().reasons()));
			all.addAll(sentences(plan.cautions()));
			for (Step step : plan.steps()) {
				all.add(sentence(step.reason()));
				all.add(sentence(step.choiceReason()));
				all.addAll(sentences(step.instructions()));
				all.addAll(sentences(step.cautions()));
				step.alternatives().forEach(alternative -> all.add(this.texts.text(Wording.kindKey(alternative.product().kind())) + ": "
						+ sentence(alternative.reason())));
			}
			plan.missing().forEach(missing -> all.add(sentence(missing.reason())));
			plan.followUps().forEach(later -> all.add(sentence(later.reason())));
			if (plan.replacement() != null) {
				all.addAll(sentences(plan.replacement().reasons()));
				all.addAll(sentences(plan.replacement().cautions()));
			}
			all.addAll(sentences(plan.tasks()));
			all.addAll(sentences(plan.swim().reasons()));
			all.addAll(sentences(plan.notes().stream().map(Plan.Note::reason).toList()));
			plan.rejected().forEach(rejected -> all
				.add(this.texts.text(Wording.kindKey(rejected.product().kind())) + ": " + sentence(rejected.reason())));
			all.addAll(sentences(plan.outcome().suggestions()));
			return all;
		}

		private List<String> sentences(List<Reason> reasons) {
			return reasons.stream().map(this::sentence).toList();
		}

		private String sentence(Reason reason) {
			return reason.format(this.request.units(), this.texts);
		}

	}

}
