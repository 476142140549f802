package org.meniscus.platform;

import java.time.Instant;
import java.util.UUID;

import jakarta.persistence.Id;
import jakarta.persistence.MappedSuperclass;
import jakarta.persistence.Version;

import org.jspecify.annotations.Nullable;

/** A row of a company that people edit. */
@MappedSuperclass
public abstract class CompanyEntity {

	@Id
	private UUID companyId;

	@Id
	private UUID id;

	@Version
	private @Nullable Long version;

	private Instant createdAt;

	private Instant updatedAt;

	@SuppressWarnings("NullAway.Init")
	protected CompanyEntity() {
	}

	protected CompanyEntity(CompanyId company, UUID id, Instant now) {
		this.companyId = company.value();
		this.id = id;
		this.createdAt = now;
		this.updatedAt = now;
	}

	/** @throws StaleVersion when somebody else saved since the form was opened */
	public void requireVersion(long formVersion) {
		StaleVersion.requireCurrent(formVersion, version, getClass().getSimpleName());
	}

	protected void setUpdatedAt(Instant now) {
		updatedAt = now;
	}

	protected CompanyId company() {
		return new CompanyId(companyId);
	}

	protected UUID rowId() {
		return id;
	}

	protected long version() {
		return (version != null) ? version : 0;
	}

}
