package org.meniscus.water.product;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.Mass;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/**
 * An amount in what a technician can measure: tablets, whole packages when near, level scoops, or marks of scale and jug in the
 * company's units. Rounded once; {@code amount} is the rounded amount itself in grams or millilitres, from which every effect and
 * cost is worked out again.
 *
 * @param counted so many tablets, packages or scoops; null when it is weighed or poured
 * @param parts the same by weight or volume; beside scoops and tablets to the nearest mark
 */
public record MeasuredAmount(double amount, AmountUnit unit, @Nullable Counted counted, List<Part> parts) {

	/** What is counted instead of weighed. */
	public enum Count {

		TABLET, PACKAGE, SCOOP

	}

	/** So many of them; scoops in halves. */
	public record Counted(double count, Count of) {
	}

	/** A whole package is taken when it is within this share of the amount; common practice, no source. */
	private static final double NEAR_PACKAGE = 0.05;

	/** Grams or millilitres from which a package is a jug or a bag to be emptied, not a unit that a price is given for. */
	private static final double LEAST_PACKAGE = 1500;

	/** More scoops than this are weighed: counting goes astray. */
	private static final double MOST_SCOOPS = 12;

	/** Mark of a small scale, grams: below an ounce doses are weighed in grams everywhere. Common practice, no source. */
	private static final double SMALL_GRAMS = 0.5;

	/** Fluid ounces below which teaspoons are counted beside whole ones: a quarter of an ounce would be up to a quarter of the dose. */
	private static final double SPOONS = 4;

	/** What is on a scale or a jug. */
	public enum Measure {

		LB(Mass.GRAMS_PER_POUND, AmountUnit.G), OZ(Mass.GRAMS_PER_OUNCE, AmountUnit.G),
		GAL(1000 * Volume.LITRES_PER_US_GALLON, AmountUnit.ML),
		QT(1000 * Volume.LITRES_PER_US_GALLON / Volume.US_QUARTS_PER_GALLON, AmountUnit.ML),
		FL_OZ(Volume.MILLILITRES_PER_US_FLUID_OUNCE, AmountUnit.ML), TSP(Volume.MILLILITRES_PER_US_TEASPOON, AmountUnit.ML),
		KG(1000, AmountUnit.G), G(1, AmountUnit.G),
		L(1000, AmountUnit.ML), ML(1, AmountUnit.ML);

		private final double size;

		private final AmountUnit unit;

		Measure(double size, AmountUnit unit) {
			this.size = size;
			this.unit = unit;
		}

		/** Grams or millilitres in one. */
		public double size() {
			return this.size;
		}

	}

	/** So many of one measure; parts are read together, "2 lb 3 oz". */
	public record Part(double count, Measure measure) {
	}

	public MeasuredAmount {
		parts = List.copyOf(parts);
	}

	/** The largest measurable amount not above this one; zero when it is less than the smallest mark. */
	public static MeasuredAmount down(double exact, Product product, UnitSystem units) {
		return rounded(exact, product, units, false);
	}

	/** The smallest measurable amount not below this one. */
	public static MeasuredAmount up(double exact, Product product, UnitSystem units) {
		return rounded(exact, product, units, true);
	}

	/** By scale or jug, whatever the product. */
	public static MeasuredAmount down(double exact, AmountUnit unit, UnitSystem units) {
		return marked(exact, unit, units, false);
	}

	private static MeasuredAmount rounded(double exact, Product product, UnitSystem units, boolean up) {
		if (product.tabletGrams() != null && product.kind().form() == PhysicalForm.TABLET) {
			return counted(whole(exact / product.tabletGrams(), up), product.tabletGrams(), Count.TABLET, product.unit(), units);
		}
		double packages = whole(exact / product.packageAmount(), up);
		if (product.packageAmount() >= LEAST_PACKAGE && packages >= 1
				&& Math.abs(packages * product.packageAmount() - exact) <= NEAR_PACKAGE * exact) {
			return counted(packages, product.packageAmount(), Count.PACKAGE, product.unit(), units);
		}
		if (product.scoop() != null) {
			double halves = whole(2 * exact / product.scoop(), up);
			if (halves >= 1 && halves <= 2 * MOST_SCOOPS) {
				return counted(halves / 2, product.scoop(), Count.SCOOP, product.unit(), units);
			}
		}
		return marked(exact, product.unit(), units, up);
	}

	private static double whole(double count, boolean up) {
		return up ? Math.ceil(count - 1e-9) : Math.floor(count + 1e-9);
	}

	private static MeasuredAmount counted(double count, double size, Count of, AmountUnit unit, UnitSystem units) {
		double amount = count * size;
		double step = step(amount, unit, units);
		return new MeasuredAmount(amount, unit, new Counted(count, of), split(Math.rint(amount / step) * step, unit, units));
	}

	/** Tablets of 7 to 8 oz are 3 inches wide; common practice, no source. @param grams of one */
	public static boolean isThreeInchTablet(double grams) {
		return grams >= 7 * Measure.OZ.size - 1 && grams <= 8 * Measure.OZ.size + 1;
	}

	public boolean isZero() {
		return this.amount <= 0;
	}

	/** The distance between neighbouring marks at this amount, grams or millilitres. */
	public static double step(double exact, AmountUnit unit, UnitSystem units) {
		if (units == UnitSystem.METRIC) {
			if (exact < 20) {
				return (unit == AmountUnit.G) ? SMALL_GRAMS : 1;
			}
			return (exact < 100) ? 1 : (exact < 500) ? 5 : (exact < 1000) ? 10 : (exact < 10000) ? 50 : 250;
		}
		if (unit == AmountUnit.G) {
			double ounces = exact / Measure.OZ.size;
			if (ounces < 1) {
				return SMALL_GRAMS;
			}
			double step = (ounces < 4) ? 0.05 : (ounces < 8) ? 0.25 : (ounces < 16) ? 0.5 : (ounces < 80) ? 1 : (ounces < 400) ? 4 : 16;
			return step * Measure.OZ.size;
		}
		double fluidOunces = exact / Measure.FL_OZ.size;
		if (fluidOunces < SPOONS) {
			return ((fluidOunces < 2) ? 0.25 : 0.5) * Measure.TSP.size;
		}
		double step = (fluidOunces < 8) ? 0.25 : (fluidOunces < 16) ? 0.5 : (fluidOunces < 64) ? 1 : (fluidOunces < 256) ? 4 : 16;
		return step * Measure.FL_OZ.size;
	}

	private static MeasuredAmount marked(double exact, AmountUnit unit, UnitSystem units, boolean up) {
		double step = step(exact, unit, units);
		double amount = whole(exact / step, up) * step;
		if (step == SMALL_GRAMS && units == UnitSystem.US) {
			amount = Math.min(amount, Measure.OZ.size);
		}
		return new MeasuredAmount(amount, unit, null, split(amount, unit, units));
	}

	private static List<Part> split(double amount, AmountUnit unit, UnitSystem units) {
		if (units == UnitSystem.METRIC) {
			Measure small = (unit == AmountUnit.G) ? Measure.G : Measure.ML;
			Measure large = (unit == AmountUnit.G) ? Measure.KG : Measure.L;
			Measure measure = (amount >= 1000 - 1e-9) ? large : small;
			return List.of(new Part(neat(amount / measure.size), measure));
		}
		if (unit == AmountUnit.G) {
			if (amount < Measure.OZ.size - 1e-6) {
				return List.of(new Part(neat(amount), Measure.G));
			}
			return parts(neat(amount / Measure.OZ.size), new double[]{ 16, 1 }, new Measure[]{ Measure.LB, Measure.OZ });
		}
		double fluidOunces = neat(amount / Measure.FL_OZ.size);
		if (fluidOunces < 1) {
			return List.of(new Part(neat(amount / Measure.TSP.size), Measure.TSP));
		}
		if (fluidOunces < SPOONS) {
			double spoons = Math.rint(Measure.FL_OZ.size / Measure.TSP.size);
			return parts(neat(fluidOunces * spoons), new double[]{ spoons, 1 }, new Measure[]{ Measure.FL_OZ, Measure.TSP });
		}
		return parts(fluidOunces, new double[]{ 128, 32, 1 }, new Measure[]{ Measure.GAL, Measure.QT, Measure.FL_OZ });
	}

	private static List<Part> parts(double count, double[] sizes, Measure[] measures) {
		List<Part> parts = new ArrayList<>();
		double rest = count;
		for (int i = 0; i < sizes.length - 1; i++) {
			double whole = Math.floor(rest / sizes[i] + 1e-9);
			if (whole > 0) {
				parts.add(new Part(whole, measures[i]));
				rest = neat(rest - whole * sizes[i]);
			}
		}
		if (rest > 1e-6 || parts.isEmpty()) {
			parts.add(new Part(rest, measures[measures.length - 1]));
		}
		return parts;
	}

	/** Takes the noise of binary fractions off. */
	private static double neat(double value) {
		return Math.rint(value * 1e6) / 1e6;
	}

}
