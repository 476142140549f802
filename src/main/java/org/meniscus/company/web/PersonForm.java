package org.meniscus.company.web;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.PersonRecord;
import org.meniscus.platform.Role;
import org.springframework.validation.Errors;

/** Somebody's name, address and role; the address only when inviting. */
record PersonForm(@Nullable Long version, @Nullable String name, @Nullable String email, @Nullable String role) {

	static PersonForm blank() {
		return new PersonForm(null, null, null, Role.TECHNICIAN.name());
	}

	static PersonForm of(PersonRecord person) {
		return new PersonForm(person.version(), person.summary().name(), person.summary().email(), person.summary().role().name());
	}

	void validate(Errors errors) {
		FieldValidation.singleLine(errors, "name", name, 120);
		FieldValidation.oneOf(errors, "role", role, Role.class);
	}

	void validateInvitation(Errors errors) {
		validate(errors);
		FieldValidation.email(errors, "email", email);
	}

}
