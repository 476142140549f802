package org.meniscus.client;

import java.time.Instant;
import java.util.UUID;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.IdClass;
import jakarta.persistence.Version;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.RowId;
import org.meniscus.platform.StaleVersion;

/** Somebody whose pools are looked after. */
@Entity
@IdClass(RowId.class)
class Client {

	@Id
	private UUID companyId;

	@Id
	private UUID id;

	@Version
	private @Nullable Long version;

	private String name;

	private @Nullable String email;

	private @Nullable String phone;

	private String language;

	private @Nullable String notes;

	private @Nullable Instant archivedAt;

	private Instant createdAt;

	private Instant updatedAt;

	@SuppressWarnings("NullAway.Init")
	protected Client() {
	}

	Client(CompanyId company, ClientId id, ClientDetails details, Instant now) {
		this.companyId = company.value();
		this.id = id.value();
		this.createdAt = now;
		apply(details, now);
	}

	/** @throws StaleVersion when somebody else saved since the form was opened */
	void change(long formVersion, ClientDetails details, Instant now) {
		StaleVersion.requireCurrent(formVersion, version, "client");
		apply(details, now);
	}

	/** Archiving twice is archiving once. */
	void archive(Instant now) {
		if (archivedAt == null) {
			archivedAt = now;
			updatedAt = now;
		}
	}

	void restore(Instant now) {
		if (archivedAt != null) {
			archivedAt = null;
			updatedAt = now;
		}
	}

	ClientRecord toRecord() {
		return new ClientRecord(new ClientId(id), (version != null) ? version : 0,
				new ClientDetails(name, email, phone, language, notes), archivedAt != null);
	}

	private void apply(ClientDetails details, Instant now) {
		this.name = details.name();
		this.email = details.email();
		this.phone = details.phone();
		this.language = details.language();
		this.notes = details.notes();
		this.updatedAt = now;
	}

}
