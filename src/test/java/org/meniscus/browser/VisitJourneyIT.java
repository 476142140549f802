package org.meniscus.browser;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.UUID;
import java.util.regex.Pattern;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.assertions.LocatorAssertions;
import com.microsoft.playwright.options.FilePayload;
import com.microsoft.playwright.options.Media;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.client.PoolId;
import org.meniscus.platform.TenantContext;
import org.meniscus.route.RouteFixtures;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopId;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.visit.SamplePhotos;
import org.springframework.beans.factory.annotation.Autowired;

/** A technician's visit from the day's list to the stored page, in a real browser. */
class VisitJourneyIT extends BrowserTest {

	/** Working out a plan takes longer on a busy machine than the five seconds an assertion waits by itself. */
	private static final LocatorAssertions.HasTextOptions SLOW = new LocatorAssertions.HasTextOptions().setTimeout(30_000);

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	RouteService route;

	RouteFixtures here;

	TestCompanies.TestUser lena;

	PoolId pool;

	StopId stop;

	@BeforeEach
	void stopToday() {
		here = new RouteFixtures(companies, rows);
		lena = here.driver("Lena Ortiz");
		pool = here.pool("Rowan Hale", "14 Juniper Lane", "Gate code 4100");
		stop = new StopId(UUID.randomUUID());
		TenantContext.runAs(here.company, () -> {
			here.visit(pool, lena.user().person(), route.today(here.company));
			route.addExtra(here.company, new RouteService.AddExtraStop(stop, pool, lena.user().person(), route.today(here.company)));
		});
	}

	@ParameterizedTest
	@ValueSource(ints = { PHONE_WIDTH, DESKTOP_WIDTH })
	void visitIsTestedPlannedRecordedAndSaved(int width) {
		Page page = arrive(width, width == DESKTOP_WIDTH);
		screenshot(page, "visit-blank-" + width);
		assertAccessible(page);
		assertFits(page);
		String id = page.inputValue("input[name=id]");
		assertThat(UUID.fromString(id).version()).isEqualTo(7);
		enterReadings(page);
		page.click("text=Work out the plan");
		assertThat(page.locator("#visit-plan h2")).hasText("The plan", SLOW);
		assertThat(page.locator("#visit-plan")).isFocused();
		assertThat(page.locator("#visit-plan .rule").first()).containsText("out of range");
		assertStepsOpenAndDetailsFolded(page);
		assertThat(page.inputValue("input[name=id]")).isEqualTo(id);
		screenshot(page, "visit-plan-" + width);
		assertAccessible(page);
		assertFits(page);
		int line = page.locator("[name=doseProduct]").count();
		page.click("text=Add another product");
		assertThat(page.locator("#dose-" + line)).isFocused();
		page.locator("#dose-" + line).selectOption(new com.microsoft.playwright.options.SelectOption().setIndex(2));
		page.fill("#dose-amount-" + line, "1.5");
		page.selectOption("#dose-unit-" + line, isSolid(page, line) ? "LB" : "QT");
		page.check("#task-BRUSHED");
		page.locator("#visit-extras > summary").click();
		page.setInputFiles("#photos", new FilePayload[]{ new FilePayload("one.jpg", "image/jpeg", SamplePhotos.withPlace()),
				new FilePayload("two.jpg", "image/jpeg", SamplePhotos.plain()) });
		assertThat(page.locator("#visit-chosen img")).hasCount(2);
		page.click("text=Add another product");
		assertThat(page.locator("[name=doseProduct]")).hasCount(line + 2);
		assertThat(page.locator("#visit-chosen img").first()).isVisible();
		page.fill("#noteToClient", "<b>Sky</b> & \"sea\" <script>alert(1)</script>");
		submit(page);
		assertThat(page).hasURL(Pattern.compile("/visits/" + id));
		assertThat(page.locator("[role=status]")).hasText("The visit is stored.");
		assertThat(page.locator("body")).containsText("<b>Sky</b> & \"sea\" <script>alert(1)</script>");
		assertThat(page.locator(".visit-photos img")).hasCount(2);
		page.evaluate("document.querySelectorAll('.visit-photos img').forEach(i => i.loading = 'eager')");
		page.waitForCondition(() -> (Boolean) page
			.evaluate("Array.from(document.querySelectorAll('.visit-photos img')).every(i => i.complete && i.naturalWidth > 0)"));
		// The deferred script of the stored page takes the draft away; the pictures may be there before it.
		page.waitForCondition(
				() -> page.evaluate("Object.keys(localStorage).filter(k => k.startsWith('meniscus-visit')).length").equals(0));
		screenshot(page, "visit-stored-" + width);
		assertAccessible(page);
		assertFits(page);
		page.click("text=Correct this visit");
		screenshot(page, "visit-correct-" + width);
		assertAccessible(page);
		assertFits(page);
		page.fill("#ph", "7.6");
		page.click("text=Store the correction");
		assertThat(page.locator("#reason-problem-0")).isVisible();
		page.fill("#reason", "read the wrong line");
		page.click("text=Store the correction");
		assertThat(page.locator("[role=status]")).hasText("The correction is stored.");
		assertThat(page.locator("body")).containsText("read the wrong line");
		page.navigate(url("/today"));
		assertThat(page.locator(".today-stop.today-DONE")).hasCount(1);
	}

	@Test
	void multiDayPlanIsShownAtTheNextVisitAndOnTheDayPage() {
		Page page = arrive(PHONE_WIDTH, false);
		enterReadings(page);
		page.selectOption("#situation", "GREEN_ALGAE_LIGHT");
		page.click("text=Work out the plan");
		assertThat(page.locator("#visit-plan h2")).hasText("The plan", SLOW);
		submit(page);
		assertThat(page.locator("[role=status]")).hasText("The visit is stored.");
		TenantContext.runAs(here.company, () -> {
			route.addExtra(here.company, new RouteService.AddExtraStop(new StopId(UUID.randomUUID()), pool, lena.user().person(),
					route.today(here.company).plusDays(1)));
		});
		page.navigate(url("/visit?pool=" + pool));
		assertThat(page.locator("#visit-h-active-plan")).containsText("(Green tint, bottom visible)");
		page.locator(".visit-active-plan summary").click();
		screenshot(page, "visit-active-plan-" + PHONE_WIDTH);
		assertAccessible(page);
		assertFits(page);
		page.navigate(
				url("/today?on=" + TenantContext.<java.time.LocalDate>runAs(here.company, () -> route.today(here.company)).plusDays(1)));
		assertThat(page.locator(".today-active-plan")).containsText("Continues the plan of");
		screenshot(page, "today-active-plan-" + PHONE_WIDTH);
		assertAccessible(page);
		assertFits(page);
	}

	@Test
	void impossibleReadingIsRejectedAndUnlikelyReadingIsConfirmedOnce() {
		Page page = arrive(PHONE_WIDTH, true);
		page.fill("#fc", "3");
		page.fill("#ph", "74");
		page.fill("#ta", "8o");
		page.click("text=Work out the plan");
		assertThat(page.locator("#ph-problem-0")).isVisible();
		assertThat(page.locator("#ta-problem-0")).containsText("8o");
		assertThat(page.locator("#ta")).hasValue("8o");
		screenshot(page, "visit-refused-" + PHONE_WIDTH);
		assertAccessible(page);
		page.fill("#ph", "8.6");
		page.fill("#ta", "80");
		page.click("text=Work out the plan");
		page.check("#ph-confirm-0");
		screenshot(page, "visit-asked-" + PHONE_WIDTH);
		while (page.locator("input[type=checkbox][name=confirm]:not(:checked)").count() > 0) {
			page.locator("input[type=checkbox][name=confirm]:not(:checked)").first().check();
		}
		page.click("text=Work out the plan");
		assertThat(page.locator("#visit-plan h2")).hasText("The plan", SLOW);
		page.click("text=Hand in the visit");
		assertThat(page.locator("[role=status]")).hasText("The visit is stored.");
	}

	@Test
	void inputIsRestoredAfterTheSessionExpires() {
		Page page = arrive(PHONE_WIDTH, false);
		enterReadings(page);
		page.click("text=Work out the plan");
		assertThat(page.locator("#visit-plan h2")).hasText("The plan", SLOW);
		String id = page.inputValue("input[name=id]");
		page.locator("#visit-extras > summary").click();
		page.fill("#noteToOffice", "Pump is loud");
		page.context().clearCookies();
		page.click("text=Hand in the visit");
		page.waitForURL(address -> address.contains("/signin"));
		page.fill("#email", lena.email());
		page.fill("#password", TestCompanies.PASSWORD);
		page.click("button.primary");
		page.waitForURL(address -> address.contains("/visit?"));
		assertThat(page.locator(".visit-notice")).containsText("This is what you had typed before");
		assertThat(page.locator("#fc")).hasValue("0.5");
		assertThat(page.locator("#noteToOffice")).hasValue("Pump is loud");
		assertThat(page.locator("#visit-plan")).isVisible();
		assertThat(page.inputValue("input[name=id]")).isEqualTo(id);
		screenshot(page, "visit-draft-" + PHONE_WIDTH);
		assertAccessible(page);
		submit(page);
		assertThat(page).hasURL(Pattern.compile("/visits/" + id));
	}

	@Test
	void visitWorksWithoutJavaScript() {
		Page page = openWithoutScript(PHONE_WIDTH);
		signIn(page, lena.email(), TestCompanies.PASSWORD);
		page.navigate(url("/visit?pool=" + pool + "&stop=" + stop));
		page.fill("#fc", "2");
		page.fill("#ph", "7.5");
		page.click("text=Work out the plan");
		assertThat(page.locator("#visit-plan h2")).hasText("The plan", SLOW);
		page.click("text=Add another product");
		assertThat(page.locator("#fc")).hasValue("2");
		assertThat(page.locator("#fc")).isHidden();
		page.locator("#visit-h-test + details > summary").click();
		assertThat(page.locator("#fc")).isVisible();
		page.setInputFiles("#photos", new FilePayload("one.jpg", "image/jpeg", SamplePhotos.plain()));
		submit(page);
		assertThat(page.locator("[role=status]")).hasText("The visit is stored.");
		assertThat(page.locator(".visit-photos img")).hasCount(1);
	}

	/**
	 * Stabilizer of 40 ppm asks for a free chlorine of 2.0 at least (a twentieth: Falk et al. 2019, from memory), and a week uses up more
	 * on top of it than the ceiling allows: the dose aims at the ceiling. Amounts by definition: 60 m³ take 60 g of chlorine for 1 ppm;
	 * 12.5 trade percent are 125 g in a litre, so 108 g are 29.2 fl oz and 78 g are 21.1; calcium hypochlorite of 65 % brings 78 g with
	 * 4.2 oz. Whatever would pass the ceiling is measured out a step less.
	 */
	@Test
	void treatmentSettingsApplyToTheTechniciansNextPlan() {
		TenantContext.runAs(here.company, () -> {
			route.addExtra(here.company, new RouteService.AddExtraStop(new StopId(UUID.randomUUID()), pool, lena.user().person(),
					route.today(here.company).plusDays(7)));
		});
		Page owner = openSecondDevice(DESKTOP_WIDTH);
		signIn(owner, here.owner.email(), TestCompanies.PASSWORD);
		Page page = arrive(PHONE_WIDTH, false);
		enterReadings(page);
		page.fill("#fc", "2.2");
		page.fill("#tc", "2.2");
		page.fill("#ph", "7.4");
		Locator step = page.locator(".visit-step").first();
		page.click("text=Work out the plan");
		assertThat(step.locator(".visit-step-title")).hasText("Add 29 fl oz of Liquid chlorine 12.5 trade %", SLOW);
		assertThat(step).containsText("Free chlorine 2.2 ppm would not last 7 days: raised to 4.0 ppm");
		assertThat(page.locator("#visit-plan")).containsText("Free chlorine tests from 2.0 ppm to 4.0 ppm");

		owner.navigate(url("/company/treatment"));
		owner.fill("#fcSwimCeiling", "3.5");
		owner.click("main button.primary");
		assertThat(owner.locator("[role=status]")).containsText("Saved.");
		planAgain(page);
		assertThat(step.locator(".visit-step-title")).hasText("Add 21 fl oz of Liquid chlorine 12.5 trade %", SLOW);
		assertThat(step).containsText("Free chlorine 2.2 ppm would not last 7 days: raised to 3.5 ppm");
		assertThat(page.locator("#visit-plan")).containsText("Free chlorine tests from 2.0 ppm to 3.5 ppm");
		assertThat(page.locator("#dose-amount-0")).hasValue("21");

		prefer(owner, "Liquid chlorine 12.5 trade %", "NEVER");
		planAgain(page);
		assertThat(step.locator(".visit-step-title")).hasText(Pattern.compile("Add .* of (?!Liquid chlorine 12.5 trade %)"), SLOW);
		assertThat(step.locator("details")).containsText("Liquid chlorine 12.5 trade %: the company does not use it in plans");

		prefer(owner, "Calcium hypochlorite 65 % granular", "FIRST");
		planAgain(page);
		assertThat(step.locator(".visit-step-title")).hasText("Add 4 oz of Calcium hypochlorite 65 % granular", SLOW);
		assertThat(step.locator("details")).containsText("would do as well, but is not the first choice here");
		assertThat(page.locator("#dose-0 option:checked")).hasText("Calcium hypochlorite 65 % granular");
	}

	/** With a plan there, the test is folded. */
	private static void planAgain(Page page) {
		page.locator("#visit-h-test + details > summary").click();
		page.click("text=Work out the plan");
	}

	@Test
	void tabletsArePlannedWhereAFloaterIsAllowedAndCountedAtTheNextVisit() {
		TenantContext.runAs(here.company, () -> {
			route.addExtra(here.company, new RouteService.AddExtraStop(new StopId(UUID.randomUUID()), pool, lena.user().person(),
					route.today(here.company).plusDays(7)));
		});
		Page page = arrive(PHONE_WIDTH, true);
		enterReadings(page);
		page.click("text=Work out the plan");
		assertThat(page.locator(".visit-step").first()).isVisible();
		assertThat(page.locator(".visit-step-title").getByText("Trichlor")).hasCount(0);

		Page owner = openSecondDevice(DESKTOP_WIDTH);
		signIn(owner, here.owner.email(), TestCompanies.PASSWORD);
		owner.navigate(url("/pools/" + pool + "/edit"));
		owner.selectOption("#sanitizer", "FLOATER");
		owner.click("main button.primary");
		owner.waitForURL(address -> !address.endsWith("/edit"));
		assertThat(owner.locator("[role=status]")).containsText("Saved.");
		// Whether they pay depends on the season: wanted first, they are planned all year.
		prefer(owner, "Trichlor tablets 8 oz", "FIRST");

		planAgain(page);
		Locator step = page.locator(".visit-step:has(.visit-step-title:has-text('Trichlor tablets'))");
		assertThat(step.locator(".visit-step-title")).hasText(Pattern.compile("Add \\d tablets, 3-inch \\(.*\\) of Trichlor tablets"),
				SLOW);
		assertThat(step).containsText("never in the skimmer");
		assertThat(step).containsText("that never held another chlorine");
		Locator dose = page.locator(".visit-dose:has(option:checked:has-text('Trichlor tablets'))");
		assertThat(dose.locator("[name=doseAmount]")).hasValue(Pattern.compile("\\d"));
		assertThat(dose.locator("[name=doseUnit]")).hasValue("TABLET");
		String count = dose.locator("[name=doseAmount]").inputValue();
		assertThat(step.locator(".visit-step-title")).containsText("Add " + count + " tablet");
		assertThat(dose.locator(".visit-dose-planned")).hasText(Pattern.compile("plan: " + count + " tablets?"));
		screenshot(page, "visit-tablets-" + PHONE_WIDTH);
		assertAccessible(page);
		assertFits(page);
		submit(page);
		assertThat(page.locator("body")).containsText("Trichlor tablets");
		assertThat(page.locator("body")).containsText(count + " tablets (");

		page.navigate(url("/visit?pool=" + pool));
		page.locator("summary", new Page.LocatorOptions().setHasText("Last visit")).click();
		assertThat(page.locator("details[open]", new Page.LocatorOptions().setHasText("Last visit")))
			.containsText(Pattern.compile("Trichlor tablets 8 oz: \\d tablets"));
		enterReadings(page);
		page.fill("#fc", "3");
		page.fill("#tc", "3");
		page.click("text=Work out the plan");
		assertThat(page.locator("#visit-plan")).containsText("Tablets of earlier visits count for",
				new LocatorAssertions.ContainsTextOptions().setTimeout(30_000));
	}

	/** On the form of the product. */
	private void prefer(Page owner, String product, String preference) {
		owner.navigate(url("/products"));
		owner.locator("main").getByText(product).click();
		owner.locator(".page-head >> text=Edit").click();
		owner.check("#preference-" + preference);
		owner.click("main button.primary");
		assertThat(owner.locator(".notice")).hasText("Saved.");
	}

	@Test
	void technicianSeesTheVisitInSpanish() {
		Page page = arrive(PHONE_WIDTH, false);
		page.navigate(url("/visit?pool=" + pool + "&stop=" + stop + "&lang=es"));
		enterReadings(page);
		page.click("text=Calcular el plan");
		assertThat(page.locator("#visit-plan h2")).hasText("El plan", SLOW);
		screenshot(page, "visit-es-" + PHONE_WIDTH);
		assertThat(page.locator("body")).not().containsText("??");
	}

	/** Steps, cautions, waits and conditions are there to be read; a fold says what is in it and opens by keyboard, on paper by itself. */
	private static void assertStepsOpenAndDetailsFolded(Page page) {
		Locator plan = page.locator("#visit-plan");
		Locator steps = plan.locator(".visit-step");
		assertThat(steps).hasCount(2);
		for (Locator step : steps.all()) {
			assertThat(step.locator(".visit-step-title")).isVisible();
			assertThat(step.getByText("fire or poison gas")).isVisible();
			assertThat(step.getByText("No swimming for ")).isVisible();
			assertThat(step.locator("details > ul")).isHidden();
		}
		assertThat(plan.getByText("Chlorine and acid never meet")).isVisible();
		assertThat(plan.getByText("Not before ")).isVisible();
		assertThat(plan.getByText("Free chlorine tests from ")).isVisible();
		Locator water = plan.locator("details:has(.rules)");
		Locator rule = water.locator(".rule").first();
		assertThat(water.locator("summary")).containsText("out of range: FC, pH");
		assertThat(rule).isHidden();
		page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.PRINT));
		assertThat(rule).isVisible();
		page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.SCREEN));
		assertThat(rule).isHidden();
		assertThat((Integer) page.evaluate("document.documentElement.scrollHeight")).as("pixels to scroll through").isLessThan(4000);
		water.locator("summary").press("Enter");
		assertThat(rule).isVisible();
	}

	private Page arrive(int width, boolean dark) {
		Page page = open(width, dark);
		signIn(page, lena.email(), TestCompanies.PASSWORD);
		page.locator(".today-stop a", new Page.LocatorOptions().setHasText("Start the visit")).click();
		assertThat(page.locator("h1")).containsText("Rowan Hale");
		return page;
	}

	private static void enterReadings(Page page) {
		page.fill("#fc", "0.5");
		page.fill("#tc", "0.7");
		page.fill("#ph", "7.9");
		page.fill("#ta", "90");
		page.fill("#ch", "280");
		page.fill("#cya", "40");
		page.fill("#temperature", "82");
	}

	/** Hands in; ticks whatever is asked about once. */
	private static void submit(Page page) {
		page.click("#visit-form button[value=submit]");
		Locator asked = page.locator("input[type=checkbox][name=confirm]:not(:checked)");
		page.waitForCondition(() -> page.url().contains("/visits/") || asked.count() > 0);
		if (!page.url().contains("/visits/")) {
			while (asked.count() > 0) {
				asked.first().check();
			}
			page.click("#visit-form button[value=submit]");
			page.waitForURL(address -> address.contains("/visits/"));
		}
	}

	private static boolean isSolid(Page page, int line) {
		String name = (String) page.evaluate("n => { const s = document.getElementById('dose-' + n); return s.selectedOptions[0].text; }",
				line);
		return !List.of("liquid", "muriatic").stream().anyMatch(name.toLowerCase(java.util.Locale.ROOT)::contains);
	}

}
