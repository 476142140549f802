package org.meniscus.route;

import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;

import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Id;
import jakarta.persistence.IdClass;
import jakarta.persistence.Version;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.RowId;

/** A pool is visited by a technician on the days of a schedule. */
@Entity
@IdClass(RowId.class)
class ServiceSchedule {

	@Id
	private UUID companyId;

	@Id
	private UUID id;

	@Version
	private @Nullable Long version;

	private UUID poolId;

	private UUID technicianId;

	@Enumerated(EnumType.STRING)
	private Frequency frequency;

	private short weekday;

	private @Nullable Short secondWeekday;

	private int position;

	private LocalDate startsOn;

	private @Nullable LocalDate endsOn;

	private Instant createdAt;

	private Instant updatedAt;

	@SuppressWarnings("NullAway.Init")
	protected ServiceSchedule() {
	}

	ServiceSchedule(CompanyId company, ServiceScheduleId id, PoolId pool, PersonId technician, Recurrence schedule, int position,
			Instant now) {
		this.companyId = company.value();
		this.id = id.value();
		this.poolId = pool.value();
		this.createdAt = now;
		write(technician, schedule, position, now);
	}

	void change(PersonId technician, Recurrence schedule, int position, Instant now) {
		write(technician, schedule, position, now);
	}

	private void write(PersonId technician, Recurrence schedule, int position, Instant now) {
		this.technicianId = technician.value();
		this.frequency = schedule.frequency();
		this.weekday = (short) schedule.weekday().getValue();
		this.secondWeekday = (schedule.secondWeekday() != null) ? (short) schedule.secondWeekday().getValue() : null;
		this.startsOn = schedule.startsOn();
		this.endsOn = schedule.endsOn();
		this.position = position;
		this.updatedAt = now;
	}

	/** Its place in the technician's day. */
	void moveTo(int position, Instant now) {
		if (this.position != position) {
			this.position = position;
			this.updatedAt = now;
		}
	}

	ServiceScheduleId id() {
		return new ServiceScheduleId(id);
	}

	PersonId technician() {
		return new PersonId(technicianId);
	}

	PoolId pool() {
		return new PoolId(poolId);
	}

	int position() {
		return position;
	}

	Recurrence recurrence() {
		return new Recurrence(frequency, DayOfWeek.of(weekday), (secondWeekday != null) ? DayOfWeek.of(secondWeekday) : null, startsOn,
				endsOn);
	}

	@Nullable
	Long version() {
		return version;
	}

}
