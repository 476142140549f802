package org.meniscus.water.pool;

/** A property of the water that is tested or worked out. Values are always in the unit named by {@link #unit()}. */
public enum Level {

	/** Free chlorine, mg/L as Cl2: what a DPD or titration test reads, cyanurate-bound chlorine included. */
	FC(Unit.PPM, 1),
	/** Combined chlorine, mg/L as Cl2: total minus free. */
	CC(Unit.PPM, 1),
	/** Total chlorine, mg/L as Cl2. */
	TC(Unit.PPM, 1),
	/** Bromine, mg/L as Br2; only in a pool kept on bromine. */
	BROMINE(Unit.PPM, 1),
	PH(Unit.PH, 1),
	/** Total alkalinity, mg/L as CaCO3, cyanurate and borate included as the titration includes them. */
	TA(Unit.PPM, 0),
	/** Calcium hardness, mg/L as CaCO3: calcium only. */
	CH(Unit.PPM, 0),
	/** Cyanuric acid (stabilizer), mg/L, chlorinated or not. */
	CYA(Unit.PPM, 0),
	/** Chloride expressed as sodium chloride, mg/L. */
	SALT(Unit.PPM, 0),
	/** Total dissolved solids, mg/L. */
	TDS(Unit.PPM, 0),
	/** Borate, mg/L as boron. */
	BORATE(Unit.PPM, 0),
	/** Orthophosphate, micrograms per litre as PO4. */
	PHOSPHATE(Unit.PPB, 0),
	/** Copper, mg/L: all of it where the reagent sets chelated copper free, else the part that is not held. */
	COPPER(Unit.PPM, 2),
	/** Iron, mg/L; what a sequestrant holds is not read without digestion by acid. */
	IRON(Unit.PPM, 2),
	/** Manganese, mg/L; what a sequestrant holds is not read without digestion by acid. */
	MANGANESE(Unit.PPM, 2),
	/** Ammonia, mg/L as nitrogen. */
	AMMONIA(Unit.PPM, 2),
	/** Water temperature, degrees Celsius. */
	TEMPERATURE(Unit.CELSIUS, 0),
	/** Worked out: hypochlorous acid, mg/L as Cl2; the part of FC that kills. */
	HOCL(Unit.PPM, 3),
	/** Worked out: calcite saturation index, logarithm to base ten. */
	SATURATION_INDEX(Unit.INDEX, 2);

	/** Unit in which a level is stored and computed. */
	public enum Unit {

		/** Milligrams per litre. */
		PPM,
		/** Micrograms per litre. */
		PPB,
		PH, CELSIUS, INDEX

	}

	private final Unit unit;

	private final int decimals;

	Level(Unit unit, int decimals) {
		this.unit = unit;
		this.decimals = decimals;
	}

	public Unit unit() {
		return this.unit;
	}

	/** Digits after the point in which the level is stated to people. */
	public int decimals() {
		return this.decimals;
	}

}
