package org.meniscus.browser;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.UUID;

import com.microsoft.playwright.Download;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.FilePayload;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.client.ClientDetails;
import org.meniscus.client.ClientId;
import org.meniscus.client.ClientRecord;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.Role;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;

class ClientJourneyIT extends BrowserTest {

	private static final String GOOD_AND_BAD = """
			client,pool,surface,sanitizer,volume_gal,volume_certainty
			Tomas Vale,Pool,plaster,salt_cell,15000,measured
			June Ito,Pool,marble,salt_cell,lots,measured
			""";

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Autowired
	ClientService clientService;

	TestCompanies.TestUser office;

	CompanyId company;

	ClientId alma;

	PoolId pool;

	@BeforeEach
	void aClientWithAPool() {
		company = companies.newCompany(UnitSystem.US).user().company();
		office = rows.person(company, Role.OFFICE, "Olga Finch");
		UUID client = rows.client(company, "Alma Reyes", TestRows.columns("phone", "555 0101"));
		alma = new ClientId(client);
		pool = new PoolId(rows.pool(company, client, "Back pool", TestRows.columns("street", "12 Juniper Way", "town", "Chandler")));
	}

	@Test
	void clientAndPoolAreAddedAndInvalidInputIsShownAgain() {
		Page page = signedIn(DESKTOP_WIDTH, false, "/clients");
		page.click("text=Add a client");
		page.fill("#email", "no address");
		page.fill("#name", "   ");
		page.click("main button.primary");
		assertThat(page.locator("#name-error")).hasText("Please fill this in.");
		assertThat(page.locator("#email-error")).hasText("This does not look like an e-mail address.");
		assertThat(page.locator("#email")).hasValue("no address");
		page.fill("#name", "<i>Vale</i> & Sons");
		page.fill("#email", "vale@example.org");
		page.selectOption("#language", "es");
		page.click("main button.primary");
		assertThat(page.locator("h1")).hasText("<i>Vale</i> & Sons");
		assertThat(page.locator("dl.facts")).containsText("Spanish");

		page.click("main a:has-text(\"Add a pool\")");
		page.selectOption("#surface", "VINYL");
		page.fill("#latitude", "95");
		page.fill("#volume", "a lot");
		page.fill("#fillPh", "12");
		page.fill("#monthlyFee", "-3");
		page.locator("button.primary").click();
		assertThat(page.locator("#sanitizer-error")).hasText("Please choose.");
		assertThat(page.locator("#latitude-error")).hasText("Please enter a figure from -90 to 90.");
		assertThat(page.locator("#longitude-error")).hasText("Latitude and longitude go together.");
		assertThat(page.locator("#volume-error")).hasText("Please enter a number.");
		assertThat(page.locator("#volume")).hasValue("a lot");
		assertThat(page.locator("#fillPh-error")).containsText("from 4 to 10");
		assertThat(page.locator("#monthlyFee-error")).containsText("Please enter a figure from 0");
		assertAccessibleAndSave(page, "pool-refused-" + DESKTOP_WIDTH);
		page.selectOption("#sanitizer", "SALT_CELL");
		page.fill("#latitude", "");
		page.fill("#volume", "");
		page.fill("#fillPh", "7.9");
		page.fill("#monthlyFee", "129.50");
		page.selectOption("#shape", "RECTANGLE");
		page.fill("#length", "32");
		page.fill("#width", "16");
		page.fill("#shallow", "3.5");
		page.fill("#deep", "8");
		page.locator("#deep").blur();
		// 32 × 16 × 5.75 ft = 2,944 ft³, × 1728/231 = 22,022.6 gal (own arithmetic)
		page.click("text=Take 22,023 gal as the volume");
		assertThat(page.locator("#volume")).hasValue("22023");
		assertThat(page.locator("#certainty")).hasValue("CALCULATED");
		page.locator("button.primary").click();
		assertThat(page.locator(".notice")).hasText("The pool has been added.");
		assertThat(page.locator("article")).containsText("22,023 gal");
	}

	@Test
	void archivedClientsAreFoundAndRestored() {
		Page page = signedIn(PHONE_WIDTH, false, "/clients");
		page.fill("#q", "juniper");
		assertThat(page.locator("#clients-found")).containsText("Alma Reyes");
		page.fill("#q", "nobody");
		assertThat(page.locator("#clients-found")).containsText("Nothing found.");
		page.navigate(url("/clients/" + alma));
		page.click("text=Archive this client");
		assertThat(page.locator("h1 .tag")).hasText("archived");
		page.navigate(url("/clients"));
		assertThat(page.locator("#clients-found")).not().containsText("Alma Reyes");
		page.check("#archived");
		assertThat(page.locator("#clients-found")).containsText("Alma Reyes");
		page.click("text=Alma Reyes");
		page.click("text=Restore this client");
		assertThat(page.locator("h1 .tag")).hasCount(0);
	}

	@Test
	void concurrentEditIsRejectedAndInputIsKept() {
		Page page = signedIn(DESKTOP_WIDTH, false, "/clients/" + alma + "/edit");
		ClientRecord seen = TenantContext.runAs(company, () -> clientService.client(company, alma));
		TenantContext.runAs(company,
				() -> clientService.change(company, alma, seen.version(), new ClientDetails("Alma Reyes", null, "555 0199", "en", null)));
		page.fill("#phone", "555 0222");
		page.click("main button.primary");
		assertThat(page.locator(".problems")).containsText("Somebody else changed this");
		assertThat(page.locator("#phone")).hasValue("555 0222");
		org.assertj.core.api.Assertions
			.assertThat(TenantContext.runAs(company, () -> clientService.client(company, alma)).details().phone())
			.isEqualTo("555 0199");
		page.click("main button.primary");
		assertThat(page.locator("dl.facts")).containsText("555 0222");
	}

	@Test
	void poolCanHaveItsOwnTargetRanges() {
		Page page = signedIn(DESKTOP_WIDTH, true, "/pools/" + pool + "/targets");
		page.fill("#CYA-acceptableLow", "20");
		page.fill("#CYA-idealLow", "40");
		page.fill("#CYA-idealHigh", "35");
		page.fill("#FC-idealLow", "3");
		page.fill("#PH-acceptableLow", "acid");
		page.locator("button.primary").click();
		assertThat(page.locator("#CYA-idealHigh-error")).hasText("Not less than 40, please.");
		assertThat(page.locator("#CYA-acceptableHigh-error")).hasText("Fill in all four, or none.");
		assertThat(page.locator("#FC-idealHigh-error")).hasText("Fill in all four, or none.");
		assertThat(page.locator("#PH-acceptableLow-error")).hasText("Please enter a number.");
		assertThat(page.locator("#PH-acceptableLow")).hasValue("acid");
		assertAccessibleAndSave(page, "pool-targets-refused-" + DESKTOP_WIDTH + "-dark");
		page.fill("#CYA-idealHigh", "60");
		page.fill("#CYA-acceptableHigh", "90");
		page.fill("#FC-idealLow", "");
		page.fill("#PH-acceptableLow", "");
		page.locator("button.primary").click();
		assertThat(page.locator("[role=status]")).hasText("Saved.");
		assertThat(page.locator("fieldset", new Page.LocatorOptions().setHasText("this pool's own"))).hasCount(1);
		Range own = TenantContext.runAs(company, () -> clientService.pool(company, pool)).facts().targets().range(Level.CYA);
		org.assertj.core.api.Assertions.assertThat(own)
			.extracting(Range::acceptableLow, Range::idealLow, Range::idealHigh, Range::acceptableHigh)
			.containsExactly(20.0, 40.0, 60.0, 90.0);
		page.navigate(url("/clients/targets?body=POOL"));
		for (String limit : List.of("TA-acceptableLow=60", "TA-idealLow=70", "TA-idealHigh=90", "TA-acceptableHigh=120")) {
			page.fill("#" + limit.split("=")[0], limit.split("=")[1]);
		}
		page.locator("button.primary").click();
		page.navigate(url("/pools/" + pool + "/targets"));
		assertThat(page.locator("#TA-otherwise")).containsText("Empty: ideal 70 to 90, acceptable 60 to 120 (set by the company)");
	}

	@Test
	void importIsPreviewedBeforeSaving() {
		Page page = signedIn(PHONE_WIDTH, false, "/clients/import");
		page.click("text=Read the file");
		assertThat(page.locator("#file-error")).hasText("Please choose a file first.");
		page.setInputFiles("#file", new FilePayload("big.csv", "text/csv", new byte[3 * 1024 * 1024]));
		page.click("text=Read the file");
		assertThat(page.locator("#file-error")).containsText("The file is larger than 1 MB.");
		page.setInputFiles("#file", new FilePayload("clients.csv", "text/csv", GOOD_AND_BAD.getBytes(StandardCharsets.UTF_8)));
		page.click("text=Read the file");
		assertThat(page.locator(".lead")).hasText("One line can be taken; one line has a mistake; none is there already.");
		assertThat(page.locator("table").first().locator("tbody tr")).hasCount(2);
		assertThat(page.locator("table").first()).containsText("Must be one of: plaster, pebble");
		assertAccessibleAndSave(page, "import-preview-" + PHONE_WIDTH);
		page.setViewportSize(DESKTOP_WIDTH, 900);
		assertAccessibleAndSave(page, "import-preview-" + DESKTOP_WIDTH);
		page.navigate(url("/clients"));
		assertThat(page.locator("#clients-found")).not().containsText("Tomas Vale");
		page.goBack();
		page.click("text=Store the one good line");
		assertThat(page.locator(".notice")).hasText("Stored: one client, one pool. One line was left out.");
		page.navigate(url("/clients/export"));
		Download download = page.waitForDownload(() -> page.click("text=Download without access notes"));
		org.assertj.core.api.Assertions.assertThat(download.path()).content(StandardCharsets.UTF_8)
			.startsWith("\uFEFFclient,email,phone")
			.contains("Tomas Vale")
			.doesNotContain("access_notes");
	}

	private Page signedIn(int width, boolean dark, String path) {
		Page page = open(width, dark);
		signIn(page, office.email(), TestCompanies.PASSWORD);
		page.navigate(url(path));
		return page;
	}

	private void assertAccessibleAndSave(Page page, String name) {
		screenshot(page, name);
		assertAccessible(page);
		assertFits(page);
	}

}
