package org.meniscus.study.audit;

import java.util.Locale;
import java.util.function.DoubleUnaryOperator;

/**
 * A pool water and its equilibrium, worked out apart from the engine so that plans are checked by other arithmetic than their own.
 * Constants and activity model are those of {@code reference/constants.csv} (Plummer and Busenberg 1982, Nordstrom et al. 1990, Morris
 * 1966, Wahman 2018, Wahman and Alexander 2019); {@link AuditWaterTests} holds it to the published rows. Levels in ppm as
 * {@code Level} has them; {@code carbon} is total inorganic carbon in mol/L, calcium pairs included.
 */
record AuditWater(double carbon, double ta, double ch, double cya, double fc, double salt, double borate, double sulfate, double celsius) {

	private static final double CACO3_EQUIVALENT = 50_043;

	private static final double LOWEST_PH = 3.5;

	private static final double HIGHEST_PH = 11.5;

	/** Equilibrium constants at a temperature and activity coefficients at an ionic strength. */
	private record Constants(double kw, double k1, double k2, double calciumBicarbonate, double calciumCarbonate, double ksp, double boric,
			double hypochlorous, double cyanuric, double hydrolysis9, double hydrolysis7, double g1, double g2) {

		static Constants of(double celsius, double strength) {
			double t = celsius + 273.15;
			double log = Math.log10(t);
			double dielectric = 60954 / (t + 116) - 68.937;
			double a = 1.82e6 * Math.pow(dielectric * t, -1.5);
			double root = Math.sqrt(strength);
			double davies = -a * (root / (1 + root) - 0.3 * strength);
			return new Constants(power(-283.971 - 0.05069842 * t + 13323.0 / t + 102.24447 * log - 1119669 / (t * t)),
					power(-(356.3094 + 0.06091964 * t - 21834.37 / t - 126.8339 * log + 1684915 / (t * t))),
					power(-(107.8871 + 0.03252849 * t - 5151.79 / t - 38.92561 * log + 563713.9 / (t * t))),
					power(1209.120 + 0.31294 * t - 34765.05 / t - 478.782 * log),
					power(-1228.732 - 0.299444 * t + 35512.75 / t + 485.818 * log),
					power(-(171.9065 + 0.077993 * t - 2839.319 / t - 71.595 * log)),
					power(-9.24 + 3.224 / (1.987204e-3 * Math.log(10)) * (1 / 298.15 - 1 / t)),
					power(-(3000.00 / t - 10.0686 + 0.0253 * t)), power(-(1743 / t + 1.12)), power(-(2229 / t - 1.65)),
					power(-(2028 / t - 2.15)), power(davies), power(4 * davies));
		}

		private static double power(double exponent) {
			return Math.pow(10, exponent);
		}

	}

	/** Alkalinity in mol/L that is not carbonate, and inorganic carbon and carbonate alkalinity for each mol/L of dissolved CO2. */
	private record AtPh(double otherAlkalinity, double a1, double a2, Constants constants, double calcium) {

		/** Free calcium in mol/L beside so much dissolved CO2. */
		double freeCalcium(double co2) {
			return this.calcium / (1 + this.constants.calciumBicarbonate * this.constants.g2 * this.a1 * co2
					+ this.constants.calciumCarbonate * this.constants.g2 * this.constants.g2 * this.a2 * co2);
		}

		double carbon(double co2) {
			double free = freeCalcium(co2);
			return co2 + co2 * this.a1 * (1 + this.constants.calciumBicarbonate * this.constants.g2 * free)
					+ co2 * this.a2 * (1 + this.constants.calciumCarbonate * this.constants.g2 * this.constants.g2 * free);
		}

		double carbonateAlkalinity(double co2) {
			double free = freeCalcium(co2);
			return co2 * this.a1 * (1 + this.constants.calciumBicarbonate * this.constants.g2 * free)
					+ 2 * co2 * this.a2 * (1 + this.constants.calciumCarbonate * this.constants.g2 * this.constants.g2 * free);
		}

		/** CO2 for which a function that is nearly in proportion to it has a value. */
		private double co2(DoubleUnaryOperator of, double value) {
			double co2 = value / (1 + this.a1 + this.a2);
			for (int i = 0; i < 15 && co2 > 0; i++) {
				co2 *= value / of.applyAsDouble(co2);
			}
			return co2;
		}

	}

	/** The water of a pH and the levels a test shows. */
	static AuditWater ofPh(double ph, double ta, double ch, double cya, double fc, double salt, double borate, double celsius) {
		AuditWater closed = new AuditWater(0, ta, ch, cya, fc, salt, borate, 0, celsius);
		AtPh at = closed.at(ph, closed.constants());
		double carbonate = ta / CACO3_EQUIVALENT - at.otherAlkalinity();
		return closed.withCarbon((carbonate <= 0) ? 0 : at.carbon(at.co2(at::carbonateAlkalinity, carbonate)));
	}

	private AuditWater withCarbon(double newCarbon) {
		return new AuditWater(newCarbon, this.ta, this.ch, this.cya, this.fc, this.salt, this.borate, this.sulfate, this.celsius);
	}

	/** With changes of levels in ppm and of carbon in mol/L. */
	AuditWater plus(double addedCarbon, double addedTa, double addedCh, double addedCya, double addedFc, double addedSalt,
			double addedBorate, double addedSulfate) {
		return new AuditWater(this.carbon + addedCarbon, this.ta + addedTa, this.ch + addedCh, this.cya + addedCya,
				Math.max(0, this.fc + addedFc), this.salt + addedSalt, this.borate + addedBorate, this.sulfate + addedSulfate,
				this.celsius);
	}

	/** With so much chlorine used up: 0.7058 ppm of TA each (reference, section 2.7); NaCl is left. */
	AuditWater chlorineUsed(double ppm) {
		double used = Math.min(ppm, this.fc);
		return plus(0, -0.7058 * used, 0, 0, -used, 0.8243 * used, 0, 0);
	}

	double ph() {
		Constants constants = constants();
		double low = LOWEST_PH;
		double high = HIGHEST_PH;
		for (int i = 0; i < 45; i++) {
			double middle = 0.5 * (low + high);
			AtPh at = at(middle, constants);
			double alkalinity = at.otherAlkalinity() + at.carbonateAlkalinity(at.co2(at::carbon, this.carbon));
			if (alkalinity * CACO3_EQUIVALENT < this.ta) {
				low = middle;
			}
			else {
				high = middle;
			}
		}
		return 0.5 * (low + high);
	}

	/** Calcite saturation index. */
	double saturationIndex() {
		return saturationIndex(ph());
	}

	double saturationIndex(double ph) {
		Constants constants = constants();
		AtPh at = at(ph, constants);
		double co2 = at.co2(at::carbon, this.carbon);
		return Math.log10(constants.g2() * constants.g2() * at.freeCalcium(co2) * co2 * at.a2()) - Math.log10(constants.ksp());
	}

	private Constants constants() {
		double strength = this.salt / 58_440 + this.ta / CACO3_EQUIVALENT + this.ch / 100_086 + 3 * this.sulfate / 96_060;
		return Constants.of(this.celsius, Math.max(0, strength));
	}

	private AtPh at(double ph, Constants k) {
		double activity = Math.pow(10, -ph);
		double h = activity * k.g1();
		double ofChlorine = k.hypochlorous() / h;
		double ofCyanuric = k.cyanuric() / h;
		double totalCya = this.cya / 129_075;
		double totalFc = this.fc / 70_900;
		double low = 0;
		double high = totalFc;
		for (int i = 0; i < 45; i++) {
			double hocl = 0.5 * (low + high);
			double ratio = hocl / k.hydrolysis9();
			double twice = ratio * hocl / k.hydrolysis7();
			double free = totalCya / (1 + ofCyanuric * (1 + ratio + twice)) * ofCyanuric;
			if (hocl * (1 + ofChlorine) + free * (ratio + 2 * twice) < totalFc) {
				low = hocl;
			}
			else {
				high = hocl;
			}
		}
		double hocl = 0.5 * (low + high);
		double bound = 1 + hocl / k.hydrolysis9() * (1 + hocl / k.hydrolysis7());
		double cyanurate = totalCya * ofCyanuric * bound / (1 + ofCyanuric * bound);
		double boron = this.borate / 10_810;
		double other = k.kw() / h - activity / k.g1() + boron / (1 + h / k.boric()) + cyanurate + ofChlorine * hocl;
		return new AtPh(other, k.k1() / h, k.k1() * k.k2() / (activity * activity * k.g2()), k, this.ch / 100_086);
	}

	String text() {
		return String.format(Locale.ROOT, "pH %.2f TA %.0f CH %.0f CYA %.0f FC %.1f SI %.2f", ph(), this.ta, this.ch, this.cya, this.fc,
				saturationIndex());
	}

}
