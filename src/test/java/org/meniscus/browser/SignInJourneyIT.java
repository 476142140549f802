package org.meniscus.browser;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;

import com.microsoft.playwright.Page;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;

class SignInJourneyIT extends BrowserTest {

	@Autowired
	TestCompanies companies;

	@ParameterizedTest
	@ValueSource(ints = { PHONE_WIDTH, DESKTOP_WIDTH })
	void wrongPasswordIsRejectedAndCorrectPasswordSignsIn(int width) {
		TestCompanies.TestUser owner = companies.newCompany(UnitSystem.US);
		Page page = open(width, width == PHONE_WIDTH);
		page.navigate(url("/signin"));
		page.fill("#email", owner.email());
		page.fill("#password", "not the password at all");
		page.click("button.primary");
		assertThat(page.locator("[role=alert]")).containsText("do not belong together");
		screenshot(page, "signin-" + width);
		signIn(page, owner.email(), TestCompanies.PASSWORD);
		assertThat(page.locator("header.top")).containsText("Ozvarra Pool Care");
		screenshot(page, "after-signin-" + width);
	}

	@Test
	void unknownPageIsReportedInsideTheLayout() {
		TestCompanies.TestUser owner = companies.newCompany(UnitSystem.US);
		Page page = open(DESKTOP_WIDTH, false);
		signIn(page, owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/nothing-here"));
		assertThat(page.locator("h1")).hasText("Not here");
	}

}
