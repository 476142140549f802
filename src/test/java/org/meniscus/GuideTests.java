package org.meniscus;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** What the guide and the glossary name is there. */
class GuideTests {

	private static Set<String> types;

	@BeforeAll
	static void readTypes() throws IOException {
		try (Stream<Path> files = Files.walk(Path.of("src"))) {
			types = files.map(file -> file.getFileName().toString())
				.filter(name -> name.endsWith(".java"))
				.map(name -> name.substring(0, name.length() - ".java".length()))
				.collect(Collectors.toSet());
		}
	}

	@Test
	void everyTermOfTheGlossaryIsATypeOfTheCode() throws IOException {
		Set<String> terms = new TreeSet<>();
		for (String line : Files.readAllLines(Path.of("docs/glossary.md"))) {
			if (line.startsWith("| `")) {
				terms.addAll(quoted(line.substring(0, line.indexOf('|', 1)), "([A-Z]\\w+)[\\w.]*"));
			}
		}
		assertThat(terms).hasSizeGreaterThan(40).isSubsetOf(types);
	}

	@Test
	void everyTestClassAndFileOfTheGuideIsThere() throws IOException {
		String guide = Files.readString(Path.of("DEVELOPERS.md"));
		assertThat(quoted(guide, "(\\w+(?:Tests|IT))")).hasSizeGreaterThan(10).isSubsetOf(types);
		List<String> places = new ArrayList<>(quoted(guide, "((?:water|route|ui)/\\w+(?:/\\w+)?)[\\w.]*"));
		assertThat(places).hasSizeGreaterThan(4)
			.allSatisfy(place -> assertThat(
					Stream.of(".java", "").anyMatch(end -> Files.exists(Path.of("src/main/java/org/meniscus", place + end))))
				.as(place)
				.isTrue());
	}

	private static Set<String> quoted(String text, String pattern) {
		return Pattern.compile("`" + pattern + "`").matcher(text).results().map(match -> match.group(1))
			.collect(Collectors.toCollection(TreeSet::new));
	}

}
