package org.meniscus.company;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.time.LocalDate;
import java.time.MonthDay;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.assess.MinimumRule;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.assess.TreatmentPolicy;

class TreatmentSettingsTests {

	private static final TreatmentCosts COSTS = new TreatmentCosts(200, 12_000, 3000);

	@Test
	void defaultSettingsGiveTheDefaultPolicy() {
		assertThat(TreatmentSettings.DEFAULTS.policy()).isEqualTo(TreatmentPolicy.defaults());
	}

	@Test
	void everySettingIsPassedToThePolicy() {
		TreatmentPolicy policy = new TreatmentSettings(3, 0.75, MinimumRule.HYPOCHLOROUS_ACID, COSTS, null).policy();
		assertThat(policy.fcCeiling()).isEqualTo(3);
		assertThat(policy.swimCeiling()).isEqualTo(3);
		assertThat(policy.holdProbability()).isEqualTo(0.75);
		assertThat(policy.minimumRule()).isEqualTo(MinimumRule.HYPOCHLOROUS_ACID);
		assertThat(policy.costs()).isEqualTo(COSTS);
	}

	/** Own arithmetic on the calendar; 2027 is no leap year, 2028 is one. */
	@ParameterizedTest(name = "season to {1}, seen on {0}: {2} days")
	@CsvSource({ "2026-09-01, --10-15, 44", "2026-10-15, --10-15, 0", "2026-10-16, --10-15, 180", "2026-03-01, --10-15, 180",
			"2026-12-20, --02-10, 52", "2027-02-01, --02-29, 27", "2028-02-01, --02-29, 28" })
	void horizonEndsWithTheSeasonAndIsAtMostHalfAYear(LocalDate today, MonthDay end, int days) {
		assertThat(ending(end).horizonDays(today)).isEqualTo(days);
	}

	@Test
	void horizonWithoutSeasonEndIsHalfAYear() {
		assertThat(TreatmentSettings.DEFAULTS.horizonDays(LocalDate.of(2026, 12, 31))).isEqualTo(180);
	}

	@Test
	void settingsOutOfRangeAreRejected() {
		assertThatIllegalArgumentException().isThrownBy(() -> new TreatmentSettings(0.9, 0.9, MinimumRule.CYA_RATIO, COSTS, null));
		assertThatIllegalArgumentException().isThrownBy(() -> new TreatmentSettings(4, 0.49, MinimumRule.CYA_RATIO, COSTS, null));
		assertThatIllegalArgumentException().isThrownBy(() -> new TreatmentSettings(4, 1, MinimumRule.CYA_RATIO, COSTS, null));
		assertThatIllegalArgumentException()
			.isThrownBy(() -> new TreatmentSettings(4, 0.9, MinimumRule.CYA_RATIO, new TreatmentCosts(1e10, 0, 0), null));
	}

	private static TreatmentSettings ending(MonthDay end) {
		return new TreatmentSettings(4, 0.9, MinimumRule.CYA_RATIO, COSTS, end);
	}

}
