package org.meniscus.company;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyService.EmailTaken;
import org.meniscus.platform.AuditTrail;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.TenantTransactions;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.platform.security.Sessions;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.stereotype.Service;

/** Who works for a company: inviting, roles, leaving, passwords. */
@Service
public class PeopleService {

	/** How long an invitation can be used. Common practice, no source. */
	public static final Duration INVITATION_VALIDITY = Duration.ofDays(7);

	/** How long a link to choose a new password can be used. Common practice, no source. */
	public static final Duration RESET_LINK_VALIDITY = Duration.ofHours(1);

	private final CompanyRepository companies;

	private final PersonRepository people;

	private final LoginRepository logins;

	private final PasswordEncoder passwords;

	private final Sessions sessions;

	private final AuditTrail audit;

	private final UuidGenerator ids;

	private final Clock clock;

	private final JdbcClient jdbc;

	private final TenantTransactions transactions;

	PeopleService(CompanyRepository companies, PersonRepository people, LoginRepository logins, PasswordEncoder passwords,
			Sessions sessions, AuditTrail audit, UuidGenerator ids,
			Clock clock, JdbcClient jdbc, TenantTransactions transactions) {
		this.companies = companies;
		this.people = people;
		this.logins = logins;
		this.passwords = passwords;
		this.sessions = sessions;
		this.audit = audit;
		this.ids = ids;
		this.clock = clock;
		this.jdbc = jdbc;
		this.transactions = transactions;
	}

	/** Everybody, by name, those who have left last. */
	public List<PersonRecord> all(CompanyId company) {
		return transactions.call(company, () -> people.findByCompanyIdOrderByName(company.value())
			.stream()
			.map(Person::toRecord)
			.sorted(java.util.Comparator.comparing(person -> !person.summary().active()))
			.toList());
	}

	public PersonRecord person(CompanyId company, PersonId person) {
		return transactions.call(company, () -> load(company, person).toRecord());
	}

	/**
	 * Asks somebody to join. Their address is theirs to sign in with only once they have.
	 *
	 * @throws AccessDeniedException unless asked by an owner
	 * @throws AddressTaken when somebody of this company has the address
	 */
	public PasswordLink invite(SignedInUser me, String name, String email, Role role) {
		requireOwner(me);
		CompanyId company = me.company();
		PasswordLinkToken token = PasswordLinkToken.generate(company);
		try {
			return transactions.call(company, () -> {
				if (people.findByCompanyIdAndEmail(company.value(), email.toLowerCase(Locale.ROOT)).isPresent()) {
					throw new EmailTaken();
				}
				PersonId id = new PersonId(ids.next());
				Person person = new Person(company, id, name, email, role, clock.instant());
				PasswordLink link = issueLink(company, person, token);
				people.save(person);
				people.flush();
				audit.record("person.invited", id.toString(), Map.of("role", role));
				return link;
			});
		}
		catch (DataIntegrityViolationException sameAddressAtTheSameTime) {
			throw new EmailTaken();
		}
	}

	/** A new link in place of the last: an invitation for those who have not joined, else a way back in. @throws NotFound for those who have left */
	public PasswordLink link(CompanyId company, PersonId id) {
		PasswordLinkToken token = PasswordLinkToken.generate(company);
		return transactions.call(company, () -> {
			Person person = load(company, id);
			if (!person.summary().active()) {
				throw new NotFound("active person");
			}
			PasswordLink link = issueLink(company, person, token);
			audit.record(link.invitation() ? "person.invited" : "person.resetLink", id.toString(), Map.of());
			return link;
		});
	}

	/** Takes an invitation back, and with it the person. @return false when they have joined, or stops are planned for them */
	public boolean withdrawInvitation(CompanyId company, PersonId id) {
		try {
			return transactions.call(company, () -> {
				Person person = load(company, id);
				if (person.summary().joined()) {
					return false;
				}
				people.delete(person);
				people.flush();
				audit.record("person.withdrawn", id.toString(), Map.of());
				return true;
			});
		}
		catch (DataIntegrityViolationException referredTo) {
			return false;
		}
	}

	/**
	 * Another role ends the person's sessions: what they may do is decided when they sign in.
	 *
	 * @param version as it was when the form was opened
	 * @throws AccessDeniedException unless asked by an owner
	 * @throws StaleVersion when somebody else changed the person since
	 * @throws LastOwner when nobody would be left who may do everything
	 */
	public void change(SignedInUser me, PersonId id, long version, String name, Role role) {
		requireOwner(me);
		CompanyId company = me.company();
		Role before = reportStale(() -> transactions.call(company, () -> {
			lockCompany(company);
			Person person = load(company, id);
			person.requireVersion(version);
			Role was = person.summary().role();
			if (role != Role.OWNER) {
				requireAnotherOwner(company, person);
			}
			person.change(name, role, clock.instant());
			if (was != role) {
				audit.record("person.role", id.toString(), Map.of("from", was, "to", role));
			}
			return was;
		}));
		if (before != role) {
			sessions.end(id);
		}
	}

	/** Ends the person's sessions at once; what they did stays theirs. @throws LastOwner when nobody would be left who may do everything */
	public void deactivate(CompanyId company, PersonId id) {
		transactions.run(company, () -> {
			lockCompany(company);
			Person person = load(company, id);
			requireAnotherOwner(company, person);
			person.deactivate(clock.instant());
			audit.record("person.deactivated", id.toString(), Map.of());
		});
		sessions.end(id);
	}

	/** With the password they had. */
	public void reactivate(CompanyId company, PersonId id) {
		transactions.run(company, () -> {
			load(company, id).reactivate(clock.instant());
			audit.record("person.reactivated", id.toString(), Map.of());
		});
	}

	/** Whom a link is for; nothing when it has been used, has expired or never was one. */
	public Optional<PasswordLink> findLink(String token) {
		return PasswordLinkToken.parse(token)
			.flatMap(read -> transactions.call(read.company(),
					() -> findLinkHolder(read).map(person -> link(read.company(), person, read, Instant.EPOCH))));
	}

	/**
	 * Uses a link up and ends whatever sessions the person had.
	 *
	 * @return nothing when the link has been used, has expired or never was one
	 * @throws AddressTaken when the address has come to sign in at another company meanwhile
	 */
	public Optional<SignedInUser> setPassword(String token, RawPassword password) {
		Optional<PasswordLinkToken> read = PasswordLinkToken.parse(token);
		if (read.isEmpty() || findLink(token).isEmpty()) {
			return Optional.empty();
		}
		String hash = passwords.encode(password.text());
		CompanyId company = read.get().company();
		try {
			Optional<SignedInUser> joined = transactions.call(company, () -> findLinkHolder(read.get()).map(person -> {
				PersonSummary summary = person.summary();
				if (!logins.belongsTo(summary.email(), company, summary.id()) && !logins.claim(summary.email(), company, summary.id())) {
					throw new EmailTaken();
				}
				person.setPassword(hash, clock.instant());
				people.flush();
				audit.record(summary.joined() ? "person.newPassword" : "person.joined", summary.id().toString(), Map.of());
				return person.toSignedInUser();
			}));
			joined.ifPresent(user -> sessions.end(user.person()));
			return joined;
		}
		catch (OptimisticLockingFailureException usedAtTheSameTime) {
			return Optional.empty();
		}
	}

	/**
	 * Ends the person's other sessions.
	 *
	 * @param session id of the session that stays
	 * @return false when the old password is not the person's
	 */
	public boolean changePassword(SignedInUser me, RawPassword old, RawPassword password, String session) {
		String stored = transactions.call(me.company(), () -> Optional.ofNullable(load(me.company(), me.person()).passwordHash()))
			.orElse(null);
		if (stored == null || !passwords.matches(old.text(), stored)) {
			return false;
		}
		String hash = passwords.encode(password.text());
		transactions.run(me.company(), () -> {
			load(me.company(), me.person()).setPassword(hash, clock.instant());
			audit.record("person.newPassword", me.person().toString(), Map.of());
		});
		sessions.endOthers(me.person(), session);
		return true;
	}

	private Optional<Person> findLinkHolder(PasswordLinkToken token) {
		return people.findByCompanyIdAndInviteTokenHash(token.company().value(), token.hash())
			.filter(person -> person.acceptsToken(token, clock.instant()));
	}

	private PasswordLink issueLink(CompanyId company, Person person, PasswordLinkToken token) {
		Instant expires = clock.instant().plus(person.summary().joined() ? RESET_LINK_VALIDITY : INVITATION_VALIDITY);
		person.issueLink(token, expires, clock.instant());
		return link(company, person, token, expires);
	}

	private PasswordLink link(CompanyId company, Person person, PasswordLinkToken token, Instant expires) {
		PersonSummary summary = person.summary();
		String companyName = companies.findById(company.value()).map(Company::settings).map(CompanySettings::name)
			.orElseThrow(() -> new NotFound("company"));
		return new PasswordLink(company, companyName, summary.id(), summary.name(), summary.email(), token.encode(), expires,
				!summary.joined());
	}

	private Person load(CompanyId company, PersonId person) {
		return people.findByCompanyIdAndId(company.value(), person.value()).orElseThrow(() -> new NotFound("person"));
	}

	/** Who gives a role must not depend on a page's annotation alone: whoever makes owners may do everything. */
	private static void requireOwner(SignedInUser me) {
		if (!me.isOwner()) {
			throw new AccessDeniedException("only owners give roles");
		}
	}

	/** Two owners who dismiss each other at the same time: the second waits, and finds that he is the last. */
	private void lockCompany(CompanyId company) {
		jdbc.sql("SELECT id FROM company WHERE id = ? FOR NO KEY UPDATE").param(company.value()).query().singleRow();
	}

	private void requireAnotherOwner(CompanyId company, Person person) {
		if (person.isActiveOwner()
				&& people.findByCompanyIdOrderByName(company.value()).stream().filter(Person::isActiveOwner).count() == 1) {
			throw new LastOwner();
		}
	}

	private static <T extends @Nullable Object> T reportStale(Supplier<T> work) {
		try {
			return work.get();
		}
		catch (OptimisticLockingFailureException ex) {
			throw new StaleVersion("person");
		}
	}

}
