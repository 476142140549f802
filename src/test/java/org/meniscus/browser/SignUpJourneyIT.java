package org.meniscus.browser;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;

import java.util.UUID;

import com.microsoft.playwright.Page;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;

class SignUpJourneyIT extends BrowserTest {

	@Autowired
	TestCompanies companies;

	@ParameterizedTest
	@ValueSource(ints = { PHONE_WIDTH, DESKTOP_WIDTH })
	void companySignsUpByKeyboardAndOwnerIsSignedIn(int width) {
		Page page = open(width, width == PHONE_WIDTH);
		page.navigate(url("/signup"));
		screenshot(page, "signup-" + width);
		String email = "June-" + UUID.randomUUID() + "@example.org";
		page.focus("#companyName");
		type(page, "Quombley Pools", "Tab");
		page.keyboard().press("M");
		page.keyboard().press("Tab");
		page.keyboard().type("America/Denver");
		page.keyboard().press("Tab");
		page.keyboard().press("Tab");
		type(page, "June Marlow", "Tab");
		type(page, email, "Tab");
		type(page, "Quombley Pools 123", "Enter");

		assertThat(page.locator(".problems")).isFocused();
		assertThat(page.locator("#password-error")).containsText("mostly a name that belongs to you");
		assertThat(page.locator("#password")).hasValue("");
		assertThat(page.locator("#companyName")).hasValue("Quombley Pools");
		assertThat(page.locator("#units")).hasValue("METRIC");
		assertThat(page.locator("#zone")).hasValue("America/Denver");
		assertThat(page.locator("#email")).hasValue(email);
		screenshot(page, "signup-refused-" + width);

		page.focus("#password");
		type(page, "  nine herons walk the weir ", "Enter");
		assertThat(page.locator("header.top")).containsText("Quombley Pools");
		assertThat(page.locator("header.top")).containsText("June Marlow");

		page.getByText("Sign out").click();
		signIn(page, email, "  nine herons walk the weir ");
		assertThat(page.locator("header.top")).containsText("June Marlow");
	}

	@Test
	void emailAlreadyInUseIsRejectedOnItsField() {
		TestCompanies.TestUser owner = companies.newCompany(UnitSystem.US);
		Page page = openWithoutScript(DESKTOP_WIDTH);
		fill(page, owner.email().toUpperCase(java.util.Locale.ROOT), "nine herons walk the weir");
		assertThat(page.locator("#email-error")).containsText("cannot be used for a new company");
		assertThat(page.locator("header.top")).hasCount(0);
	}

	/** The answer was lost on its way and the form is sent again. */
	@Test
	void repeatedSignUpCreatesOneCompanyAndSignsIn() {
		String email = "june-" + UUID.randomUUID() + "@example.org";
		fill(openWithoutScript(DESKTOP_WIDTH), email, "nine herons walk the weir");
		Page again = openWithoutScript(DESKTOP_WIDTH);
		fill(again, email, "nine herons walk the weir");
		assertThat(again.locator("header.top")).containsText("June Marlow");
	}

	private void fill(Page page, String email, String password) {
		page.navigate(url("/signup"));
		page.fill("#companyName", "Quombley Pools");
		page.fill("#ownerName", "June Marlow");
		page.fill("#email", email);
		page.fill("#password", password);
		page.click("button.primary");
	}

	private static void type(Page page, String text, String then) {
		page.keyboard().type(text);
		page.keyboard().press(then);
	}

}
