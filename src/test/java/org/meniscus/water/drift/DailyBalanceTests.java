package org.meniscus.water.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.pool.SlowLevels;

/** A column of 1,000 mm, worked out by hand. */
class DailyBalanceTests {

	private static final int SALT = 2;

	private final Weather weather = new Weather(ClimateNormals.HOT_DRY);

	private final PoolParameters parameters = new PoolParameters(1);

	@BeforeEach
	void nothingHappens() {
		for (double[] values : new double[][]{ weather.evaporation, weather.bathing, weather.breakdown }) {
			Arrays.fill(values, 0);
		}
		parameters.depth[0] = 1000;
		parameters.evaporationFactor[0] = 1;
		parameters.freeboard[0] = 20;
	}

	private DailyBalance run(boolean autofill, double height, double rain, double backwashes) {
		DailyBalance balance = new DailyBalance(autofill, weather, parameters, 0, 1);
		balance.run(0, height, new double[]{ rain }, new double[]{ backwashes });
		return balance;
	}

	private static double after(DailyBalance balance, int level, double ppm, double dose, double fillPpm) {
		return balance.next(0, balance.retention(level, 0, ppm), ppm, dose, fillPpm);
	}

	/** 10 mm evaporate and are filled up with 100 ppm: (1000 × 200 + 10 × 100) / 1000. */
	@Test
	void fillWaterReplacesEvaporationAndBringsItsLevel() {
		Arrays.fill(weather.evaporation, 5);
		parameters.evaporationFactor[0] = 2;
		DailyBalance balance = run(true, 0, 0, 0);
		assertThat(after(balance, SALT, 200, 0, 100)).isCloseTo(201, within(1e-9));
		assertThat(balance.totalFilled()).isCloseTo(0.01, within(1e-12));
		assertThat(balance.height()).isZero();
	}

	/** 50 mm of rain thin 200 ppm to 200 × 1000 / 1050; what stands above 20 mm overflows and changes nothing any more. */
	@Test
	void rainDilutesAndOverflowsAboveTheFreeboard() {
		DailyBalance balance = run(true, 0, 50, 0);
		assertThat(after(balance, SALT, 200, 0, 0)).isCloseTo(200 * 1000 / 1050.0, within(1e-9));
		assertThat(balance.height()).isCloseTo(20, within(1e-9));
		assertThat(balance.outflow(0)).isCloseTo(30, within(1e-9));
		assertThat(balance.outflowShare(0)).isCloseTo(30 / 1050.0, within(1e-12));
	}

	/** Splash-out of 2 mm at half the bathing, leak of 4 mm and two backwashes of 10 mm: 25 mm go, filled up without any of the level. */
	@Test
	void waterThatLeavesTakesItsShareAlong() {
		Arrays.fill(weather.bathing, 0.5);
		parameters.splashOut[0] = 2;
		parameters.leak[0] = 4;
		parameters.backwash[0] = 10;
		assertThat(after(run(true, 0, 0, 2), SALT, 200, 0, 0)).isCloseTo(200 * 0.975, within(1e-9));
	}

	/** At 35 mm below nothing is done; 6 mm more evaporate, and the hose fills from 41 mm below to 10 mm above. */
	@Test
	void handFillingWaitsUntilFortyMillimetresAreMissing() {
		assertThat(run(false, -35, 0, 0).height()).isCloseTo(-35, within(1e-9));
		Arrays.fill(weather.evaporation, 6);
		DailyBalance balance = run(false, -35, 0, 0);
		assertThat(balance.height()).isCloseTo(10, within(1e-9));
		assertThat(balance.totalFilled()).isCloseTo(0.051, within(1e-12));
		assertThat(after(balance, SALT, 200, 0, 100)).isCloseTo((965 * 200 + 51 * 100) / 1010.0, within(1e-9));
	}

	/** ppm put in are those of the operating volume: 5 of 1,000 mm are 5 × 1000 / 980 in water that stands 20 mm low. */
	@Test
	void doseCountsByTheWaterThatIsThere() {
		assertThat(after(run(false, -20, 0, 0), SALT, 0, 5, 0)).isCloseTo(5 * 1000 / 980.0, within(1e-9));
	}

	@Test
	void onlyStabilizerBreaksDownAndOnlyHardnessScales() {
		Arrays.fill(weather.breakdown, 0.5);
		parameters.breakdown[0] = 0.002;
		parameters.scaling[0] = 0.01;
		DailyBalance balance = run(true, 0, 0, 0);
		assertThat(after(balance, SlowLevels.CYA, 100, 0, 0)).isCloseTo(99.9, within(1e-9));
		// 1 % of the 50 above 450
		assertThat(after(balance, SlowLevels.CH, 500, 0, 0)).isCloseTo(499.5, within(1e-9));
		assertThat(after(balance, SlowLevels.CH, 450, 0, 0)).isCloseTo(450, within(1e-9));
		assertThat(after(balance, SALT, 3000, 0, 0)).isCloseTo(3000, within(1e-9));
	}

}
