package org.meniscus.visit.web;

import java.util.ArrayList;
import java.util.List;

import org.meniscus.visit.Advice;
import org.meniscus.water.UnitSystem;
import org.meniscus.water.treatment.Product;

/** What a new plan makes of the lines of "what went in". */
final class PlannedLines {

	private PlannedLines() {
	}

	/**
	 * Lines that an earlier plan had filled in and nobody touched give way; a line with a hand on it stays, and learns what the
	 * new plan says of its product.
	 */
	static List<DoseLine> after(Advice advice, List<DoseLine> before, List<Product> products, UnitSystem units) {
		List<DoseLine> kept = new ArrayList<>();
		for (DoseLine line : before) {
			Product product = products.stream().filter(one -> one.id().equals(line.product())).findFirst().orElse(null);
			boolean filledIn = !line.planned().isEmpty()
					&& (line.amount().isEmpty() || (product != null && line.untouched(product, units)));
			if (!line.isBlank() && !filledIn) {
				kept.add(line);
			}
		}
		List<DoseLine> lines = new ArrayList<>();
		for (Advice.Step step : advice.steps()) {
			DoseLine planned = DoseLine.of(step, products, units);
			DoseLine own = kept.stream().filter(line -> line.product().equals(planned.product())).findFirst().orElse(null);
			if (own == null) {
				lines.add(planned);
			}
			else {
				kept.remove(own);
				lines.add(new DoseLine(own.product(), own.amount(), own.unit(), planned.planned()));
			}
		}
		lines.addAll(kept);
		return lines.isEmpty() ? List.of(DoseLine.blank()) : lines;
	}

}
