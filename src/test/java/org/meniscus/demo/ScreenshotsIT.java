package org.meniscus.demo;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;

import java.nio.file.Path;

import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.assertions.LocatorAssertions;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.ReducedMotion;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.meniscus.browser.BrowserTest;
import org.springframework.boot.test.web.server.LocalServerPort;

/**
 * One day in the invented company: the technician's visit, the report of it, week, season and spend. Takes the pictures of
 * docs/screens: {@code mvn test -Dtest=ScreenshotsIT -Dpictures=docs/screens}.
 */
class ScreenshotsIT extends DemoContext {

	private static final Path PICTURES = Path.of(System.getProperty("pictures", "target/screens/docs"));

	@LocalServerPort
	int port;

	private BrowserContext context;

	@Test
	void screenshotsFromVisitToReport() {
		Page phone = open(390, DemoPerson.TECHNICIANS.get(0));
		phone.navigate(url("/today"));
		picture(phone, "today-390", false);
		phone.locator("a[href^='/visit?']").nth(1).click();
		phone.waitForURL("**/visit?**");
		phone.fill("#fc", "0.8");
		phone.fill("#tc", "1.2");
		phone.fill("#ph", "7.9");
		phone.fill("#ta", "90");
		phone.fill("#temperature", "74");
		phone.click("text=Work out the plan");
		Locator plan = phone.locator("#visit-plan");
		assertThat(plan.locator("h2").first()).hasText("The plan", new LocatorAssertions.HasTextOptions().setTimeout(60_000));
		plan.scrollIntoViewIfNeeded();
		picture(phone, "plan-390", false);
		picture(phone, "visit-390", true);
		phone.click("text=Hand in the visit");
		confirm(phone);
		assertThat(phone.locator("[role=status]")).hasText("The visit is stored.",
				new LocatorAssertions.HasTextOptions().setTimeout(60_000));
		String visit = phone.url().replaceAll("\\?.*", "");
		phone.navigate(visit + "/share");
		phone.locator("main form:has(button.primary) button.primary").first().click();
		String link = phone.locator("input[readonly]").first().inputValue();

		Page home = open(1280, null);
		home.navigate(link.replaceAll("^https?://[^/]+", "http://localhost:" + port) + "?lang=en");
		assertThat(home.locator("h1")).isVisible();
		picture(home, "report-1280", true);
	}

	@Test
	void screenshotsOfOfficeAndOwnerPages() {
		Page office = open(1280, DemoPerson.OFFICE);
		office.navigate(url("/week"));
		picture(office, "week-1280", false);
		office.navigate(url("/clients"));
		picture(office, "clients-1280", false);

		Page owner = open(1280, DemoPerson.OWNER);
		owner.navigate(url("/season"));
		picture(owner, "season-1280", false);
		owner.locator("main a[href^='/pools/']").first().click();
		assertThat(owner.locator("h1")).isVisible();
		picture(owner, "pool-1280", false);
		owner.navigate(url("/spend"));
		picture(owner, "spend-1280", false);
		owner.navigate(url("/products"));
		picture(owner, "products-1280", false);
	}

	/** What is unlikely is asked once. */
	private static void confirm(Page page) {
		page.waitForLoadState();
		Locator asked = page.locator("input[type=checkbox][name=confirm]");
		if (asked.count() > 0) {
			for (Locator box : asked.all()) {
				box.check();
			}
			page.click("text=Hand in the visit");
		}
	}

	private Page open(int width, DemoPerson who) {
		close();
		context = BrowserTest.browser()
			.newContext(new Browser.NewContextOptions().setViewportSize(width, (width < 600) ? 844 : 900)
				.setDeviceScaleFactor(1)
				.setColorScheme(ColorScheme.LIGHT)
				.setReducedMotion(ReducedMotion.REDUCE)
				.setLocale("en-US")
				.setTimezoneId("America/Phoenix"));
		Page page = context.newPage();
		page.setDefaultTimeout(60_000);
		if (who != null) {
			page.navigate(url("/signin"));
			page.fill("#email", who.email());
			page.fill("#password", DemoPerson.PASSWORD);
			page.click("button.primary");
			page.waitForURL(address -> !address.contains("/signin"));
		}
		return page;
	}

	private void picture(Page page, String name, boolean whole) {
		page.screenshot(new Page.ScreenshotOptions().setFullPage(whole).setPath(PICTURES.resolve(name + ".png")));
	}

	private String url(String path) {
		return "http://localhost:" + port + path;
	}

	@AfterEach
	void close() {
		if (context != null) {
			context.close();
			context = null;
		}
	}

}
