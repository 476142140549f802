package org.meniscus.client;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.util.EnumMap;
import java.util.Map;

import org.junit.jupiter.api.Test;
import org.meniscus.client.PoolDimensions.Measure;

class PoolDimensionsTests {

	@Test
	void eachShapeNeedsItsOwnMeasures() {
		assertThat(PoolDimensions.missing(PoolShape.RECTANGLE, Map.of())).containsExactly(Measure.LENGTH, Measure.WIDTH,
				Measure.SHALLOW_DEPTH, Measure.DEEP_DEPTH);
		assertThat(PoolDimensions.missing(PoolShape.ROUND, Map.of())).containsExactly(Measure.LENGTH, Measure.SHALLOW_DEPTH,
				Measure.DEEP_DEPTH);
		assertThat(PoolDimensions.missing(PoolShape.KIDNEY, Map.of())).containsExactly(Measure.values());
		assertThat(PoolDimensions.missing(PoolShape.KIDNEY, metres(9, 4.5, 3, 1, 2))).isEmpty();
	}

	@Test
	void deepEndAndNarrowEndContradictingTheOthersAreNamed() {
		assertThat(PoolDimensions.contradictions(PoolShape.KIDNEY, metres(9, 4.5, 4.6, 2.1, 2)))
			.containsExactly(Measure.DEEP_DEPTH, Measure.NARROW_WIDTH);
		assertThat(PoolDimensions.contradictions(PoolShape.OVAL, metres(9, 4.5, 4.6, 2, 2)))
			.as("an oval has no narrow end, and an even bottom is possible").isEmpty();
		assertThat(PoolDimensions.contradictions(PoolShape.KIDNEY, Map.of(Measure.NARROW_WIDTH, 3.0)))
			.as("nothing to compare with").isEmpty();
	}

	@Test
	void measuresThatTheShapeHasNoUseForAreLeftOut() {
		assertThat(PoolDimensions.of(PoolShape.OVAL, metres(9, 4.5, 3, 1, 2)))
			.isEqualTo(new PoolDimensions(PoolShape.OVAL, 9, 4.5, null, 1, 2));
		assertThat(PoolDimensions.of(PoolShape.ROUND, metres(6, 4.5, 3, 1, 1.5)))
			.isEqualTo(new PoolDimensions(PoolShape.ROUND, 6, 6, null, 1, 1.5));
		assertThat(PoolDimensions.of(PoolShape.KIDNEY, metres(9, 4.5, 3, 1, 2)).meanWidth()).isEqualTo(3.75);
	}

	@Test
	void measuresOutOfRangeOrContradictingCannotBeBuilt() {
		assertThatIllegalArgumentException().isThrownBy(() -> PoolDimensions.of(PoolShape.OVAL, metres(101, 4.5, 3, 1, 2)));
		assertThatIllegalArgumentException().isThrownBy(() -> PoolDimensions.of(PoolShape.OVAL, metres(9, 4.5, 3, 0.1, 2)));
		assertThatIllegalArgumentException().isThrownBy(() -> PoolDimensions.of(PoolShape.OVAL, metres(9, 4.5, 3, 2, 1)));
		assertThatIllegalArgumentException().isThrownBy(() -> PoolDimensions.of(PoolShape.KIDNEY, metres(9, 4.5, 5, 1, 2)));
	}

	private static Map<Measure, Double> metres(double length, double width, double narrow, double shallow, double deep) {
		return new EnumMap<>(Map.of(Measure.LENGTH, length, Measure.WIDTH, width, Measure.NARROW_WIDTH, narrow, Measure.SHALLOW_DEPTH,
				shallow, Measure.DEEP_DEPTH, deep));
	}

}
