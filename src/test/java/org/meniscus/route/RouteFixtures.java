package org.meniscus.route;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.UUID;
import java.util.function.Supplier;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Tenancy;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.UnitSystem;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.transaction.support.TransactionOperations;

/** A company of its own for each test, with technicians, pools and plans as the test asks for. */
public final class RouteFixtures {

	public final CompanyId company;

	public final TestCompanies.Owner owner;

	private final JdbcClient jdbc;

	private final TransactionOperations transactions;

	private int pools;

	public RouteFixtures(TestCompanies companies, JdbcClient jdbc, TransactionOperations transactions) {
		this.owner = companies.newCompany(UnitSystem.US);
		this.company = owner.user().company();
		this.jdbc = jdbc;
		this.transactions = transactions;
	}

	public <T> T in(Supplier<T> work) {
		return Tenancy.as(company, () -> transactions.execute(status -> work.get()));
	}

	/** A technician who signs in with {@link TestCompanies#PASSWORD}. */
	public PersonId technician(String name, String email, PasswordEncoder passwords) {
		PersonId person = technician(name, email);
		String hash = passwords.encode(TestCompanies.PASSWORD);
		update("UPDATE person SET password_hash = '" + hash + "' WHERE company_id = :company AND id = :id", person.value());
		in(() -> jdbc.sql("INSERT INTO login (email, company_id, user_id) VALUES (:email, :company, :id)")
			.param("email", email)
			.param("company", company.value())
			.param("id", person.value())
			.update());
		return person;
	}

	public PersonId technician(String name) {
		return technician(name, UUID.randomUUID() + "@example.org");
	}

	private PersonId technician(String name, String email) {
		PersonId person = new PersonId(UUID.randomUUID());
		in(() -> jdbc.sql("""
				INSERT INTO person (company_id, id, name, email, role, active, created_at, updated_at)
				VALUES (:company, :id, :name, :email, 'TECHNICIAN', true, now(), now())""")
			.param("company", company.value())
			.param("id", person.value())
			.param("name", name)
			.param("email", email)
			.update());
		return person;
	}

	public void leaves(PersonId person) {
		update("UPDATE person SET active = false WHERE company_id = :company AND id = :id", person.value());
	}

	/** A pool of a client of the same name. */
	public PoolId pool(String client, String street, @Nullable String accessNotes) {
		UUID clientId = UUID.randomUUID();
		UUID poolId = UUID.randomUUID();
		in(() -> jdbc.sql("INSERT INTO client (company_id, id, name, created_at, updated_at) VALUES (:company, :id, :name, now(), now())")
			.param("company", company.value())
			.param("id", clientId)
			.param("name", client)
			.update());
		in(() -> jdbc.sql("""
				INSERT INTO pool (company_id, id, client_id, name, street, town, postcode, latitude, longitude, body, surface, sanitizer,
				                  volume_litres, volume_certainty, access_notes, created_at, updated_at)
				VALUES (:company, :id, :client, :name, :street, 'Alder Creek', '85000', 33.5, -112.1, 'POOL', 'PLASTER', 'CHLORINE_BY_HAND', 60000, 'ESTIMATED',
				        :access, now(), now())""")
			.param("company", company.value())
			.param("id", poolId)
			.param("client", clientId)
			.param("name", "Pool " + ++pools)
			.param("street", street)
			.param("access", accessNotes)
			.update());
		return new PoolId(poolId);
	}

	public PoolId pool() {
		return pool("Client " + (pools + 1), (pools + 1) + " Juniper Lane", null);
	}

	public void archive(PoolId pool) {
		update("UPDATE pool SET archived_at = now() WHERE company_id = :company AND id = :id", pool.value());
	}

	public void restore(PoolId pool) {
		update("UPDATE pool SET archived_at = NULL WHERE company_id = :company AND id = :id", pool.value());
	}

	private void update(String sql, UUID id) {
		in(() -> jdbc.sql(sql).param("company", company.value()).param("id", id).update());
	}

	public static PlanBook.Add weekly(PoolId pool, PersonId technician, DayOfWeek weekday, LocalDate from) {
		return new PlanBook.Add(new ServicePlanId(UUID.randomUUID()), pool, technician,
				new Schedule(Frequency.WEEKLY, weekday, null, from, null), null);
	}

}
