package org.meniscus.water.pool;

import java.util.List;

/** What the technician finds or is there for. Each names the rows of the trade table {@code situations.csv} it follows. */
public enum Situation {

	/** Whatever the readings ask for; nothing when everything is in range. */
	ROUTINE("all_in_range", "fc_low_routine", "fc_lost_sun_low_cya", "salt_fc_low", "salt_low", "salt_high", "vinyl", "fibreglass", "painted", "soft_sided", "spa", "high_cya", "high_ch", "low_ch_plaster", "low_ta", "high_ta", "low_ph_low_ta", "low_ph_ta_ok", "high_ph", "high_tds", "fc_too_high", "acid_and_chlorine_same_visit", "salt_ph_rise", "swim_before_ready", "lock_out"),
	/** Weekly oxidizing with a non-chlorine oxidizer. */
	WEEKLY_REFRESH,
	/** Green tint, bottom visible. */
	GREEN_ALGAE_LIGHT("algae_green_light"),
	/** Bottom not visible. */
	GREEN_ALGAE_HEAVY("algae_green_heavy"),
	MUSTARD_ALGAE("algae_mustard"),
	BLACK_ALGAE("algae_black"),
	PINK_SLIME("pink_slime"),
	CLOUDY("cloudy_low_fc", "cloudy_calcium", "cloudy_filter"),
	HIGH_COMBINED_CHLORINE("cc_high_outdoor", "cc_high_indoor"),
	AFTER_STORM("after_storm"),
	/** Wildfire ash, blown sand. */
	AFTER_ASH("ash"),
	AFTER_HEAVY_USE("after_party"),
	/** Brown or rust stains, tea-coloured water: no oxidizer goes in. */
	STAINS_IRON("stain_iron"),
	/** Blue-green stains, green hair. */
	STAINS_COPPER("stain_copper"),
	/** Purple or black stains: no oxidizer goes in. */
	STAINS_MANGANESE("stain_manganese"),
	/** Phosphate above 500 ppb with algae that come back. */
	HIGH_PHOSPHATE("phosphate_high"),
	FOAM("foam"),
	/** Stabilizer gone after the winter and chlorine with it: bacteria made ammonia of it. */
	STABILIZER_GONE("cya_unknown_zero"),
	/** Water and its levels fall together: only what keeps it sound is dosed. */
	LEAK_SUSPECTED("leak_suspect"),
	/** The first 28 to 30 days of new plaster: its maker's programme leads. */
	NEW_PLASTER("new_plaster"),
	/** A salt cell is started for the first time or after a pause. */
	CELL_START("salt_low"),
	OPENING("opening"),
	CLOSING("closing"),
	/** No flow: nothing is dosed. */
	PUMP_OFF("power_out"),
	/** Formed stool or vomit: the public-health page leads. */
	CONTAMINATION("faecal_formed_or_vomit"),
	/** Diarrhoea: the public-health page leads; what it asks for depends on CYA. */
	DIARRHOEA("faecal_diarrhoea"),
	/** Ordinary FC and pH are what is asked for; local code may ask for more. */
	BLOOD("blood"),
	/** As formed stool; droppings of raccoons are another matter. */
	DEAD_ANIMAL("dead_animal"),
	FLOOD("flood");

	private final List<String> rows;

	Situation(String... rows) {
		this.rows = List.of(rows);
	}

	/** Keys of the rows followed. */
	public List<String> rows() {
		return this.rows;
	}

	/** Algae or a film of its kind: chlorine kills it, a non-chlorine oxidizer does not. */
	public boolean growth() {
		return this == GREEN_ALGAE_LIGHT || this == GREEN_ALGAE_HEAVY || this == MUSTARD_ALGAE || this == BLACK_ALGAE
				|| this == PINK_SLIME;
	}

	/** Metal in the water: it falls out at a high pH and where it is oxidized. */
	public boolean metal() {
		return chlorineWaits() || this == STAINS_COPPER;
	}

	/** Chlorine would fix the stain: none is dosed. */
	public boolean chlorineWaits() {
		return this == STAINS_IRON || this == STAINS_MANGANESE;
	}

	/** Something got into the water for which the public-health page has the current steps. */
	public boolean incident() {
		return this == CONTAMINATION || this == DIARRHOEA || this == BLOOD || this == DEAD_ANIMAL;
	}

	/** Levels whose test it needs beyond a usual visit's. */
	public List<Level> asksFor() {
		return switch (this) {
			case STABILIZER_GONE -> List.of(Level.AMMONIA);
			case STAINS_COPPER -> List.of(Level.COPPER);
			case STAINS_IRON -> List.of(Level.IRON, Level.COPPER);
			case STAINS_MANGANESE -> List.of(Level.MANGANESE, Level.IRON);
			case HIGH_PHOSPHATE, AFTER_ASH -> List.of(Level.PHOSPHATE);
			default -> List.of();
		};
	}

	/** Whether it can be found at such a pool. */
	public boolean fits(PoolFacts pool) {
		return switch (this) {
			case CELL_START -> pool.sanitizer() == Sanitizer.SALT_CELL;
			case NEW_PLASTER -> pool.surface().cementBound() && pool.body() == BodyOfWater.POOL;
			case STABILIZER_GONE -> pool.sanitizer().usesChlorine();
			default -> true;
		};
	}

}
