package org.meniscus.spend;

import java.time.LocalDate;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * What was spent on chemicals from one day to another, both included, every cut over the same doses read at the same moment.
 * Money is in minor units of the company's currency, at the price of the day of dosing.
 */
public record Spend(LocalDate from, LocalDate to, SpendTotal total, Map<SpendBreakdown, List<BreakdownLine>> breakdowns,
		List<UnpricedProduct> unpriced) {

	public Spend {
		breakdowns = Map.copyOf(new EnumMap<>(breakdowns));
		unpriced = List.copyOf(unpriced);
	}

	public List<BreakdownLine> by(SpendBreakdown cut) {
		return breakdowns.getOrDefault(cut, List.of());
	}

	/**
	 * @param cents of the doses that have a price; the others are counted in {@code unpriced} and are not in it
	 * @param doses all of them
	 */
	public record SpendTotal(long cents, long doses, long unpriced) {

		public static final SpendTotal ZERO = new SpendTotal(0, 0, 0);

	}

	/**
	 * One line of a cut.
	 *
	 * @param id of the pool, client, technician or product; null for a month
	 * @param month first day of it; null in the other cuts
	 * @param fee what the client pays for the pool over the days asked for; null in other cuts, or when no fee is on file
	 */
	public record BreakdownLine(@Nullable UUID id, @Nullable LocalDate month, String name, @Nullable String clientName, SpendTotal sum,
			@Nullable Long fee) {

		/** What is left of the fee after the chemicals; null without a fee. */
		public @Nullable Long feeLeft() {
			return (fee != null) ? fee - sum.cents() : null;
		}

	}

	/** Doses of one product that no price was on file for on their day; they are in no total. */
	public record UnpricedProduct(String product, long doses) {
	}

}
