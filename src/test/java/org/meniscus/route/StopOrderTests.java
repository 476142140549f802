package org.meniscus.route;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A day is written as letters in their order; a digit after a letter is the place its plan gives it, none = added by hand. */
class StopOrderTests {

	@ParameterizedTest(name = "{0}: {1} to place {2} gives {3}")
	@CsvSource(nullValues = "-", value = { "a b c, a, 1, a b c", "a b c, a, 2, b a c", "a b c, a, 3, b c a", "a b c, c, 1, c a b",
			"a b c, c, 2, a c b", "a b c, a, 9, b c a", "a b c, b, 0, b a c", "a b c, b, -, a c b", "a b c, x, 2, a x b c",
			"a b c, x, -, a b c x", "'', x, -, x", "'', x, 4, x" })
	void movedStopIsInsertedAtItsPlace(String day, String stop, @Nullable Integer place, String expected) {
		assertThat(text(StopOrder.insertAt(day(day), day(stop).get(0), place))).isEqualTo(expected);
	}

	@ParameterizedTest(name = "{0}: plan''s {1} gives {2}")
	@CsvSource({ "a1 b2 d4, c3, a b c d", "a1 b2, c3, a b c", "b2, a1, a b", "a1 b1, c1, a b c",
			// arranged by hand: the first that comes later counts, the rest keeps its order
			"d4 a1 b2, c3, c d a b", "a1 x d4, c3, a x c d", "x y, a1, x y a", "'', a1, a" })
	void scheduledStopIsInsertedBeforeTheFirstLaterOne(String day, String stop, String expected) {
		assertThat(text(StopOrder.insertBySchedule(day(day), day(stop).get(0)))).isEqualTo(expected);
	}

	private static List<StopOrder.OrderedStop> day(String text) {
		return Arrays.stream(text.split(" "))
			.filter(stop -> !stop.isEmpty())
			.map(stop -> new StopOrder.OrderedStop(new UUID(0, stop.charAt(0)),
					(stop.length() > 1) ? Integer.valueOf(stop.substring(1)) : null))
			.toList();
	}

	private static String text(List<StopOrder.OrderedStop> day) {
		return day.stream()
			.map(placed -> String.valueOf((char) placed.stop().getLeastSignificantBits()))
			.collect(Collectors.joining(" "));
	}

}
