package org.meniscus.company.web;

import java.time.ZoneId;
import java.util.Currency;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyService;
import org.meniscus.company.RawPassword;
import org.meniscus.water.units.UnitSystem;
import org.springframework.validation.Errors;

/** What a new company says of itself and its owner; everything may be missing. */
record SignUpForm(@Nullable String companyName, @Nullable String units, @Nullable String zone, @Nullable String currency,
		@Nullable String ownerName, @Nullable String email, @Nullable RawPassword password) {

	static SignUpForm blank() {
		return new SignUpForm(null, UnitSystem.US.name(), "America/New_York", "USD", null, null, null);
	}

	void validate(Errors errors) {
		FieldValidation.singleLine(errors, "companyName", companyName, 120);
		FieldValidation.oneOf(errors, "units", units, UnitSystem.class);
		if (!TimeZoneAndCurrencyOptions.isZone(zone)) {
			errors.rejectValue("zone", "field.choose");
		}
		if (!TimeZoneAndCurrencyOptions.isCurrency(currency)) {
			errors.rejectValue("currency", "field.choose");
		}
		FieldValidation.singleLine(errors, "ownerName", ownerName, 120);
		FieldValidation.email(errors, "email", email);
		FieldValidation.newPassword(errors, "password", password, companyName, ownerName, email);
	}

	/** Only after {@link #validate} found nothing. */
	CompanyService.SignUp toCommand() {
		return new CompanyService.SignUp(Objects.requireNonNull(companyName), UnitSystem.valueOf(Objects.requireNonNull(units)),
				ZoneId.of(zone),
				Currency.getInstance(currency), Objects.requireNonNull(ownerName), Objects.requireNonNull(email),
				Objects.requireNonNull(password).text());
	}

}
