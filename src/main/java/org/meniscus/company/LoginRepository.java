package org.meniscus.company;

import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;
import org.springframework.transaction.annotation.Transactional;

/** The lookup table from a sign-in address to its company; read under a lookup key, written in the company's context. */
@Repository
class LoginRepository {

	/** Where an address belongs. */
	record Login(CompanyId company, PersonId person) {
	}

	private final JdbcClient jdbc;

	LoginRepository(JdbcClient jdbc) {
		this.jdbc = jdbc;
	}

	Optional<Login> find(String email) {
		return jdbc.sql("SELECT company_id, user_id FROM login WHERE email = ?")
			.param(email.toLowerCase(Locale.ROOT))
			.query((row, n) -> new Login(new CompanyId(row.getObject(1, UUID.class)), new PersonId(row.getObject(2, UUID.class))))
			.optional();
	}

	/** Whether the table has never held a row; a row that was taken back also counts as one. */
	@Transactional(readOnly = true)
	public boolean neverHeldRows() {
		return jdbc.sql("SELECT pg_relation_size('login') = 0").query(Boolean.class).single();
	}

	/** @return false when the address is taken, by whichever company */
	boolean claim(String email, CompanyId company, PersonId person) {
		return jdbc.sql("INSERT INTO login (email, company_id, user_id) VALUES (?, ?, ?) ON CONFLICT DO NOTHING")
			.params(email.toLowerCase(Locale.ROOT), company.value(), person.value())
			.update() == 1;
	}

	/** Whether this person signs in with this address already. */
	boolean belongsTo(String email, CompanyId company, PersonId person) {
		return find(email).filter(new Login(company, person)::equals).isPresent();
	}

}
