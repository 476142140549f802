package org.meniscus.ui;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Locale;
import java.util.Set;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.units.UnitSystem;
import org.springframework.context.support.ResourceBundleMessageSource;

class EquipmentFormatterTests {

	private static String describe(String notes, Equipment equipment, UnitSystem units, String language) {
		ResourceBundleMessageSource messages = new ResourceBundleMessageSource();
		messages.setBasenames("messages/platform", "messages/water");
		messages.setDefaultEncoding("UTF-8");
		messages.setFallbackToSystemLocale(false);
		return EquipmentFormatter.describe(notes, equipment, units,
				(key, arguments) -> messages.getMessage(key, arguments, Locale.forLanguageTag(language)));
	}

	private static final Equipment ALL = new Equipment(new Equipment.Cell(635.03, 40.0, 10), 9.0, 10_220.6, Equipment.Filter.SAND, 96.527,
			6.0,
			2.5, Set.of(Equipment.SecondSystem.OZONE));

	/** 10,220.6 L/h are 45 gal/min, 635.03 g are 1.4 lb, 96.527 kPa are 14 psi or 0.97 bar. */
	@Test
	void everythingOnFileHasItsLineInTheUnitsOfTheCompany() {
		assertThat(describe("Behind the hedge", ALL, UnitSystem.US, "en").lines()).containsExactly("Behind the hedge",
				"Pump 9 h a day, 45 gal/min", "Sand filter, 14 psi when clean", "Cell makes 1.4 lb of chlorine a day at 100 %, set to 40 %",
				"Under a cover 6 h of daylight a day", "Bathers a day: 2.5", "Also: ozone");
		assertThat(describe("", ALL, UnitSystem.METRIC, "es").lines()).contains("Bomba 9 h al día, 10.2 m³/h",
				"Filtro de arena, 0.97 bar limpio",
				"La celda produce 635 g de cloro al día al 100 %, puesta al 40 %");
	}

	@ParameterizedTest
	@CsvSource({ "US, en", "METRIC, en", "US, es", "METRIC, es" })
	void nothingOnFileIsNothing(UnitSystem units, String language) {
		assertThat(describe(" ", Equipment.UNKNOWN, units, language)).isEmpty();
		assertThat(describe("", new Equipment(null, null, 10_000.0, null, null, 0.0, null, Set.of()), units, language).lines()).hasSize(1);
	}

}
