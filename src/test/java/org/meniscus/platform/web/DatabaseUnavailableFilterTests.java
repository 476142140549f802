package org.meniscus.platform.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import java.util.Locale;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.context.support.ResourceBundleMessageSource;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.transaction.CannotCreateTransactionException;

class DatabaseUnavailableFilterTests {

	private final MockHttpServletRequest request = new MockHttpServletRequest("GET", "/week");

	private final MockHttpServletResponse response = new MockHttpServletResponse();

	private final DatabaseUnavailableFilter filter = new DatabaseUnavailableFilter(texts());

	@ParameterizedTest
	@ValueSource(strings = { "08001", "08006", "53100", "53300", "57P01", "57P03" })
	void unavailableDatabaseIsReportedWithoutInternals(String state) throws Exception {
		filter.doFilter(request, response, failing(new SQLException("Connection to 10.0.0.5:5432 refused", state)));
		assertThat(response.getStatus()).isEqualTo(503);
		assertThat(response.getHeader("Retry-After")).isEqualTo("30");
		assertThat(response.getHeader("Cache-Control")).isEqualTo("no-store");
		assertThat(response.getContentAsString()).contains("<h1>Not available for the moment</h1>").doesNotContain("10.0.0.5", "Exception");
	}

	@Test
	void exhaustedConnectionPoolIsReportedInSpanish() throws Exception {
		request.addPreferredLocale(Locale.forLanguageTag("es-MX"));
		response.getWriter().write("half a page");
		filter.doFilter(request, response, failing(new SQLTransientConnectionException("not available after 10000ms")));
		assertThat(response.getStatus()).isEqualTo(503);
		assertThat(response.getContentAsString(java.nio.charset.StandardCharsets.UTF_8)).contains("lang=\"es\"", "Ahora no está disponible")
			.doesNotContain("half a page");
	}

	@ParameterizedTest
	@ValueSource(strings = { "42P01", "23505", "42501" })
	void otherSqlErrorsArePassedOn(String state) {
		assertThatThrownBy(() -> filter.doFilter(request, response, failing(new SQLException("ERROR", state))))
			.isInstanceOf(ServletException.class);
		assertThat(response.getStatus()).isEqualTo(200);
	}

	@Test
	void committedResponseIsNotReplaced() throws IOException {
		response.flushBuffer();
		assertThatThrownBy(() -> filter.doFilter(request, response, failing(new SQLException("gone", "08006"))))
			.isInstanceOf(ServletException.class);
	}

	private static FilterChain failing(SQLException cause) {
		return (asked, answer) -> {
			throw new ServletException(new CannotCreateTransactionException("outer", cause));
		};
	}

	private static ResourceBundleMessageSource texts() {
		ResourceBundleMessageSource texts = new ResourceBundleMessageSource();
		texts.setBasename("messages/platform");
		texts.setDefaultEncoding("UTF-8");
		texts.setFallbackToSystemLocale(false);
		return texts;
	}

}
