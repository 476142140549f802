package org.meniscus.report;

import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.assess.LevelState.Direction;
import org.meniscus.water.assess.LevelState.State;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;

/**
 * Why a product went in, as data: the reading of the same visit that asked for it, or the situation that was found. When neither
 * explains it, all that can be said is what such a product does.
 *
 * @param ingredient what it does stands under {@code report.does.*}
 * @param level the reading that was off and that this product moves; null when none was
 * @param situation what it was put in against; null for a routine dose
 */
public record DoseReason(ActiveIngredient ingredient, @Nullable LevelState level, @Nullable Situation situation) {

	private record Indication(Level level, Direction when) {
	}

	static DoseReason of(ActiveIngredient ingredient, Situation situation, Map<Level, LevelState> states) {
		LevelState off = indications(ingredient).stream()
			.map(cure -> outOfRange(cure, states))
			.filter(state -> state != null)
			.findFirst()
			.orElse(null);
		return new DoseReason(ingredient, off, treats(ingredient, situation) ? situation : null);
	}

	private static @Nullable LevelState outOfRange(Indication cure, Map<Level, LevelState> states) {
		LevelState state = states.get(cure.level());
		return (state != null && state.state() != State.IN_RANGE && state.direction() == cure.when()) ? state : null;
	}

	/** What a product is given for, most usual first. */
	private static List<Indication> indications(ActiveIngredient ingredient) {
		return switch (ingredient) {
			case CALCIUM_HYPOCHLORITE, SODIUM_HYPOCHLORITE ->
				List.of(new Indication(Level.FC, Direction.LOW), new Indication(Level.CC, Direction.HIGH));
			case DICHLOR, TRICHLOR -> List.of(new Indication(Level.FC, Direction.LOW), new Indication(Level.CC, Direction.HIGH),
					new Indication(Level.CYA, Direction.LOW));
			case MONOPERSULFATE -> List.of(new Indication(Level.CC, Direction.HIGH));
			case MURIATIC_ACID, DRY_ACID -> List.of(new Indication(Level.PH, Direction.HIGH), new Indication(Level.TA, Direction.HIGH));
			case SODA_ASH, BORAX -> List.of(new Indication(Level.PH, Direction.LOW), new Indication(Level.TA, Direction.LOW));
			case BICARBONATE -> List.of(new Indication(Level.TA, Direction.LOW), new Indication(Level.PH, Direction.LOW));
			case CALCIUM_CHLORIDE -> List.of(new Indication(Level.CH, Direction.LOW));
			case CYANURIC_ACID -> List.of(new Indication(Level.CYA, Direction.LOW));
			case SALT -> List.of(new Indication(Level.SALT, Direction.LOW));
			case ASCORBIC_ACID, THIOSULFATE, SULFITE -> List.of(new Indication(Level.FC, Direction.HIGH));
			case LANTHANUM -> List.of(new Indication(Level.PHOSPHATE, Direction.HIGH));
			case SEQUESTRANT -> List.of(new Indication(Level.COPPER, Direction.HIGH), new Indication(Level.IRON, Direction.HIGH),
					new Indication(Level.MANGANESE, Direction.HIGH));
			case BROMINE_TABLETS, SODIUM_BROMIDE -> List.of(new Indication(Level.BROMINE, Direction.LOW));
			default -> List.of();
		};
	}

	/** Acid or salt is never an answer to algae; sanitizers, algaecides and what clears the water are. */
	private static boolean treats(ActiveIngredient ingredient, Situation situation) {
		boolean sanitizes = ingredient.chlorine() || ingredient == ActiveIngredient.BROMINE_TABLETS
				|| ingredient == ActiveIngredient.SODIUM_BROMIDE;
		boolean algaecide = ingredient == ActiveIngredient.QUAT_ALGAECIDE || ingredient == ActiveIngredient.POLYQUAT_ALGAECIDE
				|| ingredient == ActiveIngredient.COPPER_ALGAECIDE;
		boolean clears = ingredient == ActiveIngredient.CLARIFIER || ingredient == ActiveIngredient.FLOCCULANT;
		return switch (situation) {
			case ROUTINE, PUMP_OFF, FOAM, LEAK_SUSPECTED, NEW_PLASTER -> false;
			case WEEKLY_REFRESH -> ingredient == ActiveIngredient.MONOPERSULFATE;
			case HIGH_COMBINED_CHLORINE, AFTER_HEAVY_USE -> sanitizes || ingredient == ActiveIngredient.MONOPERSULFATE;
			case CLOUDY -> sanitizes || clears || ingredient == ActiveIngredient.MONOPERSULFATE;
			case CONTAMINATION, DIARRHOEA, BLOOD, DEAD_ANIMAL, FLOOD, STABILIZER_GONE -> sanitizes;
			case STAINS_IRON, STAINS_COPPER, STAINS_MANGANESE ->
				ingredient == ActiveIngredient.SEQUESTRANT || ingredient == ActiveIngredient.ASCORBIC_ACID;
			case HIGH_PHOSPHATE -> sanitizes || ingredient == ActiveIngredient.LANTHANUM;
			case CELL_START -> ingredient == ActiveIngredient.SALT;
			default -> sanitizes || algaecide || clears;
		};
	}

}
