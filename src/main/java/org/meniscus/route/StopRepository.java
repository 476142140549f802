package org.meniscus.route;

import java.util.Optional;
import java.util.UUID;

import org.meniscus.platform.RowId;
import org.springframework.data.repository.Repository;

/** Every finder names the company. */
interface StopRepository extends Repository<Stop, RowId> {

	Optional<Stop> findByCompanyIdAndId(UUID companyId, UUID id);

	void delete(Stop stop);

	void flush();

}
