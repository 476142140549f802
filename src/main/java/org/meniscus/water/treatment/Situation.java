package org.meniscus.water.treatment;

import java.util.List;

/** What the technician finds or is there for. Each names the rows of the trade table {@code situations.csv} it follows. */
public enum Situation {

	/** Whatever the readings ask for; nothing when everything is in range. */
	ROUTINE("all_in_range", "fc_low_routine", "fc_lost_sun_low_cya", "salt_fc_low", "salt_low", "salt_high", "vinyl", "fibreglass",
			"painted", "soft_sided", "spa", "high_cya", "high_ch", "low_ch_plaster", "low_ta", "high_ta", "low_ph_low_ta",
			"low_ph_ta_ok", "high_ph", "high_tds", "fc_too_high", "acid_and_chlorine_same_visit", "salt_ph_rise",
			"swim_before_ready", "lock_out"),
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
	AFTER_STORM("after_storm", "ash"),
	AFTER_HEAVY_USE("after_party"),
	OPENING("opening"),
	CLOSING("closing"),
	/** No flow: nothing is dosed. */
	PUMP_OFF("power_out"),
	/** Stool, vomit, blood, dead animal: the public-health page leads. */
	CONTAMINATION("faecal_formed_or_vomit", "faecal_diarrhoea", "blood", "dead_animal"),
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

}
