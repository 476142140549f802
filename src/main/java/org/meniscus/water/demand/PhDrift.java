package org.meniscus.water.demand;

import java.util.Optional;
import java.util.OptionalDouble;

import org.meniscus.water.chemistry.ChlorineSource;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.chemistry.Speciation;
import org.meniscus.water.chemistry.Stoichiometry;
import org.meniscus.water.chemistry.Water;
import org.meniscus.water.units.Band;
import org.meniscus.water.units.NormalDistribution;

/**
 * Where the pH of one pool goes between visits, by the carbonate model: dissolved carbon dioxide goes toward equilibrium with air,
 * first order in its excess; chlorine that is used up leaves acid; tablets bring no alkalinity along for it, a cell does. What that
 * does not explain (rain, fill water, young plaster) is a steady drift estimated from the visits and a residual.
 *
 * @param exchangeRate first-order rate constant of the dissolved carbon dioxide above equilibrium with air, 1/day
 * @param exchangeLogDeviation standard deviation of ln {@code exchangeRate}
 * @param unexplainedPerWeek pH a week beyond the model
 * @param residualDeviation standard deviation of a test of pH at the next visit around what is expected
 * @param tablets FC that dissolving tablets bring, ppm a day
 * @param intervals between visits it was learnt from; zero: expected of a pool of its kind
 */
public record PhDrift(double exchangeRate, double exchangeLogDeviation, double unexplainedPerWeek, double residualDeviation, double tablets,
		int intervals) {

	/** CO2 of the air in atm: 420 ppm by volume. */
	private static final double AIR_CO2_ATM = 420e-6;

	/** Longest step of the midpoint rule: days, and days times exchange. */
	private static final double STEP_DAYS = 3.5;

	private static final double STEP_EXCHANGE = 0.4;

	/** @throws IllegalArgumentException for a figure that is not finite, or below zero where it must not be */
	public PhDrift {
		if (!(exchangeRate > 0) || !(exchangeLogDeviation >= 0) || !(residualDeviation >= 0) || !(tablets >= 0)
				|| !(Math.abs(unexplainedPerWeek) < 14)
				|| Double.isInfinite(exchangeRate)) {
			throw new IllegalArgumentException(
					"no drift: " + exchangeRate + ", " + exchangeLogDeviation + ", " + unexplainedPerWeek + ", " + residualDeviation);
		}
	}

	/**
	 * Median of the pH at the next visit; empty where {@code start} cannot exist or cannot change that way.
	 *
	 * @param start just after dosing
	 * @param fcFall by how much FC falls until then, ppm, whatever a cell or tablets bring counted in; negative when it rises
	 */
	public OptionalDouble expectedPh(Water start, double fcFall, double days) {
		return isPossible(start, fcFall, this.tablets, days) ? OptionalDouble.of(ph(start, fcFall, days, this.exchangeRate))
				: OptionalDouble.empty();
	}

	/** Median of the pH tested at the next visit and its 80 % prediction interval. Parameters as above. */
	public Optional<Band> after(Water start, double fcFall, double days) {
		if (!isPossible(start, fcFall, this.tablets, days)) {
			return Optional.empty();
		}
		double middle = ph(start, fcFall, days, this.exchangeRate);
		double faster = ph(start, fcFall, days, this.exchangeRate * Math.exp(NormalDistribution.Z80 * this.exchangeLogDeviation));
		double half = Math.sqrt(Math.pow(faster - middle, 2) + Math.pow(NormalDistribution.Z80 * this.residualDeviation, 2));
		return Optional.of(new Band(middle - half, middle, middle + half));
	}

	private double ph(Water start, double fcFall, double days, double exchangeRate) {
		return integrate(start, fcFall, this.tablets, days, exchangeRate).ph() + this.unexplainedPerWeek * days / 7;
	}

	/** Readings that do not contradict each other, and salt enough for the chlorine that a cell makes of it. */
	static boolean isPossible(Water start, double fcFall, double tabletsPerDay, double days) {
		double consumed = fcFall + tabletsPerDay * days;
		return !Speciation.of(start).contradictory()
				&& (consumed >= 0 || start.salt() + Stoichiometry.SALT_PER_CHLORINE * consumed > 0);
	}

	/** By the model alone, with the midpoint rule, where {@link #isPossible}. */
	static Water integrate(Water start, double fcFall, double tabletsPerDay, double days, double exchangeRate) {
		int steps = (int) Math.max(1, Math.ceil(Math.max(days / STEP_DAYS, days * exchangeRate / STEP_EXCHANGE)));
		double step = days / steps;
		Water water = start;
		for (int n = 0; n < steps; n++) {
			water = consumeChlorine(water, fcFall / steps, tabletsPerDay * step);
			Water half = loseCarbonDioxide(water, excessCarbonDioxide(water) * exchangeRate * step / 2);
			water = loseCarbonDioxide(water, excessCarbonDioxide(half) * exchangeRate * step);
		}
		return water;
	}

	/** Tablets bring free chlorine and CYA and no alkalinity; their chlorine is used up along with what falls. */
	private static Water consumeChlorine(Water water, double fcFall, double tablets) {
		Water fed = (tablets > 0)
				? Dosing.addChlorine(water, ChlorineSource.TRICHLOR, tablets) : water;
		double spent = Math.min(fcFall + tablets, fed.freeChlorine());
		return (spent != 0) ? Dosing.spendChlorine(fed, spent) : fed;
	}

	/** Dissolved carbon dioxide above equilibrium with air, mg/L. */
	private static double excessCarbonDioxide(Water water) {
		Speciation now = Speciation.of(water);
		if (!(now.carbonDioxide() > 0)) {
			return 0;
		}
		return now.carbonDioxide() * (1 - AIR_CO2_ATM / Math.pow(10, now.log10CarbonDioxidePressure()));
	}

	private static Water loseCarbonDioxide(Water water, double carbonDioxide) {
		return (carbonDioxide != 0) ? Dosing.loseCarbonDioxide(water, carbonDioxide) : water;
	}

}
