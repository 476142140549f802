package org.meniscus.company;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.security.access.AccessDeniedException;

@IntegrationTest
class PeopleServiceIT {

	private static final RawPassword PASSWORD = new RawPassword("nine herons walk the weir");

	@Autowired
	TestCompanies companies;

	@Autowired
	PeopleService people;

	@Autowired
	CompanyService companyService;

	@Autowired
	TestRows rows;

	SignedInUser owner;

	CompanyId company;

	final String email = "theo-" + UUID.randomUUID() + "@example.org";

	@BeforeEach
	void newCompany() {
		owner = companies.newCompany(UnitSystem.US).user();
		company = owner.company();
	}

	@Test
	void onlyTheLatestLinkWorksAndOnlyOnce() {
		PasswordLink first = people.invite(owner, "Theo Ashby", email, Role.TECHNICIAN);
		PasswordLink second = people.link(company, first.person());
		assertThat(people.findLink(first.token())).as("a newer one was made").isEmpty();
		assertThat(people.setPassword(first.token(), PASSWORD)).isEmpty();
		assertThat(companyService.authenticate(email, PASSWORD.text())).as("not before joining").isEmpty();

		assertThat(people.setPassword(second.token(), PASSWORD))
			.contains(new SignedInUser(company, first.person(), Role.TECHNICIAN, "Theo Ashby"));
		assertThat(companyService.authenticate(email, PASSWORD.text())).isPresent();
		assertThat(people.findLink(second.token())).isEmpty();
		assertThat(people.setPassword(second.token(), new RawPassword("seven otters under the pier"))).isEmpty();
		assertThat(companyService.authenticate(email, PASSWORD.text())).as("password stays").isPresent();
	}

	@Test
	void expiredAndForgedLinksAreRejected() {
		PasswordLink link = people.invite(owner, "Theo Ashby", email, Role.TECHNICIAN);
		assertThat(Duration.between(java.time.Instant.now(java.time.Clock.systemUTC()), link.expiresAt())).isCloseTo(Duration.ofDays(7),
				Duration.ofMinutes(5));
		CompanyId other = companies.newCompany(UnitSystem.US).user().company();
		String elsewhere = new PasswordLinkToken(other, PasswordLinkToken.parse(link.token()).orElseThrow().secret()).encode();
		for (String token : List.of(elsewhere, PasswordLinkToken.generate(company).encode(), "", "x", "%00", link.token() + "AAAA",
				"A".repeat(64))) {
			assertThat(people.findLink(token)).as(token).isEmpty();
			assertThat(people.setPassword(token, PASSWORD)).as(token).isEmpty();
		}
		assertThat(people.findLink(link.token())).isPresent();
		rows.inCompany(company,
				() -> rows.sql("UPDATE person SET invite_expires_at = now() - interval '1 second' WHERE company_id = :c AND id = :p")
					.param("c", company.value())
					.param("p", link.person().value())
					.update());
		assertThat(people.findLink(link.token())).isEmpty();
		assertThat(people.setPassword(link.token(), PASSWORD)).isEmpty();
	}

	@Test
	void storedTokenHashCannotBeUsedAsAToken() {
		PasswordLink link = people.invite(owner, "Theo Ashby", email, Role.TECHNICIAN);
		byte[] stored = rows.inCompany(company, () -> rows.sql("SELECT invite_token_hash FROM person WHERE company_id = :c AND id = :p")
			.param("c", company.value())
			.param("p", link.person().value())
			.query(byte[].class)
			.single());
		assertThat(PasswordLinkToken.parse(link.token()).orElseThrow().secret()).isNotEqualTo(stored);
		assertThat(people.findLink(new PasswordLinkToken(company, stored).encode())).isEmpty();
	}

	@Test
	void emailBelongsToTheFirstPersonWhoJoinsWithIt() {
		SignedInUser otherOwner = companies.newCompany(UnitSystem.METRIC).user();
		PasswordLink here = people.invite(owner, "Theo Ashby", email, Role.TECHNICIAN);
		PasswordLink there = people.invite(otherOwner, "Theo Ashby", email, Role.OFFICE);
		assertThatThrownBy(() -> people.invite(owner, "Somebody Else", email.toUpperCase(java.util.Locale.ROOT), Role.OFFICE))
			.isInstanceOf(CompanyService.EmailTaken.class);
		assertThat(people.setPassword(there.token(), PASSWORD)).isPresent();
		assertThatThrownBy(() -> people.setPassword(here.token(), PASSWORD)).isInstanceOf(CompanyService.EmailTaken.class);
		assertThat(companyService.authenticate(email, PASSWORD.text())).map(SignedInUser::company).contains(otherOwner.company());
	}

	@Test
	void lastActiveOwnerCannotBeRemoved() {
		assertThatThrownBy(() -> people.deactivate(company, owner.person())).isInstanceOf(LastOwner.class);
		long version = people.person(company, owner.person()).version();
		assertThatThrownBy(() -> people.change(owner, owner.person(), version, "Ida Brook", Role.OFFICE)).isInstanceOf(LastOwner.class);
		PasswordLink invited = people.invite(owner, "June Marlow", email, Role.OWNER);
		assertThatThrownBy(() -> people.deactivate(company, owner.person())).as("an owner who has not joined cannot sign in")
			.isInstanceOf(LastOwner.class);
		people.setPassword(invited.token(), PASSWORD);
		people.deactivate(company, owner.person());
		assertThat(people.person(company, owner.person()).summary().active()).isFalse();
		assertThatThrownBy(() -> people.deactivate(company, invited.person())).isInstanceOf(LastOwner.class);
	}

	/** Apart from the roles on the pages: whoever can give a role can make himself an owner. */
	@ParameterizedTest
	@EnumSource(value = Role.class, names = "OWNER", mode = EnumSource.Mode.EXCLUDE)
	void onlyAnOwnerGivesRoles(Role role) {
		SignedInUser me = rows.person(company, role, "Olga Finch").user();
		long version = people.person(company, me.person()).version();
		assertThatThrownBy(() -> people.change(me, me.person(), version, "Olga Finch", Role.OWNER))
			.isInstanceOf(AccessDeniedException.class);
		assertThatThrownBy(() -> people.invite(me, "June Marlow", email, Role.OWNER)).isInstanceOf(AccessDeniedException.class);
		assertThat(people.all(company)).extracting(person -> person.summary().role()).containsExactlyInAnyOrder(Role.OWNER, role);
	}

	@Test
	void concurrentDeactivationLeavesOneOwner() throws Exception {
		PersonId second = rows.person(company, Role.OWNER, "June Marlow").user().person();
		CyclicBarrier both = new CyclicBarrier(2);
		ExecutorService threads = Executors.newFixedThreadPool(2);
		try {
			List<Future<Boolean>> gone = threads.invokeAll(List.of(deactivation(owner.person(), both), deactivation(second, both)));
			assertThat(List.of(gone.get(0).get(), gone.get(1).get())).containsExactlyInAnyOrder(true, false);
		}
		finally {
			threads.shutdown();
		}
		assertThat(people.all(company)).filteredOn(person -> person.summary().active()).hasSize(1);
	}

	private Callable<Boolean> deactivation(PersonId person, CyclicBarrier both) {
		return () -> {
			both.await();
			try {
				people.deactivate(company, person);
				return true;
			}
			catch (LastOwner last) {
				return false;
			}
		};
	}

	@Test
	void deactivatedPersonCanNeitherSignInNorUseALink() {
		PersonId theo = people.setPassword(people.invite(owner, "Theo Ashby", email, Role.TECHNICIAN).token(), PASSWORD).orElseThrow()
			.person();
		String back = people.link(company, theo).token();
		people.deactivate(company, theo);
		assertThat(people.findLink(back)).isEmpty();
		assertThat(companyService.authenticate(email, PASSWORD.text())).isEmpty();
		assertThatThrownBy(() -> people.link(company, theo)).isInstanceOf(NotFound.class);
		people.reactivate(company, theo);
		assertThat(companyService.authenticate(email, PASSWORD.text())).isPresent();
		assertThat(people.findLink(back)).as("stays used up").isEmpty();
	}

	@Test
	void changeWithAStaleVersionIsRejected() {
		PersonId theo = people.invite(owner, "Theo Ashby", email, Role.TECHNICIAN).person();
		long seen = people.person(company, theo).version();
		people.change(owner, theo, seen, "Theodore Ashby", Role.TECHNICIAN);
		assertThatThrownBy(() -> people.change(owner, theo, seen, "Theo", Role.OFFICE)).isInstanceOf(StaleVersion.class);
		assertThat(people.person(company, theo).summary().name()).isEqualTo("Theodore Ashby");
	}

	@Test
	void onlyUnusedInvitationsCanBeWithdrawn() {
		PasswordLink link = people.invite(owner, "Theo Ashby", email, Role.TECHNICIAN);
		assertThat(people.withdrawInvitation(company, link.person())).isTrue();
		assertThat(people.findLink(link.token())).isEmpty();
		PasswordLink again = people.invite(owner, "Theo Ashby", email, Role.TECHNICIAN);
		people.setPassword(again.token(), PASSWORD);
		assertThat(people.withdrawInvitation(company, again.person())).isFalse();
	}

	@Test
	void auditTrailHoldsEveryActionWithIdsOnly() {
		PersonId theo = people.setPassword(people.invite(owner, "Theo Ashby", email, Role.TECHNICIAN).token(), PASSWORD).orElseThrow()
			.person();
		people.change(owner, theo, people.person(company, theo).version(), "Theo Ashby", Role.OFFICE);
		people.deactivate(company, theo);
		List<String> trail = rows.inCompany(company,
				() -> rows.sql("SELECT concat_ws(' ', action, subject, detail) FROM audit_event WHERE company_id = :c ORDER BY at, id")
					.param("c", company.value())
					.query(String.class)
					.list());
		assertThat(trail).containsExactly("person.invited " + theo + " {\"role\": \"TECHNICIAN\"}", "person.joined " + theo,
				"person.role " + theo + " {\"to\": \"OFFICE\", \"from\": \"TECHNICIAN\"}", "person.deactivated " + theo);
	}

}
