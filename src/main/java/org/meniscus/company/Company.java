package org.meniscus.company;

import static org.meniscus.platform.database.Decimals.scaled;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.MonthDay;
import java.time.ZoneId;
import java.util.Currency;
import java.util.List;
import java.util.UUID;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Id;
import jakarta.persistence.Version;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.CompanyId;
import org.meniscus.water.assess.MinimumRule;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.pool.TestMethods;
import org.meniscus.water.units.UnitSystem;

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

	private BigDecimal fcSwimCeilingPpm;

	@Column(name = "hold_chance")
	private BigDecimal holdProbability;

	@Enumerated(EnumType.STRING)
	private MinimumRule minimumRule;

	@Column(name = "water_cents_per_m3")
	private BigDecimal waterPrice;

	@Column(name = "drain_visit_cents")
	private int drainVisit;

	@Column(name = "work_hour_cents")
	private int workHour;

	private boolean waterScarce;

	private String[] testMethods;

	private @Nullable Short seasonEndMonth;

	private @Nullable Short seasonEndDay;

	private Instant createdAt;

	private Instant updatedAt;

	@SuppressWarnings("NullAway.Init")
	protected Company() {
	}

	Company(CompanyId id, String name, UnitSystem units, ZoneId zone, Currency currency, Instant now) {
		this.id = id.value();
		this.createdAt = now;
		change(name, units, zone, currency, now);
		change(TreatmentSettings.DEFAULTS, now);
	}

	final void change(String name, UnitSystem units, ZoneId zone, Currency currency, Instant now) {
		this.name = name;
		this.units = units;
		this.timeZone = zone.getId();
		this.currency = currency.getCurrencyCode();
		this.updatedAt = now;
	}

	final void change(TreatmentSettings rules, Instant now) {
		this.fcSwimCeilingPpm = scaled(rules.fcSwimCeiling(), 1);
		this.holdProbability = scaled(rules.holdProbability(), 2);
		this.minimumRule = rules.minimumRule();
		this.waterPrice = scaled(rules.costs().waterPerM3(), 4);
		this.drainVisit = (int) Math.round(rules.costs().drainLabor());
		this.workHour = (int) Math.round(rules.costs().laborHour());
		this.waterScarce = rules.costs().waterScarce();
		this.testMethods = rules.tests().marks().toArray(new String[0]);
		MonthDay end = rules.seasonEnd();
		this.seasonEndMonth = (end != null) ? (short) end.getMonthValue() : null;
		this.seasonEndDay = (end != null) ? (short) end.getDayOfMonth() : null;
		this.updatedAt = now;
	}

	@Nullable
	Long version() {
		return version;
	}

	CompanySettings settings() {
		return new CompanySettings(new CompanyId(id), (version != null) ? version : 0, name, units, ZoneId.of(timeZone),
				Currency.getInstance(currency), treatment());
	}

	private TreatmentSettings treatment() {
		MonthDay end = (seasonEndMonth != null && seasonEndDay != null) ? MonthDay.of(seasonEndMonth, seasonEndDay) : null;
		return new TreatmentSettings(fcSwimCeilingPpm.doubleValue(), holdProbability.doubleValue(), minimumRule,
				new TreatmentCosts(waterPrice.doubleValue(), drainVisit, workHour).withWaterScarce(waterScarce), end,
				TestMethods.parse(null, List.of(testMethods)));
	}

}
