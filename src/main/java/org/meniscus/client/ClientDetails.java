package org.meniscus.client;

import java.util.Locale;

import jakarta.persistence.Embeddable;

import org.jspecify.annotations.Nullable;

/**
 * What is kept about a client.
 *
 * @param name 1 to 120 characters
 * @param language "en" or "es": the language of the client's reports
 */
@Embeddable
public record ClientDetails(String name, @Nullable String email, @Nullable String phone, String language, @Nullable String notes) {

	public static final int NAME_MAX = 120;

	public static final int EMAIL_MAX = 254;

	public static final int PHONE_MAX = 40;

	public static final int NOTES_MAX = 4000;

	/** @throws IllegalArgumentException when a text is too long, the name is missing or the language is another */
	public ClientDetails {
		name = TextNormalizer.singleLine(name);
		email = TextNormalizer.singleLineOrNull(email);
		phone = TextNormalizer.singleLineOrNull(phone);
		notes = TextNormalizer.multiLineOrNull(notes);
		language = language.toLowerCase(Locale.ROOT);
		Preconditions.checkLength("name", name, 1, NAME_MAX);
		Preconditions.checkLength("email", email, 0, EMAIL_MAX);
		Preconditions.checkLength("phone", phone, 0, PHONE_MAX);
		Preconditions.checkLength("notes", notes, 0, NOTES_MAX);
		if (!language.equals("en") && !language.equals("es")) {
			throw new IllegalArgumentException("not a language of the reports: " + language);
		}
	}

}
