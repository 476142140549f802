package org.meniscus.water.assess;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.AssumedLevels;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.units.Temperature;

/**
 * The water as it is carried through a plan: what was tested, and for the equilibrium a stated assumption for what was not. Only
 * tested levels are ever shown; assumed ones work inside.
 *
 * @param traces as in {@link Readings}: only dilution and what binds them move them
 * @param keptOnBromine whether what oxidizes turns into bromine here
 */
public record PoolWater(Water water, Set<Level> known, @Nullable Double cc, @Nullable Double bromine, @Nullable Double tds,
		Map<Level, Double> traces, boolean keptOnBromine) {

	/** More in one visit is a slip of the pen, mg/L of all that went in. */
	static final double MAX_ADDED = 10_000;

	/** PH taken for fill water whose own does not go with its alkalinity: the usual one, then one that goes with none at all. */
	private static final double[] FILL_PH = { 7.5, 6.5 };

	/** Contradictory where TA cannot hold CYA and borate: see {@link Speciation#contradictory()}. */
	public static PoolWater of(PoolFacts pool, Readings readings) {
		Set<Level> known = EnumSet.noneOf(Level.class);
		for (Level level : readings.tested()) {
			known.add(level);
		}
		boolean chlorine = pool.sanitizer().usesChlorine();
		if (!chlorine) {
			known.removeAll(EnumSet.of(Level.FC, Level.CC, Level.TC));
		}
		double salt = or(readings.salt(), (pool.sanitizer() == Sanitizer.SALT_CELL) ? AssumedLevels.CELL_SALT
				: Math.min(AssumedLevels.SALT, or(readings.tds(), AssumedLevels.SALT)));
		Water water = Water.of(or(readings.ph(), 7.5), or(readings.ta(), AssumedLevels.TA), or(readings.ch(), AssumedLevels.CH),
				or(effectiveCya(readings), (pool.indoor() || pool.body() == BodyOfWater.SPA || !chlorine) ? 0 : AssumedLevels.CYA_OUTDOORS),
				chlorine ? or(readings.fc(), 0) : 0, salt, or(readings.borate(), 0), Temperature.ofCelsius(celsius(pool, readings)));
		boolean bromine = pool.sanitizer() == Sanitizer.BROMINE;
		return new PoolWater(water, known, readings.combined(), bromine ? readings.bromine() : null, readings.tds(),
				readings.traces(), bromine);
	}

	/** "Less than 30" works as 15, the middle of what it can be; "more than 100" as 100, the least it can be. */
	static @Nullable Double effectiveCya(Readings readings) {
		Double cya = readings.cya();
		return (cya != null && readings.cyaQualifier() == ReadingQualifier.BELOW) ? Double.valueOf(cya / 2) : cya;
	}

	/** What was assumed, as notes. */
	public static List<Reason> assumptions(PoolFacts pool, Readings readings) {
		List<Reason> notes = new ArrayList<>();
		if (readings.celsius() == null) {
			notes.add(assumed(Level.TEMPERATURE, celsius(pool, readings)));
		}
		if (readings.ch() == null) {
			notes.add(assumed(Level.CH, AssumedLevels.CH));
		}
		if (readings.cya() == null && pool.sanitizer().usesChlorine() && !pool.indoor() && pool.body() == BodyOfWater.POOL) {
			notes.add(assumed(Level.CYA, AssumedLevels.CYA_OUTDOORS));
		}
		return notes;
	}

	private static Reason assumed(Level level, double value) {
		return Reason.of("note.assumed", Term.of(level), Term.of(level, value));
	}

	private static double celsius(PoolFacts pool, Readings readings) {
		return or(readings.celsius(), (pool.body() == BodyOfWater.SPA) ? AssumedLevels.SPA_CELSIUS : AssumedLevels.CELSIUS);
	}

	/** The same water at another pH. */
	public PoolWater withPh(double ph) {
		return withWater(this.water.withPh(ph), 0);
	}

	/** With so much of its free chlorine used up, ppm. */
	public PoolWater withChlorineUsed(double ppm) {
		return withWater(Dosing.spendChlorine(this.water, ppm), 0);
	}

	/** With so much of its free chlorine used up by ammonia, ppm, at so much for each ppm of its nitrogen. */
	public PoolWater afterBreakpoint(double ppm, double perNitrogen) {
		PoolWater after = withChlorineUsed(ppm);
		Map<Level, Double> left = new EnumMap<>(Level.class);
		left.putAll(this.traces);
		left.computeIfPresent(Level.AMMONIA, (level, value) -> Math.max(0, value - ppm / perNitrogen));
		return new PoolWater(after.water, this.known, this.cc, this.bromine, this.tds, left, this.keptOnBromine);
	}

	/**
	 * After an amount of a product. In a bromine pool what oxidizes turns bromide into bromine; the base that came with it stays in TA as
	 * long as the bromine does, as with chlorine.
	 */
	public PoolWater after(Product product, double amount, double litres) {
		if (!(amount > 0)) {
			return this;
		}
		PoolWater after = withWater(ProductEffects.after(this.water, product, amount, litres), addedSolids(product, amount, litres));
		Double phosphate = this.traces.get(Level.PHOSPHATE);
		if (product.kind().ingredient() == ActiveIngredient.LANTHANUM && phosphate != null) {
			Map<Level, Double> left = new EnumMap<>(this.traces);
			left.put(Level.PHOSPHATE, Math.max(0, phosphate - 1000 * ProductEffects.concentration(product, amount, litres)));
			return new PoolWater(after.water, this.known, this.cc, this.bromine, after.tds, left, this.keptOnBromine);
		}
		if (!this.keptOnBromine || this.bromine == null) {
			return after;
		}
		return new PoolWater(after.water, this.known, this.cc, this.bromine + ProductEffects.bromine(product, amount, litres), after.tds,
				after.traces, true);
	}

	/**
	 * Just after recorded doses. Tablets give nothing at once, what only its label doses moves no level. FC is no longer known where an
	 * unknown amount of chlorine went in or something that takes it away, nor bromine where that or oxidizer did, pH where an unknown
	 * amount of acid or alkali did; no level is when readings contradict each other or more went in than any pool takes.
	 *
	 * @param litres null when the volume is not known
	 */
	public PoolWater after(List<RecordedDose> doses, @Nullable Double litres) {
		PoolWater water = this;
		Set<Level> unknown = EnumSet.noneOf(Level.class);
		double added = 0;
		for (RecordedDose dose : doses) {
			ActiveIngredient ingredient = dose.kind().ingredient();
			Product product = Product.usual("", dose.kind()).withStrength(dose.strength(), dose.basis());
			if (dose.kind().form() == PhysicalForm.TABLET) {
				continue;
			}
			if (litres != null && ProductEffects.computable(product)) {
				added += ProductEffects.concentration(product, dose.amount(), litres);
				if (added > MAX_ADDED || contradictory()) {
					return unknown();
				}
				water = water.after(product, dose.amount(), litres);
			}
			else if (ingredient == ActiveIngredient.MONOPERSULFATE) {
				unknown.add(Level.BROMINE);
			}
			else if (ingredient.chlorine() || ingredient.removesChlorine()) {
				unknown.addAll(EnumSet.of(Level.FC, Level.BROMINE));
			}
			else if (ingredient.acid() || ingredient.alkali()) {
				unknown.add(Level.PH);
			}
		}
		Set<Level> left = EnumSet.noneOf(Level.class);
		left.addAll(this.known);
		left.removeAll(unknown);
		return new PoolWater(water.water, left, water.cc, water.bromine, water.tds, water.traces, this.keptOnBromine);
	}

	/** Whether its readings contradict each other: {@link Speciation#contradictory()}. */
	public boolean contradictory() {
		return Speciation.of(this.water).contradictory();
	}

	private PoolWater unknown() {
		return new PoolWater(this.water, Set.of(), null, null, null, Map.of(), this.keptOnBromine);
	}

	private PoolWater withWater(Water changed, double dissolved) {
		return new PoolWater(changed, this.known, this.cc, this.bromine, (this.tds != null) ? Double.valueOf(this.tds + dissolved) : null,
				this.traces, this.keptOnBromine);
	}

	/**
	 * After draining and refilling a share; what the fill water holds of a level nobody tested is taken as the pool's own. No level is
	 * known when readings contradict each other.
	 */
	public PoolWater afterReplacing(FillWater fill, double share) {
		if (contradictory()) {
			return unknown();
		}
		Water own = this.water;
		Water filling = Water.of(or(fill.ph(), own.ph()), or(fill.ta(), own.totalAlkalinity()), or(fill.ch(), own.calciumHardness()), 0, 0,
				or(fill.salt(), Math.min(own.salt(), AssumedLevels.FILL_SALT)), 0, own.temperature());
		for (double ph : FILL_PH) {
			if (Speciation.of(filling).contradictory()) {
				filling = filling.withPh(Math.min(filling.ph(), ph));
			}
		}
		Water mixed = Dosing.replace(own, filling, share);
		return new PoolWater(mixed, this.known, times(this.cc, 1 - share), times(this.bromine, 1 - share),
				(this.tds != null) ? Double.valueOf(this.tds * (1 - share) + or(fill.salt(), AssumedLevels.FILL_SALT) * share) : null,
				diluted(this.traces, share), this.keptOnBromine);
	}

	/** Solids that a dose brings, near enough for TDS: a liquid's salt, a solid's own weight, nothing for acid. */
	private static double addedSolids(Product product, double amount, double litres) {
		ActiveIngredient ingredient = product.kind().ingredient();
		if (ingredient == ActiveIngredient.MURIATIC_ACID) {
			return 0;
		}
		if (ingredient == ActiveIngredient.SODIUM_HYPOCHLORITE) {
			return ProductEffects.lasting(product, amount, litres).getOrDefault(Level.SALT, 0.0);
		}
		return amount * 1000 / litres;
	}

	public Levels levels() {
		Map<Level, Double> values = new EnumMap<>(Level.class);
		put(values, Level.FC, this.water.freeChlorine());
		put(values, Level.CC, this.cc);
		if (this.cc != null) {
			put(values, Level.TC, this.water.freeChlorine() + this.cc);
		}
		put(values, Level.BROMINE, this.bromine);
		put(values, Level.PH, this.water.ph());
		put(values, Level.TA, this.water.totalAlkalinity());
		put(values, Level.CH, this.water.calciumHardness());
		put(values, Level.CYA, this.water.cyanuricAcid());
		put(values, Level.SALT, this.water.salt());
		put(values, Level.TDS, this.tds);
		put(values, Level.BORATE, this.water.borate());
		this.traces.forEach((level, value) -> put(values, level, value));
		put(values, Level.TEMPERATURE, this.water.temperature().celsius());
		if (knows(Level.PH) && knows(Level.TA)) {
			Speciation speciation = Speciation.of(this.water);
			if (!speciation.contradictory()) {
				if (knows(Level.FC) && knows(Level.CYA)) {
					values.put(Level.HOCL, speciation.hocl());
				}
				if (knows(Level.CH) && speciation.hasSaturationIndex()) {
					values.put(Level.SATURATION_INDEX, speciation.calciteSaturationIndex());
				}
			}
		}
		return new Levels(values);
	}

	public boolean knows(Level level) {
		return this.known.contains(level);
	}

	private void put(Map<Level, Double> values, Level level, @Nullable Double value) {
		if (value != null && this.known.contains(level)) {
			values.put(level, value);
		}
	}

	private static Map<Level, Double> diluted(Map<Level, Double> traces, double share) {
		Map<Level, Double> left = new EnumMap<>(Level.class);
		traces.forEach((level, value) -> left.put(level, value * (1 - share)));
		return left;
	}

	private static @Nullable Double times(@Nullable Double value, double factor) {
		return (value != null) ? Double.valueOf(value * factor) : null;
	}

	private static double or(@Nullable Double value, double otherwise) {
		return (value != null) ? value : otherwise;
	}

}
