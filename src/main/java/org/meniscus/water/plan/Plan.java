package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.Assessment;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.season.TotalCost;

/**
 * What to do at this stop.
 *
 * @param situation what it is for
 * @param steps in the order they go in; empty when no chemical is needed
 * @param before every known level now
 * @param after every known level after all steps
 * @param swim once all steps are done
 * @param replacement null when dosing solves it
 * @param followUps what another day brings, in time order
 * @param tasks things to do that are not chemicals (brush, filter, vent), in order
 * @param cautions for the whole plan, the label first
 * @param notes flags about the water, assumptions made
 * @param rejected products that were not allowed, each with its reason, for levels that no step moves
 * @param cost now and by the season's end
 * @param outcome how far off the levels may be afterwards, and where they will be at the next visit
 * @param missing what would go in today if it were along, to be brought; empty when everything needed is along
 */
public record Plan(Assessment assessment, Situation situation, List<Step> steps, Levels before, Levels after, SwimReadiness swim,
		@Nullable WaterReplacement replacement, List<FollowUpStep> followUps, List<Reason> tasks, List<Reason> cautions,
		List<Note> notes,
		List<Step.Alternative> rejected, TotalCost cost, ExpectedOutcome outcome,
		List<MissingProduct> missing) implements PlanResult {

	/** Something to be shown with a plan, and its topic. */
	public record Note(Topic topic, Reason reason) {

		/** What a note is about. */
		public enum Topic {

			/** Today's water and what is done about it. */
			TODAY,
			/** What was taken from the records of earlier visits. */
			EARLIER_VISITS,
			/** What comes before everything: that the pool will not be ready when people come. */
			BEFORE_ALL,
			/** That nobody knows when the next visit is, and what is taken instead. */
			NEXT_VISIT_UNKNOWN,
			/** That FC is not expected to last until the next visit. */
			RESIDUAL_NOT_HELD

		}

		public Note {
			Objects.requireNonNull(topic);
			Objects.requireNonNull(reason);
		}

		static Note today(Reason reason) {
			return new Note(Topic.TODAY, reason);
		}

		static Note earlierVisits(Reason reason) {
			return new Note(Topic.EARLIER_VISITS, reason);
		}

	}

	/**
	 * A product that is needed but not along: the company's own where it has one that is allowed here, else the usual one of its kind.
	 *
	 * @param amount for the whole goal, caps for one addition aside
	 * @param cause the level that asks for it; null when none does
	 */
	public record MissingProduct(Step.Purpose purpose, Product product, MeasuredAmount amount, @Nullable Level cause) {

		/** What to bring, in a sentence. */
		public Reason reason() {
			return Reason.of("missing.bring", new Term.Amount(this.amount), Term.of(this.product.kind()));
		}

	}

	public Plan {
		steps = List.copyOf(steps);
		followUps = List.copyOf(followUps);
		tasks = List.copyOf(tasks);
		cautions = List.copyOf(cautions);
		notes = List.copyOf(notes);
		rejected = List.copyOf(rejected);
		missing = List.copyOf(missing);
	}

	/** Notes on one topic, in order. */
	public List<Reason> notes(Note.Topic topic) {
		return this.notes.stream().filter(note -> note.topic() == topic).map(Note::reason).toList();
	}

	/**
	 * What is said before anything else but that the pool is closed: that it will not be ready when people come, chlorine that is not along,
	 * that the next visit is not known, and that chlorine will not last until then, with what would make it last.
	 */
	public List<Reason> first() {
		List<Reason> first = new ArrayList<>(notes(Note.Topic.BEFORE_ALL));
		for (MissingProduct product : this.missing) {
			if (product.purpose() == Step.Purpose.RAISE_FC) {
				first.add(Reason.of("first.no-chlorine", new Term.Amount(product.amount()), Term.of(product.product().kind())));
			}
		}
		first.addAll(notes(Note.Topic.NEXT_VISIT_UNKNOWN));
		first.addAll(notes(Note.Topic.RESIDUAL_NOT_HELD));
		first.addAll(this.outcome.suggestions());
		return first;
	}

	/** No chemicals today. */
	public boolean isEmpty() {
		return this.steps.isEmpty();
	}

	/**
	 * Something for another day, because a cap, a gap or the water's own time splits the work.
	 *
	 * @param afterHours not earlier than so many hours from now
	 * @param product what is expected to go in then; null for a test or a piece of work
	 * @param expectedAmount amount expected now, to be worked out again from new readings; null for a test, when the label gives it or only that
	 * day's test can say
	 * @param reason what to do and why
	 */
	public record FollowUpStep(double afterHours, @Nullable Product product, @Nullable MeasuredAmount expectedAmount, Reason reason) {
	}

}
