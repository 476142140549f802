package org.meniscus.ui;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalTime;
import java.util.Locale;

import org.junit.jupiter.api.Test;
import org.meniscus.water.units.UnitSystem;

class QuantityFormatterTests {

	@Test
	void timesAreReadAsInTheReadersLanguage() {
		assertThat(QuantityFormatter.time(LocalTime.of(14, 5), Locale.US)).isEqualTo("2:05 PM");
		assertThat(QuantityFormatter.time(LocalTime.of(14, 5), Locale.forLanguageTag("es"))).isEqualTo("14:05");
	}

	@Test
	void volumeIsShownWithThousandsSetApart() {
		assertThat(QuantityFormatter.volume(UnitSystem.US, 56_781.2)).isEqualTo("15,000 gal");
		assertThat(QuantityFormatter.volume(UnitSystem.US, 4_542_494)).isEqualTo("1,200,000 gal");
		assertThat(QuantityFormatter.volume(UnitSystem.METRIC, 56_781.2)).isEqualTo("56.8 m³");
		assertThat(QuantityFormatter.volume(UnitSystem.METRIC, 1_234_500)).isEqualTo("1,234.5 m³");
		assertThat(QuantityFormatter.volume(UnitSystem.METRIC, 1_200)).isEqualTo("1,200 L");
	}

}
