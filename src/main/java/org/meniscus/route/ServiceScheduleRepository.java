package org.meniscus.route;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.meniscus.platform.RowId;
import org.springframework.data.repository.Repository;

/** Every finder names the company. */
interface ServiceScheduleRepository extends Repository<ServiceSchedule, RowId> {

	Optional<ServiceSchedule> findByCompanyIdAndId(UUID companyId, UUID id);

	List<ServiceSchedule> findByCompanyIdAndIdIn(UUID companyId, Collection<UUID> ids);

	ServiceSchedule saveAndFlush(ServiceSchedule schedule);

	void delete(ServiceSchedule schedule);

	void flush();

}
