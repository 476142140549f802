package org.meniscus.browser;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;

import java.awt.Color;
import java.awt.GradientPaint;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

import javax.imageio.ImageIO;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.Media;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.client.PoolId;
import org.meniscus.platform.TenantContext;
import org.meniscus.report.SeasonFixture;
import org.meniscus.report.SeasonFixtures;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopId;
import org.meniscus.support.TestCompanies;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ProductKind;
import org.springframework.beans.factory.annotation.Autowired;

/** The owner looks at the season, a pool and the spend, and shares a visit; the homeowner reads it. */
class OwnerAndHomeownerJourneyIT extends BrowserTest {

	@Autowired
	SeasonFixtures seasons;

	@Autowired
	RouteService route;

	SeasonFixture season;

	/** CYA climbs from tablets and leaves its range in some weeks. */
	PoolId tablets;

	/** CYA is past its maximum. */
	PoolId past;

	VisitRecord algae;

	@BeforeEach
	void sharedSeason() {
		season = seasons.newSeason();
		tablets = season.pool("Rowan Halewood", "en", "Back yard", Sanitizer.TABLET_FEEDER);
		season.tabletSeason(tablets, 20);
		PoolId calcium = season.pool("Ilse Falk", "en", "Courtyard", Sanitizer.CHLORINE_BY_HAND);
		season.calciumSeason(calcium, 16, 300);
		past = season.pool("Dov Amsel", "en", "Long pool", Sanitizer.CHLORINE_BY_HAND);
		for (int week = 8; week > 0; week--) {
			season.visit(past, season.today.minusWeeks(week), Situation.ROUTINE,
					Readings.builder().fc(4.0).ph(7.5).ta(90.0).ch(280.0).cya(118.0 + week % 3).build(),
					null, season.dose(ProductKind.LIQUID_CHLORINE_125, 900));
		}
		PoolId even = season.pool("Pia Nordahl", "en", "Garden", Sanitizer.CHLORINE_BY_HAND);
		for (int week = 10; week >= 0; week--) {
			season.visit(even, season.today.minusWeeks(week), Situation.ROUTINE,
					Readings.builder().fc(3.0).ph(7.5).ta(100.0).ch(290.0).cya(40.0 + week % 2).build(),
					null, season.dose(ProductKind.LIQUID_CHLORINE_125, 750));
		}
		season.pool("The Linden House", "en", "Spa wing", Sanitizer.CHLORINE_BY_HAND);
		PoolId patio = season.pool("Marisol Quintero-Abernathy", "es", "Patio", Sanitizer.CHLORINE_BY_HAND);
		algae = season.visit(patio, season.today.minusDays(1), Situation.GREEN_ALGAE_LIGHT,
				Readings.builder().fc(0.4).cc(0.6).ph(7.9).ta(85.0).ch(240.0).cya(36.0).celsius(28.0).drainVisible(true).build(),
				"We brushed the walls twice. Please let the pump run all night.", season.dose(ProductKind.MURIATIC_3145, 700),
				season.dose(ProductKind.CAL_HYPO_65, 1_400));
		season.photo(algae.id(), 0, photo(new Color(0x3f8f6b), new Color(0x8fc7b0)));
		season.photo(algae.id(), 1, photo(new Color(0x2f6f9f), new Color(0xb7d7ea)));
		TenantContext.runAs(season.company,
				() -> route.addExtra(season.company, new RouteService.AddExtraStop(new StopId(UUID.randomUUID()), patio,
						season.technician.user().person(), season.today.plusDays(3))));
	}

	@ParameterizedTest
	@ValueSource(ints = { PHONE_WIDTH, DESKTOP_WIDTH })
	void ownerViewsSeasonPoolAndSpend(int width) {
		Page page = open(width, false);
		signIn(page, season.owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/season"));
		assertAccessibleAndSave(page, "season-" + width);
		Locator pools = page.locator(".season-rows tbody tr");
		assertThat(pools).hasCount(6);
		assertThat(pools.nth(0)).containsText("Long pool");
		assertThat(pools.nth(0)).containsText("out of range");
		assertThat(pools.nth(0)).containsText("above the maximum of 100");
		assertThat(pools.nth(1)).containsText("Back yard");
		assertThat(pools.nth(1)).containsText(Pattern.compile("Stabilizer \\(CYA\\) about 8\\d ppm \\(80 %: \\d+ to \\d+\\)"));
		assertThat(pools.nth(5)).containsText("not tested yet");

		page.click("text=Back yard");
		assertThat(page.locator("h1")).containsText("Back yard");
		assertAccessibleAndSave(page, "pool-" + width);
		Locator cya = page.locator("section.level").filter(new Locator.FilterOptions().setHasText("Stabilizer (CYA)"));
		assertThat(cya.locator(".level-chart .ideal")).hasCount(1);
		assertThat(cya.locator(".level-chart .readings circle")).hasCount(20);
		assertThat(cya.locator(".level-chart .doses").first()).containsText("Trichlor");
		assertThat(cya.locator(".balance tbody")).containsText(Pattern.compile("trichlor tablets\\s*\\+\\d+\\.\\d"));
		org.assertj.core.api.Assertions.assertThat(cya.locator(".balance tbody td.num").all().stream().map(OwnerAndHomeownerJourneyIT::ppm)
			.reduce(BigDecimal.ZERO, BigDecimal::add)).as("causes add up").isEqualByComparingTo(ppm(cya.locator(".balance tfoot td.num")));
		assertThat(page.locator("section.level")).hasCount(5);
		assertThat(page.locator("section.level .state")).hasCount(5);
		assertThat(page.locator("table.stacks:not(.what-if) tbody tr")).hasCount(20);
		Locator fc = page.locator("section.level").filter(new Locator.FilterOptions().setHasText("Free chlorine (FC)"));
		assertThat(fc.locator(".level-chart .doses").first()).containsText("Trichlor");
		page.getByText("Last 12 months").click();
		assertThat(page.locator("section.level")).hasCount(5);

		page.navigate(url("/season?level=CH"));
		assertThat(pools.filter(new Locator.FilterOptions().setHasText("Courtyard"))).containsText("Calcium hardness (CH) about");

		page.navigate(url("/spend?by=product"));
		assertAccessibleAndSave(page, "spend-" + width);
		BigDecimal whole = money(page.locator("#spend-total"));
		org.assertj.core.api.Assertions.assertThat(whole).isPositive();
		for (String cut : List.of("Month", "Pool", "Client", "Technician", "Product")) {
			page.locator(".tabs").getByText(cut).click();
			org.assertj.core.api.Assertions.assertThat(money(page.locator("#spend-total"))).as(cut).isEqualTo(whole);
			BigDecimal sum = page.locator("tbody tr td.num:nth-of-type(2)").all().stream().map(OwnerAndHomeownerJourneyIT::money)
				.reduce(BigDecimal.ZERO, BigDecimal::add);
			org.assertj.core.api.Assertions.assertThat(sum).as(cut).isEqualTo(whole);
			assertFits(page);
			if (cut.equals("Pool")) {
				assertAccessibleAndSave(page, "spend-pool-" + width);
			}
		}
	}

	@ParameterizedTest
	@ValueSource(ints = { PHONE_WIDTH, DESKTOP_WIDTH })
	void ownerSharesReportAndHomeownerOpensIt(int width) {
		Page page = open(width, false);
		signIn(page, season.owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/visits/" + algae.id() + "/share"));
		page.selectOption("#days", "90");
		page.click("button.primary");
		String link = page.inputValue("#link");
		assertAccessibleAndSave(page, "share-" + width);
		page.reload();
		assertThat(page.locator("#link")).hasCount(0);

		Page home = homeowner(width);
		home.navigate(link);
		assertThat(home.locator("html")).hasAttribute("lang", "es");
		assertThat(home.locator("h1")).containsText("Patio");
		assertAccessibleAndSave(home, "report-es-" + width);
		home.click("text=English");
		assertThat(home.locator(".report-swim")).containsText("Closed to swimmers until a new test or look.");
		assertThat(home.locator(".report-swim")).not().containsText(Pattern.compile("\\d:\\d\\d"));
		assertThat(home.locator(".report-swim")).containsText("free chlorine of 4.0 ppm or less");
		assertThat(home.locator(".report-added")).containsText("Against green algae.");
		assertThat(home.locator(".rule")).hasCount(6);
		assertThat(home.locator("section[aria-labelledby=next]")).containsText("Our next visit is planned for");
		for (Locator photo : home.locator(".report-photos img").all()) {
			org.assertj.core.api.Assertions.assertThat((Boolean) photo.evaluate("img => img.complete && img.naturalWidth > 0")).isTrue();
		}
		assertAccessibleAndSave(home, "report-" + width);
		home.navigate(link + "x");
		assertAccessibleAndSave(home, "report-gone-" + width);
	}

	/** On paper the report keeps its bands, loses what is only for the screen, and fits on two sheets. */
	@Test
	void reportCanBePrinted() {
		Page page = open(DESKTOP_WIDTH, false);
		signIn(page, season.owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/visits/" + algae.id() + "/share"));
		page.click("button.primary");
		String link = page.inputValue("#link");
		Page home = homeowner(DESKTOP_WIDTH);
		home.navigate(link + "?lang=en");
		home.setViewportSize(700, 1000);
		home.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.PRINT));
		assertThat(home.getByText("Español")).isHidden();
		assertThat(home.locator(".scale .ideal").first()).isVisible();
		screenshot(home, "report-print");
		for (String paper : List.of("A4", "Letter")) {
			byte[] pdf = home.pdf(new Page.PdfOptions().setPath(Path.of("target/screens/report-" + paper + ".pdf")).setFormat(paper));
			Matcher sheets = Pattern.compile("/Type\\s*/Page\\b(?!s)").matcher(new String(pdf, StandardCharsets.ISO_8859_1));
			org.assertj.core.api.Assertions.assertThat(sheets.results().count()).as(paper).isBetween(1L, 2L);
		}
	}

	@Test
	void ownerReplacesAndRevokesTheStandingLink() {
		Page page = open(DESKTOP_WIDTH, false);
		signIn(page, season.owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/pools/" + tablets.value()));
		page.click("text=Link for the homeowner");
		page.click("text=Make a link");
		String first = page.inputValue("#link");
		page.click("text=Replace the link");
		String second = page.inputValue("#link");
		assertAccessibleAndSave(page, "share-standing-1280");
		page.getByText("End it now").click();
		assertThat(page.locator("[role=status]")).containsText("The link is ended.");
		Page home = homeowner(PHONE_WIDTH);
		for (String link : List.of(first, second)) {
			org.assertj.core.api.Assertions.assertThat(home.navigate(link).status()).isEqualTo(404);
		}
	}

	/** A browser that is signed in nowhere, at an address of its own, because openings are counted by address. */
	private Page homeowner(int width) {
		Page page = open(width, false);
		page.setExtraHTTPHeaders(Map.of("X-Forwarded-For", "2001:db8::" + UUID.randomUUID().toString().substring(0, 4)));
		return page;
	}

	/** A picture of it, on the phone in the dark theme; nothing too wide, nothing that axe objects to. */
	private void assertAccessibleAndSave(Page page, String name) {
		ColorScheme scheme = (page.viewportSize().width < 600) ? ColorScheme.DARK : ColorScheme.LIGHT;
		page.emulateMedia(new Page.EmulateMediaOptions().setColorScheme(scheme));
		screenshot(page, name);
		assertAccessible(page);
		assertFits(page);
	}

	private static BigDecimal ppm(Locator cell) {
		return new BigDecimal(cell.textContent().strip().replace('−', '-').replace("+", ""));
	}

	private static BigDecimal money(Locator cell) {
		return new BigDecimal(cell.innerText().replaceAll("[^0-9.]", ""));
	}

	private static byte[] photo(Color one, Color other) {
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

}
