package org.meniscus.company;

import java.util.Optional;
import java.util.UUID;

import org.springframework.data.repository.Repository;

interface CompanyRepository extends Repository<Company, UUID> {

	Optional<Company> findById(UUID companyId);

	Company save(Company company);

	/** Writes what is pending, so that plain SQL in the same transaction finds it. */
	void flush();

}
