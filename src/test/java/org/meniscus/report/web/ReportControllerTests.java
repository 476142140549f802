package org.meniscus.report.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.ArgumentMatchers.anyInt;
import static org.mockito.Mockito.never;
import static org.mockito.Mockito.times;
import static org.mockito.Mockito.verify;
import static org.mockito.Mockito.when;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.security.SecurityConfiguration;
import org.meniscus.report.ReportService;
import org.meniscus.support.MutableClock;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.boot.webmvc.test.autoconfigure.WebMvcTest;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Import;
import org.springframework.test.context.bean.override.mockito.MockitoBean;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResultAssert;

/** What somebody without an account may ask for, how often, and what every answer forbids. */
@WebMvcTest(ReportController.class)
@Import(SecurityConfiguration.class)
class ReportControllerTests {

	private static final byte[] JPEG = { (byte) 0xff, (byte) 0xd8, 1, 2, 3 };

	@TestConfiguration
	static class TestTime {

		@Bean
		MutableClock clock() {
			return new MutableClock(Instant.parse("2026-11-25T10:00:00Z"));
		}

	}

	@Autowired
	MockMvcTester mvc;

	@Autowired
	MutableClock clock;

	@MockitoBean
	ReportService reports;

	@MockitoBean
	ReportFormatter formatter;

	/** For the model of every page. */
	@MockitoBean
	CompanyService companies;

	@BeforeEach
	void nothingOpenedInTheLastMinutes() {
		clock.move(Duration.ofMinutes(5));
		when(reports.open(any())).thenReturn(Optional.empty());
	}

	@Test
	void unknownLinkIsNotFoundAndIsNeitherIndexedNorStoredNorPassedOn() {
		open("/r/unknown").hasStatus(404)
			.hasHeader("X-Robots-Tag", "noindex, nofollow, noarchive")
			.hasHeader("Referrer-Policy", "no-referrer")
			.hasHeader("Cache-Control", "no-store")
			.bodyText()
			.contains("<h1");
	}

	@Test
	void addressThatOpensTooOftenWaitsAMinute() {
		for (int i = 0; i < 30; i++) {
			open("/r/guess" + i).hasStatus(404);
		}
		open("/r/guess30").hasStatus(429).hasHeader("Retry-After", "60").hasHeader("Cache-Control", "no-store");
		verify(reports, times(30)).open(any());
		clock.move(Duration.ofSeconds(61));
		open("/r/guess31").hasStatus(404);
	}

	@Test
	void photoOfALinkThatOpensIsAJpeg() {
		when(reports.photo("token", 5)).thenReturn(Optional.of(JPEG));
		open("/r/token/photos/5").hasStatusOk()
			.hasContentType("image/jpeg")
			.hasHeader("Cache-Control", "no-store")
			.hasHeader("X-Robots-Tag", "noindex, nofollow, noarchive")
			.body()
			.isEqualTo(JPEG);
	}

	@ParameterizedTest
	@ValueSource(strings = { "10", "a", "-1" })
	void photosAreNumberedFromNoughtToNine(String number) {
		open("/r/token/photos/" + number).hasStatus(404);
		verify(reports, never()).photo(any(), anyInt());
	}

	@Test
	void photoThatIsNotThereIsNotFound() {
		when(reports.photo("token", 3)).thenReturn(Optional.empty());
		open("/r/token/photos/3").hasStatus(404);
	}

	@Test
	void photosHaveALimitOfTheirOwnOfThirtyReports() {
		when(reports.photo(any(), anyInt())).thenReturn(Optional.of(JPEG));
		for (int i = 0; i < 210; i++) {
			open("/r/token/photos/0").hasStatusOk();
		}
		open("/r/token/photos/0").hasStatus(429).hasHeader("Retry-After", "60");
		open("/r/token").as("reports are counted apart").hasStatus(404);
	}

	private MvcTestResultAssert open(String address) {
		return assertThat(mvc.get().uri(address).exchange());
	}

}
