package org.meniscus.browser;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.UUID;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.company.PeopleService;
import org.meniscus.platform.Role;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;

class PeopleJourneyIT extends BrowserTest {

	private static final String PASSWORD = "nueve garzas por el canal";

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	PeopleService people;

	TestCompanies.TestUser owner;

	@BeforeEach
	void newCompany() {
		owner = companies.newCompany(UnitSystem.US);
	}

	@ParameterizedTest
	@ValueSource(ints = { PHONE_WIDTH, DESKTOP_WIDTH })
	void ownerInvitesATechnicianWhoJoinsInSpanish(int width) {
		String email = "theo-" + UUID.randomUUID() + "@example.org";
		Page page = open(width, width == PHONE_WIDTH);
		signIn(page, owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/people"));
		assertThat(page.locator(".empty")).containsText("Nobody else yet");
		page.getByText("Invite somebody").click();
		page.locator("#name").focus();
		page.keyboard().type("Teo Robles");
		page.keyboard().press("Tab");
		page.keyboard().type("not an address");
		// the browser's own check would stop it: the service must say it as well
		page.evaluate("document.querySelector('form[action$=invite]').noValidate = true");
		page.keyboard().press("Enter");
		assertThat(page.locator("#email-error")).containsText("does not look like an e-mail address");
		assertThat(page.locator("#name")).hasValue("Teo Robles");
		screenshot(page, "invite-refused-" + width);
		page.fill("#email", email);
		page.locator("#email").press("Enter");
		Locator link = page.locator("#link");
		assertThat(link).isVisible();
		String url = link.inputValue();
		screenshot(page, "people-invited-" + width);
		page.reload();
		assertThat(page.locator("#link")).hasCount(0);
		assertThat(page.locator("tbody tr", new Page.LocatorOptions().setHasText("Teo Robles"))).containsText("invited, until");

		Page theirs = open(width, width == DESKTOP_WIDTH);
		theirs.navigate(url);
		assertThat(theirs.locator("h1")).hasText("Join Ozvarra Pool Care");
		theirs.getByText("Español").click();
		assertThat(theirs.locator("h1")).hasText("Unirse a Ozvarra Pool Care");
		theirs.locator("#password").focus();
		theirs.keyboard().type("corta");
		theirs.keyboard().press("Enter");
		assertThat(theirs.locator("#password-error")).containsText("Use al menos 15 caracteres");
		screenshot(theirs, "join-es-" + width);
		theirs.locator("#password").fill(PASSWORD);
		theirs.locator("#password").press("Enter");
		assertThat(theirs.locator("header.top")).containsText("Teo Robles, técnico");
		theirs.getByText("Teo Robles").click();
		assertThat(theirs.locator("h1")).hasText("Su cuenta");
		theirs.navigate(url("/people"));
		assertThat(theirs.locator("h1")).hasText("No es para su función");

		theirs.navigate(url);
		assertThat(theirs.locator("h1")).hasText("Este enlace no sirve");
		screenshot(theirs, "join-used-" + width);
	}

	@Test
	void deactivationEndsTheSessionAndReactivationAllowsSignIn() {
		TestCompanies.TestUser theo = rows.person(owner.user().company(), Role.TECHNICIAN, "Theo Ashby");
		Page page = open(PHONE_WIDTH, false);
		signIn(page, theo.email(), TestCompanies.PASSWORD);
		page.navigate(url("/account"));
		assertThat(page.locator("h1")).hasText("Your account");
		people.deactivate(owner.user().company(), theo.user().person());
		page.navigate(url("/account"));
		assertThat(page).hasURL(url("/signin"));
		page.fill("#email", theo.email());
		page.fill("#password", TestCompanies.PASSWORD);
		page.click("button.primary");
		assertThat(page.locator("[role=alert]")).containsText("do not belong together");
		people.reactivate(owner.user().company(), theo.user().person());
		signIn(page, theo.email(), TestCompanies.PASSWORD);
		assertThat(page.locator("header.top")).containsText("Theo Ashby");
	}

	@ParameterizedTest
	@ValueSource(ints = { PHONE_WIDTH, DESKTOP_WIDTH })
	void ownerChangesARoleAndDeactivatesAPerson(int width) {
		TestCompanies.TestUser theo = rows.person(owner.user().company(), Role.TECHNICIAN, "Theo Ashby");
		Page page = open(width, width == DESKTOP_WIDTH);
		signIn(page, owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/people"));
		screenshot(page, "people-" + width);
		page.getByText("Theo Ashby").click();
		page.selectOption("#role", "OFFICE");
		page.getByText("Save").click();
		assertThat(page.locator("[role=status]")).containsText("Saved.");
		screenshot(page, "person-" + width);
		page.getByText("Make a link for a new password").click();
		assertThat(page.locator("#link")).hasValue(java.util.regex.Pattern.compile(".*/join/[A-Za-z0-9_-]{64}"));
		page.getByText("Theo Ashby").last().click();
		page.getByText("Deactivate").last().click();
		assertThat(page.locator("tbody tr", new Page.LocatorOptions().setHasText("Theo Ashby"))).containsText("has left");
		assertThat(people.person(owner.user().company(), theo.user().person()).summary().active()).isFalse();

		page.getByText("Ida Brook").last().click();
		page.getByText("Deactivate").last().click();
		assertThat(page.locator("[role=alert]")).containsText("This is the only owner");
		page.selectOption("#role", "OFFICE");
		page.getByText("Save").click();
		assertThat(page.locator("#role-error")).containsText("This is the only owner");
		screenshot(page, "person-last-owner-" + width);
	}

	@Test
	void passwordChangeNeedsTheOldOneAndSignsOutOtherDevices() {
		TestCompanies.TestUser theo = rows.person(owner.user().company(), Role.TECHNICIAN, "Theo Ashby");
		Page phone = open(PHONE_WIDTH, false);
		signIn(phone, theo.email(), TestCompanies.PASSWORD);
		Page desktop = openSecondDevice(DESKTOP_WIDTH);
		signIn(desktop, theo.email(), TestCompanies.PASSWORD);
		desktop.navigate(url("/account"));
		desktop.fill("#old", "not my password at all");
		desktop.fill("#password", PASSWORD);
		desktop.getByText("Change the password").click();
		assertThat(desktop.locator("#old-error")).containsText("not your password until now");
		screenshot(desktop, "account-refused-1280");
		desktop.fill("#old", TestCompanies.PASSWORD);
		desktop.fill("#password", PASSWORD);
		desktop.getByText("Change the password").click();
		assertThat(desktop.locator("[role=status]")).containsText("Other devices are signed out");
		desktop.reload();
		assertThat(desktop.locator("h1")).hasText("Your account");
		phone.navigate(url("/account"));
		assertThat(phone).hasURL(url("/signin"));
		signIn(phone, theo.email(), PASSWORD);
		phone.navigate(url("/account?lang=es"));
		assertThat(phone.locator("html")).hasAttribute("lang", "es");
		screenshot(phone, "account-es-390");
	}

	@Test
	void passwordGuessingIsThrottledWithAMessage() {
		String nobody = "nobody-" + UUID.randomUUID() + "@example.org";
		Page page = open(PHONE_WIDTH, true);
		page.navigate(url("/signin"));
		for (int i = 0; i < 6; i++) {
			assertThat(page.url()).as("attempt " + i).doesNotContain("wait");
			page.fill("#email", nobody);
			page.fill("#password", "guess number " + i);
			page.click("button.primary");
		}
		assertThat(page.locator("[role=alert]")).containsText("Too many attempts in a short time");
		screenshot(page, "signin-wait-390");
	}

}
