package org.meniscus.route;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;

import jakarta.persistence.Column;
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

/**
 * One visit to a pool on a day. Its version counts what was done to this stop itself; being pushed along because another
 * stop was put before it is no change of it, so positions are written by {@link StopOrder} past the version.
 */
@Entity
@IdClass(RowId.class)
class Stop extends CompanyEntity {

	private UUID poolId;

	private UUID technicianId;

	private @Nullable UUID serviceScheduleId;

	private @Nullable LocalDate dueOn;

	private LocalDate plannedOn;

	@Column(updatable = false)
	private int position;

	@Enumerated(EnumType.STRING)
	private StopState state;

	@Enumerated(EnumType.STRING)
	private @Nullable MissedReason missedReason;

	private @Nullable String missedNote;

	@SuppressWarnings("NullAway.Init")
	protected Stop() {
	}

	/** One that somebody adds beside the schedules. */
	Stop(CompanyId company, StopId id, PoolId pool, PersonId technician, LocalDate day, Instant now) {
		super(company, id.value(), now);
		this.poolId = pool.value();
		this.technicianId = technician.value();
		this.plannedOn = day;
		this.state = StopState.PLANNED;
	}

	/** @throws StopClosed when it is done or missed */
	void moveTo(PersonId technician, LocalDate day, Instant now) {
		requirePlanned();
		this.technicianId = technician.value();
		this.plannedOn = day;
		setUpdatedAt(now);
	}

	/** Also corrects the reason of a stop that is missed already. @throws StopClosed when it is done */
	void markMissed(MissedReason reason, @Nullable String note, Instant now) {
		if (state == StopState.DONE) {
			throw new StopClosed(state);
		}
		this.state = StopState.MISSED;
		this.missedReason = reason;
		this.missedNote = note;
		setUpdatedAt(now);
	}

	/** Plans a missed stop again. @throws StopClosed when it is done */
	void undoMissed(Instant now) {
		if (state == StopState.DONE) {
			throw new StopClosed(state);
		}
		this.state = StopState.PLANNED;
		this.missedReason = null;
		this.missedNote = null;
		setUpdatedAt(now);
	}

	/** @throws StopClosed when something has become of it */
	void requirePlanned() {
		if (state != StopState.PLANNED) {
			throw new StopClosed(state);
		}
	}

	boolean extra() {
		return serviceScheduleId == null;
	}

	PersonId technician() {
		return new PersonId(technicianId);
	}

	/** The day its schedule asks for; null for one added by hand. */
	@Nullable
	LocalDate dueOn() {
		return dueOn;
	}

	LocalDate plannedOn() {
		return plannedOn;
	}

	UUID id() {
		return rowId();
	}

}
