package org.meniscus.water.chemistry;

/**
 * Solver for one body of water at one temperature and ionic strength. Holds concentrations in mol/kg; created for one piece of work
 * and thrown away. Each question is one scalar root: HOCl from the chlorine and cyanurate balances, free calcium from the calcium
 * balance, and around both, when it is unknown, the pH.
 */
final class Equilibrium {

	private static final double LN10 = 2.302585092994046;

	private static final double PH_TOLERANCE = 1e-11;

	/** Share of the root: Newton doubles the digits, so that after a step this short none is left to gain. */
	private static final double NEWTON_STEP = 1e-8;

	private static final double LEAST_PH = 0;

	private static final double MOST_PH = 14;

	// Constants between concentrations (hydrogen ion: activity), activity coefficients worked in.
	private final double gammaOne;

	private final double kHydroxide;

	private final double k1;

	private final double k2;

	private final double kBicarbonatePair;

	private final double kCarbonatePair;

	private final double kSulfatePair;

	private final double kBorate;

	private final double kHypochlorite;

	private final double k6;

	private final double k7a;

	private final double k9a;

	private final double kCalcite;

	private final double kHenry;

	private final boolean tenSpecies;

	private double k8;

	private double k10;

	private double k12;

	private double k2Dichloro;

	private double k4;

	private double k1a;

	// What the water holds, mol/kg.
	double totalCarbon;

	double totalCalcium;

	double totalSulfate;

	double totalBorate;

	double totalCyanurate;

	double totalChlorine;

	// Where it is at the pH last looked at.
	double hydrogen;

	double hydroxide;

	double boronAnion;

	double hocl;

	double ocl;

	double h3Cy;

	double h2Cy;

	double hCy;

	double cy;

	double hClCy;

	double cl2Cy;

	double clCy;

	double h2ClCy;

	double hCl2Cy;

	double cl3Cy;

	double cyanurateAlkalinity;

	double carbonDioxide;

	double bicarbonate;

	double carbonate;

	double freeCalcium;

	double bicarbonatePair;

	double carbonatePair;

	Equilibrium(EquilibriumConstants constants, double ionicStrength) {
		EquilibriumConstants.ConstantsAtZeroStrength k = constants.atZeroStrength();
		double root = Math.sqrt(ionicStrength);
		double logGammaOne = -k.daviesSlope() * (root / (1 + root) - 0.3 * ionicStrength);
		double one = exp10(logGammaOne);
		double two = one * one * one * one;
		this.gammaOne = one;
		this.kHydroxide = k.water() / one;
		this.k1 = k.first() / one;
		this.k2 = k.second() * one / two;
		this.kBicarbonatePair = k.bicarbonatePair() * two;
		this.kCarbonatePair = k.carbonatePair() * two * two;
		this.kSulfatePair = k.sulfatePair() * two * two;
		this.kBorate = k.boricAcid() / one;
		this.kHypochlorite = k.hypochlorousAcid() / one;
		this.k6 = k.k6() / one;
		this.k7a = k.k7a();
		this.k9a = k.k9a();
		this.kCalcite = k.calcite() / (two * two);
		this.kHenry = k.henry();
		this.tenSpecies = constants.cyanurates() == CyanurateConstants.OBRIEN;
		if (this.tenSpecies) {
			double three = two * two * one;
			this.k8 = exp10(-ObrienConstants.PK8) * one / two;
			this.k10 = exp10(-ObrienConstants.PK10) * one / two;
			this.k12 = exp10(-ObrienConstants.PK12) * two / three;
			this.k2Dichloro = exp10(-ObrienConstants.PK2) / one;
			this.k4 = exp10(-ObrienConstants.PK4) / one;
			this.k1a = exp10(-ObrienConstants.PK1A);
		}
	}

	/** Everything of {@code water} but its carbon, which takes {@link #carbonFromAlkalinity}. */
	static Equilibrium of(Water water, CyanurateConstants cyanurates) {
		Equilibrium equilibrium = new Equilibrium(EquilibriumConstants.at(water.temperature(), cyanurates), water.ionicStrength());
		equilibrium.totalCalcium = water.calciumHardness() / (1000 * Stoichiometry.CALCIUM_CARBONATE);
		equilibrium.totalSulfate = water.sulfate() / (1000 * Stoichiometry.SULFATE);
		equilibrium.totalBorate = water.borate() / (1000 * Stoichiometry.BORON);
		equilibrium.totalCyanurate = water.cyanuricAcid() / (1000 * Stoichiometry.CYANURIC_ACID);
		equilibrium.totalChlorine = water.freeChlorine() / (1000 * Stoichiometry.CHLORINE);
		return equilibrium;
	}

	/** Places everything but carbon and calcium at this pH; answers their alkalinity in eq/kg. */
	double otherAlkalinity(double ph) {
		this.hydrogen = exp10(-ph);
		this.hydroxide = this.kHydroxide / this.hydrogen;
		this.boronAnion = this.totalBorate * this.kBorate / (this.kBorate + this.hydrogen);
		placeChlorine();
		return this.hydroxide - this.hydrogen / this.gammaOne + this.boronAnion + this.cyanurateAlkalinity + this.ocl;
	}

	private void placeChlorine() {
		double a = this.hydrogen;
		double hypochlorite = this.kHypochlorite / a;
		double total = this.totalCyanurate;
		// Cyanurate species per free H3Cy, by number of chlorines: p0 + p1 x + p2 x² + p3 x³ where x is HOCl.
		double anion = this.k6 / a;
		double mono = anion / this.k9a;
		double di = mono / this.k7a;
		double p0 = 1 + anion;
		double p1 = mono;
		double p2 = di;
		double p3 = 0;
		double acidMono = 0;
		double acidDi = 0;
		double baseMono = 0;
		double baseTwo = 0;
		double baseThree = 0;
		if (this.tenSpecies) {
			baseTwo = anion * this.k10 / a;
			baseThree = baseTwo * this.k12 / a;
			acidMono = mono * a / this.k4;
			baseMono = mono * this.k8 / a;
			acidDi = di * a / this.k2Dichloro;
			p0 += baseTwo + baseThree;
			p1 += acidMono + baseMono;
			p2 += acidDi;
			p3 = acidDi / this.k1a;
		}
		double x = total > 0 && this.totalChlorine > 0 ? hypochlorousAcid(1 + hypochlorite, p0, p1, p2, p3)
				: this.totalChlorine / (1 + hypochlorite);
		double free = total / (p0 + x * (p1 + x * (p2 + x * p3)));
		this.hocl = x;
		this.ocl = x * hypochlorite;
		this.h3Cy = free;
		this.h2Cy = free * anion;
		this.hClCy = free * mono * x;
		this.cl2Cy = free * di * x * x;
		this.hCy = free * baseTwo;
		this.cy = free * baseThree;
		this.h2ClCy = free * acidMono * x;
		this.clCy = free * baseMono * x;
		this.hCl2Cy = free * acidDi * x * x;
		this.cl3Cy = free * p3 * x * x * x;
		this.cyanurateAlkalinity = this.h2Cy + this.hClCy + this.cl2Cy + 2 * (this.hCy + this.clCy) + 3 * this.cy;
	}

	/** Root of the chlorine balance, which rises with HOCl: free chlorine plus the mean number bound per cyanurate. */
	private double hypochlorousAcid(double share, double p0, double p1, double p2, double p3) {
		double low = 0;
		double high = this.totalChlorine / share;
		double x = (this.hocl > 0 && this.hocl < high) ? this.hocl : this.totalChlorine / (share + this.totalCyanurate * p1 / p0);
		for (int step = 0; step < 200; step++) {
			double one = p1 * x;
			double two = p2 * x * x;
			double three = p3 * x * x * x;
			double all = p0 + one + two + three;
			double mean = (one + 2 * two + 3 * three) / all;
			double square = (one + 4 * two + 9 * three) / all;
			double excess = share * x + this.totalCyanurate * mean - this.totalChlorine;
			if (excess > 0) {
				high = x;
			}
			else {
				low = x;
			}
			double slope = share + this.totalCyanurate * Math.max(square - mean * mean, 0) / x;
			double next = x - excess / slope;
			if (Math.abs(next - x) <= NEWTON_STEP * x) {
				return next;
			}
			if (!(next > low && next < high)) {
				next = 0.5 * (low + high);
			}
			x = next;
		}
		return x;
	}

	/** Calcium and carbonate where the carbon is known; answers their alkalinity in eq/kg. Needs {@link #hydrogen}. */
	private double placeCarbon() {
		double second = this.k2 / this.hydrogen;
		double first = this.hydrogen / this.k1;
		placeCalcium(this.totalCarbon, first + 1 + second, this.kBicarbonatePair + this.kCarbonatePair * second);
		return placeCarbonates();
	}

	/**
	 * Free calcium, when {@code amount} = bicarbonate x ({@code perBicarbonate} + {@code perPair} x calcium). The balance is a
	 * rising, concave function of free calcium, so Newton from the least possible value climbs to the root without overshooting.
	 */
	private void placeCalcium(double amount, double perBicarbonate, double perPair) {
		double pairs = this.kBicarbonatePair + this.kCarbonatePair * this.k2 / this.hydrogen;
		double calcium = this.totalCalcium;
		if (calcium > 0) {
			calcium = calcium / (1 + pairs * amount / perBicarbonate + this.kSulfatePair * this.totalSulfate);
			for (int step = 0; step < 50; step++) {
				double divisor = perBicarbonate + perPair * calcium;
				double sulfateDivisor = 1 + this.kSulfatePair * calcium;
				double balance = calcium * (1 + pairs * amount / divisor + this.kSulfatePair * this.totalSulfate / sulfateDivisor)
						- this.totalCalcium;
				double slope = 1 + pairs * amount * perBicarbonate / (divisor * divisor)
						+ this.kSulfatePair * this.totalSulfate / (sulfateDivisor * sulfateDivisor);
				double change = balance / slope;
				calcium -= change;
				if (Math.abs(change) <= NEWTON_STEP * calcium) {
					break;
				}
			}
		}
		this.freeCalcium = calcium;
		this.bicarbonate = amount / (perBicarbonate + perPair * calcium);
	}

	private double placeCarbonates() {
		double second = this.k2 / this.hydrogen;
		this.carbonDioxide = this.bicarbonate * this.hydrogen / this.k1;
		this.carbonate = this.bicarbonate * second;
		this.bicarbonatePair = this.kBicarbonatePair * this.freeCalcium * this.bicarbonate;
		this.carbonatePair = this.kCarbonatePair * this.freeCalcium * this.carbonate;
		return this.bicarbonate + this.bicarbonatePair + 2 * (this.carbonate + this.carbonatePair);
	}

	/**
	 * Finds the carbon that completes the alkalinity at this pH, and keeps it as {@link #totalCarbon}; zero where the rest alone holds
	 * more than the whole.
	 *
	 * @return alkalinity left for carbonate in eq/kg, negative where the readings contradict each other
	 */
	double carbonFromAlkalinity(double ph, double alkalinity) {
		double left = alkalinity - otherAlkalinity(ph);
		double second = this.k2 / this.hydrogen;
		placeCalcium(Math.max(left, 0), 1 + 2 * second, this.kBicarbonatePair + 2 * this.kCarbonatePair * second);
		placeCarbonates();
		this.totalCarbon = this.carbonDioxide + this.bicarbonate + this.carbonate + this.bicarbonatePair + this.carbonatePair;
		return left;
	}

	/** Alkalinity in eq/kg at this pH with the carbon the water holds. */
	double alkalinityAt(double ph) {
		double other = otherAlkalinity(ph);
		return other + placeCarbon();
	}

	/** pH of a water closed to the air; its species are placed near it only. */
	double closedPh(double alkalinity, double guess) {
		return ph(alkalinity, guess, Double.NaN);
	}

	/** pH of a water in equilibrium with a gas that holds CO2 at this partial pressure in atm; {@link #totalCarbon} follows. */
	double openPh(double alkalinity, double guess, double pressure) {
		double ph = ph(alkalinity, guess, pressure);
		alkalinityAt(ph, pressure);
		this.totalCarbon = this.carbonDioxide + this.bicarbonate + this.carbonate + this.bicarbonatePair + this.carbonatePair;
		return ph;
	}

	private double alkalinityAt(double ph, double pressure) {
		if (Double.isNaN(pressure)) {
			return alkalinityAt(ph);
		}
		double other = otherAlkalinity(ph);
		placeCalcium(this.kHenry * pressure * this.k1 / this.hydrogen, 1, 0);
		return other + placeCarbonates();
	}

	/** The alkalinity rises with the pH, so a bracketed secant ends at the one root. */
	private double ph(double alkalinity, double guess, double pressure) {
		boolean open = !Double.isNaN(pressure);
		double low = LEAST_PH;
		double high = MOST_PH;
		double ph = guess;
		double lastPh = Double.NaN;
		double lastExcess = 0;
		for (int step = 0; step < 100; step++) {
			double excess = alkalinityAt(ph, pressure) - alkalinity;
			high = (excess > 0) ? ph : high;
			low = (excess > 0) ? low : ph;
			if (excess == 0 || high - low <= PH_TOLERANCE) {
				break;
			}
			double slope = step == 0 ? buffer(open) : (excess - lastExcess) / (ph - lastPh);
			double next = ph - Math.max(-1, Math.min(1, excess / slope));
			// What a secant is off is near the product of its last two steps.
			if (Math.abs((next - ph) * (step == 0 ? 1 : ph - lastPh)) <= PH_TOLERANCE) {
				ph = next;
				break;
			}
			lastPh = ph;
			lastExcess = excess;
			// A secant that left the bracket (at the root it may), or crawls in a strongly bent part, gives way to halving.
			if (!(next > low && next < high) || step % 12 == 11) {
				next = 0.5 * (low + high);
			}
			ph = next;
		}
		if (ph < LEAST_PH + 1e-6 || ph > MOST_PH - 1e-6) {
			throw new IllegalArgumentException("the pH of this water would lie outside 0 to 14");
		}
		return ph;
	}

	/** Change of alkalinity with pH, near enough for a first step. */
	private double buffer(boolean open) {
		double carbon = this.carbonDioxide + this.bicarbonate + this.carbonate;
		double carbonic = open ? this.bicarbonate + 4 * this.carbonate
				: carbon > 0 ? this.bicarbonate * (this.carbonDioxide + this.carbonate) / carbon : 0;
		double cyanuric = this.totalCyanurate > 0 ? this.h3Cy * this.h2Cy / this.totalCyanurate : 0;
		double boric = this.totalBorate > 0 ? this.boronAnion * (this.totalBorate - this.boronAnion) / this.totalBorate : 0;
		double chlorine = this.hocl + this.ocl > 0 ? this.hocl * this.ocl / (this.hocl + this.ocl) : 0;
		return LN10 * (this.hydrogen + this.hydroxide + carbonic + cyanuric + boric + chlorine + this.carbonatePair);
	}

	/** Log10 of the ion product over the solubility of calcite; negative infinity without calcium or carbonate. */
	double saturationIndex() {
		return Math.log10(this.freeCalcium * this.carbonate / this.kCalcite);
	}

	double logCarbonDioxidePressure() {
		return Math.log10(this.carbonDioxide / this.kHenry);
	}

	private static double exp10(double exponent) {
		return Math.exp(LN10 * exponent);
	}

}
