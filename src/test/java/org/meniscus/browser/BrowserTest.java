package org.meniscus.browser;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.options.ColorScheme;
import org.junit.jupiter.api.AfterEach;
import org.meniscus.support.IntegrationTest;
import org.springframework.boot.test.web.server.LocalServerPort;

/** A real browser against the running service. One browser serves the whole run; each test gets a context of its own. */
@IntegrationTest
public abstract class BrowserTest {

	protected static final int PHONE_WIDTH = 390;

	protected static final int DESKTOP_WIDTH = 1280;

	private static final Path CHROMIUM = Path.of(System.getProperty("test.chromium", "/usr/bin/chromium"));

	private static Browser browser;

	private BrowserContext context;

	private BrowserContext second;

	@LocalServerPort
	private int port;

	protected String url(String path) {
		return "http://localhost:" + port + path;
	}

	protected Page open(int width, boolean dark) {
		if (context != null) {
			context.close();
		}
		context = browser().newContext(new Browser.NewContextOptions().setViewportSize(width, (width < 600) ? 844 : 900)
			.setColorScheme(dark ? ColorScheme.DARK : ColorScheme.LIGHT)
			.setLocale("en-US")
			.setTimezoneId("America/Phoenix")
			.setHasTouch(width < 600)
			.setReducedMotion(com.microsoft.playwright.options.ReducedMotion.REDUCE));
		return context.newPage();
	}

	/** A second device; the first stays open. */
	protected Page openSecondDevice(int width) {
		second = browser().newContext(new Browser.NewContextOptions().setViewportSize(width, (width < 600) ? 844 : 900).setLocale("en-US"));
		return second.newPage();
	}

	protected Page openWithoutScript(int width) {
		if (context != null) {
			context.close();
		}
		context = browser().newContext(new Browser.NewContextOptions().setViewportSize(width, (width < 600) ? 844 : 900)
			.setJavaScriptEnabled(false)
			.setLocale("en-US"));
		return context.newPage();
	}

	protected void signIn(Page page, String email, String password) {
		page.navigate(url("/signin"));
		page.fill("#email", email);
		page.fill("#password", password);
		page.click("button.primary");
		page.waitForURL(address -> !address.contains("/signin"));
	}

	/** What axe-core's rules find on the page as it stands; empty is good. The pages have no frames, so one run sees everything. */
	@SuppressWarnings("deprecation")
	protected static List<String> violations(Page page) {
		return new AxeBuilder(page).setLegacyMode(true)
			.analyze()
			.getViolations()
			.stream()
			.map(rule -> rule.getId() + " " + rule.getNodes().stream().limit(2).map(node -> node.getHtml()).toList())
			.toList();
	}

	protected static void assertAccessible(Page page) {
		assertThat(violations(page)).isEmpty();
	}

	/** Pixels by which something makes the page wider than the window; zero or less is good. */
	protected static int overflow(Page page) {
		return (Integer) page.evaluate("document.documentElement.scrollWidth - window.innerWidth");
	}

	protected static void assertFits(Page page) {
		assertThat(overflow(page)).isLessThanOrEqualTo(0);
	}

	/** Saves a full-page screenshot as target/screens/NAME.png. */
	protected void screenshot(Page page, String name) {
		page.screenshot(new Page.ScreenshotOptions().setFullPage(true).setPath(Path.of("target/screens/" + name + ".png")));
	}

	@AfterEach
	void closeContext() {
		if (context != null) {
			context.close();
			context = null;
		}
		if (second != null) {
			second.close();
			second = null;
		}
	}

	public static synchronized Browser browser() {
		if (browser == null) {
			if (!Files.isExecutable(CHROMIUM)) {
				throw new IllegalStateException("No browser at " + CHROMIUM + ". Install Debian's chromium, or set -Dtest.chromium=PATH.");
			}
			Playwright playwright = Playwright
				.create(new Playwright.CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
			browser = playwright.chromium()
				.launch(new BrowserType.LaunchOptions().setExecutablePath(CHROMIUM)
					.setArgs(List.of("--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--disable-quic", "--no-first-run",
							"--disable-background-networking", "--disable-component-update", "--disable-sync")));
			Runtime.getRuntime().addShutdownHook(new Thread(playwright::close));
		}
		return browser;
	}

}
