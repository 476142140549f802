package org.meniscus.company.web;

import java.time.ZoneId;
import java.util.Currency;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.ChangeCompany;
import org.meniscus.company.CompanySettings;
import org.meniscus.water.units.UnitSystem;
import org.springframework.validation.Errors;

/** What a company has chosen for itself, as the owner enters it. */
record CompanyForm(@Nullable Long version, @Nullable String name, @Nullable String units, @Nullable String zone,
		@Nullable String currency) {

	static CompanyForm of(CompanySettings company) {
		return new CompanyForm(company.version(), company.name(), company.units().name(), company.zone().getId(),
				company.currency().getCurrencyCode());
	}

	/** The zone and currency in use stay allowed, even where the lists no longer offer them. */
	void validate(Errors errors, CompanySettings stored) {
		FieldValidation.singleLine(errors, "name", name, 120);
		FieldValidation.oneOf(errors, "units", units, UnitSystem.class);
		if (!TimeZoneAndCurrencyOptions.isZone(zone) && !stored.zone().getId().equals(zone)) {
			errors.rejectValue("zone", "field.choose");
		}
		if (!TimeZoneAndCurrencyOptions.isCurrency(currency) && !stored.currency().getCurrencyCode().equals(currency)) {
			errors.rejectValue("currency", "field.choose");
		}
	}

	/** Only after {@link #validate} found nothing. */
	ChangeCompany toCommand() {
		return new ChangeCompany((version != null) ? version : -1, Objects.requireNonNull(name),
				UnitSystem.valueOf(Objects.requireNonNull(units)), ZoneId.of(zone),
				Currency.getInstance(currency));
	}

}
