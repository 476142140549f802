package org.meniscus.browser;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Page;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.company.CompanyRegister;
import org.meniscus.company.CompanySettings;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;

class CompanyJourneyIT extends BrowserTest {

	@Autowired
	TestCompanies companies;

	@Autowired
	CompanyRegister register;

	@ParameterizedTest
	@ValueSource(ints = { PHONE, DESK })
	void theOwnerChangesTheCompanyAndOfTwoAtOnceTheSecondIsTold(int width) {
		TestCompanies.Owner owner = companies.newCompany(UnitSystem.US);
		Page page = open(width, width == DESK);
		signIn(page, owner.email(), TestCompanies.PASSWORD);
		page.navigate(url("/company"));
		screenshot(page, "company-" + width);
		Page beside = openBeside(width);
		signIn(beside, owner.email(), TestCompanies.PASSWORD);
		beside.navigate(url("/company"));

		page.fill("#fcSwimCeiling", "12");
		page.locator("#fcSwimCeiling").press("Enter");
		assertThat(page.locator("#fcSwimCeiling-error")).containsText("1 to 10 ppm");
		assertThat(page.locator("#fcSwimCeiling")).hasValue("12");
		page.fill("#fcSwimCeiling", "three");
		page.locator("#fcSwimCeiling").press("Enter");
		assertThat(page.locator("#fcSwimCeiling-error")).containsText("Please enter a number");
		assertThat(page.locator("#fcSwimCeiling")).hasValue("three");
		page.fill("#fcSwimCeiling", "3.5");
		page.selectOption("#units", "METRIC");
		page.locator("#fcSwimCeiling").press("Enter");
		assertThat(page.locator("[role=status]")).containsText("Saved.");

		beside.fill("#name", "Brookfield Pools & Spas");
		beside.locator("#name").press("Enter");
		assertThat(beside.locator("[role=alert]")).containsText("Somebody else changed this");
		assertThat(beside.locator("#name")).hasValue("Brookfield Pools & Spas");
		screenshot(beside, "company-stale-" + width);
		CompanySettings stored = register.settings(owner.user().company());
		assertThat(stored.name()).isEqualTo("Brookfield Pool Care");
		assertThat(stored.fcSwimCeiling()).isEqualTo(3.5);
		assertThat(stored.units()).isEqualTo(UnitSystem.METRIC);

		assertThat(beside.locator("#fcSwimCeiling")).hasValue("4");
		beside.fill("#fcSwimCeiling", "3,5");
		beside.locator("#name").press("Enter");
		assertThat(beside.locator("header.top")).containsText("Brookfield Pools & Spas");
		assertThat(register.settings(owner.user().company()).fcSwimCeiling()).as("compared and saved again").isEqualTo(3.5);
	}

}
