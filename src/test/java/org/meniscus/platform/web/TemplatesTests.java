package org.meniscus.platform.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.NavigableSet;
import java.util.Properties;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.springframework.core.io.Resource;
import org.springframework.core.io.support.PathMatchingResourcePatternResolver;

/** Templates are read as text: pages that need a state of their own are not all opened by the other tests. */
class TemplatesTests {

	private static final int LONGEST_LINE = 160;

	/** {@code #{a.key}}, {@code #{a.key(...)}} or {@code #messages.msg('a.key')}. */
	private static final Pattern KEY = Pattern.compile("#\\{([\\w.-]+)[}(]|#messages\\.msg\\('([\\w.-]+)'\\)");

	/** {@code 'a.prefix.' + value}, and a choice between whole keys: {@code #{${flag ? 'a.key' : 'another.key'}}}. */
	private static final Pattern COMPUTED_KEY = Pattern
		.compile("'([a-z]+\\.[\\w.]+\\.)' \\+|#\\{\\$\\{[^}]*\\?\\s*'([\\w.]+)'\\s*:\\s*'([\\w.]+)'}");

	private static final NavigableSet<String> KEYS = new TreeSet<>();

	private static Resource[] templates;

	@BeforeAll
	static void read() throws IOException {
		var resources = new PathMatchingResourcePatternResolver();
		templates = resources.getResources("classpath*:templates/**/*.html");
		for (Resource bundle : resources.getResources("classpath*:messages/*.properties")) {
			Properties texts = new Properties();
			try (Reader reader = new InputStreamReader(bundle.getInputStream(), StandardCharsets.UTF_8)) {
				texts.load(reader);
			}
			if (!String.valueOf(bundle.getFilename()).contains("_")) {
				KEYS.addAll(texts.stringPropertyNames());
			}
		}
		assertThat(templates).hasSizeGreaterThan(40);
		assertThat(KEYS).hasSizeGreaterThan(1_000);
	}

	@Test
	void noLineIsTooLong() throws IOException {
		List<String> tooLong = new ArrayList<>();
		for (Resource template : templates) {
			List<String> lines = template.getContentAsString(StandardCharsets.UTF_8).lines().toList();
			for (int n = 0; n < lines.size(); n++) {
				if (lines.get(n).length() > LONGEST_LINE) {
					tooLong.add(template.getURI() + ":" + (n + 1));
				}
			}
		}
		assertThat(tooLong).isEmpty();
	}

	@Test
	void everyMessageKeyExists() throws IOException {
		List<String> missing = new ArrayList<>();
		for (Resource template : templates) {
			String text = template.getContentAsString(StandardCharsets.UTF_8);
			keys(KEY, text).stream().filter(key -> !KEYS.contains(key)).forEach(key -> missing.add(template.getFilename() + " " + key));
			keys(COMPUTED_KEY, text).stream()
				.filter(key -> key.endsWith(".") ? !isPrefix(key) : !KEYS.contains(key))
				.forEach(key -> missing.add(template.getFilename() + " " + key));
		}
		assertThat(missing).isEmpty();
	}

	private static List<String> keys(Pattern pattern, String text) {
		List<String> found = new ArrayList<>();
		Matcher matcher = pattern.matcher(text);
		while (matcher.find()) {
			for (int group = 1; group <= matcher.groupCount(); group++) {
				if (matcher.group(group) != null) {
					found.add(matcher.group(group));
				}
			}
		}
		return found;
	}

	private static boolean isPrefix(String key) {
		String next = KEYS.higher(key);
		return next != null && next.startsWith(key);
	}

}
