package org.meniscus.visit;

import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.water.drift.DoseKind;

/**
 * Work that the office wants done at a pool's next stop. It stands until it is done or dropped.
 *
 * @param planned what is to be done
 * @param plannedBy name of whoever asked for it
 */
public record PlannedWork(UUID id, PoolId pool, Task planned, LocalDate plannedOn, String plannedBy) {

	/** What is to be done. */
	public sealed interface Task {

		/** Whether a visit's own record says that it was done. */
		boolean doneBy(VisitRecord visit);

		/** Part of the water is replaced. @param share 0.05 to 1, both allowed */
		record Drain(double share) implements Task {

			/** A drain that came this near to what was planned is that drain. Assumption, no source. */
			private static final double NEARLY = 0.8;

			public Drain {
				if (!(share >= 0.05 && share <= 1)) {
					throw new IllegalArgumentException("not a share of the water: " + share);
				}
			}

			@Override
			public boolean doneBy(VisitRecord visit) {
				Double replaced = visit.waterReplaced();
				return replaced != null && replaced >= NEARLY * share - 1e-9;
			}

		}

		/** From that visit on all chlorine comes from this product. @param kind one that is chlorine */
		record Chlorine(DoseKind kind) implements Task {

			public Chlorine {
				if (!kind.routine()) {
					throw new IllegalArgumentException("no chlorine: " + kind);
				}
			}

			/** Another chlorine beside it is no change yet. */
			@Override
			public boolean doneBy(VisitRecord visit) {
				List<DoseKind> chlorine = visit.doses()
					.stream()
					.map(dose -> DoseKind.of(dose.kind().family()))
					.filter(DoseKind::routine)
					.toList();
				return !chlorine.isEmpty() && chlorine.stream().allMatch(kind::equals);
			}

		}

	}

	static Task task(@Nullable Double share, @Nullable String chlorine) {
		return (share != null) ? new Task.Drain(share) : new Task.Chlorine(DoseKind.valueOf(Objects.requireNonNull(chlorine)));
	}

}
