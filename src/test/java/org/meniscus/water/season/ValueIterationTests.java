package org.meniscus.water.season;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Value iteration where the optimum is known in closed form. */
class ValueIterationTests {

	/**
	 * The two-state replacement problem: what works wears out with probability p in a period; worn out it costs c a period, or is replaced
	 * for R at once. Replacing costs p R a period in the long run, keeping it c. A worn one is worth R or c/p less, whichever is smaller: by the
	 * optimality equations h(new) = -g + (1-p) h(new) + p h(worn), h(worn) = min(R + h(new), c - g + h(worn)).
	 */
	private record Replacement(double wears, double worn, double replacing) implements BellmanOperator {

		@Override
		public int periods() {
			return 1;
		}

		@Override
		public int states() {
			return 2;
		}

		@Override
		public void backUp(int period, double[] next, double[] values) {
			values[0] = (1 - this.wears) * next[0] + this.wears * next[1];
			values[1] = Math.min(this.replacing + values[0], this.worn + next[1]);
		}

	}

	@ParameterizedTest
	@CsvSource({ "0.2, 3, 10", "0.2, 1, 10", "0.5, 7, 4", "0.9, 2, 100", "0.1, 50, 5" })
	void replacementProblemIsSolvedAsInClosedForm(double wears, double worn, double replacing) {
		ValueIteration solution = ValueIteration.solve(new Replacement(wears, worn, replacing), 1e-3);
		assertThat(solution.span()).isLessThanOrEqualTo(1e-3);
		assertThat(solution.costPerYear()).isCloseTo(Math.min(wears * replacing, worn), within(1e-3));
		assertThat(solution.values()[0][1] - solution.values()[0][0]).isCloseTo(Math.min(replacing, worn / wears), within(0.05));
	}

	/**
	 * Two periods: what is wanted costs 3 in the first and 1 in the second, and is needed in the second and the first. In stock at the start of
	 * a year it saves what buying it then would cost, 3; at the start of the second period 1.
	 */
	@Test
	void yearRepeatsSoThatEachPeriodSeesTheNextYear() {
		BellmanOperator purchase = new BellmanOperator() {

			@Override
			public int periods() {
				return 2;
			}

			@Override
			public int states() {
				return 2;
			}

			@Override
			public void backUp(int period, double[] next, double[] values) {
				double price = (period == 0) ? 3 : 1;
				// One is used in each period; a second may be bought for the next.
				values[1] = Math.min(next[0], price + next[1]);
				values[0] = price + values[1];
			}

		};
		ValueIteration solution = ValueIteration.solve(purchase, 1e-9);
		// Two are bought in the second period, one of them for the first: 2 a year.
		assertThat(solution.costPerYear()).isCloseTo(2, within(1e-9));
		assertThat(solution.values()[0][0] - solution.values()[0][1]).isCloseTo(3, within(1e-9));
		assertThat(solution.values()[1][0] - solution.values()[1][1]).isCloseTo(1, within(1e-9));
		double[] last = new double[2];
		purchase.backUp(1, solution.values()[0], last);
		for (int state = 0; state < 2; state++) {
			assertThat(last[state] - solution.values()[1][state]).as("state %d", state).isCloseTo(solution.costPerYear(), within(1e-9));
		}
	}

}
