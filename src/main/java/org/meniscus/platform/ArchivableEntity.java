package org.meniscus.platform;

import java.time.Instant;
import java.util.UUID;

import jakarta.persistence.Id;
import jakarta.persistence.MappedSuperclass;
import jakarta.persistence.Version;

import org.jspecify.annotations.Nullable;

/** A row that people edit and that is archived instead of deleted, because what was recorded refers to it. */
@MappedSuperclass
public abstract class ArchivableEntity {

	@Id
	private UUID companyId;

	@Id
	private UUID id;

	@Version
	private @Nullable Long version;

	private @Nullable Instant archivedAt;

	private Instant createdAt;

	private Instant updatedAt;

	@SuppressWarnings("NullAway.Init")
	protected ArchivableEntity() {
	}

	protected ArchivableEntity(CompanyId company, UUID id, Instant now) {
		this.companyId = company.value();
		this.id = id;
		this.createdAt = now;
		this.updatedAt = now;
	}

	/** Archiving twice is archiving once. */
	public void archive(Instant now) {
		if (archivedAt == null) {
			archivedAt = now;
			updatedAt = now;
		}
	}

	public void restore(Instant now) {
		if (archivedAt != null) {
			archivedAt = null;
			updatedAt = now;
		}
	}

	/** @throws StaleVersion when somebody else saved since the form was opened */
	protected void update(long formVersion, Instant now) {
		StaleVersion.requireCurrent(formVersion, version, getClass().getSimpleName());
		updatedAt = now;
	}

	protected UUID rowId() {
		return id;
	}

	protected long version() {
		return (version != null) ? version : 0;
	}

	protected boolean isArchived() {
		return archivedAt != null;
	}

}
