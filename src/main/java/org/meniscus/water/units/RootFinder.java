package org.meniscus.water.units;

import java.util.function.DoublePredicate;
import java.util.function.DoubleUnaryOperator;

/** Roots of functions of one variable that change sign once between two bounds. */
public final class RootFinder {

	private RootFinder() {
	}

	/** Two bounds with the root between them. */
	public record Bracket(double low, double high) {
	}

	/**
	 * By bisection: closes in on where a condition that holds from {@code low} on up ceases to hold.
	 *
	 * @param halvings of the distance between the bounds
	 * @param isBelow whether a value is on the side of {@code low}
	 */
	public static Bracket bisect(double low, double high, int halvings, DoublePredicate isBelow) {
		double from = low;
		double to = high;
		for (int n = 0; n < halvings; n++) {
			double middle = 0.5 * (from + to);
			if (isBelow.test(middle)) {
				from = middle;
			}
			else {
				to = middle;
			}
		}
		return new Bracket(from, to);
	}

	/**
	 * By Newton's method for a rising function, bisecting where a step would leave the bounds.
	 *
	 * @param start first guess, between the bounds
	 * @param tolerance length of the last step
	 */
	public static double newton(DoubleUnaryOperator function, DoubleUnaryOperator derivative, double low, double high, double start,
			double tolerance) {
		double from = low;
		double to = high;
		double x = start;
		for (int n = 0; n < 60; n++) {
			double value = function.applyAsDouble(x);
			if (value < 0) {
				from = x;
			}
			else {
				to = x;
			}
			double next = x - value / derivative.applyAsDouble(x);
			next = (next > from && next < to) ? next : 0.5 * (from + to);
			if (Math.abs(next - x) < tolerance) {
				return next;
			}
			x = next;
		}
		return x;
	}

	/**
	 * By regula falsi with the Illinois rule, bisecting every tenth step so that it cannot stall;
	 * good to 1e-11, relative above one.
	 *
	 * @param from,to bounds at which the function has opposite signs
	 */
	public static double regulaFalsi(DoubleUnaryOperator function, double from, double to) {
		double a = from;
		double b = to;
		double fa = function.applyAsDouble(a);
		double fb = function.applyAsDouble(b);
		int side = 0;
		for (int step = 0; step < 200; step++) {
			double x = (step % 10 == 9 || fb == fa) ? 0.5 * (a + b) : b - fb * (b - a) / (fb - fa);
			if (Math.abs(b - a) <= 1e-11 * Math.max(1, Math.abs(b))) {
				return x;
			}
			double fx = function.applyAsDouble(x);
			if (fx == 0) {
				return x;
			}
			if (fx * fb > 0) {
				b = x;
				fb = fx;
				if (side == 1) {
					fa *= 0.5;
				}
				side = 1;
			}
			else {
				a = x;
				fa = fx;
				if (side == -1) {
					fb *= 0.5;
				}
				side = -1;
			}
		}
		return 0.5 * (a + b);
	}

}
