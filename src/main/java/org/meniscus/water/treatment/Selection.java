package org.meniscus.water.treatment;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;

import org.jspecify.annotations.Nullable;

/**
 * Which product is to be taken for which purpose, where it is allowed; what is not named is left to {@link Choice}.
 *
 * @param tablets how many go into floater or feeder
 */
record Selection(Map<Step.Purpose, Product> products, int tablets) {

	static final Selection FREE = new Selection(Map.of(), 0);

	Selection {
		products = products.isEmpty() ? Map.of() : Collections.unmodifiableMap(new EnumMap<>(products));
	}

	@Nullable Product product(Step.Purpose purpose) {
		return this.products.get(purpose);
	}

	Selection with(Step.Purpose purpose, Product product) {
		Map<Step.Purpose, Product> more = new EnumMap<>(Step.Purpose.class);
		more.putAll(this.products);
		more.put(purpose, product);
		return new Selection(more, this.tablets);
	}

	Selection withTablets(int tablets) {
		return new Selection(this.products, tablets);
	}

}
