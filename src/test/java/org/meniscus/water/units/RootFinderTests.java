package org.meniscus.water.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.concurrent.atomic.AtomicInteger;

import org.junit.jupiter.api.Test;

/** Roots that are known in closed form. */
class RootFinderTests {

	@Test
	void bisectionHalvesItsBracketAroundTheRoot() {
		RootFinder.Bracket bracket = RootFinder.bisect(0, 2, 10, x -> x * x < 2);
		assertThat(bracket.high() - bracket.low()).isEqualTo(2 / 1024.0);
		assertThat(bracket.low()).isLessThan(Math.sqrt(2));
		assertThat(bracket.high()).isGreaterThan(Math.sqrt(2));
	}

	@Test
	void newtonFindsARootInFewSteps() {
		AtomicInteger calls = new AtomicInteger();
		double root = RootFinder.newton(x -> {
			calls.incrementAndGet();
			return x * x - 2;
		}, x -> 2 * x, 0, 2, 1, 1e-12);
		assertThat(root).isCloseTo(Math.sqrt(2), within(1e-12));
		assertThat(calls.get()).as("quadratic convergence").isLessThan(8);
	}

	/** From 3 the first steps for atan would leave for ever farther places. */
	@Test
	void newtonStaysBetweenItsBoundsWhereAStepWouldLeave() {
		double root = RootFinder.newton(x -> Math.atan(x - 1), x -> 1 / (1 + (x - 1) * (x - 1)), -10, 20, 15, 1e-12);
		assertThat(root).isCloseTo(1, within(1e-11));
	}

	@Test
	void regulaFalsiFindsRootsOfRisingAndFallingFunctions() {
		assertThat(RootFinder.regulaFalsi(x -> x * x * x - 27, 0, 10)).isCloseTo(3, within(1e-10));
		assertThat(RootFinder.regulaFalsi(x -> 1 - Math.exp(x), -5, 3)).isCloseTo(0, within(1e-10));
		assertThat(RootFinder.regulaFalsi(x -> x - 4, 0, 10)).isEqualTo(4);
	}

	/** The secant through both ends of a straight line is the line itself. */
	@Test
	void regulaFalsiSolvesAStraightLineAtOnce() {
		AtomicInteger calls = new AtomicInteger();
		double root = RootFinder.regulaFalsi(x -> {
			calls.incrementAndGet();
			return 2 * x - 8;
		}, 2, 10);
		assertThat(root).isEqualTo(4);
		assertThat(calls.get()).as("both ends and the root").isEqualTo(3);
	}

	/** The Illinois rule converges with order 1.44 (Dowell and Jarratt, BIT 11:168-174, 1971): some ten steps for eleven digits. */
	@Test
	void regulaFalsiFindsASmoothRootInFewSteps() {
		for (double far : new double[]{ 3, -3 }) {
			AtomicInteger calls = new AtomicInteger();
			double root = RootFinder.regulaFalsi(x -> {
				calls.incrementAndGet();
				return Math.exp(x) - 2;
			}, Math.min(far, 0.5), Math.max(far, 1));
			assertThat(root).isCloseTo(Math.log(2), within(1e-10));
			assertThat(calls.get()).isLessThan(25);
		}
	}

	/** Roots above one are good to a share of themselves: there are no numbers as close as 1e-11 about a million millions. */
	@Test
	void regulaFalsiEndsAtLargeRootsToo() {
		for (double root : new double[]{ 1.1e6, 7.7e8, 3.3e12 }) {
			AtomicInteger calls = new AtomicInteger();
			assertThat(RootFinder.regulaFalsi(x -> {
				calls.incrementAndGet();
				return Math.log(x / root) + 1e-3;
			}, root / 10, 10 * root)).isCloseTo(root * Math.exp(-1e-3), within(1e-10 * root));
			assertThat(calls.get()).isLessThan(30);
		}
	}

	/** Flat on one side: without the Illinois rule and the bisections one bound would stand still. */
	@Test
	void regulaFalsiDoesNotStallOnAFlatSide() {
		AtomicInteger calls = new AtomicInteger();
		double root = RootFinder.regulaFalsi(x -> {
			calls.incrementAndGet();
			return Math.pow(x, 15) - 1e-9;
		}, 0, 2);
		assertThat(root).isCloseTo(Math.pow(1e-9, 1 / 15.0), within(1e-9));
		assertThat(calls.get()).isLessThan(80);
	}

}
