package org.meniscus.browser;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;

import java.util.regex.Pattern;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import org.junit.jupiter.api.Test;
import org.meniscus.client.PoolId;
import org.meniscus.report.SeasonFixture;
import org.meniscus.report.SeasonFixtures;
import org.meniscus.season.Climate;
import org.meniscus.season.SeasonService;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.product.ProductKind;
import org.springframework.beans.factory.annotation.Autowired;

/** From the notice to the pool, what one might do, the next visit's plan, and the notice handled. */
class SeasonJourneyIT extends BrowserTest {

	@Autowired
	SeasonFixtures seasons;

	@Autowired
	SeasonService seasonService;

	@Test
	void drainPlannedFromANoticeIsCompletedByTheTechnician() {
		SeasonFixture season = seasons.newSeason();
		PoolId pool = season.pool("Rowan Halewood", "en", "Back yard", Sanitizer.TABLET_FEEDER);
		season.tabletSeason(pool, 28);
		season.product(ProductKind.LIQUID_CHLORINE_125);
		seasonService.chooseClimate(season.company, Climate.HOT_DRY);

		Page page = open(PHONE_WIDTH, false);
		signIn(page, season.owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/season"));
		assertThat(page.locator(".season-rows .flagged")).containsText("Notice");
		page.selectOption("#product",
				page.locator("#product option").filter(new Locator.FilterOptions().setHasText("Trichlor")).first().getAttribute("value"));
		page.locator(".season-filter button").click();
		assertThat(page.locator(".season-rows tbody tr")).hasCount(1);
		assertAccessibleAndSave(page, "season-notice-390");
		page.click("text=One notice stands");
		assertThat(page.locator(".drift-notice"))
			.containsText(Pattern.compile("stands above 100, or will within \\d+ weeks, with a chance of \\W*\\d+ %"));
		assertAccessibleAndSave(page, "notices-390");

		page.locator(".drift-notice h2 a").click();
		page.fill("#fillCh", "soft");
		page.selectOption("#drain", "40");
		page.selectOption("#chlorine", "LIQUID_CHLORINE");
		page.click("text=Compare");
		assertThat(page.locator("#fillCh-error")).isVisible();
		assertThat(page.locator("#fillCh")).hasValue("soft");
		page.fill("#fillCh", "60");
		page.click("text=Compare");
		Locator rowsOf = page.locator(".what-if tbody tr");
		assertThat(rowsOf).hasCount(5);
		assertThat(rowsOf.nth(0)).containsText("Go on as now");
		assertThat(rowsOf.nth(3)).containsText("Replace 40 % of the water");
		assertThat(rowsOf.nth(3)).containsText("$90.00");
		assertAccessibleAndSave(page, "what-if-390");
		rowsOf.nth(3).getByText("Put it on the next visit").click();
		assertThat(page.locator("#work")).containsText("Replace 40 % of the water");

		page.navigate(url("/visit?pool=" + pool));
		page.fill("#fc", "2.5");
		assertThat(page.locator("#visit-work")).containsText("Replace 40 % of the water");
		assertAccessibleAndSave(page, "visit-work-390");
		page.locator("#visit-work button").click();
		assertThat(page.locator("#visit-work li")).hasCount(0);
		assertThat(page.locator("#fc")).hasValue("2.5");

		page.navigate(url("/season/notices"));
		page.click("text=Mark as handled");
		assertThat(page.locator(".drift-notice .error")).isVisible();
		page.fill(".drift-notice input[name=reason]", "Drain agreed for the next visit");
		page.click("text=Mark as handled");
		assertThat(page.locator(".dismissed")).containsText("Drain agreed for the next visit");
		assertThat(page.locator("main")).containsText("No notice stands.");
		page.click("text=Show it as a notice again");
		assertThat(page.locator(".drift-notice")).hasCount(1);
	}

	private void assertAccessibleAndSave(Page page, String name) {
		assertFits(page);
		assertAccessible(page);
		screenshot(page, name);
	}

}
