package org.meniscus.company.web;

import java.time.ZoneId;
import java.util.Currency;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyRegister;
import org.meniscus.company.Secret;
import org.meniscus.water.UnitSystem;
import org.springframework.validation.Errors;

/** What a new company says of itself and its owner; everything may be missing. */
record SignUpForm(@Nullable String companyName, @Nullable String units, @Nullable String zone, @Nullable String currency,
		@Nullable String ownerName, @Nullable String email, @Nullable Secret password) {

	static SignUpForm blank() {
		return new SignUpForm(null, UnitSystem.US.name(), "America/New_York", "USD", null, null, null);
	}

	void check(Errors errors) {
		FieldRules.line(errors, "companyName", companyName, 120);
		FieldRules.oneOf(errors, "units", units, UnitSystem.class);
		if (!Choices.isZone(zone)) {
			errors.rejectValue("zone", "field.choose");
		}
		if (!Choices.isCurrency(currency)) {
			errors.rejectValue("currency", "field.choose");
		}
		FieldRules.line(errors, "ownerName", ownerName, 120);
		FieldRules.email(errors, "email", email);
		FieldRules.newPassword(errors, "password", password, companyName, ownerName, email);
	}

	/** Only after {@link #check} found nothing. */
	CompanyRegister.SignUp toCommand() {
		return new CompanyRegister.SignUp(Objects.requireNonNull(companyName), UnitSystem.valueOf(units), ZoneId.of(zone),
				Currency.getInstance(currency), Objects.requireNonNull(ownerName), Objects.requireNonNull(email),
				Objects.requireNonNull(password).text());
	}

}
