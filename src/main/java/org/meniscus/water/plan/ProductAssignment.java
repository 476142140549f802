package org.meniscus.water.plan;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.product.Product;

/**
 * Which product is to be taken for which purpose, where it is allowed; what is not named is left to {@link ProductSelector}.
 *
 * @param tablets how many go into floater or feeder
 */
record ProductAssignment(Map<Step.Purpose, Product> products, int tablets) {

	static final ProductAssignment UNASSIGNED = new ProductAssignment(Map.of(), 0);

	ProductAssignment {
		products = products.isEmpty() ? Map.of() : Collections.unmodifiableMap(new EnumMap<>(products));
	}

	@Nullable
	Product product(Step.Purpose purpose) {
		return this.products.get(purpose);
	}

	ProductAssignment with(Step.Purpose purpose, Product product) {
		Map<Step.Purpose, Product> more = new EnumMap<>(Step.Purpose.class);
		more.putAll(this.products);
		more.put(purpose, product);
		return new ProductAssignment(more, this.tablets);
	}

	ProductAssignment withTablets(int tablets) {
		return new ProductAssignment(this.products, tablets);
	}

}
