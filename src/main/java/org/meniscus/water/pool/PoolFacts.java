package org.meniscus.water.pool;

import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.units.Volume;

/**
 * What the engine needs to know of a pool.
 *
 * @param volume null when nobody has said
 * @param hasWasteValve whether settled matter can be vacuumed to waste past the filter
 * @param equipment what is on file of pump, filter, cell and the like
 * @param targets merged: published default, then company, then pool
 */
public record PoolFacts(@Nullable Volume volume, VolumeCertainty certainty, BodyOfWater body, Surface surface, boolean indoor,
		Sanitizer sanitizer, FillWater fill, boolean hasWasteValve, Equipment equipment,
		Targets targets) {

	/** Below this a pool counts as small: doses sold for 10,000 gal do not fit. 6,000 US gal, common practice, no source. */
	public static final double SMALL_LITRES = 6000 * Volume.LITRES_PER_US_GALLON;

	public PoolFacts {
		Objects.requireNonNull(certainty);
		Objects.requireNonNull(body);
		Objects.requireNonNull(surface);
		Objects.requireNonNull(sanitizer);
		Objects.requireNonNull(fill);
		Objects.requireNonNull(equipment);
		Objects.requireNonNull(targets);
	}

	/** A pool with the published targets of its kind and unknown fill water. */
	public static PoolFacts of(Volume volume, VolumeCertainty certainty, BodyOfWater body, Surface surface, boolean indoor,
			Sanitizer sanitizer) {
		return new PoolFacts(volume, certainty, body, surface, indoor, sanitizer, FillWater.unknown(), false,
				Equipment.UNKNOWN, Targets.defaults(body, surface, indoor, sanitizer));
	}

	/** Small body of water in which a dose sold for 10,000 gal would be far too much. */
	public boolean small() {
		return this.surface == Surface.SOFT_SIDED || this.body == BodyOfWater.SPA
				|| (this.volume != null && this.volume.litres() < SMALL_LITRES);
	}

	public PoolFacts withTargets(Targets targets) {
		return new PoolFacts(this.volume, this.certainty, this.body, this.surface, this.indoor, this.sanitizer, this.fill,
				this.hasWasteValve, this.equipment, targets);
	}

	public PoolFacts withVolume(@Nullable Volume volume, VolumeCertainty certainty) {
		return new PoolFacts(volume, certainty, this.body, this.surface, this.indoor, this.sanitizer, this.fill, this.hasWasteValve,
				this.equipment, this.targets);
	}

	public PoolFacts withFill(FillWater fill) {
		return new PoolFacts(this.volume, this.certainty, this.body, this.surface, this.indoor, this.sanitizer, fill,
				this.hasWasteValve, this.equipment, this.targets);
	}

	public PoolFacts withEquipment(Equipment equipment) {
		return new PoolFacts(this.volume, this.certainty, this.body, this.surface, this.indoor, this.sanitizer, this.fill,
				this.hasWasteValve, equipment, this.targets);
	}

	/** With the setting that the panel of the cell was found at, where it was read. */
	public PoolFacts withSetting(Readings found) {
		return withEquipment(this.equipment.withCellPercent(found.site().cellPercent()));
	}

	/**
	 * A wait for mixing in this pool, hours: the usual one, that of the label, is the least; where the flow on file turns the water over
	 * more slowly than usual it grows along, up to one turnover, in steps of five minutes.
	 */
	public double mixingHours(double usual) {
		Double turnover = (this.volume == null) ? null : this.equipment.turnoverHours(this.volume.litres());
		double grown = (turnover == null) ? 0
				: Math.min(turnover, usual * Math.min(Equipment.MOST_MIXING, turnover / Equipment.USUAL_TURNOVER));
		return (grown <= usual) ? usual : Math.ceil(grown * 12 - 1e-6) / 12;
	}

	/** The same in minutes, rounded up. */
	public int mixingMinutes(int usual) {
		return (int) Math.ceil(60 * mixingHours(usual / 60.0) - 1e-6);
	}

}
