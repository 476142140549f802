package org.meniscus.visit;

import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.product.DoseKind;

/**
 * Work that the office wants done at a pool's next stop. It stands until it is done or dropped.
 *
 * @param action what is to be done
 * @param plannedBy name of whoever asked for it
 */
public record PlannedWork(UUID id, PoolId pool, PlannedAction action, LocalDate plannedOn, String plannedBy) {

	/** What is to be done. */
	public sealed interface PlannedAction {

		/** Whether a visit's own record says that it was done. */
		boolean doneBy(VisitRecord visit);

		/** Part of the water is replaced. @param share 0.05 to 1, both allowed */
		record DrainAndRefill(double share) implements PlannedAction {

			/** A drain that came this near to what was planned is that drain. Assumption, no source. */
			private static final double MIN_SHARE_OF_PLANNED = 0.8;

			public DrainAndRefill {
				if (!(share >= 0.05 && share <= 1)) {
					throw new IllegalArgumentException("not a share of the water: " + share);
				}
			}

			@Override
			public boolean doneBy(VisitRecord visit) {
				Double replaced = visit.waterReplaced();
				return replaced != null && replaced >= MIN_SHARE_OF_PLANNED * share - 1e-9;
			}

		}

		/** From that visit on all chlorine comes from this product. @param kind one that is chlorine */
		record ChlorineSwitch(DoseKind kind) implements PlannedAction {

			public ChlorineSwitch {
				if (!kind.routine()) {
					throw new IllegalArgumentException("no chlorine: " + kind);
				}
			}

			/** Another chlorine beside it is no change yet. */
			@Override
			public boolean doneBy(VisitRecord visit) {
				List<DoseKind> chlorine = visit.doses()
					.stream()
					.map(dose -> DoseKind.of(dose.kind().ingredient()))
					.filter(DoseKind::routine)
					.toList();
				return !chlorine.isEmpty() && chlorine.stream().allMatch(kind::equals);
			}

		}

	}

	/** As pages show it. @param by who asked for it, and when */
	public record PlannedWorkText(UUID id, String text, String by) {
	}

	public PlannedWorkText text(Wording.Texts texts, Locale locale) {
		String what = (action instanceof PlannedAction.DrainAndRefill drain)
				? texts.text("visit.work.drain", Math.round(100 * drain.share()))
				: texts.text("visit.work.chlorine." + ((PlannedAction.ChlorineSwitch) action).kind());
		return new PlannedWorkText(id, what,
				texts.text("visit.work.by", plannedBy, QuantityFormatter.weekdayAndDate(plannedOn, locale)));
	}

	static PlannedAction action(@Nullable Double share, @Nullable String chlorine) {
		return (share != null) ? new PlannedAction.DrainAndRefill(share)
				: new PlannedAction.ChlorineSwitch(DoseKind.valueOf(Objects.requireNonNull(chlorine)));
	}

}
