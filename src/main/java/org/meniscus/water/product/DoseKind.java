package org.meniscus.water.product;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.ChlorineSource;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.pool.Level;

/** Kinds of doses, by which drift is attributed and the routine is forecast. */
public enum DoseKind {

	/** Trichlor, tablets or granules. */
	TABLETS(ChlorineSource.TRICHLOR),
	DICHLOR(ChlorineSource.DICHLOR),
	/** The commercial product carries some more calcium than the pure substance: 0.72 instead of 0.706 in all. Assumption. */
	CALCIUM_HYPOCHLORITE(ChlorineSource.CALCIUM_HYPOCHLORITE.withExtraHardness(0.72 - ChlorineSource.CALCIUM_HYPOCHLORITE.hardness())),
	/** Sodium hypochlorite. */
	LIQUID_CHLORINE(ChlorineSource.SODIUM_HYPOCHLORITE),
	/** Cyanuric acid put in to raise it. */
	STABILIZER(null),
	CALCIUM_CHLORIDE(null),
	SALT(null),
	/** Boric acid or borax. */
	BORATE(null),
	/** Anything else, such as acid. */
	OTHER(null);

	private final @Nullable ChlorineSource source;

	DoseKind(@Nullable ChlorineSource source) {
		this.source = source;
	}

	/** Put in week by week, so that it says what is to come; the others set a level right once. */
	public boolean routine() {
		return source != null;
	}

	/** Change of a level, ppm, by each ppm of its chlorine once that is used up; 0 for what is no chlorine. */
	public double perChlorine(Level level) {
		if (source == null) {
			return 0;
		}
		return switch (level) {
			case CYA -> source.cyanuricAcid();
			case CH -> source.hardness();
			case SALT, TDS -> source.salt() + Stoichiometry.SALT_PER_CHLORINE;
			default -> 0;
		};
	}

	public static DoseKind of(ActiveIngredient ingredient) {
		return switch (ingredient) {
			case TRICHLOR -> TABLETS;
			case DICHLOR -> DICHLOR;
			case CALCIUM_HYPOCHLORITE -> CALCIUM_HYPOCHLORITE;
			case SODIUM_HYPOCHLORITE -> LIQUID_CHLORINE;
			case CYANURIC_ACID -> STABILIZER;
			case CALCIUM_CHLORIDE -> CALCIUM_CHLORIDE;
			case SALT -> SALT;
			case BORIC_ACID, BORAX -> BORATE;
			default -> OTHER;
		};
	}

}
