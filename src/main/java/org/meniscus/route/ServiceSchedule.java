package org.meniscus.route;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;

import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.IdClass;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyEntity;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.RowId;

/** A pool is visited by a technician on the days of a schedule. */
@Entity
@IdClass(RowId.class)
class ServiceSchedule extends CompanyEntity {

	private UUID poolId;

	private UUID technicianId;

	@Enumerated(EnumType.STRING)
	private Frequency frequency;

	private short weekday;

	private @Nullable Short secondWeekday;

	private int position;

	private LocalDate startsOn;

	private @Nullable LocalDate endsOn;

	@SuppressWarnings("NullAway.Init")
	protected ServiceSchedule() {
	}

	ServiceSchedule(CompanyId company, ServiceScheduleId id, PoolId pool, PersonId technician, Recurrence schedule, int position,
			Instant now) {
		super(company, id.value(), now);
		this.poolId = pool.value();
		change(technician, schedule, position, now);
	}

	final void change(PersonId technician, Recurrence schedule, int position, Instant now) {
		this.technicianId = technician.value();
		this.frequency = schedule.frequency();
		this.weekday = (short) schedule.weekday().getValue();
		this.secondWeekday = (schedule.secondWeekday() != null) ? (short) schedule.secondWeekday().getValue() : null;
		this.startsOn = schedule.startsOn();
		this.endsOn = schedule.endsOn();
		this.position = position;
		setUpdatedAt(now);
	}

	/** Its place in the technician's day. */
	void moveTo(int position, Instant now) {
		if (this.position != position) {
			this.position = position;
			setUpdatedAt(now);
		}
	}

	ServiceScheduleId id() {
		return new ServiceScheduleId(rowId());
	}

	PersonId technician() {
		return new PersonId(technicianId);
	}

	int position() {
		return position;
	}

}
