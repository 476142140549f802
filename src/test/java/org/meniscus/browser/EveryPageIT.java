package org.meniscus.browser;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.PlaywrightException;
import com.microsoft.playwright.Response;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.isolation.PagesByUser;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/**
 * Every page a person can open, read from the running service: it answers, fits the window and has no accessibility violation
 * (axe-core's rules), on a phone in the dark theme and on a desk in the light one. A new page is looked at by itself.
 */
class EveryPageIT extends BrowserTest {

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	@Qualifier("requestMappingHandlerMapping")
	RequestMappingHandlerMapping mapping;

	/** Null for what the browser saves instead of showing. */
	private @Nullable Response opened(Page page, String path) {
		try {
			return page.navigate(url(path));
		}
		catch (PlaywrightException ex) {
			if (ex.getMessage().contains("Download is starting")) {
				return null;
			}
			throw ex;
		}
	}

	@ParameterizedTest
	@CsvSource({ "390, true", "1280, false" })
	void everyPageFitsTheScreenAndIsAccessible(int width, boolean dark) {
		PagesByUser pages = new PagesByUser(companies, rows);
		List<String> wrong = new ArrayList<>();
		int seen = 0;
		for (Map.Entry<TestCompanies.TestUser, List<String>> person : pages.pathsByUser(mapping).entrySet()) {
			Page page = open(width, dark);
			if (person.getKey() != pages.anonymous()) {
				signIn(page, person.getKey().email(), TestCompanies.PASSWORD);
			}
			for (String path : person.getValue()) {
				Response answer = opened(page, path);
				if (answer == null || !answer.headers().getOrDefault("content-type", "").startsWith("text/html")) {
					continue;
				}
				if (answer.status() != 200) {
					wrong.add(path + " answers " + answer.status());
					continue;
				}
				seen++;
				int over = overflow(page);
				if (over > 0) {
					wrong.add(path + " is " + over + " px wider than the window");
				}
				violations(page).forEach(found -> wrong.add(path + ": " + found));
			}
		}
		assertThat(wrong).isEmpty();
		assertThat(seen).as("pages looked at").isGreaterThan(20);
	}

}
