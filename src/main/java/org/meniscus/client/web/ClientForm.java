package org.meniscus.client.web;

import java.util.UUID;

import jakarta.validation.constraints.Email;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientDetails;
import org.meniscus.client.ClientId;
import org.meniscus.client.ClientRecord;
import org.meniscus.platform.web.FormBinding;

/** What the browser sends about a client. A fresh form carries its own id, so pressing twice adds once. */
record ClientForm(@NotNull @Nullable UUID id, @Nullable Long version,
		@NotBlank @Pattern(regexp = FormBinding.NOT_BLANK_PATTERN, message = "{jakarta.validation.constraints.NotBlank.message}") @Size(max = ClientDetails.NAME_MAX, message = "{client.tooLong}") @Nullable String name,
		@Email(message = "{client.email.invalid}") @Size(max = ClientDetails.EMAIL_MAX, message = "{client.tooLong}") @Nullable String email,
		@Size(max = ClientDetails.PHONE_MAX, message = "{client.tooLong}") @Nullable String phone,
		@NotNull @Pattern(regexp = "en|es", message = "{client.choose}") @Nullable String language,
		@Size(max = ClientDetails.NOTES_MAX, message = "{client.tooLong}") @Nullable String notes) {

	static ClientForm blank(UUID id) {
		return new ClientForm(id, null, null, null, null, "en", null);
	}

	static ClientForm of(ClientRecord client) {
		ClientDetails details = client.details();
		return new ClientForm(client.id().value(), client.version(), details.name(), details.email(), details.phone(),
				details.language(), details.notes());
	}

	ClientForm withVersion(long version) {
		return new ClientForm(id, version, name, email, phone, language, notes);
	}

	/** Whatever the hidden field held, it is the client of the address. */
	ClientForm of(UUID id) {
		return new ClientForm(id, version, name, email, phone, language, notes);
	}

	ClientId clientId() {
		return new ClientId(java.util.Objects.requireNonNull(id));
	}

	ClientDetails details() {
		return new ClientDetails((name != null) ? name : "", email, phone, (language != null) ? language : "en", notes);
	}

}
