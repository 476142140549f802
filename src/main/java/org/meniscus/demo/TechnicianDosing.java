package org.meniscus.demo;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.demo.DemoPool.ChlorineMethod;
import org.meniscus.demo.SimulatedVisit.SimulatedDose;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Reagent;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.Mass;
import org.meniscus.water.units.Temperature;
import org.meniscus.water.units.Volume;

/**
 * What the invented technicians put in: a plain weekly routine that keeps levels in range where doses can. It stands for habit,
 * not for advice; the service's own plans are made elsewhere. Limits of common practice, no source, unless a product's kind
 * states its most.
 */
final class TechnicianDosing {

	private static final double TABLET_GRAMS = 227;

	private static final double CELL_SALT_LOW = 2700;

	private static final double CELL_SALT_TARGET = 3200;

	/** Labels keep people out above 4 mg/L; some room is left for a volume that is not known well. */
	private static final double MAX_FC_AFTER_DOSE = 3.8;

	private static final double LEAST_FC_AFTER_DOSE = 3;

	private static final double SALT_BAG_POUNDS = 40;

	private final DemoPool pool;

	private final double litres;

	/** The last readings of what is not tested every week. */
	private double ta = 90;

	private double cya;

	private double ch = 250;

	private int tablets;

	/** Free chlorine to leave with, so that some is left a week later: learned from visit to visit. */
	private double fcAfterDose;

	TechnicianDosing(DemoPool pool, double chlorineUsedDaily) {
		this.pool = pool;
		this.litres = pool.volume().litres();
		this.fcAfterDose = Math.min(MAX_FC_AFTER_DOSE, 3 + 4.5 * chlorineUsedDaily);
		this.cya = (pool.chlorineMethod() == ChlorineMethod.SPA || pool.chlorineMethod() == ChlorineMethod.INDOOR) ? 0 : 40;
		this.tablets = (int) Math.max(1, Math.round(7 * chlorineUsedDaily / tabletPpm()));
	}

	/** Pure products as usual, in the strength a new company's products begin with. */
	static Product product(ProductKind kind) {
		return Product.usual(kind.name(), kind);
	}

	/** Remembers what was tested. */
	void remember(Readings readings) {
		ta = (readings.ta() != null) ? readings.ta() : ta;
		ch = (readings.ch() != null) ? readings.ch() : ch;
		if (readings.cya() != null) {
			cya = (readings.cyaQualifier() == ReadingQualifier.BELOW) ? 20 : readings.cya();
		}
	}

	/** Share of the water to change, or null. Stabilizer leaves no other way. */
	@Nullable
	Double shareToReplace(Readings readings) {
		if (readings.cya() == null || readings.cyaQualifier() == ReadingQualifier.BELOW) {
			return null;
		}
		if (pool.body() == BodyOfWater.SPA && readings.cya() >= 50) {
			return 0.9;
		}
		boolean agreed = pool.chlorineMethod() == ChlorineMethod.TABLETS && pool.number() % 3 == 2;
		return (agreed && readings.cya() >= 100) ? Double.valueOf(0.35) : null;
	}

	void waterReplaced(double share) {
		cya *= 1 - share;
		ta = ta * (1 - share) + pool.fillTa() * share;
		ch = ch * (1 - share) + pool.fillCh() * share;
	}

	/** The doses of a usual visit. */
	List<SimulatedDose> routine(Readings readings, boolean refresh) {
		List<SimulatedDose> doses = new ArrayList<>();
		double fc = (readings.fc() != null) ? readings.fc() : 0;
		chlorine(doses, fc);
		if (refresh) {
			add(doses, ProductKind.MPS, 0.012 * litres);
		}
		Double ph = readings.ph();
		if (ph != null) {
			acidOrBase(doses, readings, ph, fc);
		}
		slowLevels(doses, readings);
		return doses;
	}

	/** Against algae: free chlorine up to a level, with calcium hypochlorite, within what its kind allows in one addition. */
	List<SimulatedDose> shock(Readings readings, double target) {
		double fc = (readings.fc() != null) ? readings.fc() : 0;
		List<SimulatedDose> doses = new ArrayList<>();
		if (target > fc) {
			add(doses, ProductKind.CAL_HYPO_65, ProductEffects.amount(product(ProductKind.CAL_HYPO_65), target - fc, litres));
		}
		return doses;
	}

	private void chlorine(List<SimulatedDose> doses, double fc) {
		if (fc < 1.5) {
			fcAfterDose = Math.min(MAX_FC_AFTER_DOSE, fcAfterDose + 0.7);
		}
		else if (fc > 2.2) {
			fcAfterDose = Math.max(LEAST_FC_AFTER_DOSE, fcAfterDose - 1);
		}
		switch (pool.chlorineMethod()) {
			case TABLETS -> tablets(doses, fc);
			case SALT -> raiseFcTo(doses, ProductKind.LIQUID_CHLORINE_125, fc, (fc < 1) ? 3 : 0);
			case CALHYPO -> raiseFcTo(doses, ProductKind.CAL_HYPO_65, fc, fcAfterDose + 1.5);
			case DICHLOR -> raiseFcTo(doses, (cya < 65) ? ProductKind.DICHLOR_56 : ProductKind.LIQUID_CHLORINE_125, fc, fcAfterDose);
			case LIQUID, SMALL -> raiseFcTo(doses, ProductKind.LIQUID_CHLORINE_125, fc, fcAfterDose);
			case SPA -> raiseFcTo(doses, ProductKind.DICHLOR_56, fc, MAX_FC_AFTER_DOSE);
			case INDOOR -> raiseFcTo(doses, ProductKind.LIQUID_CHLORINE_125, fc, MAX_FC_AFTER_DOSE);
		}
	}

	private void tablets(List<SimulatedDose> doses, double fc) {
		if (cya >= 110 && pool.number() % 3 == 0) {
			raiseFcTo(doses, ProductKind.LIQUID_CHLORINE_125, fc, fcAfterDose);
			return;
		}
		if (fc > 2.4 && tablets > 1) {
			tablets--;
		}
		else if (fc < 2) {
			tablets++;
		}
		tablets = (int) Math.min(tablets, Math.max(1, Math.ceil(9 / tabletPpm())));
		doses.add(new SimulatedDose(ProductKind.TRICHLOR_TAB, tablets * TABLET_GRAMS));
		raiseFcTo(doses, ProductKind.LIQUID_CHLORINE_125, fc, (fc < 1.5) ? 3 : 0);
	}

	private double tabletPpm() {
		return ProductEffects.concentration(Product.usual("tablets", ProductKind.TRICHLOR_TAB), TABLET_GRAMS, litres);
	}

	private void raiseFcTo(List<SimulatedDose> doses, ProductKind kind, double fc, double target) {
		if (target - fc >= 0.5) {
			add(doses, kind, ProductEffects.amount(product(kind), target - fc, litres));
		}
	}

	/** The alkalinity used to reckon with is at least what stabilizer holds of it. */
	private void acidOrBase(List<SimulatedDose> doses, Readings readings, double ph, double fc) {
		double celsius = (readings.celsius() != null) ? readings.celsius() : 25;
		Water water = Water.of(ph, Math.max(ta, 0.45 * cya), ch, cya, fc, 1200, 0, Temperature.ofCelsius(celsius));
		if (ph >= 7.7) {
			ProductKind kind = (pool.body() == BodyOfWater.SPA) ? ProductKind.DRY_ACID_93 : ProductKind.MURIATIC_3145;
			Reagent acid = (pool.body() == BodyOfWater.SPA) ? Reagent.SODIUM_BISULFATE : Reagent.HYDROCHLORIC_ACID;
			add(doses, kind, ProductEffects.amount(product(kind), Dosing.doseForPh(water, acid, 7.4).orElseThrow(), litres));
		}
		else if (ph <= 7.1 && ta >= 80) {
			add(doses, ProductKind.SODA_ASH,
					ProductEffects.amount(product(ProductKind.SODA_ASH),
							Dosing.doseForPh(water, Reagent.SODIUM_CARBONATE, 7.4).orElseThrow(), litres));
		}
	}

	/** What is tested seldom is corrected when it was tested. */
	private void slowLevels(List<SimulatedDose> doses, Readings readings) {
		boolean cell = pool.chlorineMethod() == ChlorineMethod.SALT;
		if (readings.ta() != null && readings.ta() <= (cell ? 60 : 70)) {
			add(doses, ProductKind.BICARB, ProductEffects.amount(product(ProductKind.BICARB),
					((cell ? 75 : 95) - readings.ta()) / Reagent.SODIUM_BICARBONATE.alkalinity(), litres));
		}
		boolean shaded = switch (pool.chlorineMethod()) {
			case LIQUID, CALHYPO, SALT, SMALL -> true;
			default -> false;
		};
		double least = cell ? 60 : 35;
		if (shaded && readings.cya() != null && (readings.cya() < least || readings.cyaQualifier() == ReadingQualifier.BELOW)) {
			double rise = (cell ? 75 : 45) - ((readings.cyaQualifier() == ReadingQualifier.BELOW) ? 22 : readings.cya());
			add(doses, ProductKind.CYA, ProductEffects.amount(product(ProductKind.CYA), rise, litres));
		}
		double softest = pool.surface().cementBound() ? 190 : 130;
		if (readings.ch() != null && readings.ch() < softest && pool.surface() != Surface.SOFT_SIDED) {
			add(doses, ProductKind.CAL_CHLORIDE_77,
					ProductEffects.amount(product(ProductKind.CAL_CHLORIDE_77), softest + 40 - readings.ch(), litres));
		}
		if (cell && readings.salt() != null && readings.salt() < CELL_SALT_LOW) {
			double grams = ProductEffects.amount(product(ProductKind.SALT), CELL_SALT_TARGET - readings.salt(), litres);
			double bag = Mass.ofPounds(SALT_BAG_POUNDS).grams();
			doses.add(new SimulatedDose(ProductKind.SALT, Math.max(1, Math.round(grams / bag)) * bag));
		}
	}

	/** In steps one can measure, not above the most of one addition. */
	private void add(List<SimulatedDose> doses, ProductKind kind, double amount) {
		Double most = kind.mostPerLitre();
		double step = measuringStep(kind);
		double measured = (most != null && amount > most * litres) ? Math.floor(most * litres / step) * step
				: Math.round(amount / step) * step;
		if (measured > 0) {
			doses.add(new SimulatedDose(kind, Math.round(measured * 10) / 10.0));
		}
	}

	/** A cup of a liquid and a quarter pound of a solid for a pool, a fluid ounce and a tenth of an ounce for a hot tub. */
	private double measuringStep(ProductKind kind) {
		boolean liquid = kind.unit() == AmountUnit.ML;
		double fluidOunces = (pool.body() == BodyOfWater.SPA) ? 1 : pool.small() ? 2 : 8;
		double ounces = (pool.body() == BodyOfWater.SPA) ? 0.1 : pool.small() ? 1 : 4;
		return liquid ? Volume.MILLILITRES_PER_US_FLUID_OUNCE * fluidOunces : Mass.ofOunces(ounces).grams();
	}

}
