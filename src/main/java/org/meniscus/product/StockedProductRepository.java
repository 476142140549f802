package org.meniscus.product;

import java.util.List;
import java.util.Optional;
import java.util.UUID;

import jakarta.persistence.LockModeType;

import org.meniscus.platform.RowId;
import org.springframework.data.jpa.repository.Lock;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.Repository;

/** Every finder names the company. */
interface StockedProductRepository extends Repository<StockedProduct, RowId> {

	Optional<StockedProduct> findByCompanyIdAndId(UUID companyId, UUID id);

	List<StockedProduct> findByCompanyIdOrderByName(UUID companyId);

	List<StockedProduct> findByCompanyIdAndArchivedAtIsNullOrderByName(UUID companyId);

	/** Locked: of two who save at once, the second gets {@code StaleVersion}. */
	@Lock(LockModeType.PESSIMISTIC_WRITE)
	@Query("select p from StockedProduct p where p.companyId = :companyId and p.id = :id")
	Optional<StockedProduct> findForUpdate(UUID companyId, UUID id);

	StockedProduct save(StockedProduct product);

}
