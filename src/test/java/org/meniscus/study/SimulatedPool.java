package org.meniscus.study;

import java.util.Random;

import org.meniscus.water.chemistry.ChlorineSource;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Reagent;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.demand.ChlorineDemandEstimator;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.demand.PhDrift;
import org.meniscus.water.demand.PoolKind;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.units.Temperature;
import org.meniscus.water.units.Volume;

/**
 * A pool whose water is known, day by day, and what a technician reads of it. The course of use, temperature and carbon dioxide is of
 * other form than what {@link PoolKind}, {@link ChlorineDemandEstimator} and {@link PhDrift} assume; the equilibria are the engine's. Sizes
 * are assumptions unless a source stands beside them.
 */
public final class SimulatedPool {

	/** S.d. of ln: true volume against the recorded one; 15 to 20 % for guessed volumes is common practice, no source. */
	private static final double VOLUME_DEVIATION = 0.12;

	/** S.d. of ln use among pools. */
	private static final double USE_DEVIATION = 0.38;

	/** FC at which a pool uses what {@link PoolScenario#use} says, ppm: the mean of a week. */
	private static final double USUAL_FC = 5;

	/** Share of CYA that decays in a day at 28 °C, twice as much each 10 °C; common practice, no source. */
	private static final double CYA_DECAY = 0.0013;

	/** Share of readings that are wrong altogether. */
	private static final double GROSS = 0.015;

	private static final double AIR = 420e-6;

	private static final double DEPTH_MM = 1400;

	/** Room above the operating level before water overflows. */
	private static final double FREEBOARD_MM = 30;

	/** Where water gets colder than the first a pool stands closed while it is colder than the second, degrees Celsius. */
	private static final double FREEZING = 8, COLD = 10;

	/** 1 January 2001. */
	private static final long NEW_YEAR = 11_323;

	private static final int DAYS_TO_MARCH = 59;

	private final PoolScenario scenario;

	/** Of tests and doses; apart from the weather, so that another way of dosing meets the same days. */
	private final Random random;

	private final Random days;

	private final PoolFacts facts;

	private final double litres;

	/** 1/day and ppm a day, at 29 °C and CYA 40. */
	private final double proportional;

	private final double constant;

	private final double doublingDegrees;

	private final double shadePower;

	private final double breath;

	private final double fillTa;

	private final double fillCh;

	private Water water;

	private double logDaily;

	private double weather;

	private double cell;

	private double tablets;

	private double tabletsPerDay;

	/** Degrees Celsius off the normal of the climate. */
	private final double warmer;

	/** Share of the usual evaporation. */
	private final double evaporation;

	/** Of the water let out for the winter where it freezes. */
	private final double lowered;

	/** Water above the operating level, mm. */
	private double height;

	private boolean closed;

	private int day;

	public SimulatedPool(PoolScenario scenario, long seed) {
		this.scenario = scenario;
		this.random = new Random(seed);
		this.days = new Random(seed + 15_485_863);
		double recorded = scenario.litres() * Math.exp(0.3 * random.nextGaussian());
		this.litres = recorded * Math.exp(VOLUME_DEVIATION * random.nextGaussian());
		double use = scenario.use() * Math.exp(USE_DEVIATION * random.nextGaussian());
		double share = 0.4 + 0.4 * random.nextDouble();
		this.proportional = share * use / USUAL_FC;
		this.constant = (1 - share) * use;
		this.doublingDegrees = 6.5 + 3.5 * random.nextDouble();
		this.shadePower = 0.2 + 0.5 * random.nextDouble();
		this.breath = 0.06 * Math.exp(0.4 * random.nextGaussian()) * (hasCell() ? 1.6 : 1);
		// within what the US Geological Survey calls moderately hard to very hard, from memory
		this.fillTa = 60 + 100 * random.nextDouble();
		this.fillCh = 80 + 200 * random.nextDouble();
		this.facts = PoolFacts.of(Volume.ofLitres(recorded), VolumeCertainty.CALCULATED, BodyOfWater.POOL, Surface.PLASTER, false,
				scenario.sanitizer())
			.withFill(new FillWater(7.6, (double) Math.round(fillTa), (double) Math.round(fillCh), 150.0));
		double cya = (hasCell() ? 60 : 35) + 15 * random.nextDouble();
		this.water = Water.of(7.4 + 0.2 * random.nextDouble(), 80 + 30 * random.nextDouble(), 220 + 80 * random.nextDouble(), cya,
				4 + 3 * random.nextDouble(), hasCell() ? 3200 : 800, 0, temperature());
		Random place = new Random(seed + 32_452_843);
		this.warmer = place.nextGaussian();
		this.evaporation = Math.exp(0.2 * place.nextGaussian());
		this.lowered = 0.15 + 0.3 * place.nextDouble();
		this.cell = hasCell() ? used(3.5) * Math.exp(0.25 * random.nextGaussian()) : 0;
	}

	private boolean hasCell() {
		return scenario.sanitizer() == Sanitizer.SALT_CELL;
	}

	/** As it is recorded. */
	public PoolFacts facts() {
		return facts;
	}

	/** As it is. */
	public Water water() {
		return water;
	}

	/** Days since the start of spring. */
	public int day() {
		return day;
	}

	/** @param amount grams or millilitres by the recipe; measured out and by a strength that are both off by some */
	public void dose(Product product, double amount) {
		double real = amount * (1 + 0.05 * random.nextGaussian())
				* (product.kind().form() == PhysicalForm.LIQUID ? 0.9 + 0.1 * random.nextDouble() : 1);
		if (product.kind().form() == PhysicalForm.TABLET) {
			tablets += ProductEffects.concentration(product, real, litres);
			tabletsPerDay = tablets / 7;
			return;
		}
		water = ProductEffects.after(water, product, Math.max(0, real), litres);
	}

	/** Somebody turns the cell up or down; nobody writes it down. */
	public void turnCell(double factor) {
		cell *= factor;
	}

	/** Drained and refilled. */
	public void replace(double share) {
		water = Dosing.replace(water, fill(), share);
	}

	public void turnPage() {
		day++;
		weather = 0.8 * weather + 0.8 * days.nextGaussian();
		logDaily = 0.7 * logDaily + scenario.daily() * Math.sqrt(1 - 0.49) * days.nextGaussian();
		water = Dosing.atTemperature(water, temperature());
		chlorine();
		breathe();
		if (scenario.climate() != null) {
			weather(scenario.climate().at(date()));
		}
		else {
			exchange();
		}
	}

	/** Whether it stands closed for the winter. */
	public boolean closed() {
		return closed;
	}

	/** Since 1970-01-01, in years of 365 days that begin on 1 March. */
	private long date() {
		return NEW_YEAR + Math.floorMod(day + DAYS_TO_MARCH, 365);
	}

	/** Day of the year, 1 to 365. */
	public int dayOfYear() {
		return 1 + Math.floorMod(day + DAYS_TO_MARCH, 365);
	}

	/** Degrees Celsius. */
	public double celsius() {
		return temperature().celsius();
	}

	/** A day of a climate: evaporation and rain move the level, what is above the freeboard overflows, what is missing is filled up. */
	private void weather(ClimateNormals.Month normal) {
		boolean wasClosed = closed;
		closed = scenario.climate().months().stream().anyMatch(month -> month.waterTemperature() < FREEZING)
				&& normal.waterTemperature() < COLD;
		if (closed && !wasClosed) {
			height -= lowered * DEPTH_MM;
		}
		double rain = (days.nextDouble() < normal.wetDays() * 12 / 365)
				? -Math.log(1 - days.nextDouble()) * normal.rain() / Math.max(0.1, normal.wetDays()) : 0;
		double splash = closed ? 0 : (days.nextDouble() < 0.05) ? 12 : 0.5;
		double evaporated = evaporation * normal.evaporation();
		move(rain - evaporated, rainWater());
		height -= splash;
		height = Math.min(height, FREEBOARD_MM);
		double decay = CYA_DECAY * Math.pow(2, (temperature().celsius() - 28) / 10);
		water = Dosing.add(water, Reagent.CYANURIC_ACID, -decay * water.cyanuricAcid());
		if (!closed && height < 0) {
			move(-height, fill());
		}
	}

	/** Water of a kind comes in, or pure water leaves; what is dissolved stays. @param millimetres below zero for what evaporates */
	private void move(double millimetres, Water incoming) {
		double before = DEPTH_MM + height;
		if (millimetres >= 0) {
			water = Dosing.replace(water, incoming, millimetres / (before + millimetres));
		}
		else {
			double factor = before / (before + millimetres) - 1;
			water = Dosing.add(water, Reagent.SODIUM_BICARBONATE,
					factor * water.totalAlkalinity() / Reagent.SODIUM_BICARBONATE.alkalinity());
			water = Dosing.add(water, Reagent.CALCIUM_CHLORIDE, factor * water.calciumHardness());
			water = Dosing.add(water, Reagent.CYANURIC_ACID, factor * water.cyanuricAcid());
		}
		height += millimetres;
	}

	private Water rainWater() {
		return Water.of(5.6, 1, 1, 0, 0, 1, 0, water.temperature());
	}

	private void chlorine() {
		double fed = Math.min(tablets, tabletsPerDay);
		tablets -= fed;
		double factor = Math.exp(logDaily) * ((day % 7 >= 5) ? 1.25 : 0.9);
		double guests = (days.nextDouble() < 0.03) ? 0.3 + 1.2 * days.nextDouble() : 0;
		double fc = water.freeChlorine();
		double start = fc;
		for (int hour = 0; hour < 24; hour++) {
			fc = Math.max(0, fc + (fed + cell - factor * used(fc) - guests) / 24);
		}
		if (fed > 0) {
			water = Dosing.addChlorine(water, ChlorineSource.TRICHLOR, fed);
		}
		if (cell > 0) {
			water = Dosing.addChlorine(water, ChlorineSource.SALT_CELL, cell);
		}
		water = Dosing.spendChlorine(water, Math.max(0, start + fed + cell - fc));
	}

	/** Ppm a day at this level, on a usual day of this temperature. */
	private double used(double fc) {
		double season = 0.15 + 0.85 * Math.max(0.12, Math.min(1.4, Math.pow(2, (temperature().celsius() - 29) / doublingDegrees)));
		double shade = Math.pow(40 / Math.max(8, water.cyanuricAcid()), shadePower);
		return season * (shade * proportional * fc + constant);
	}

	/** A share of the whole excess of carbon dioxide a day. */
	private void breathe() {
		double excess = Dosing.equilibrateWithAir(water, AIR).carbonDioxideLost();
		water = Dosing.loseCarbonDioxide(water, breath * excess);
	}

	/** Evaporation is made up by tap water and leaves what was in it; splash and rain thin everything. */
	private void exchange() {
		double evaporated = Math.max(0, 1.5 + 0.22 * (temperature().celsius() - 15));
		water = Dosing.add(water, Reagent.SODIUM_BICARBONATE, fillTa * evaporated / DEPTH_MM / Reagent.SODIUM_BICARBONATE.alkalinity());
		water = Dosing.add(water, Reagent.CALCIUM_CHLORIDE, fillCh * evaporated / DEPTH_MM);
		double decay = CYA_DECAY * Math.pow(2, (temperature().celsius() - 28) / 10);
		water = Dosing.add(water, Reagent.CYANURIC_ACID, -decay * water.cyanuricAcid());
		water = Dosing.replace(water, fill(), ((days.nextDouble() < 0.05) ? 12 : 0.5) / DEPTH_MM);
	}

	private Water fill() {
		return Water.of(7.6, fillTa, fillCh, 0, 0, 150, 0, water.temperature());
	}

	private Temperature temperature() {
		if (scenario.climate() != null) {
			return Temperature.ofCelsius(Math.max(1, scenario.climate().at(date()).waterTemperature() + warmer + weather));
		}
		return Temperature.ofCelsius(22 + scenario.warmer() + 7 * Math.sin(2 * Math.PI * (day - 30) / 365.25) + weather);
	}

	/** What a drop kit shows: with its error, in its steps. @param slow whether TA, CH and CYA are tested too */
	public Readings test(boolean slow) {
		double fc = drops(water.freeChlorine(), scenario.testShare(), 0.1, (water.freeChlorine() > 8) ? 0.5 : 0.2);
		if (random.nextDouble() < GROSS) {
			fc = Math.round(10 * fc * (random.nextBoolean() ? 2 : 0.5)) / 10.0;
		}
		Readings.Builder readings = Readings.builder()
			.fc(fc)
			.cc(0.0)
			.ph((double) Math.round(10 * Math.max(6.8, Math.min(8.4, water.ph() + 0.05 * random.nextGaussian()))) / 10)
			.celsius((double) Math.round(water.temperature().celsius()))
			.drainVisible(true);
		if (slow) {
			readings.ta(drops(water.totalAlkalinity(), 0.04, 2, 10)).ch(drops(water.calciumHardness(), 0.035, 4, 10));
			readings.cya(drops(water.cyanuricAcid(), 0.08, 3, 5));
			if (hasCell()) {
				readings.salt(drops(water.salt(), 0.03, 30, 50));
			}
		}
		return readings.build();
	}

	private double drops(double value, double share, double noise, double size) {
		double seen = value * (1 + share * random.nextGaussian()) + noise * random.nextGaussian();
		return Math.round(Math.max(0, Math.round(seen / size) * size) * 100) / 100.0;
	}

}
