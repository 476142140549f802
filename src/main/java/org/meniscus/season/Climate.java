package org.meniscus.season;

import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.drift.DriftEngine;
import org.meniscus.water.drift.DriftSettings;

/** Where a company works, as far as evaporation and rain go; named under {@code season.climate.*}. */
public enum Climate {

	HOT_DRY(ClimateNormals.HOT_DRY), SUBTROPICAL(ClimateNormals.SUBTROPICAL), TEMPERATE(ClimateNormals.TEMPERATE),
	MEDITERRANEAN(ClimateNormals.MEDITERRANEAN);

	/** Taken where a company has not chosen. */
	public static final Climate DEFAULT = TEMPERATE;

	private final ClimateNormals normals;

	private final DriftEngine engine;

	Climate(ClimateNormals normals) {
		this.normals = normals;
		this.engine = new DriftEngine(normals, DriftSettings.SINGLE_POOL);
	}

	ClimateNormals normals() {
		return normals;
	}

	DriftEngine engine() {
		return engine;
	}

}
