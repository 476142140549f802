package org.meniscus.platform;

import java.time.Instant;
import java.util.UUID;

import jakarta.persistence.MappedSuperclass;

import org.jspecify.annotations.Nullable;

/** A row that people edit and that is archived instead of deleted, because what was recorded refers to it. */
@MappedSuperclass
public abstract class ArchivableEntity extends CompanyEntity {

	private @Nullable Instant archivedAt;

	protected ArchivableEntity() {
	}

	protected ArchivableEntity(CompanyId company, UUID id, Instant now) {
		super(company, id, now);
	}

	/** Archiving twice is archiving once. */
	public void archive(Instant now) {
		if (archivedAt == null) {
			archivedAt = now;
			setUpdatedAt(now);
		}
	}

	public void restore(Instant now) {
		if (archivedAt != null) {
			archivedAt = null;
			setUpdatedAt(now);
		}
	}

	/** @throws StaleVersion when somebody else saved since the form was opened */
	protected void update(long formVersion, Instant now) {
		requireVersion(formVersion);
		setUpdatedAt(now);
	}

	protected boolean isArchived() {
		return archivedAt != null;
	}

}
