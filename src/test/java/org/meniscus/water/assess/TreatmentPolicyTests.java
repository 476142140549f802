package org.meniscus.water.assess;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TreatmentPolicyTests {

	private static final TreatmentPolicy DEFAULTS = TreatmentPolicy.defaults();

	/** Labels let people swim from 1 to 4 ppm; colour tests cannot be read above 20 (Taylor Technologies); Falk et al. 2019: 20 to 1. */
	@Test
	void defaultsAreThoseOfLabelsAndStudies() {
		assertThat(DEFAULTS).isEqualTo(
				new TreatmentPolicy(4, 4, 20, 20, MinimumRule.CYA_RATIO, 0.9, new TreatmentCosts(160, 9000, 2500)));
	}

	@Test
	void oneCeilingHoldsForDosingAndSwimmingAndNeverPassesTheShock() {
		TreatmentPolicy ten = TreatmentPolicy.withCeiling(10);
		assertThat(ten.fcCeiling()).isEqualTo(10);
		assertThat(ten.swimCeiling()).isEqualTo(10);
		assertThat(ten.shockCeiling()).isEqualTo(20);
		assertThat(TreatmentPolicy.withCeiling(25).shockCeiling()).isEqualTo(25);
	}

	@Test
	void oneDecisionChangesAndTheOthersStay() {
		TreatmentCosts costs = new TreatmentCosts(1, 2, 3);
		assertThat(DEFAULTS.withMinimumRule(MinimumRule.HYPOCHLOROUS_ACID))
			.isEqualTo(new TreatmentPolicy(4, 4, 20, 20, MinimumRule.HYPOCHLOROUS_ACID, 0.9, TreatmentCosts.DEFAULT));
		assertThat(DEFAULTS.withHoldProbability(0.8))
			.isEqualTo(new TreatmentPolicy(4, 4, 20, 20, MinimumRule.CYA_RATIO, 0.8, TreatmentCosts.DEFAULT));
		assertThat(DEFAULTS.withCosts(costs)).isEqualTo(new TreatmentPolicy(4, 4, 20, 20, MinimumRule.CYA_RATIO, 0.9, costs));
	}

	@ParameterizedTest
	@CsvSource({ "0, 4, 20, 20, 0.9", "4, 0, 20, 20, 0.9", "4, 4, 3.9, 20, 0.9", "4, 4, 20, 0, 0.9", "4, 4, 20, 20, 0.49",
			"4, 4, 20, 20, 0.991", "NaN, 4, 20, 20, 0.9", "4, NaN, 20, 20, 0.9", "4, 4, NaN, 20, 0.9", "4, 4, 20, NaN, 0.9",
			"4, 4, 20, 20, NaN" })
	void whatNoCompanyCanMeanIsRejected(double fc, double swim, double shock, double ratio, double hold) {
		assertThatIllegalArgumentException()
			.isThrownBy(() -> new TreatmentPolicy(fc, swim, shock, ratio, MinimumRule.CYA_RATIO, hold, TreatmentCosts.DEFAULT));
	}

	@ParameterizedTest
	@CsvSource({ "0.1, 0.1, 0.1, 0.1, 0.5", "4, 4, 4, 20, 0.99" })
	void endsOfWhatTheyCanMeanAreTaken(double fc, double swim, double shock, double ratio, double hold) {
		assertThat(new TreatmentPolicy(fc, swim, shock, ratio, MinimumRule.CYA_RATIO, hold, TreatmentCosts.DEFAULT).holdProbability())
			.isEqualTo(hold);
	}

	@Test
	void costsMayBeNothingButNotBelow() {
		assertThat(new TreatmentCosts(0, 0, 0).waterPerM3()).isZero();
		assertThatIllegalArgumentException().isThrownBy(() -> new TreatmentCosts(-1, 0, 0));
		assertThatIllegalArgumentException().isThrownBy(() -> new TreatmentCosts(0, -1, 0));
		assertThatIllegalArgumentException().isThrownBy(() -> new TreatmentCosts(0, 0, -1));
		assertThatIllegalArgumentException().isThrownBy(() -> new TreatmentCosts(Double.NaN, 0, 0));
	}

}
