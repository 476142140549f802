package org.meniscus.client;

import java.util.List;
import java.util.Optional;
import java.util.UUID;

import jakarta.persistence.LockModeType;

import org.meniscus.platform.RowId;
import org.springframework.data.jpa.repository.Lock;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.Repository;

/** Every finder names the company. */
interface ClientRepository extends Repository<Client, RowId> {

	Optional<Client> findByCompanyIdAndId(UUID companyId, UUID id);

	/** Locked: of two who save at once, the second gets {@code StaleVersion}. */
	@Lock(LockModeType.PESSIMISTIC_WRITE)
	@Query("select c from Client c where c.companyId = :companyId and c.id = :id")
	Optional<Client> findForUpdate(UUID companyId, UUID id);

	List<Client> findByCompanyIdAndArchivedAtIsNullOrderByDetailsNameAscIdAsc(UUID companyId);

	Client save(Client client);

}
