package org.meniscus.client;

import java.time.Instant;

import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.IdClass;

import org.meniscus.platform.ArchivableEntity;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.RowId;
import org.meniscus.platform.StaleVersion;

/** Somebody whose pools are looked after. */
@Entity
@IdClass(RowId.class)
class Client extends ArchivableEntity {

	@Embedded
	private ClientDetails details;

	@SuppressWarnings("NullAway.Init")
	protected Client() {
	}

	Client(CompanyId company, ClientId id, ClientDetails details, Instant now) {
		super(company, id.value(), now);
		this.details = details;
	}

	/** @throws StaleVersion when somebody else saved since the form was opened */
	void change(long formVersion, ClientDetails details, Instant now) {
		update(formVersion, now);
		this.details = details;
	}

	ClientRecord toRecord() {
		return new ClientRecord(new ClientId(rowId()), version(), details, isArchived());
	}

}
