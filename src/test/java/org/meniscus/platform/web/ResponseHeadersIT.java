package org.meniscus.platform.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;

import org.junit.jupiter.api.Test;
import org.meniscus.support.IntegrationTest;
import org.springframework.boot.test.web.server.LocalServerPort;

/** What every answer carries, over the wire. */
@IntegrationTest
class ResponseHeadersIT {

	@LocalServerPort
	int port;

	@Test
	void healthIsPublic() throws Exception {
		HttpResponse<String> answer = get("/health", "http");
		assertThat(answer.statusCode()).isEqualTo(200);
		assertThat(answer.body()).isEqualTo("ok");
		assertThat(answer.headers().firstValue("Set-Cookie")).isEmpty();
	}

	@Test
	void pagesAreNotCachedAndStaticFilesAreRevalidated() throws Exception {
		for (String page : new String[]{ "/signin", "/signup", "/join/x", "/health" }) {
			assertThat(get(page, "http").headers().firstValue("Cache-Control")).as(page)
				.hasValueSatisfying(value -> assertThat(value).contains("no-store"));
		}
		assertThat(get("/css/notebook.css", "http").headers().firstValue("Cache-Control")).hasValue("no-cache");
	}

	@Test
	void strictTransportSecurityIsSentBehindTls() throws Exception {
		assertThat(get("/signin", "http").headers().firstValue("Strict-Transport-Security")).isEmpty();
		HttpResponse<String> secure = get("/signin", "https");
		assertThat(secure.headers().firstValue("Strict-Transport-Security"))
			.hasValueSatisfying(value -> assertThat(value).contains("max-age=31536000"));
		assertThat(secure.headers().allValues("Set-Cookie"))
			.allSatisfy(cookie -> assertThat(cookie).contains("Secure", "HttpOnly", "SameSite=Lax"))
			.isNotEmpty();
	}

	/** As a proxy passes it on. */
	private HttpResponse<String> get(String path, String scheme) throws IOException, InterruptedException {
		return HttpClient.newHttpClient()
			.send(HttpRequest.newBuilder(URI.create("http://localhost:" + port + path))
				.header("X-Forwarded-Proto", scheme)
				.header("Accept", "text/html,*/*")
				.build(), HttpResponse.BodyHandlers.ofString());
	}

}
