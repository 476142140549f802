package org.meniscus.client;

import java.time.Instant;

import jakarta.persistence.Entity;
import jakarta.persistence.IdClass;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.ArchivableEntity;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.RowId;
import org.meniscus.platform.StaleVersion;

/** Somebody whose pools are looked after. */
@Entity
@IdClass(RowId.class)
class Client extends ArchivableEntity {

	private String name;

	private @Nullable String email;

	private @Nullable String phone;

	private String language;

	private @Nullable String notes;

	@SuppressWarnings("NullAway.Init")
	protected Client() {
	}

	Client(CompanyId company, ClientId id, ClientDetails details, Instant now) {
		super(company, id.value(), now);
		apply(details);
	}

	/** @throws StaleVersion when somebody else saved since the form was opened */
	void change(long formVersion, ClientDetails details, Instant now) {
		update(formVersion, now);
		apply(details);
	}

	ClientRecord toRecord() {
		return new ClientRecord(new ClientId(rowId()), version(),
				new ClientDetails(name, email, phone, language, notes), isArchived());
	}

	private void apply(ClientDetails details) {
		this.name = details.name();
		this.email = details.email();
		this.phone = details.phone();
		this.language = details.language();
		this.notes = details.notes();
	}

}
