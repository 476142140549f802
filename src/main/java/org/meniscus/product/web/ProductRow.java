package org.meniscus.product.web;

import org.jspecify.annotations.Nullable;
import org.meniscus.product.ProductId;
import org.meniscus.water.product.ProductPreference;

/**
 * A product of the list, ready to print.
 *
 * @param price null when none is valid today
 */
record ProductRow(ProductId id, String name, ProductCategory category, String strength, String form, String pack, @Nullable String price,
		boolean typical, boolean onTruck, ProductPreference preference, boolean archived) {
}
