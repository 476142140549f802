package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.List;

/**
 * The linear, Gaussian special case: a level and its drift per day, filtered and smoothed exactly (Kalman 1960; Rauch, Tung and
 * Striebel 1965). Against it the equations can be checked with any general library; pools are judged by {@link DriftEngine}.
 */
public final class LevelKalman {

	private LevelKalman() {
	}

	/**
	 * @param reading NaN where the level was not read
	 * @param readingVariance of the reading, not looked at without one
	 * @param days to the next step
	 * @param input ppm put in until the next step
	 */
	public record Step(double reading, double readingVariance, double days, double input) {
	}

	/**
	 * @param loss share of the level lost per day
	 * @param levelNoise variance a day of the level
	 * @param driftNoise variance a day of the drift
	 * @param start before the first reading
	 */
	public record Model(double loss, double levelNoise, double driftNoise, State start) {
	}

	/** Normal distribution of level and drift: means, and the three distinct elements of the covariance. */
	public record State(double level, double drift, double levelVariance, double covariance, double driftVariance) {
	}

	/** @param logLikelihood of the readings */
	public record Run(List<State> predicted, List<State> filtered, List<State> smoothed, double logLikelihood) {
	}

	public static Run run(Model model, List<Step> steps) {
		List<State> predicted = new ArrayList<>();
		List<State> filtered = new ArrayList<>();
		double logLikelihood = 0;
		State ahead = model.start();
		for (Step step : steps) {
			predicted.add(ahead);
			State now = ahead;
			if (!Double.isNaN(step.reading())) {
				double variance = ahead.levelVariance + step.readingVariance();
				double innovation = step.reading() - ahead.level;
				logLikelihood -= 0.5 * (Math.log(2 * Math.PI * variance) + innovation * innovation / variance);
				now = read(ahead, innovation, variance);
			}
			filtered.add(now);
			ahead = next(model, now, step.days(), step.input());
		}
		return new Run(predicted, filtered, smooth(model, steps, predicted, filtered), logLikelihood);
	}

	/** The state after so many days. */
	public static State next(Model model, State now, double days, double input) {
		double keep = 1 - model.loss() * days;
		return new State(keep * now.level + days * now.drift + input, now.drift,
				keep * keep * now.levelVariance + 2 * keep * days * now.covariance + days * days * now.driftVariance
						+ model.levelNoise() * days,
				keep * now.covariance + days * now.driftVariance, now.driftVariance + model.driftNoise() * days);
	}

	private static State read(State ahead, double innovation, double variance) {
		double gain = ahead.levelVariance / variance;
		double driftGain = ahead.covariance / variance;
		return new State(ahead.level + gain * innovation, ahead.drift + driftGain * innovation,
				ahead.levelVariance - gain * ahead.levelVariance, ahead.covariance - gain * ahead.covariance,
				ahead.driftVariance - driftGain * ahead.covariance);
	}

	private static List<State> smooth(Model model, List<Step> steps, List<State> predicted, List<State> filtered) {
		State[] smoothed = filtered.toArray(State[]::new);
		for (int k = smoothed.length - 2; k >= 0; k--) {
			State now = filtered.get(k);
			State ahead = predicted.get(k + 1);
			State later = smoothed[k + 1];
			double days = steps.get(k).days();
			double keep = 1 - model.loss() * days;
			// gain = P F' times the inverse of the predicted covariance
			double a = keep * now.levelVariance + days * now.covariance;
			double b = now.covariance;
			double c = keep * now.covariance + days * now.driftVariance;
			double d = now.driftVariance;
			double determinant = ahead.levelVariance * ahead.driftVariance - ahead.covariance * ahead.covariance;
			double j11 = (a * ahead.driftVariance - b * ahead.covariance) / determinant;
			double j12 = (b * ahead.levelVariance - a * ahead.covariance) / determinant;
			double j21 = (c * ahead.driftVariance - d * ahead.covariance) / determinant;
			double j22 = (d * ahead.levelVariance - c * ahead.covariance) / determinant;
			double level = later.level - ahead.level;
			double drift = later.drift - ahead.drift;
			double p = later.levelVariance - ahead.levelVariance;
			double q = later.covariance - ahead.covariance;
			double r = later.driftVariance - ahead.driftVariance;
			smoothed[k] = new State(now.level + j11 * level + j12 * drift, now.drift + j21 * level + j22 * drift,
					now.levelVariance + j11 * j11 * p + 2 * j11 * j12 * q + j12 * j12 * r,
					now.covariance + j11 * j21 * p + (j11 * j22 + j12 * j21) * q + j12 * j22 * r,
					now.driftVariance + j21 * j21 * p + 2 * j21 * j22 * q + j22 * j22 * r);
		}
		return List.of(smoothed);
	}

}
