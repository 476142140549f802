package org.meniscus.platform.web;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Locale;

import jakarta.servlet.Filter;
import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.ServletRequest;
import jakarta.servlet.ServletResponse;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;

import org.meniscus.platform.database.DatabaseUnavailable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.context.MessageSource;
import org.springframework.web.util.HtmlUtils;

/**
 * Answers 503 with a page that needs no database when the database is away. Stands before everything else: already finding the
 * session needs the database.
 */
class DatabaseUnavailableFilter implements Filter {

	private static final Logger log = LoggerFactory.getLogger(DatabaseUnavailableFilter.class);

	private static final String RETRY_SECONDS = "30";

	private final MessageSource texts;

	DatabaseUnavailableFilter(MessageSource texts) {
		this.texts = texts;
	}

	@Override
	public void doFilter(ServletRequest request, ServletResponse response, FilterChain chain) throws IOException, ServletException {
		try {
			chain.doFilter(request, response);
		}
		catch (IOException | ServletException | RuntimeException ex) {
			if (!DatabaseUnavailable.isCauseOf(ex) || response.isCommitted() || !(response instanceof HttpServletResponse http)
					|| !(request instanceof HttpServletRequest httpRequest)) {
				throw ex;
			}
			log.warn("the database is away: {} {} was answered with 503 ({})", httpRequest.getMethod(), pathOf(httpRequest),
					rootMessage(ex));
			answer(httpRequest, http);
		}
	}

	private void answer(HttpServletRequest request, HttpServletResponse response) throws IOException {
		Locale locale = WebConfiguration.supportedLocale(request.getLocale());
		response.reset();
		response.setStatus(HttpServletResponse.SC_SERVICE_UNAVAILABLE);
		response.setHeader("Retry-After", RETRY_SECONDS);
		response.setHeader("Cache-Control", "no-store");
		response.setHeader("Content-Security-Policy", "default-src 'none'; style-src 'self'; base-uri 'none'; frame-ancestors 'none'");
		response.setHeader("X-Content-Type-Options", "nosniff");
		response.setContentType("text/html;charset=UTF-8");
		String page = """
				<!DOCTYPE html>
				<html lang="%s"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
				<title>%s</title><link rel="stylesheet" href="%s/css/notebook.css"></head>
				<body><main><div class="narrow"><h1>%s</h1><p>%s</p></div></main></body></html>
				""".formatted(locale.getLanguage(), text("error.unavailable.title", locale), HtmlUtils.htmlEscape(request.getContextPath()),
				text("error.unavailable.title", locale), text("error.unavailable.text", locale));
		response.getOutputStream().write(page.getBytes(StandardCharsets.UTF_8));
	}

	private String text(String key, Locale locale) {
		return HtmlUtils.htmlEscape(texts.getMessage(key, null, locale), "UTF-8");
	}

	/** Without the tokens that links carry. */
	private static String pathOf(HttpServletRequest request) {
		String path = request.getRequestURI();
		int second = path.indexOf('/', 1);
		return ((second < 0) ? path : path.substring(0, second)).replaceAll("\\p{Cntrl}", "");
	}

	private static String rootMessage(Throwable thrown) {
		Throwable cause = thrown;
		while (cause.getCause() != null && cause.getCause() != cause) {
			cause = cause.getCause();
		}
		return String.valueOf(cause.getMessage());
	}

}
