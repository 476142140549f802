package org.meniscus.water.assess;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.assess.LevelState.Direction;
import org.meniscus.water.assess.LevelState.State;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;

/** A reading against a range of 60, 80 to 120, 180: the ends belong to the range, and a mark says "anything beyond". */
class LevelStateTests {

	private static final Range RANGE = new Range(60, 80, 120, 180, "by hand");

	@ParameterizedTest(name = "{0}{1}")
	@CsvSource({ "EXACT, 80", "EXACT, 100", "EXACT, 120", "BELOW, 80.1", "BELOW, 150", "BELOW, 300", "ABOVE, 119.9", "ABOVE, 70",
			"ABOVE, 10" })
	void insideTheIdealRangeNothingIsSaid(ReadingQualifier qualifier, double value) {
		LevelState state = LevelState.of(Level.TA, value, qualifier, RANGE);
		assertThat(state.state()).isEqualTo(State.IN_RANGE);
		assertThat(state.direction()).isEqualTo(Direction.INSIDE);
		assertThat(state.limit()).isNull();
		assertThat(state.deviation()).isZero();
		assertThat(state.reason()).isNull();
		assertThat(state.range()).isEqualTo(RANGE);
	}

	@ParameterizedTest(name = "{0}{1} is {2} {3}")
	@CsvSource({ "EXACT, 79, DRIFTING, LOW, 80, 1", "EXACT, 60, DRIFTING, LOW, 80, 20", "EXACT, 59, OUT_OF_RANGE, LOW, 60, 1",
			"EXACT, 0, OUT_OF_RANGE, LOW, 60, 60", "EXACT, 121, DRIFTING, HIGH, 120, 1", "EXACT, 180, DRIFTING, HIGH, 120, 60",
			"EXACT, 181, OUT_OF_RANGE, HIGH, 180, 1", "BELOW, 80, DRIFTING, LOW, 80, 0", "BELOW, 61, DRIFTING, LOW, 80, 19",
			"BELOW, 60, OUT_OF_RANGE, LOW, 60, 0", "BELOW, 30, OUT_OF_RANGE, LOW, 60, 30", "ABOVE, 120, DRIFTING, HIGH, 120, 0",
			"ABOVE, 179, DRIFTING, HIGH, 120, 59", "ABOVE, 180, OUT_OF_RANGE, HIGH, 180, 0", "ABOVE, 200, OUT_OF_RANGE, HIGH, 180, 20" })
	void beyondItTheEndThatIsPassedIsNamed(ReadingQualifier qualifier, double value, State expected, Direction direction, double limit,
			double deviation) {
		LevelState state = LevelState.of(Level.TA, value, qualifier, RANGE);
		assertThat(state.state()).isEqualTo(expected);
		assertThat(state.direction()).isEqualTo(direction);
		assertThat(state.limit()).isEqualTo(limit);
		assertThat(state.deviation()).isCloseTo(deviation, within(1e-9));
		String code = (expected == State.DRIFTING ? "state.drifting-" : "state.out-") + (direction == Direction.LOW ? "low" : "high");
		assertThat(state.reason()).isNotNull();
		assertThat(state.reason().code()).isEqualTo(code);
		assertThat(state.reason().args()).containsExactly(Term.of(Level.TA), new Term.Value(Level.TA, value, qualifier),
				Term.of(Level.TA, limit), new Term.Difference(Level.TA, deviation), new Term.Text("by hand"));
	}

	/** Nothing is less than nothing: a range that begins at zero has no low side. */
	@Test
	void nothingIsBelowZero() {
		Range fromZero = new Range(0, 0, 50, 100, "by hand");
		assertThat(LevelState.of(Level.CYA, 0, ReadingQualifier.EXACT, fromZero).state()).isEqualTo(State.IN_RANGE);
		assertThat(LevelState.of(Level.CYA, 0, ReadingQualifier.BELOW, fromZero).state()).isEqualTo(State.IN_RANGE);
		assertThat(LevelState.of(Level.CYA, 30, ReadingQualifier.BELOW, fromZero).state()).isEqualTo(State.IN_RANGE);
	}

}
