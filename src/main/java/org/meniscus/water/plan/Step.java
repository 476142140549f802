package org.meniscus.water.plan;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.season.TotalCost;

/**
 * One addition. Steps are done in their order; each waits until {@code startMinutes} after the first.
 *
 * @param unroundedAmount amount worked out, grams or millilitres, before rounding; null when the label gives the amount
 * @param amount the amount to put in, rounded once toward the safe side; null when the label gives the amount
 * @param instructions how it goes in
 * @param before every known level before this step
 * @param after every known level just after it, worked out from the rounded amount
 * @param startMinutes minutes after the first step, the gaps before it included
 * @param gapMinutes minutes with the pump running before the next step or any other product
 * @param waitHours hours before anyone swims because of this product
 * @param reason why it is added
 * @param choiceReason why this product
 * @param costCents minor units; null when no price is known or the label gives the amount
 */
public record Step(Product product, Purpose purpose, @Nullable Double unroundedAmount, @Nullable MeasuredAmount amount,
		List<Reason> instructions, Levels before, Levels after, int startMinutes, int gapMinutes, double waitHours,
		List<Reason> cautions, Reason reason, Reason choiceReason, @Nullable Long costCents, List<Alternative> alternatives) {

	/**
	 * Another product that moves the same level.
	 *
	 * @param measured what it would take, measured; null when it is not allowed here
	 * @param cost of the best plan with it instead, everything else that changes included; null when it is not allowed here
	 * @param after levels that plan would leave; null when it is not allowed here
	 * @param reason why it was not chosen
	 */
	public record Alternative(Product product, @Nullable MeasuredAmount measured, @Nullable TotalCost cost, @Nullable Levels after,
			Reason reason) {

		static Alternative rejected(Product product, Reason why) {
			return new Alternative(product, null, null, null, why);
		}

	}

	/** What a step is for, in the usual order of addition. */
	public enum Purpose {

		LOWER_PH(Level.PH), RAISE_FC(Level.FC),
		/** Chlorine or oxidizer that makes bromine of the bromide in a bromine pool. */
		RAISE_BROMINE(Level.BROMINE),
		/** Tablets that bring chlorine until the next visit: nothing moves at once. */
		FEED(null), OXIDIZE(null), RAISE_CYA(Level.CYA), RAISE_SALT(Level.SALT), RAISE_PH(Level.PH), RAISE_TA(Level.TA),
		RAISE_CH(Level.CH),
		/** A sequestrant that keeps copper, iron and manganese dissolved. */
		HOLD_METAL(null), LOWER_PHOSPHATE(Level.PHOSPHATE);

		private final @Nullable Level level;

		Purpose(@Nullable Level level) {
			this.level = level;
		}

		/** The level it is to move; null when it is none that a test shows. */
		public @Nullable Level level() {
			return this.level;
		}

	}

	public Step {
		instructions = List.copyOf(instructions);
		cautions = List.copyOf(cautions);
		alternatives = List.copyOf(alternatives);
	}

}
