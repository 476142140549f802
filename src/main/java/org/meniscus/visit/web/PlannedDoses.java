package org.meniscus.visit.web;

import java.util.ArrayList;
import java.util.List;

import org.meniscus.visit.Advice;
import org.meniscus.water.product.Product;
import org.meniscus.water.units.UnitSystem;

/** What a new plan makes of the lines of "what went in". */
final class PlannedDoses {

	private PlannedDoses() {
	}

	/**
	 * Lines that an earlier plan had filled in and nobody touched give way; a line with a hand on it stays, and learns what the
	 * new plan says of its product.
	 */
	static List<DoseForm> merge(Advice advice, List<DoseForm> before, List<Product> products, UnitSystem units) {
		List<DoseForm> remaining = new ArrayList<>();
		for (DoseForm line : before) {
			Product product = products.stream().filter(one -> one.id().equals(line.product())).findFirst().orElse(null);
			boolean filledIn = !line.planned().isEmpty()
					&& (line.amount().isEmpty() || (product != null && line.asPlanned(product, units)));
			if (!line.isBlank() && !filledIn) {
				remaining.add(line);
			}
		}
		List<DoseForm> lines = new ArrayList<>();
		for (Advice.AdviceStep step : advice.steps()) {
			DoseForm planned = DoseForm.of(step, products, units);
			DoseForm own = remaining.stream().filter(line -> line.product().equals(planned.product())).findFirst().orElse(null);
			if (own == null) {
				lines.add(planned);
			}
			else {
				remaining.remove(own);
				lines.add(new DoseForm(own.product(), own.amount(), own.unit(), planned.planned()));
			}
		}
		lines.addAll(remaining);
		return lines.isEmpty() ? List.of(DoseForm.blank()) : lines;
	}

}
