package org.meniscus.company;

import java.security.MessageDigest;
import java.time.Instant;
import java.util.Locale;
import java.util.UUID;

import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Id;
import jakarta.persistence.IdClass;
import jakarta.persistence.Version;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.RowId;
import org.meniscus.platform.SignedInUser;

/** Somebody who works for a company and can sign in. */
@Entity
@IdClass(RowId.class)
class Person {

	@Id
	private UUID companyId;

	@Id
	private UUID id;

	@Version
	private @Nullable Long version;

	private String name;

	private String email;

	@Enumerated(EnumType.STRING)
	private Role role;

	private @Nullable String passwordHash;

	private boolean active = true;

	private byte @Nullable [] inviteTokenHash;

	private @Nullable Instant inviteExpiresAt;

	private Instant createdAt;

	private Instant updatedAt;

	@SuppressWarnings("NullAway.Init")
	protected Person() {
	}

	Person(CompanyId company, PersonId id, String name, String email, Role role, Instant now) {
		this.companyId = company.value();
		this.id = id.value();
		this.name = name;
		this.email = email.toLowerCase(Locale.ROOT);
		this.role = role;
		this.createdAt = now;
		this.updatedAt = now;
	}

	void setPassword(String passwordHash, Instant now) {
		this.passwordHash = passwordHash;
		this.inviteTokenHash = null;
		this.inviteExpiresAt = null;
		this.updatedAt = now;
	}

	/** Another link sent before can no longer be used. */
	void issueLink(PasswordLinkToken token, Instant expiresAt, Instant now) {
		this.inviteTokenHash = token.hash();
		this.inviteExpiresAt = expiresAt;
		this.updatedAt = now;
	}

	boolean acceptsToken(PasswordLinkToken token, Instant now) {
		return active && inviteTokenHash != null && inviteExpiresAt != null && MessageDigest.isEqual(inviteTokenHash, token.hash())
				&& now.isBefore(inviteExpiresAt);
	}

	void change(String name, Role role, Instant now) {
		this.name = name;
		this.role = role;
		this.updatedAt = now;
	}

	/** A link sent before can no longer be used. */
	void deactivate(Instant now) {
		this.active = false;
		this.inviteTokenHash = null;
		this.inviteExpiresAt = null;
		this.updatedAt = now;
	}

	void reactivate(Instant now) {
		this.active = true;
		this.updatedAt = now;
	}

	/** Can sign in and may do everything. */
	boolean isActiveOwner() {
		return active && role == Role.OWNER && passwordHash != null;
	}

	/** Absent until the invitation has been accepted, and for people who have left. */
	@Nullable
	String passwordHash() {
		return active ? passwordHash : null;
	}

	PersonSummary summary() {
		return new PersonSummary(new PersonId(id), name, email, role, active, passwordHash != null);
	}

	PersonRecord toRecord() {
		return new PersonRecord(summary(), (version != null) ? version : 0, inviteExpiresAt);
	}

	@Nullable
	Long version() {
		return version;
	}

	SignedInUser toSignedInUser() {
		return new SignedInUser(new CompanyId(companyId), new PersonId(id), role, name);
	}

}
