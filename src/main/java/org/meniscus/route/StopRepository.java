package org.meniscus.route;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import jakarta.persistence.LockModeType;

import org.meniscus.platform.RowId;
import org.springframework.data.jpa.repository.Lock;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.Repository;

/** Every finder names the company. */
interface StopRepository extends Repository<Stop, RowId> {

	Optional<Stop> findByCompanyIdAndId(UUID companyId, UUID id);

	/** Those of a day, held against a visit that comes in meanwhile. */
	@Lock(LockModeType.PESSIMISTIC_WRITE)
	@Query("""
			SELECT s FROM Stop s WHERE s.companyId = :company AND s.technicianId = :technician AND s.plannedOn = :day
			  AND s.state = StopState.PLANNED""")
	List<Stop> lockPlanned(UUID company, UUID technician, LocalDate day);

	/** Those of a schedule from a day on, oldest first; held likewise. */
	@Lock(LockModeType.PESSIMISTIC_WRITE)
	@Query("""
			SELECT s FROM Stop s WHERE s.companyId = :company AND s.serviceScheduleId = :schedule AND s.dueOn >= :from
			  AND s.state = StopState.PLANNED ORDER BY s.dueOn""")
	List<Stop> lockPlannedOfSchedule(UUID company, UUID schedule, LocalDate from);

	void save(Stop stop);

	void delete(Stop stop);

	void flush();

}
