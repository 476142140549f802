package org.meniscus.support;

import java.time.ZoneId;
import java.util.Currency;
import java.util.UUID;

import org.meniscus.company.CompanyRegister;
import org.meniscus.platform.SignedIn;
import org.meniscus.water.UnitSystem;
import org.springframework.boot.test.context.TestComponent;

/** Companies for tests; each call makes a new one, so tests do not see each other's rows. */
@TestComponent
public class TestCompanies {

	public static final String PASSWORD = "slow river under the old bridge";

	private final CompanyRegister register;

	public TestCompanies(CompanyRegister register) {
		this.register = register;
	}

	/** A new company and its owner, with the address to sign in with. */
	public record Owner(SignedIn user, String email) {
	}

	public Owner newCompany(UnitSystem units) {
		String email = "owner-" + UUID.randomUUID() + "@example.org";
		SignedIn user = register.signUp(new CompanyRegister.SignUp("Brookfield Pool Care", units, ZoneId.of("America/Phoenix"),
				Currency.getInstance("USD"), "Ida Brook", email, PASSWORD));
		return new Owner(user, email);
	}

}
