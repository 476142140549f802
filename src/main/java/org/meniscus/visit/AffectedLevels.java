package org.meniscus.visit;

import java.util.EnumSet;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Level;
import org.meniscus.water.product.ActiveIngredient;

/** Levels that what was done at a visit is known to have moved: a change since then needs no question. */
final class AffectedLevels {

	private AffectedLevels() {
	}

	static Set<Level> byVisit(@Nullable VisitRecord visit) {
		if (visit == null) {
			return Set.of();
		}
		if (visit.waterReplaced() != null) {
			return EnumSet.allOf(Level.class);
		}
		Set<Level> moved = EnumSet.noneOf(Level.class);
		visit.doses().forEach(dose -> moved.addAll(byIngredient(dose.kind().ingredient())));
		return moved;
	}

	private static Set<Level> byIngredient(ActiveIngredient ingredient) {
		return switch (ingredient) {
			case CALCIUM_HYPOCHLORITE -> EnumSet.of(Level.FC, Level.TC, Level.CC, Level.CH, Level.PH, Level.SALT, Level.TDS);
			case SODIUM_HYPOCHLORITE -> EnumSet.of(Level.FC, Level.TC, Level.CC, Level.PH, Level.SALT, Level.TDS);
			case DICHLOR, TRICHLOR ->
				EnumSet.of(Level.FC, Level.TC, Level.CC, Level.CYA, Level.PH, Level.TA, Level.SALT, Level.TDS);
			case MONOPERSULFATE -> EnumSet.of(Level.TC, Level.CC, Level.PH, Level.TA, Level.TDS);
			case MURIATIC_ACID, DRY_ACID, SODA_ASH, BICARBONATE -> EnumSet.of(Level.PH, Level.TA, Level.TDS);
			case CALCIUM_CHLORIDE -> EnumSet.of(Level.CH, Level.SALT, Level.TDS);
			case CYANURIC_ACID -> EnumSet.of(Level.CYA, Level.PH, Level.TA);
			case SALT -> EnumSet.of(Level.SALT, Level.TDS);
			case BORIC_ACID, BORAX -> EnumSet.of(Level.BORATE, Level.PH, Level.TA, Level.TDS);
			case LANTHANUM -> EnumSet.of(Level.PHOSPHATE, Level.TA);
			// Breaks down to phosphate.
			case SEQUESTRANT -> EnumSet.of(Level.PHOSPHATE);
			case BROMINE_TABLETS, SODIUM_BROMIDE -> EnumSet.of(Level.BROMINE, Level.TDS);
			case ASCORBIC_ACID, THIOSULFATE, SULFITE -> EnumSet.of(Level.FC, Level.TC, Level.CC, Level.PH, Level.TDS);
			default -> EnumSet.noneOf(Level.class);
		};
	}

}
