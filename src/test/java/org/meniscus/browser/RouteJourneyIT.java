package org.meniscus.browser;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static java.time.DayOfWeek.MONDAY;
import static java.time.temporal.TemporalAdjusters.previousOrSame;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.BoundingBox;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.client.PoolId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.TenantContext;
import org.meniscus.route.MissedReason;
import org.meniscus.route.RouteFixtures;
import org.meniscus.route.RouteService;
import org.meniscus.route.ScheduleService;
import org.meniscus.route.StopId;
import org.meniscus.route.StopLine;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.springframework.beans.factory.annotation.Autowired;

class RouteJourneyIT extends BrowserTest {

	private static final List<String> CLIENTS = List.of("Rowan Hale", "Marisol Quintero-Abernathy", "Ilse Falk", "Dov Amsel",
			"The Linden House",
			"Pia Nordahl");

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	RouteService route;

	@Autowired
	ScheduleService schedules;

	RouteFixtures here;

	TestCompanies.TestUser lena;

	PersonId tom;

	LocalDate today;

	/** Monday to Wednesday of next week have stops; nothing there is done. */
	LocalDate monday;

	@BeforeEach
	void sixStopsOnEachOfThreeDays() {
		here = new RouteFixtures(companies, rows);
		lena = here.driver("Lena Ortiz");
		tom = here.technician("Tom Ashe");
		today = TenantContext.runAs(here.company, () -> route.today(here.company));
		monday = today.with(previousOrSame(MONDAY)).plusWeeks(1);
		for (int i = 0; i < 6; i++) {
			PoolId pool = here.pool(CLIENTS.get(i), (i + 2) * 7 + " Juniper Lane",
					(i % 2 == 0) ? "Gate code " + (4100 + i) + "\nDog is friendly" : null);
			if (i < 4) {
				here.visit(pool, lena.user().person(), today);
			}
			for (int day = 0; day < 3; day++) {
				addExtraStop(pool, (day == 1) ? tom : lena.user().person(), monday.plusDays(day));
			}
			addExtraStop(pool, lena.user().person(), today);
		}
	}

	@Test
	void stopIsMovedWithArrowKeys() {
		Page page = week(DESKTOP_WIDTH, false);
		assertThat(clients(page, lena.user().person(), monday).first()).hasText(CLIENTS.get(0));
		Locator later = page.getByLabel(CLIENTS.get(0) + ": later in the day").first();
		later.focus();
		page.keyboard().press("Enter");
		assertThat(page.locator(".week-notice")).containsText("Rowan Hale moved: Lena Ortiz");
		assertThat(clients(page, lena.user().person(), monday).nth(1)).hasText(CLIENTS.get(0));
		// the focus stays on the arrow, so pressing again goes on
		page.keyboard().press("Enter");
		assertThat(clients(page, lena.user().person(), monday).nth(2)).hasText(CLIENTS.get(0));
		assertThat(page.locator(":focus")).hasAttribute("data-way", "later");
	}

	@Test
	void stopIsDraggedToAnotherTechniciansDay() {
		Page page = week(DESKTOP_WIDTH, false);
		Locator from = stop(page, lena.user().person(), monday, CLIENTS.get(1));
		Locator to = stop(page, tom, monday.plusDays(1), CLIENTS.get(2));
		drag(page, from, to, "week-dragging");
		assertThat(page.locator(".week-notice")).containsText("Marisol Quintero-Abernathy moved: Tom Ashe");
		assertThat(clients(page, tom, monday.plusDays(1)).nth(2)).hasText(CLIENTS.get(1));
		assertThat(clients(page, tom, monday.plusDays(1))).hasCount(7);
		assertThat(clients(page, lena.user().person(), monday)).hasCount(5);
		page.reload();
		assertThat(clients(page, tom, monday.plusDays(1)).nth(2)).hasText(CLIENTS.get(1));
	}

	@Test
	void concurrentMoveIsRejectedAndTheCurrentWeekIsShown() {
		Page page = week(DESKTOP_WIDTH, true);
		StopLine seen = TenantContext.runAs(here.company, () -> route.week(here.company, monday)).stops().get(0);
		TenantContext.runAs(here.company,
				() -> route.move(here.company, new RouteService.MoveStop(seen.id(), seen.version(), tom, monday.plusDays(3), null)));
		drag(page, stop(page, lena.user().person(), monday, seen.clientName()), stop(page, tom, monday.plusDays(1), CLIENTS.get(2)), null);
		assertThat(page.locator(".week-notice")).containsText("Somebody else changed this stop");
		assertThat(clients(page, tom, monday.plusDays(3))).hasText(new String[]{ seen.clientName() });
		screenshot(page, "week-notice-" + DESKTOP_WIDTH);
	}

	@ParameterizedTest
	@ValueSource(ints = { PHONE_WIDTH, DESKTOP_WIDTH })
	void weekPagesFitTheScreenAndAreAccessible(int width) {
		StopLine missed = TenantContext.runAs(here.company, () -> route.week(here.company, monday)).stops().get(2);
		TenantContext.runAs(here.company, () -> route.markMissed(here.company,
				new RouteService.MarkMissed(missed.id(), missed.version(), MissedReason.DOG, "loose")));
		here.done(TenantContext.runAs(here.company, () -> route.week(here.company, monday)).stops().get(0));
		// The phone in the dark theme, the desk in the light one, as everywhere: EveryPageIT has the rest.
		boolean dark = width == PHONE_WIDTH;
		Page page = week(width, dark);
		screenshot(page, "week-" + width + (dark ? "-dark" : ""));
		assertAccessible(page);
		assertFits(page);
		page.click(".week-stop[data-stop] a");
		assertThat(page.locator("h1")).containsText("Stop at");
		screenshot(page, "stop-" + width + (dark ? "-dark" : ""));
		assertAccessible(page);
		page.navigate(url("/week/schedules"));
		assertAccessible(page);
		page.click("text=Add a schedule");
		page.selectOption("#weekday", "TUESDAY");
		page.selectOption("#technician", tom.toString());
		screenshot(page, "schedule-" + width + (dark ? "-dark" : ""));
		assertAccessible(page);
		assertFits(page);
		page.click("button.primary");
		assertThat(page.locator("[role=status]")).hasText("Saved.");
		page.navigate(url("/week/schedules"));
		screenshot(page, "schedules-" + width + (dark ? "-dark" : ""));
		page.navigate(url("/week/day?technician=" + lena.user().person() + "&on=" + monday));
		screenshot(page, "day-" + width + (dark ? "-dark" : ""));
		assertAccessible(page);
		page.navigate(url("/week/stops/new"));
		assertAccessible(page);
	}

	@ParameterizedTest
	@ValueSource(ints = { PHONE_WIDTH, DESKTOP_WIDTH })
	void todayFitsThePhoneAndIsAccessible(int width) {
		boolean dark = width == PHONE_WIDTH;
		Page page = open(width, dark);
		signIn(page, lena.email(), TestCompanies.PASSWORD);
		assertThat(page).hasURL(url("/today"));
		assertThat(page.locator(".today-stop h2")).hasCount(6);
		Locator first = page.locator(".today-stop").first();
		assertThat(first.locator(".today-notes")).isHidden();
		first.getByText("Access notes").click();
		assertThat(first.locator(".today-notes")).containsText("Gate code 4100");
		assertThat(first.locator("a.today-map")).hasAttribute("href",
				java.util.regex.Pattern.compile("^geo:33\\.50000,-112\\.10000\\?q=14%20Juniper"));
		page.getByText("What to bring").click();
		screenshot(page, "today-" + width + (dark ? "-dark" : ""));
		assertAccessible(page);
		assertFits(page);
		page.navigate(url("/today?lang=es"));
		screenshot(page, "today-es-" + width + (dark ? "-dark" : ""));
		assertThat(page.locator("h1")).hasText("Hoy");
		page.navigate(url("/today?lang=en"));
		page.click("text=Day after");
		assertThat(page.locator("h1")).not().hasText("Today");
	}

	@Test
	void stopIsMovedByFormWithoutJavaScript() {
		Page page = openWithoutScript(DESKTOP_WIDTH);
		signIn(page, here.owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/week?from=" + monday));
		stop(page, lena.user().person(), monday, CLIENTS.get(5)).locator("a").first().click();
		page.selectOption("#day", monday.plusDays(4).toString());
		page.selectOption("#technician", tom.toString());
		page.click("button.primary");
		assertThat(clients(page, tom, monday.plusDays(4))).hasText(new String[]{ CLIENTS.get(5) });
		page.getByLabel(CLIENTS.get(1) + ": earlier in the day").first().click();
		assertThat(clients(page, lena.user().person(), monday).first()).hasText(CLIENTS.get(1));
	}

	private void addExtraStop(PoolId pool, PersonId technician, LocalDate day) {
		TenantContext.runAs(here.company,
				() -> route.addExtra(here.company, new RouteService.AddExtraStop(new StopId(UUID.randomUUID()), pool, technician, day)));
	}

	private Page week(int width, boolean dark) {
		Page page = open(width, dark);
		signIn(page, here.owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/week?from=" + monday));
		return page;
	}

	private static String cell(PersonId technician, LocalDate day) {
		return ".week-cell[data-technician='" + technician + "'][data-day='" + day + "']";
	}

	private static Locator clients(Page page, PersonId technician, LocalDate day) {
		return page.locator(cell(technician, day) + " .week-client");
	}

	private static Locator stop(Page page, PersonId technician, LocalDate day, String client) {
		return page.locator(cell(technician, day) + " .week-stop", new Page.LocatorOptions().setHasText(client));
	}

	/** Onto the upper half of the target: before it. */
	private void drag(Page page, Locator from, Locator to, String screenshot) {
		from.scrollIntoViewIfNeeded();
		BoundingBox start = from.boundingBox();
		BoundingBox end = to.boundingBox();
		page.mouse().move(start.x + start.width / 2, start.y + 12);
		page.mouse().down();
		page.mouse().move(start.x + start.width / 2 + 20, start.y + 30);
		page.mouse().move(end.x + end.width / 2, end.y + 4, new com.microsoft.playwright.Mouse.MoveOptions().setSteps(5));
		if (screenshot != null) {
			screenshot(page, screenshot);
		}
		page.mouse().up();
	}

}
