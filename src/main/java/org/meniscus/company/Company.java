package org.meniscus.company;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Currency;
import java.util.UUID;

import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Id;
import jakarta.persistence.Version;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.CompanyId;
import org.meniscus.water.UnitSystem;

/** A tenant: one pool-service company. */
@Entity
class Company {

	@Id
	private UUID id;

	@Version
	private @Nullable Long version;

	private String name;

	@Enumerated(EnumType.STRING)
	private UnitSystem units;

	private String timeZone;

	@org.hibernate.annotations.JdbcTypeCode(java.sql.Types.CHAR)
	private String currency;

	private BigDecimal fcSwimCeilingPpm = new BigDecimal("4.0");

	private Instant createdAt;

	private Instant updatedAt;

	@SuppressWarnings("NullAway.Init")
	protected Company() {
	}

	Company(CompanyId id, String name, UnitSystem units, ZoneId zone, Currency currency, Instant now) {
		this.id = id.value();
		this.name = name;
		this.units = units;
		this.timeZone = zone.getId();
		this.currency = currency.getCurrencyCode();
		this.createdAt = now;
		this.updatedAt = now;
	}

	void change(String name, UnitSystem units, ZoneId zone, Currency currency, BigDecimal fcSwimCeilingPpm, Instant now) {
		this.name = name;
		this.units = units;
		this.timeZone = zone.getId();
		this.currency = currency.getCurrencyCode();
		this.fcSwimCeilingPpm = fcSwimCeilingPpm;
		this.updatedAt = now;
	}

	@Nullable Long version() {
		return version;
	}

	CompanySettings settings() {
		return new CompanySettings(new CompanyId(id), (version != null) ? version : 0, name, units, ZoneId.of(timeZone),
				Currency.getInstance(currency), fcSwimCeilingPpm.doubleValue());
	}

}
