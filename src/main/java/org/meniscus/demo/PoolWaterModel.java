package org.meniscus.demo;

import java.time.LocalDate;
import java.util.Random;

import org.meniscus.demo.DemoPool.ChlorineMethod;
import org.meniscus.demo.DemoPool.SeasonEvent;
import org.meniscus.water.chemistry.ChlorineSource;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Reagent;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.CyanuricAcidLoss;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.units.Temperature;

/**
 * The true water of one invented pool, day by day. Equilibria and stoichiometry are the engine's; the rates (chlorine used, gas
 * lost, rain, splash) are assumptions of usual size, chosen for a plausible season and not for prediction.
 */
final class PoolWaterModel {

	/** CO2 of outdoor air in atm: 420 ppm by volume. */
	private static final double AIR_CO2_ATM = 420e-6;

	private final DemoPool pool;

	private final DemoWeather weather;

	private final LocalDate first;

	/** Of the real pool; what is on record differs by how well it is known. */
	private final double litres;

	private final Random random;

	private Water water;

	private double combined;

	private double tablets;

	private double tabletsPerDay;

	private double cellPerDay;

	/** 1 at full bloom, 0 in clear water. */
	private double algae;

	PoolWaterModel(DemoPool pool, DemoWeather weather, LocalDate first, Random random) {
		this.pool = pool;
		this.weather = weather;
		this.first = first;
		this.random = random;
		double unsure = switch (pool.certainty()) {
			case MEASURED -> 0.02;
			case CALCULATED -> 0.05;
			default -> 0.11;
		};
		this.litres = pool.volume().litres() * (1 + unsure * Math.max(-2, Math.min(2, random.nextGaussian())));
		this.water = initialWater();
		this.cellPerDay = chlorineDemand(first, 3.5);
	}

	private Water initialWater() {
		boolean cell = pool.chlorineMethod() == ChlorineMethod.SALT;
		double ph = 7.4 + 0.2 * random.nextDouble();
		double ta = (cell ? 70 : 85) + 20 * random.nextDouble();
		double ch = pool.surface().cementBound() ? 220 + 80 * random.nextDouble() : 140 + 50 * random.nextDouble();
		double cya = 30 + 20 * random.nextDouble();
		cya = switch (pool.chlorineMethod()) {
			case SPA, INDOOR -> 0;
			case SALT -> cya + 32;
			case DICHLOR -> cya - 8;
			default -> cya;
		};
		double salt = (cell ? 3050 : 700) + 300 * random.nextDouble();
		return Water.of(ph, ta, ch, cya, 3 + random.nextDouble(), salt, 0, temperature(first));
	}

	Water water() {
		return water;
	}

	double combined() {
		return combined;
	}

	boolean green() {
		return algae > 0.5;
	}

	boolean cloudy() {
		return algae > 0.1;
	}

	/** A bloom begins. */
	void startBloom() {
		algae = 1;
		combined = 0.9;
	}

	/** The technician puts something in. @param amount grams or millilitres */
	void dose(Product product, double amount) {
		if (product.kind().ingredient() == ActiveIngredient.TRICHLOR) {
			tablets += ProductEffects.concentration(product, amount, litres);
			tabletsPerDay = tablets / DissolvingTablets.DISSOLVING_DAYS;
			return;
		}
		water = ProductEffects.after(water, product, amount, litres);
		if (product.kind().ingredient() == ActiveIngredient.MONOPERSULFATE) {
			combined *= 0.35;
		}
	}

	/** @param share 0 to 1 */
	void replaceWater(double share) {
		water = Dosing.replace(water, fillWater(), share);
		combined *= 1 - share;
	}

	/** Free chlorine that the cell brings, mg/L a day. */
	double cellPerDay() {
		return cellPerDay;
	}

	/** Turns the cell's output up or down. */
	void adjustCell(double factor) {
		cellPerDay *= factor;
	}

	void advanceDay(LocalDate day) {
		water = Dosing.atTemperature(water, temperature(day));
		addChlorine(day);
		consumeChlorine(day);
		decayStabilizer();
		outgasCarbonDioxide();
		exchangeWater(day);
		combined = Math.max(0, (pool.indoor() ? combined + 0.035 : combined * 0.8) + 0.01 * random.nextGaussian());
		combined = Math.max(combined, 0.8 * algae);
	}

	private void addChlorine(LocalDate day) {
		double dissolved = Math.min(tablets, tabletsPerDay);
		tablets -= dissolved;
		if (pool.event() == SeasonEvent.HIDDEN_FLOATER && day.isAfter(first.plusWeeks(10))) {
			dissolved += 0.75;
		}
		if (dissolved > 0) {
			water = Dosing.addChlorine(water, ChlorineSource.TRICHLOR, dissolved);
		}
		if (pool.chlorineMethod() == ChlorineMethod.SALT) {
			water = Dosing.addChlorine(water, ChlorineSource.SALT_CELL, cellPerDay);
		}
	}

	private void consumeChlorine(LocalDate day) {
		double use = chlorineDemand(day, water.freeChlorine());
		if (!pool.indoor() && random.nextDouble() < 0.04) {
			// guests
			use += 0.8 * random.nextDouble();
		}
		if (algae > 0) {
			use += 4.5 * algae;
			algae *= (water.freeChlorine() > 4) ? 0.6 : 1;
			algae = (algae < 0.03) ? 0 : algae;
		}
		water = Dosing.spendChlorine(water, Math.min(use, water.freeChlorine()));
	}

	/** Free chlorine used in a day, mg/L: more with more of it there, in strong sun, and where little stabilizer shades it. */
	double chlorineDemand(LocalDate day, double freeChlorine) {
		if (pool.indoor() || pool.body() == BodyOfWater.SPA) {
			return pool.fcPerDay() * freeChlorine / (freeChlorine + 2);
		}
		double sun = 0.35 + 0.65 * DemoWeather.summerFraction(day);
		double unshaded = 1 + 1.2 * Math.exp(-water.cyanuricAcid() / 15);
		return pool.fcPerDay() * sun * unshaded * freeChlorine / (freeChlorine + 3.5);
	}

	private void decayStabilizer() {
		double rate = CyanuricAcidLoss.breakdown(water.temperature().celsius());
		water = Dosing.add(water, Reagent.CYANURIC_ACID, -rate * water.cyanuricAcid());
	}

	/** Carbon dioxide leaves; faster over jets and from a cell's bubbles. */
	private void outgasCarbonDioxide() {
		double share = switch (pool.chlorineMethod()) {
			case SPA -> 0.12;
			case SALT -> 0.10;
			default -> 0.07;
		};
		double excess = Dosing.equilibrateWithAir(water, AIR_CO2_ATM).carbonDioxideLost();
		water = Dosing.loseCarbonDioxide(water, share * excess);
	}

	/** Evaporation made up with tap water leaves what was in it; rain, splash, backwash and leaks thin everything. */
	private void exchangeWater(LocalDate day) {
		double depth = 1000 * pool.depth();
		double evaporated = switch (pool.chlorineMethod()) {
			case SPA -> 1.0;
			case INDOOR -> 2.0;
			default -> weather.evaporation(day, water.temperature());
		};
		double rain = (pool.indoor() || pool.body() == BodyOfWater.SPA) ? 0 : weather.rain(day);
		double topped = Math.max(0, evaporated - rain) / depth;
		water = Dosing.add(water, Reagent.SODIUM_BICARBONATE,
				pool.fillTa() * topped / Reagent.SODIUM_BICARBONATE.alkalinity());
		water = Dosing.add(water, Reagent.CALCIUM_CHLORIDE, pool.fillCh() * topped);
		double out = 0.3 + ((pool.event() == SeasonEvent.LEAK && day.isAfter(first.plusWeeks(10))) ? 16 : 0)
				+ ((pool.sandFilter() && day.getDayOfMonth() == 1 + pool.number() % 28) ? 800 * depth / litres : 0);
		water = Dosing.replace(water, fillWater(), out / depth);
		if (rain > 15) {
			water = Dosing.replace(water, Water.of(6, 3, 1, 0, 0, 2, 0, water.temperature()), (rain - 10) / depth);
		}
	}

	private Water fillWater() {
		return Water.of(7.6, pool.fillTa(), pool.fillCh(), 0, 0, 150, 0, water.temperature());
	}

	private Temperature temperature(LocalDate day) {
		if (pool.body() == BodyOfWater.SPA) {
			return Temperature.ofFahrenheit(101);
		}
		if (pool.indoor()) {
			return Temperature.ofFahrenheit(83);
		}
		// a shallow pool warms more
		return Temperature.ofCelsius(weather.water(day).celsius() + ((pool.surface() == Surface.SOFT_SIDED) ? 1 : 0));
	}

}
