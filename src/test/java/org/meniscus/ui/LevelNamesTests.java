package org.meniscus.ui;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.util.EnumSet;
import java.util.Objects;
import java.util.Properties;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;

class LevelNamesTests {

	@Test
	void nameIsFollowedByItsCodeUnlessItContainsIt() throws IOException {
		Wording.Texts texts = texts("");
		assertThat(LevelNames.nameWithCode(Level.FC, texts)).isEqualTo("Free chlorine (FC)");
		assertThat(LevelNames.nameWithCode(Level.CYA, texts)).isEqualTo("Stabilizer (CYA)");
		assertThat(LevelNames.nameWithCode(Level.PH, texts)).isEqualTo("pH");
		assertThat(LevelNames.nameWithCode(Level.SALT, texts)).isEqualTo("Salt");
	}

	@Test
	void unitSaysOfWhichSubstance() throws IOException {
		Wording.Texts texts = texts("");
		assertThat(LevelNames.nameWithUnit(Level.TA, texts)).isEqualTo("Total alkalinity (TA), ppm");
		assertThat(LevelNames.nameWithUnit(Level.PHOSPHATE, texts)).isEqualTo("Phosphate, ppb");
		assertThat(LevelNames.nameWithUnit(Level.BORATE, texts)).isEqualTo("Borate, ppm as boron");
		assertThat(LevelNames.nameWithUnit(Level.PH, texts)).isEqualTo("pH");
	}

	@ParameterizedTest
	@ValueSource(strings = { "", "_es" })
	void everyLevelHasItsNames(String language) throws IOException {
		Wording.Texts texts = texts(language);
		for (Level level : Level.values()) {
			assertThat(LevelNames.code(level, texts)).isNotBlank();
			assertThat(LevelNames.nameWithUnit(level, texts)).isNotBlank();
		}
		for (Level level : EnumSet.complementOf(EnumSet.of(Level.TC, Level.HOCL, Level.SATURATION_INDEX))) {
			assertThat(LevelNames.plainName(level, texts)).isNotBlank();
		}
	}

	/** A text that is missing fails the test. */
	private static Wording.Texts texts(String language) throws IOException {
		Properties properties = new Properties();
		try (Reader reader = new InputStreamReader(
				Objects.requireNonNull(LevelNamesTests.class.getResourceAsStream("/messages/water" + language + ".properties")),
				StandardCharsets.UTF_8)) {
			properties.load(reader);
		}
		return (key, arguments) -> Objects.requireNonNull(properties.getProperty(key), key);
	}

}
