package org.meniscus.browser;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;

import java.awt.Color;
import java.awt.GradientPaint;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Path;
import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.regex.Pattern;

import javax.imageio.ImageIO;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.Media;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.meniscus.client.ClientBook;
import org.meniscus.client.PoolId;
import org.meniscus.platform.Tenancy;
import org.meniscus.product.ProductShelf;
import org.meniscus.report.SharedSeason;
import org.meniscus.route.RouteBook;
import org.meniscus.route.StopId;
import org.meniscus.support.PoolRows;
import org.meniscus.support.TestCompanies;
import org.meniscus.visit.VisitBook;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.treatment.ProductKind;
import org.meniscus.water.treatment.Readings;
import org.meniscus.water.treatment.Sanitizer;
import org.meniscus.water.treatment.Situation;
import org.springframework.beans.factory.annotation.Autowired;

/** The owner looks at the season, a pool and the spend, and shares a visit; the homeowner reads it. */
class OwnerAndHomeownerJourneyIT extends BrowserTest {

	@Autowired
	TestCompanies companies;

	@Autowired
	PoolRows rows;

	@Autowired
	ClientBook clients;

	@Autowired
	ProductShelf shelf;

	@Autowired
	VisitBook visits;

	@Autowired
	RouteBook route;

	@Autowired
	Clock clock;

	SharedSeason season;

	/** CYA climbs from tablets and leaves its range in some weeks. */
	PoolId tablets;

	/** CYA is past its maximum. */
	PoolId past;

	VisitRecord algae;

	@BeforeEach
	void aSeason() {
		LocalDate today = LocalDate.now(clock.withZone(SharedSeason.ZONE));
		season = new SharedSeason(companies, rows, clients, shelf, visits, today);
		tablets = season.pool("Rowan Halewood", "en", "Back yard", Sanitizer.TABLET_FEEDER);
		season.tabletSeason(tablets, 20);
		PoolId calcium = season.pool("Ilse Falk", "en", "Courtyard", Sanitizer.CHLORINE_BY_HAND);
		season.calciumSeason(calcium, 16, 300);
		past = season.pool("Dov Amsel", "en", "Long pool", Sanitizer.CHLORINE_BY_HAND);
		for (int week = 8; week > 0; week--) {
			season.visit(past, today.minusWeeks(week), Situation.ROUTINE, Readings.builder().fc(4.0).ph(7.5).ta(90.0).ch(280.0).cya(118.0 + week % 3).build(),
					null, season.dose(ProductKind.LIQUID_CHLORINE_125, 900));
		}
		PoolId even = season.pool("Pia Nordahl", "en", "Garden", Sanitizer.CHLORINE_BY_HAND);
		for (int week = 10; week >= 0; week--) {
			season.visit(even, today.minusWeeks(week), Situation.ROUTINE, Readings.builder().fc(3.0).ph(7.5).ta(100.0).ch(290.0).cya(40.0 + week % 2).build(),
					null, season.dose(ProductKind.LIQUID_CHLORINE_125, 750));
		}
		season.pool("The Linden House", "en", "Spa wing", Sanitizer.CHLORINE_BY_HAND);
		PoolId patio = season.pool("Marisol Quintero-Abernathy", "es", "Patio", Sanitizer.CHLORINE_BY_HAND);
		algae = season.visit(patio, today.minusDays(1), Situation.GREEN_ALGAE_LIGHT,
				Readings.builder().fc(0.4).cc(0.6).ph(7.9).ta(85.0).ch(240.0).cya(36.0).celsius(28.0).drainVisible(true).build(),
				"We brushed the walls twice. Please let the pump run all night.", season.dose(ProductKind.MURIATIC_3145, 700),
				season.dose(ProductKind.CAL_HYPO_65, 1_400));
		season.photo(algae.id(), 0, picture(new Color(0x3f8f6b), new Color(0x8fc7b0)));
		season.photo(algae.id(), 1, picture(new Color(0x2f6f9f), new Color(0xb7d7ea)));
		Tenancy.as(season.company, () -> route.addExtra(season.company, new RouteBook.Extra(new StopId(UUID.randomUUID()), patio,
				season.technician.user().person(), today.plusDays(3))));
	}

	@ParameterizedTest
	@CsvSource({ "390, false", "390, true", "1280, false", "1280, true" })
	void ownerReadsSeasonPoolAndSpend(int width, boolean dark) {
		Page page = open(width, dark);
		String suffix = width + (dark ? "-dark" : "");
		signIn(page, season.owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/season"));
		screenshot(page, "season-" + suffix);
		accessible(page);
		assertFits(page);
		Locator pools = page.locator(".season-rows tbody tr");
		assertThat(pools).hasCount(6);
		assertThat(pools.nth(0)).containsText("Long pool");
		assertThat(pools.nth(0)).containsText("out of range");
		assertThat(pools.nth(0)).containsText("above the maximum of 100");
		assertThat(pools.nth(1)).containsText("Back yard");
		assertThat(pools.nth(1)).containsText(Pattern.compile("Stabilizer \\(CYA\\) 8\\d ppm, rising 2\\.\\d a week; reaches 100 about"));
		assertThat(pools.nth(5)).containsText("not tested yet");

		page.click("text=Back yard");
		assertThat(page.locator("h1")).containsText("Back yard");
		screenshot(page, "pool-" + suffix);
		accessible(page);
		assertFits(page);
		Locator cya = page.locator("section.level").filter(new Locator.FilterOptions().setHasText("Stabilizer (CYA)"));
		assertThat(cya.locator(".course .ideal")).hasCount(1);
		assertThat(cya.locator(".course .readings circle")).hasCount(20);
		assertThat(cya.locator(".course .doses").first()).containsText("Trichlor");
		assertThat(cya.locator(".causes")).containsText(Pattern.compile("Trichlor.*: \\+2\\.\\d a week"));
		assertThat(page.locator("section.level")).hasCount(5);
		assertThat(page.locator("section.level .state")).hasCount(5);
		assertThat(page.locator("table.stacks tbody tr")).hasCount(20);
		page.getByText("Last 12 months").click();
		accessible(page);

		page.navigate(url("/spend?by=product"));
		screenshot(page, "spend-" + suffix);
		accessible(page);
		assertFits(page);
		BigDecimal whole = money(page.locator("#spend-total"));
		org.assertj.core.api.Assertions.assertThat(whole).isPositive();
		for (String cut : List.of("Month", "Pool", "Client", "Technician", "Product")) {
			page.locator(".cuts").getByText(cut).click();
			org.assertj.core.api.Assertions.assertThat(money(page.locator("#spend-total"))).as(cut).isEqualTo(whole);
			BigDecimal sum = page.locator("tbody tr td.num:nth-of-type(2)").all().stream().map(OwnerAndHomeownerJourneyIT::money)
				.reduce(BigDecimal.ZERO, BigDecimal::add);
			org.assertj.core.api.Assertions.assertThat(sum).as(cut).isEqualTo(whole);
			if (cut.equals("Pool")) {
				screenshot(page, "spend-pool-" + suffix);
			}
			accessible(page);
			assertFits(page);
		}
	}

	@ParameterizedTest
	@CsvSource({ "390, false", "390, true", "1280, false", "1280, true" })
	void ownerSharesAndHomeownerReads(int width, boolean dark) {
		Page page = open(width, dark);
		String suffix = width + (dark ? "-dark" : "");
		signIn(page, season.owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/visits/" + algae.id() + "/share"));
		accessible(page);
		page.selectOption("#days", "90");
		page.click("button.primary");
		String link = page.inputValue("#link");
		screenshot(page, "share-" + suffix);
		accessible(page);
		assertFits(page);
		page.reload();
		assertThat(page.locator("#link")).hasCount(0);

		Page home = homeowner(width, dark);
		home.navigate(link);
		assertThat(home.locator("html")).hasAttribute("lang", "es");
		assertThat(home.locator("h1")).containsText("Patio");
		screenshot(home, "report-es-" + suffix);
		accessible(home);
		assertFits(home);
		home.click("text=English");
		assertThat(home.locator(".report-swim")).containsText(Pattern.compile("Not before 10:00\\sPM"));
		assertThat(home.locator(".report-swim")).containsText("free chlorine of 4.0 ppm or less");
		assertThat(home.locator(".report-added")).containsText("Against green algae.");
		assertThat(home.locator(".rule")).hasCount(6);
		assertThat(home.locator("section[aria-labelledby=next]")).containsText("Our next visit is planned for");
		for (Locator photo : home.locator(".report-photos img").all()) {
			org.assertj.core.api.Assertions.assertThat((Boolean) photo.evaluate("img => img.complete && img.naturalWidth > 0")).isTrue();
		}
		screenshot(home, "report-" + suffix);
		accessible(home);
		assertFits(home);
		if (width == DESK && !dark) {
			home.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.PRINT));
			home.pdf(new Page.PdfOptions().setPath(Path.of("target/screens/report-a4.pdf")).setFormat("A4"));
			home.pdf(new Page.PdfOptions().setPath(Path.of("target/screens/report-letter.pdf")).setFormat("Letter"));
		}
		home.navigate(link + "x");
		screenshot(home, "report-gone-" + suffix);
		accessible(home);
	}

	@Test
	void ownerReplacesAndEndsTheStandingLink() {
		Page page = open(DESK, false);
		signIn(page, season.owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/pools/" + tablets.value()));
		page.click("text=Link for the homeowner");
		page.click("text=Make a link");
		String first = page.inputValue("#link");
		page.click("text=Replace the link");
		String second = page.inputValue("#link");
		screenshot(page, "share-standing-1280");
		accessible(page);
		page.getByText("End it now").click();
		assertThat(page.locator("[role=status]")).containsText("The link is ended.");
		Page home = homeowner(PHONE, false);
		for (String link : List.of(first, second)) {
			org.assertj.core.api.Assertions.assertThat(home.navigate(link).status()).isEqualTo(404);
		}
	}

	/** A browser that is signed in nowhere, at an address of its own, because openings are counted by address. */
	private Page homeowner(int width, boolean dark) {
		Page page = open(width, dark);
		page.setExtraHTTPHeaders(Map.of("X-Forwarded-For", "2001:db8::" + UUID.randomUUID().toString().substring(0, 4)));
		return page;
	}

	private static BigDecimal money(Locator cell) {
		return new BigDecimal(cell.innerText().replaceAll("[^0-9.]", ""));
	}

	private static byte[] picture(Color one, Color other) {
		BufferedImage image = new BufferedImage(640, 480, BufferedImage.TYPE_INT_RGB);
		Graphics2D graphics = image.createGraphics();
		graphics.setPaint(new GradientPaint(0, 0, one, 640, 480, other));
		graphics.fillRect(0, 0, 640, 480);
		graphics.dispose();
		ByteArrayOutputStream jpeg = new ByteArrayOutputStream();
		try {
			ImageIO.write(image, "jpeg", jpeg);
		}
		catch (IOException ex) {
			throw new IllegalStateException(ex);
		}
		return jpeg.toByteArray();
	}

	private static void accessible(Page page) {
		org.assertj.core.api.Assertions.assertThat(new AxeBuilder(page).analyze().getViolations())
			.extracting(rule -> rule.getId() + " " + rule.getNodes().stream().limit(3).map(node -> node.getHtml()).toList())
			.isEmpty();
	}

	/** Nothing makes the page wider than the window. */
	private static void assertFits(Page page) {
		org.assertj.core.api.Assertions.assertThat((Integer) page.evaluate("document.documentElement.scrollWidth - window.innerWidth"))
			.isLessThanOrEqualTo(0);
	}

}
