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
interface PoolRepository extends Repository<Pool, RowId> {

	Optional<Pool> findByCompanyIdAndId(UUID companyId, UUID id);

	/** Locked: of two who save at once, the second gets {@code StaleVersion}. */
	@Lock(LockModeType.PESSIMISTIC_WRITE)
	@Query("select p from Pool p where p.companyId = :companyId and p.id = :id")
	Optional<Pool> findForUpdate(UUID companyId, UUID id);

	List<Pool> findByCompanyIdAndArchivedAtIsNullOrderByNameAscIdAsc(UUID companyId);

	Pool save(Pool pool);

}
