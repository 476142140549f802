package org.meniscus.water.treatment;

import java.util.List;

import org.jspecify.annotations.Nullable;

/** What a situation asks for besides chemicals, and on later days; rows of the trade table {@code situations.csv}. */
final class SituationWork {

	private final PlanRequest request;

	private final List<Reason> work;

	private final List<LaterStep> later;

	SituationWork(PlanRequest request, List<Reason> work, List<LaterStep> later) {
		this.request = request;
		this.work = work;
		this.later = later;
	}

	void add(@Nullable ShockLevel shock, Additions additions) {
		PoolFacts pool = this.request.pool();
		switch (this.request.situation()) {
			case ROUTINE, WEEKLY_REFRESH -> todo("clean");
			case GREEN_ALGAE_LIGHT -> {
				todo("brush", "filter-24h", "clean-filter", "vacuum-dead");
				hold(additions);
				once(ProductKind.POLYQUAT_60, 72, "later.polyquat");
			}
			case GREEN_ALGAE_HEAVY -> {
				todo("close-pool", "debris-out", "brush", "filter-24h", "clean-filter-daily");
				hold(additions);
				this.later.add(new LaterStep(72, null, null, Reason.of("later.weigh-draining")));
			}
			case MUSTARD_ALGAE -> {
				todo("brush", "gear-in", "clean-fittings", "filter-24h", "clean-filter");
				hold(additions);
				once(ProductKind.POLYQUAT_60, 48, "later.polyquat");
			}
			case BLACK_ALGAE -> {
				todo(pool.surface().cementBound() && pool.surface() != Surface.PAINTED ? "brush-steel" : "brush-soft", "dead-spots", "filter-24h");
				hold(additions);
				once(ProductKind.POLYQUAT_60, 48, "later.polyquat");
			}
			case PINK_SLIME -> {
				todo("clean-fittings", "brush", "filter-24h");
				hold(additions);
			}
			case CLOUDY -> {
				todo("check-filter", "filter-24h");
				if (shock == null) {
					todo("filter-is-the-cure");
				}
				later(24, "later.test-all");
				once(ProductKind.CLARIFIER, 48, "later.clarifier");
			}
			case HIGH_COMBINED_CHLORINE -> {
				if (pool.indoor()) {
					todo("ventilate", "hall-empty", "dilute");
				}
				else {
					todo("cover-off", "aerate-chloramines");
				}
				later(12, "later.test-morning");
			}
			case AFTER_STORM -> {
				todo("check-power", "debris-out", "level-to-mark", "empty-baskets");
				later(24, "later.test-all");
			}
			case AFTER_HEAVY_USE -> {
				todo("empty-baskets", "filter-24h");
				once(ProductKind.MPS, 12, "later.oxidizer-morning");
				later(12, "later.test-morning");
			}
			case OPENING -> {
				todo("opening-safety", "debris-out", "fill-and-prime", "clean-filter");
				if (pool.sanitizer() == Sanitizer.SALT_CELL) {
					todo("cell-off-cold");
				}
				later(24, "later.test-all");
			}
			case CLOSING -> {
				todo("clean", "closing-level", "closing-plumbing", "closing-no-tablets");
				once(ProductKind.POLYQUAT_60, 24, "later.polyquat");
			}
			default -> {
			}
		}
		if (this.request.pool().sanitizer() == Sanitizer.BROMINE) {
			todo("bromine-setting");
		}
	}

	private void todo(String... codes) {
		for (String code : codes) {
			this.work.add(Reason.of("work." + code));
		}
	}

	private void later(double hours, String code) {
		this.later.add(new LaterStep(hours, null, null, Reason.of(code)));
	}

	/** Growth is dead when the water is clear and loses no more than 1 ppm of FC from dusk to dawn. */
	private void hold(Additions additions) {
		later(12, "later.overnight");
		this.later.add(new LaterStep(24, null, null,
				Reason.of("later.hold", Term.of(Level.FC, additions.water().water().freeChlorine()))));
	}

	/** Names a product of the label's own rate if the company has it. */
	private void once(ProductKind kind, double hours, String code) {
		for (Product product : this.request.products()) {
			if (product.kind() == kind) {
				this.later.add(new LaterStep(hours, product, null, Reason.of(code, Term.of(kind))));
				return;
			}
		}
	}

}
