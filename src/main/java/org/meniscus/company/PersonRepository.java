package org.meniscus.company;

import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.meniscus.platform.RowId;
import org.springframework.data.repository.Repository;

/** Every finder names the company. */
interface PersonRepository extends Repository<Person, RowId> {

	Optional<Person> findByCompanyIdAndId(UUID companyId, UUID id);

	List<Person> findByCompanyIdOrderByName(UUID companyId);

	Optional<Person> findByCompanyIdAndEmail(UUID companyId, String email);

	Optional<Person> findByCompanyIdAndInviteTokenHash(UUID companyId, byte[] inviteTokenHash);

	void delete(Person person);

	/** Writes what is pending, so that the database's refusal is known here. */
	void flush();

	Person save(Person person);

}
