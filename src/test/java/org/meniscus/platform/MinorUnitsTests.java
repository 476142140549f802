package org.meniscus.platform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.math.BigDecimal;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MinorUnitsTests {

	@ParameterizedTest(name = "{0} with {1} decimals is {2}")
	@CsvSource({ "0, 2, 0", "12.5, 2, 1250", "12.50, 2, 1250", "9999.99, 2, 999999", "1.5000, 2, 150", "1200, 0, 1200" })
	void plausibleAmountIsCountedInMinorUnits(BigDecimal money, int digits, int expected) {
		assertThat(MinorUnits.fault(money, digits, 999_999)).isNull();
		assertThat(MinorUnits.of(money, digits)).isEqualTo(expected);
	}

	@ParameterizedTest(name = "{0} with {1} decimals is refused for its {2}")
	@CsvSource({ "1.234, 2, DECIMALS", "-0.001, 2, DECIMALS", "1.5, 0, DECIMALS", "-0.01, 2, RANGE", "10000, 2, RANGE",
			"1000000, 0, RANGE" })
	void otherAmountIsRefusedWithItsFault(BigDecimal money, int digits, MinorUnits.Fault expected) {
		assertThat(MinorUnits.fault(money, digits, 999_999)).isEqualTo(expected);
	}

	@Test
	void amountWithTooManyDecimalsIsNeverRounded() {
		assertThatThrownBy(() -> MinorUnits.of(new BigDecimal("1.234"), 2)).isInstanceOf(ArithmeticException.class);
	}

	@Test
	void highestAmountIsShownInWholeUnits() {
		assertThat(MinorUnits.formatMax(2, 1_000_000_000)).isEqualTo("10,000,000");
		assertThat(MinorUnits.formatMax(0, 5_000)).isEqualTo("5,000");
	}

}
