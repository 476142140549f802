package org.meniscus.route;

import java.util.Optional;
import java.util.UUID;

import org.meniscus.platform.RowId;
import org.springframework.data.repository.Repository;

/** Every finder names the company. */
interface ServicePlans extends Repository<ServicePlan, RowId> {

	Optional<ServicePlan> findByCompanyIdAndId(UUID companyId, UUID id);

	ServicePlan saveAndFlush(ServicePlan plan);

	void delete(ServicePlan plan);

	void flush();

}
