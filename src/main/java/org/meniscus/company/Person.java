package org.meniscus.company;

import java.security.MessageDigest;
import java.time.Instant;
import java.util.Locale;

import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.IdClass;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.CompanyEntity;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.RowId;
import org.meniscus.platform.SignedInUser;

/** Somebody who works for a company and can sign in. */
@Entity
@IdClass(RowId.class)
class Person extends CompanyEntity {

	private String name;

	private String email;

	@Enumerated(EnumType.STRING)
	private Role role;

	private @Nullable String passwordHash;

	private boolean active = true;

	private byte @Nullable [] inviteTokenHash;

	private @Nullable Instant inviteExpiresAt;

	@SuppressWarnings("NullAway.Init")
	protected Person() {
	}

	Person(CompanyId company, PersonId id, String name, String email, Role role, Instant now) {
		super(company, id.value(), now);
		this.name = name;
		this.email = email.toLowerCase(Locale.ROOT);
		this.role = role;
	}

	void setPassword(String passwordHash, Instant now) {
		this.passwordHash = passwordHash;
		this.inviteTokenHash = null;
		this.inviteExpiresAt = null;
		setUpdatedAt(now);
	}

	/** Another link sent before can no longer be used. */
	void issueLink(PasswordLinkToken token, Instant expiresAt, Instant now) {
		this.inviteTokenHash = token.hash();
		this.inviteExpiresAt = expiresAt;
		setUpdatedAt(now);
	}

	boolean acceptsToken(PasswordLinkToken token, Instant now) {
		return active && inviteTokenHash != null && inviteExpiresAt != null && MessageDigest.isEqual(inviteTokenHash, token.hash())
				&& now.isBefore(inviteExpiresAt);
	}

	void change(String name, Role role, Instant now) {
		this.name = name;
		this.role = role;
		setUpdatedAt(now);
	}

	/** A link sent before can no longer be used. */
	void deactivate(Instant now) {
		this.active = false;
		this.inviteTokenHash = null;
		this.inviteExpiresAt = null;
		setUpdatedAt(now);
	}

	void reactivate(Instant now) {
		this.active = true;
		setUpdatedAt(now);
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
		return new PersonSummary(new PersonId(rowId()), name, email, role, active, passwordHash != null);
	}

	PersonRecord toRecord() {
		return new PersonRecord(summary(), version(), inviteExpiresAt);
	}

	SignedInUser toSignedInUser() {
		return new SignedInUser(company(), new PersonId(rowId()), role, name);
	}

}
