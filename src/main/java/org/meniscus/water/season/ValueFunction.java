package org.meniscus.water.season;

import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Least expected cost of a pool's coming years by CYA, CH and week, in minor units: only differences mean something. Solved once for each
 * {@link SeasonProblem} and kept.
 */
final class ValueFunction {

	/** As many are kept, those used last; one takes about 90 kB. */
	private static final int KEPT = 256;

	/** Minor units by which a further year may still add more to one state than to another. */
	static final double TOLERANCE = 20;

	private static final Map<SeasonProblem, ValueFunction> SOLVED = new LinkedHashMap<>(16, 0.75f, true) {

		@Override
		protected boolean removeEldestEntry(Map.Entry<SeasonProblem, ValueFunction> eldest) {
			return size() > KEPT;
		}

	};

	private final ValueIteration solution;

	private ValueFunction(ValueIteration solution) {
		this.solution = solution;
	}

	static ValueFunction of(SeasonProblem problem) {
		synchronized (SOLVED) {
			ValueFunction known = SOLVED.get(problem);
			if (known != null) {
				return known;
			}
		}
		// Outside the lock: two that ask at once solve twice, and get the same.
		ValueFunction solved = new ValueFunction(solve(problem));
		synchronized (SOLVED) {
			SOLVED.put(problem, solved);
		}
		return solved;
	}

	static ValueIteration solve(SeasonProblem problem) {
		return ValueIteration.solve(new SeasonOperator(problem), TOLERANCE);
	}

	/** @param week of the year, zero or more; between two weeks on a straight line */
	double at(double week, State state) {
		int before = (int) Math.floor(week);
		double share = week - before;
		return (1 - share) * at(before, state) + share * at(before + 1, state);
	}

	private double at(int week, State state) {
		return SeasonOperator.extrapolate(this.solution.values()[Math.floorMod(week, TransitionModel.WEEKS)], state.cya(), state.ch());
	}

}
