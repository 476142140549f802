package org.meniscus.report.web;

import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.springframework.validation.BindingResult;

/**
 * What the form for a new link sends, as text, so that whatever is sent comes back with what is wrong about it.
 *
 * @param link id of the link to be made, so that sending twice makes one
 * @param days how long it shall open
 */
record ShareForm(@Nullable String link, @Nullable String days) {

	static ShareForm blank(UUID link, int days) {
		return new ShareForm(link.toString(), String.valueOf(days));
	}

	/** One of the choices; empty with an error when it is none of them. */
	@Nullable
	Integer daysOf(List<Integer> choices, BindingResult errors) {
		for (Integer choice : choices) {
			if (choice.toString().equals(days)) {
				return choice;
			}
		}
		errors.rejectValue("days", "share.days.choose");
		return null;
	}

	/** Null when it was left out or is no id. */
	@Nullable
	UUID linkId() {
		try {
			return (link != null) ? UUID.fromString(link) : null;
		}
		catch (IllegalArgumentException ex) {
			return null;
		}
	}

}
