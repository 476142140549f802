package org.meniscus.company;

import java.time.Clock;
import java.time.ZoneId;
import java.util.Currency;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

import org.meniscus.platform.AuditTrail;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.TenantContext;
import org.meniscus.platform.TenantTransactions;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.water.units.UnitSystem;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.stereotype.Service;

/** Companies and their people. */
@Service
public class CompanyService {

	private final CompanyRepository companies;

	private final PersonRepository people;

	private final LoginRepository logins;

	private final PasswordEncoder passwords;

	private final UuidGenerator ids;

	private final Clock clock;

	private final TenantTransactions transactions;

	private final ApplicationEventPublisher events;

	private final AuditTrail audit;

	CompanyService(CompanyRepository companies, PersonRepository people, LoginRepository logins, PasswordEncoder passwords,
			UuidGenerator ids, Clock clock,
			TenantTransactions transactions, ApplicationEventPublisher events, AuditTrail audit) {
		this.companies = companies;
		this.people = people;
		this.logins = logins;
		this.passwords = passwords;
		this.ids = ids;
		this.clock = clock;
		this.transactions = transactions;
		this.events = events;
		this.audit = audit;
	}

	/** What the company has chosen for itself; one read of one row. */
	public CompanySettings settings(CompanyId company) {
		return transactions.call(company, () -> companies.findById(company.value()).map(Company::settings))
			.orElseThrow(() -> new NotFound("company"));
	}

	/** @throws StaleVersion when somebody else changed the company since the form was opened */
	public void change(CompanyId company, ChangeCompany command) {
		change(company, command.version(), "company.changed",
				stored -> stored.change(command.name(), command.units(), command.zone(), command.currency(), clock.instant()));
	}

	/** @throws StaleVersion when somebody else changed the company since the form was opened */
	public void changeTreatment(CompanyId company, long formVersion, TreatmentSettings rules) {
		change(company, formVersion, "company.treatment.changed", stored -> stored.change(rules, clock.instant()));
	}

	private void change(CompanyId company, long formVersion, String deed, Consumer<Company> verb) {
		try {
			transactions.run(company, () -> {
				Company stored = companies.findById(company.value()).orElseThrow(() -> new NotFound("company"));
				StaleVersion.requireCurrent(formVersion, stored.version(), "company");
				verb.accept(stored);
				audit.record(deed, company.toString(), Map.of());
			});
		}
		catch (OptimisticLockingFailureException ex) {
			throw new StaleVersion("company");
		}
	}

	/** Everybody who works or has worked for the company, by name. */
	public List<PersonSummary> people(CompanyId company) {
		return transactions.call(company,
				() -> people.findByCompanyIdOrderByName(company.value()).stream().map(Person::summary).toList());
	}

	/** A new company with its first owner. @throws AddressTaken when the address already signs in somewhere */
	public SignedInUser signUp(SignUp command) {
		CompanyId company = new CompanyId(ids.next());
		PersonId owner = new PersonId(ids.next());
		String hash = passwords.encode(command.password());
		return transactions.call(company, () -> {
			companies.save(new Company(company, command.companyName(), command.units(), command.zone(), command.currency(),
					clock.instant()));
			Person person = new Person(company, owner, command.ownerName(), command.email(), Role.OWNER, clock.instant());
			person.setPassword(hash, clock.instant());
			people.save(person);
			if (!logins.claim(command.email(), company, owner)) {
				throw new EmailTaken();
			}
			companies.flush();
			events.publishEvent(new CompanySignedUp(company));
			return person.toSignedInUser();
		});
	}

	/**
	 * Somebody who works for the company and can sign in at once, without an invitation.
	 *
	 * @param password as a person may choose it; it is the caller who holds to the rules for passwords
	 * @throws AddressTaken when the address already signs in somewhere
	 */
	public PersonId addWithPassword(CompanyId company, String name, String email, Role role, String password) {
		PersonId id = new PersonId(ids.next());
		String hash = passwords.encode(password);
		return transactions.call(company, () -> {
			Person person = new Person(company, id, name, email, role, clock.instant());
			person.setPassword(hash, clock.instant());
			people.save(person);
			companies.flush();
			if (!logins.claim(email, company, id)) {
				throw new EmailTaken();
			}
			return id;
		});
	}

	/** The company to which an address signs in. */
	public Optional<CompanyId> findCompanyByEmail(String email) {
		return transactions.lookUp(TenantContext.lookupKey(email), () -> logins.find(email))
			.map(LoginRepository.Login::company);
	}

	/** Whether no company has ever been stored here: row security hides other companies' rows, but not that there are any. */
	public boolean hasNoCompanies() {
		return logins.neverHeldRows();
	}

	/** Who this is, if address and password belong together; costs the same time whether the address is known or not. */
	Optional<SignedInUser> authenticate(String email, String password) {
		Optional<LoginRepository.Login> login = transactions.lookUp(TenantContext.lookupKey(email), () -> logins.find(email));
		Optional<Person> person = login.flatMap(found -> transactions.call(found.company(),
				() -> people.findByCompanyIdAndId(found.company().value(), found.person().value())));
		String hash = person.map(Person::passwordHash).orElse(null);
		boolean matches = passwords.matches(password, (hash != null) ? hash : dummyHash());
		return (matches && hash != null) ? person.map(Person::toSignedInUser) : Optional.empty();
	}

	private volatile String dummyHash = "";

	private String dummyHash() {
		if (dummyHash.isEmpty()) {
			dummyHash = passwords.encode("nobody has this password");
		}
		return dummyHash;
	}

	/** What a sign-up asks for. */
	public record SignUp(String companyName, UnitSystem units, ZoneId zone, Currency currency, String ownerName, String email,
			String password) {
	}

	/** The address already signs in, here or at another company. */
	public static class EmailTaken extends RuntimeException {
	}

}
