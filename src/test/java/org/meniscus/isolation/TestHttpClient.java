package org.meniscus.isolation;

import java.io.IOException;
import java.net.CookieManager;
import java.net.HttpCookie;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

import org.meniscus.support.TestCompanies;

/** Somebody at the other end of HTTP, signed in or not, who sends whatever a browser could send. */
final class TestHttpClient {

	private static final Pattern TOKEN = Pattern.compile("X-CSRF-TOKEN(?:&quot;|\"):(?:&quot;|\")([^&\"]+)");

	private static final Pattern FIELD = Pattern.compile("name=\"_csrf\" value=\"([^\"]+)\"");

	private final CookieManager cookies = new CookieManager();

	private final HttpClient http = HttpClient.newBuilder().cookieHandler(cookies).followRedirects(HttpClient.Redirect.NEVER).build();

	private final String base;

	private String csrf = "";

	private TestHttpClient(String base) {
		this.base = base;
	}

	static TestHttpClient anonymous(String base) {
		TestHttpClient caller = new TestHttpClient(base);
		caller.csrf = caller.match(FIELD, caller.send("GET", "/signin", Map.of()).body());
		return caller;
	}

	static TestHttpClient signedIn(String base, TestCompanies.TestUser who) {
		TestHttpClient caller = anonymous(base);
		HttpResponse<String> answer = caller.send("POST", "/signin", Map.of("email", who.email(), "password", TestCompanies.PASSWORD));
		if (answer.statusCode() != 302 || answer.headers().firstValue("Location").orElse("").contains("refused")) {
			throw new IllegalStateException("not signed in: " + answer.statusCode() + " " + answer.headers().map());
		}
		caller.csrf = caller.match(TOKEN, caller.send("GET", "/no-such-page", Map.of()).body());
		return caller;
	}

	HttpCookie sessionCookie() {
		return cookies.getCookieStore().getCookies().stream().filter(cookie -> cookie.getName().equals("SESSION")).findFirst()
			.orElseThrow();
	}

	/** In place of the one of the same name. */
	void setCookie(HttpCookie cookie) {
		cookies.getCookieStore().add(URI.create(base), cookie);
	}

	/** GET with the fields in the query, anything else with the fields as a form. */
	HttpResponse<String> send(String method, String path, Map<String, String> fields) {
		String form = fields.entrySet().stream().map(field -> encode(field.getKey()) + "=" + encode(field.getValue()))
			.collect(Collectors.joining("&"));
		boolean get = method.equals("GET");
		HttpRequest.Builder request = HttpRequest.newBuilder(URI.create(base + path + ((get && !form.isEmpty()) ? "?" + form : "")))
			.header("Accept", "text/html,*/*");
		if (get) {
			request.GET();
		}
		else {
			request.header("Content-Type", "application/x-www-form-urlencoded").header("X-CSRF-TOKEN", csrf).method(method,
					BodyPublishers.ofString(form));
		}
		try {
			return http.send(request.build(), BodyHandlers.ofString());
		}
		catch (IOException ex) {
			throw new IllegalStateException(method + " " + path, ex);
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
			throw new IllegalStateException(ex);
		}
	}

	private String match(Pattern pattern, String body) {
		Matcher matcher = pattern.matcher(body);
		if (!matcher.find()) {
			throw new IllegalStateException("no CSRF token on the page");
		}
		return matcher.group(1);
	}

	private static String encode(String text) {
		return URLEncoder.encode(text, StandardCharsets.UTF_8);
	}

}
