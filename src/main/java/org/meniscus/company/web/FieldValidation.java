package org.meniscus.company.web;

import java.util.Arrays;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.PasswordPolicy;
import org.meniscus.company.RawPassword;
import org.springframework.validation.Errors;

/** What the fields of these forms have in common; each refusal stands beside its field. */
final class FieldValidation {

	private FieldValidation() {
	}

	/** One line of text that must be there. */
	static void singleLine(Errors errors, String field, @Nullable String value, int max) {
		if (value == null) {
			errors.rejectValue(field, "field.missing");
		}
		else if (value.length() > max) {
			errors.rejectValue(field, "field.tooLong", new Object[]{ max }, null);
		}
		else if (value.chars().anyMatch(Character::isISOControl)) {
			errors.rejectValue(field, "field.control");
		}
	}

	static void email(Errors errors, String field, @Nullable String value) {
		singleLine(errors, field, value, 254);
		if (value != null && !errors.hasFieldErrors(field) && !looksLikeAddress(value)) {
			errors.rejectValue(field, "field.email");
		}
	}

	/** Plain addresses only: no quoting, no comments, nothing that could end a mail header. */
	private static boolean looksLikeAddress(String value) {
		int at = value.indexOf('@');
		String domain = value.substring(at + 1);
		return at > 0 && at <= 64 && at == value.lastIndexOf('@') && domain.indexOf('.') > 0 && !domain.endsWith(".")
				&& !domain.contains("..")
				&& value.codePoints().noneMatch(c -> Character.isWhitespace(c) || "<>()[],;:\\\"".indexOf(c) >= 0);
	}

	static <E extends Enum<E>> void oneOf(Errors errors, String field, @Nullable String value, Class<E> type) {
		if (value == null || Arrays.stream(type.getEnumConstants()).noneMatch(constant -> constant.name().equals(value))) {
			errors.rejectValue(field, "field.choose");
		}
	}

	/** @param names what would be tried first: see {@link PasswordPolicy#findProblem} */
	static void newPassword(Errors errors, String field, @Nullable RawPassword password, @Nullable String... names) {
		if (password == null) {
			errors.rejectValue(field, "field.missing");
			return;
		}
		PasswordPolicy.findProblem(password.text(), names)
			.ifPresent(problem -> errors.rejectValue(field, "password." + problem,
					new Object[]{ PasswordPolicy.MIN_LENGTH, PasswordPolicy.MAX_LENGTH }, null));
	}

}
