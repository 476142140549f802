package org.meniscus.report.web;

import java.time.Clock;
import java.util.Locale;
import java.util.Optional;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.security.RateLimiter;
import org.meniscus.report.Report;
import org.meniscus.report.ReportService;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.i18n.CookieLocaleResolver;

/**
 * What a link opens, for anybody who has it. Unknown, malformed, expired and revoked links get one and the same answer, so that
 * nobody learns from it which links there are.
 */
@Controller
class ReportController {

	/** Openings a minute from one address. Common practice, no source. */
	private static final int OPENINGS_PER_MINUTE = 30;

	/** Photos a minute from one address: six a report, and one more. */
	private static final int PHOTOS_PER_MINUTE = 7 * OPENINGS_PER_MINUTE;

	private final ReportService reports;

	private final ReportFormatter formatter;

	private final RateLimiter openings;

	private final RateLimiter photos;

	ReportController(ReportService reports, ReportFormatter words, Clock clock) {
		this.reports = reports;
		this.formatter = words;
		this.openings = new RateLimiter(OPENINGS_PER_MINUTE, clock);
		this.photos = new RateLimiter(PHOTOS_PER_MINUTE, clock);
	}

	/** @param lang "en" or "es"; the client's own language otherwise */
	@GetMapping("/r/{token}")
	String report(@PathVariable String token, @RequestParam(required = false) @Nullable String lang, HttpServletRequest request,
			HttpServletResponse response, Model model) {
		setPrivacyHeaders(response);
		if (!openings.tryAcquire(request.getRemoteAddr())) {
			response.setStatus(HttpStatus.TOO_MANY_REQUESTS.value());
			response.setHeader(HttpHeaders.RETRY_AFTER, "60");
			model.addAttribute("reason", "tooManyRequests");
			return "report/unavailable";
		}
		Optional<Report> report = reports.open(token);
		if (report.isEmpty()) {
			response.setStatus(HttpStatus.NOT_FOUND.value());
			model.addAttribute("reason", "invalidLink");
			return "report/unavailable";
		}
		Locale locale = locale(lang, report.get().language());
		useLocale(locale, request);
		model.addAttribute("report", formatter.page(report.get(), locale));
		model.addAttribute("token", token);
		return "report/report";
	}

	@GetMapping("/r/{token}/photos/{n}")
	ResponseEntity<byte[]> photo(@PathVariable String token, @PathVariable String n, HttpServletRequest request,
			HttpServletResponse response) {
		setPrivacyHeaders(response);
		if (!photos.tryAcquire(request.getRemoteAddr())) {
			return ResponseEntity.status(HttpStatus.TOO_MANY_REQUESTS).header(HttpHeaders.RETRY_AFTER, "60").build();
		}
		if (!n.matches("[0-9]")) {
			return ResponseEntity.notFound().build();
		}
		return reports.photo(token, Integer.parseInt(n))
			.map(jpeg -> ResponseEntity.ok().contentType(MediaType.IMAGE_JPEG).body(jpeg))
			.orElseGet(() -> ResponseEntity.notFound().build());
	}

	/** Not indexed, not passed on as a referrer, not stored by a cache. */
	private static void setPrivacyHeaders(HttpServletResponse response) {
		response.setHeader("X-Robots-Tag", "noindex, nofollow, noarchive");
		response.setHeader("Referrer-Policy", "no-referrer");
		response.setHeader(HttpHeaders.CACHE_CONTROL, "no-store");
	}

	private static Locale locale(@Nullable String asked, String ofClient) {
		String language = (asked != null && (asked.equals("en") || asked.equals("es"))) ? asked : ofClient;
		return Locale.forLanguageTag(language.equals("es") ? "es-US" : "en-US");
	}

	/** For this answer only, whatever language a cookie or the browser asks for. */
	private static void useLocale(Locale locale, HttpServletRequest request) {
		request.setAttribute(CookieLocaleResolver.LOCALE_REQUEST_ATTRIBUTE_NAME, locale);
		LocaleContextHolder.setLocale(locale);
	}

}
