package org.meniscus.water.product;

import static org.meniscus.water.product.ActiveIngredient.*;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Set;

/**
 * Which products must not meet, and the least time with the pump running between the two in the pool. Figures: the trade table
 * {@code never-mix.csv}, whose basis column names the source of each pair. A pair that stands nowhere gets
 * {@link #DEFAULT_GAP_MINUTES} and is never combined as concentrates either.
 */
public final class NeverMix {

	/** What happens when the two meet undiluted. */
	public enum Severity {

		/** Known to be harmless apart from waste. */
		WASTE,
		/** Spoils the pool or the treatment. */
		SPOILS,
		/** Violent heat or fume. */
		VIOLENT,
		/** Fire, explosion or poison gas. */
		DEADLY

	}

	/** What is known of a pair. */
	public record Pair(Severity severity, int gapMinutes) {
	}

	/** Between any two additions; common practice, no source. */
	public static final int DEFAULT_GAP_MINUTES = 15;

	/** Any two undiluted pool chemicals not listed: never combined. */
	private static final Pair UNLISTED = new Pair(Severity.VIOLENT, DEFAULT_GAP_MINUTES);

	private static final ActiveIngredient[] CHLORINES = { CALCIUM_HYPOCHLORITE, SODIUM_HYPOCHLORITE, DICHLOR, TRICHLOR };

	/** What burns or gasses with another of them, and sets others alight. */
	private static final Set<ActiveIngredient> OXIDIZERS = EnumSet.of(CALCIUM_HYPOCHLORITE, SODIUM_HYPOCHLORITE, DICHLOR, TRICHLOR,
			MONOPERSULFATE, BROMINE_TABLETS);

	private static final ActiveIngredient[] ISOCYANURATES = { DICHLOR, TRICHLOR };

	private static final ActiveIngredient[] ACIDS = { MURIATIC_ACID, DRY_ACID };

	private static final ActiveIngredient[] REDUCERS = { SULFITE, THIOSULFATE, ASCORBIC_ACID };

	private static final Map<ActiveIngredient, Map<ActiveIngredient, Pair>> PAIRS = new EnumMap<>(ActiveIngredient.class);

	static {
		pair(CALCIUM_HYPOCHLORITE, Severity.DEADLY, 30, ISOCYANURATES);
		pair(CALCIUM_HYPOCHLORITE, Severity.VIOLENT, 15, SODIUM_HYPOCHLORITE);
		pair(SODIUM_HYPOCHLORITE, Severity.DEADLY, 15, ISOCYANURATES);
		pair(TRICHLOR, Severity.VIOLENT, 0, DICHLOR);
		for (ActiveIngredient chlorine : CHLORINES) {
			boolean liquid = chlorine == SODIUM_HYPOCHLORITE;
			pair(chlorine, Severity.DEADLY, 30, ACIDS);
			pair(chlorine, liquid ? Severity.VIOLENT : Severity.DEADLY, 30, MONOPERSULFATE);
			pair(chlorine, Severity.DEADLY, 15, BROMINE_TABLETS);
			pair(chlorine, Severity.VIOLENT, (chlorine == TRICHLOR) ? 0 : 1440, QUAT_ALGAECIDE, POLYQUAT_ALGAECIDE);
			pair(chlorine, Severity.VIOLENT, 240, CLARIFIER);
			pair(chlorine, Severity.VIOLENT, 1440, SEQUESTRANT);
			pair(chlorine, Severity.VIOLENT, 60, REDUCERS);
			// Superchlorination strips the chelate: listed for copper with any of them.
			pair(chlorine, Severity.SPOILS, 1440, COPPER_ALGAECIDE);
			if (!liquid) {
				pair(CYANURIC_ACID, Severity.SPOILS, 60, chlorine);
			}
		}
		for (ActiveIngredient acid : ACIDS) {
			pair(acid, Severity.VIOLENT, 240, SODA_ASH);
			pair(acid, Severity.SPOILS, 240, BICARBONATE, COPPER_ALGAECIDE);
			pair(acid, Severity.VIOLENT, 60, SULFITE, THIOSULFATE);
			pair(acid, Severity.DEADLY, 15, BROMINE_TABLETS);
			pair(acid, Severity.SPOILS, 30, CALCIUM_CHLORIDE);
		}
		for (ActiveIngredient isocyanurate : ISOCYANURATES) {
			pair(isocyanurate, Severity.VIOLENT, 60, SODA_ASH, BICARBONATE);
		}
		pair(MONOPERSULFATE, Severity.VIOLENT, 60, SODA_ASH, BICARBONATE);
		pair(MONOPERSULFATE, Severity.VIOLENT, 1440, QUAT_ALGAECIDE);
		pair(MONOPERSULFATE, Severity.SPOILS, 1440, SEQUESTRANT);
		pair(MONOPERSULFATE, Severity.VIOLENT, 0, SODIUM_BROMIDE);
		pair(MONOPERSULFATE, Severity.VIOLENT, 0, SALT);
		pair(MONOPERSULFATE, Severity.SPOILS, 60, CYANURIC_ACID);
		pair(MURIATIC_ACID, Severity.SPOILS, 0, DRY_ACID);
		pair(MURIATIC_ACID, Severity.SPOILS, 30, BORAX);
		pair(DRY_ACID, Severity.WASTE, 30, MONOPERSULFATE);
		pair(CALCIUM_CHLORIDE, Severity.SPOILS, 480, SODA_ASH);
		pair(CALCIUM_CHLORIDE, Severity.SPOILS, 360, BICARBONATE);
		pair(CALCIUM_CHLORIDE, Severity.SPOILS, 1440, SEQUESTRANT);
		pair(QUAT_ALGAECIDE, Severity.WASTE, 1440, POLYQUAT_ALGAECIDE);
		pair(CLARIFIER, Severity.SPOILS, 2880, FLOCCULANT);
		pair(LANTHANUM, Severity.SPOILS, 1440, SEQUESTRANT);
		pair(LANTHANUM, Severity.WASTE, 1440, CLARIFIER);
	}

	private NeverMix() {
	}

	/** The pair in either order. The same product twice is no pair: it needs no gap of its own. */
	public static Pair of(ActiveIngredient a, ActiveIngredient b) {
		if (a == b) {
			return new Pair(Severity.WASTE, 0);
		}
		return PAIRS.getOrDefault(a, Map.of()).getOrDefault(b, UNLISTED);
	}

	/** Whether the two must be named to whoever carries both: fire, explosion or poison gas, or two oxidizers of different kinds. */
	public static boolean isNamed(ActiveIngredient a, ActiveIngredient b) {
		return a != b && (of(a, b).severity() == Severity.DEADLY || (OXIDIZERS.contains(a) && OXIDIZERS.contains(b)));
	}

	/** Minutes with the pump running between two products, one after the other. */
	public static int gapMinutes(ActiveIngredient earlier, ActiveIngredient later) {
		return of(earlier, later).gapMinutes();
	}

	private static void pair(ActiveIngredient a, Severity severity, int gapMinutes, ActiveIngredient... others) {
		Pair pair = new Pair(severity, gapMinutes);
		for (ActiveIngredient b : others) {
			PAIRS.computeIfAbsent(a, ingredient -> new EnumMap<>(ActiveIngredient.class)).put(b, pair);
			PAIRS.computeIfAbsent(b, ingredient -> new EnumMap<>(ActiveIngredient.class)).put(a, pair);
		}
	}

	/** The longer of the earlier product's own gap and the pair's. */
	public static int gapMinutes(ProductKind earlier, ProductKind later) {
		return Math.max(earlier.gapMinutes(), gapMinutes(earlier.ingredient(), later.ingredient()));
	}

}
