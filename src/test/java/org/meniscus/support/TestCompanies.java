package org.meniscus.support;

import java.time.ZoneId;
import java.util.Currency;
import java.util.UUID;

import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.company.TreatmentSettings;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.water.units.UnitSystem;
import org.springframework.boot.test.context.TestComponent;

/** Companies for tests; each call makes a new one, so tests do not see each other's rows. */
@TestComponent
public class TestCompanies {

	public static final String PASSWORD = "slow river under the old bridge";

	private final CompanyService companies;

	public TestCompanies(CompanyService companies) {
		this.companies = companies;
	}

	/** What a slice answers for a company that is in no database: US units, dollars, Phoenix, usual treatment. */
	public static CompanySettings settings(CompanyId company) {
		return new CompanySettings(company, 0, "Alder Pools", UnitSystem.US, ZoneId.of("America/Phoenix"), Currency.getInstance("USD"),
				TreatmentSettings.DEFAULTS);
	}

	/** A new company and its owner, with the address to sign in with. */
	public record TestUser(SignedInUser user, String email) {
	}

	public TestUser newCompany(UnitSystem units) {
		String email = "owner-" + UUID.randomUUID() + "@example.org";
		SignedInUser user = companies.signUp(new CompanyService.SignUp("Ozvarra Pool Care", units, ZoneId.of("America/Phoenix"),
				Currency.getInstance("USD"), "Ida Brook", email, PASSWORD));
		return new TestUser(user, email);
	}

}
