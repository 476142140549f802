package org.meniscus.product;

import java.time.LocalDate;
import java.util.Objects;

import org.meniscus.water.product.StorageTemperature;

/** When the liquid chlorine in stock came, and where it is kept since. */
public record Delivery(LocalDate on, StorageTemperature storage) {

	public Delivery {
		Objects.requireNonNull(on);
		Objects.requireNonNull(storage);
	}

}
