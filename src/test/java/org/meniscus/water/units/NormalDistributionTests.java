package org.meniscus.water.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Figures to ten digits: Abramowitz and Stegun, Handbook of Mathematical Functions, tables 26.1 and 26.5. */
class NormalDistributionTests {

	@ParameterizedTest
	@CsvSource({ "0, 0.5", "1, 0.8413447461", "1.96, 0.9750021049", "-1, 0.1586552539", "-2.5, 0.0062096653", "4, 0.9999683288" })
	void cdfIsThatOfTheTables(double z, double expected) {
		assertThat(NormalDistribution.cdf(z)).isCloseTo(expected, within(1e-10));
	}

	@Test
	void cdfEndsAtZeroAndOne() {
		assertThat(NormalDistribution.cdf(-6.51)).isZero();
		assertThat(NormalDistribution.cdf(6.51)).isEqualTo(1);
		assertThat(NormalDistribution.cdf(6.5)).isCloseTo(1, within(1e-9));
		assertThat(NormalDistribution.cdf(-6.5)).isCloseTo(0, within(1e-9));
	}

	/** Between the bounds of Gordon, Annals of Mathematical Statistics 12:364-366, 1941: pdf(z) z / (z² + 1) and pdf(z) / z. */
	@ParameterizedTest
	@ValueSource(doubles = { 2, 3, 4, 5, 6, 6.5 })
	void tailsLieWithinGordonsBounds(double z) {
		double upper = NormalDistribution.pdf(z) / z;
		double lower = upper * z * z / (z * z + 1);
		assertThat(NormalDistribution.cdf(-z)).isBetween(lower - 1e-14, upper + 1e-14);
		assertThat(1 - NormalDistribution.cdf(z)).isBetween(lower - 1e-14, upper + 1e-14);
	}

	@ParameterizedTest
	@CsvSource({ "0.5, 0", "0.975, 1.9599639845", "0.1, -1.2815515655", "0.001, -3.0902323062" })
	void quantileIsThatOfTheTables(double probability, double expected) {
		assertThat(NormalDistribution.quantile(probability)).isCloseTo(expected, within(1e-9));
	}

	@ParameterizedTest
	@ValueSource(doubles = { 0, 1, -0.1, 1.1, Double.NaN })
	void quantileOfWhatIsNoProbabilityIsRejected(double probability) {
		assertThatIllegalArgumentException().isThrownBy(() -> NormalDistribution.quantile(probability));
	}

	@Test
	void fourInFiveLieWithinZ80() {
		assertThat(NormalDistribution.cdf(NormalDistribution.Z80) - NormalDistribution.cdf(-NormalDistribution.Z80)).isCloseTo(0.8,
				within(1e-12));
	}

	@Test
	void pdfIsThatOfTheTables() {
		assertThat(NormalDistribution.pdf(0)).isCloseTo(0.3989422804, within(1e-10));
		assertThat(NormalDistribution.pdf(-1)).isCloseTo(0.2419707245, within(1e-10));
	}

	/** Unit normal loss: pdf(1) - 1 * (1 - cdf(1)) = 0.0833154706 above the mean by one s.d.; and one more on the other side. */
	@Test
	void expectedExcessIsTheUnitNormalLoss() {
		assertThat(NormalDistribution.expectedExcess(0, 1, 1)).isCloseTo(0.0833154706, within(1e-9));
		assertThat(NormalDistribution.expectedExcess(10, 2, 8)).isCloseTo(2 * 1.0833154706, within(1e-9));
		assertThat(NormalDistribution.expectedExcess(10, 0, 8)).isEqualTo(2);
		assertThat(NormalDistribution.expectedExcess(8, 0, 10)).isZero();
	}

	/** At 0 the root of 2 / pi, the mean of a half-normal variable; elsewhere by the midpoint rule. */
	@Test
	void inverseMillsRatioIsTheMeanOfATruncatedVariable() {
		assertThat(NormalDistribution.inverseMillsRatio(0)).isCloseTo(Math.sqrt(2 / Math.PI), within(1e-12));
		for (double z : new double[]{ -5, -2, 0.5, 3 }) {
			double step = 1e-4;
			double mass = 0;
			double moment = 0;
			for (double x = z - 12 + step / 2; x < z; x += step) {
				mass += step * NormalDistribution.pdf(x);
				moment += step * x * NormalDistribution.pdf(x);
			}
			assertThat(NormalDistribution.inverseMillsRatio(z)).as("z = " + z).isCloseTo(-moment / mass, within(1e-3));
		}
	}

	/** Where the asymptotic expansion -z - 1/z takes over, the next term, 2/z³, is left out. */
	@Test
	void inverseMillsRatioHasNoStepWhereItsExpansionBegins() {
		assertThat(NormalDistribution.inverseMillsRatio(-6.0001)).isCloseTo(NormalDistribution.inverseMillsRatio(-5.9999),
				within(2 / 216.0 + 2e-4));
	}

	@Test
	void bandsAreInOrderAndHoldTheirMiddle() {
		assertThat(new Band(1, 2, 4).width()).isEqualTo(3);
		assertThat(new Band(2, 2, 2).width()).isZero();
		assertThatIllegalArgumentException().isThrownBy(() -> new Band(2.1, 2, 3));
		assertThatIllegalArgumentException().isThrownBy(() -> new Band(1, 3.1, 3));
		assertThat(Band.around(3, 2, 5)).isEqualTo(new Band(2, 2, 5));
		assertThat(Band.around(1, 6, 5)).isEqualTo(new Band(1, 6, 6));
	}

}
