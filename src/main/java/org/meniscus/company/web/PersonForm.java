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
		return new PersonForm(person.version(), person.card().name(), person.card().email(), person.card().role().name());
	}

	void check(Errors errors) {
		FieldValidation.line(errors, "name", name, 120);
		FieldValidation.oneOf(errors, "role", role, Role.class);
	}

	void checkInvitation(Errors errors) {
		check(errors);
		FieldValidation.email(errors, "email", email);
	}

}
