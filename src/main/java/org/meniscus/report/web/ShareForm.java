package org.meniscus.report.web;

import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.springframework.validation.BindingResult;

/**
 * What the form for a new link sends.
 *
 * @param link id of the link to be made, so that sending twice makes one
 * @param days how long it shall open
 */
record ShareForm(@Nullable UUID link, @Nullable Integer days) {

	void check(BindingResult errors, List<Integer> choices) {
		if (!errors.hasFieldErrors("days") && (days == null || !choices.contains(days))) {
			errors.rejectValue("days", "share.days.choose");
		}
	}

}
