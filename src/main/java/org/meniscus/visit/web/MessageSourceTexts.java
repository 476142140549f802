package org.meniscus.visit.web;

import java.util.Arrays;
import java.util.Locale;
import java.util.Objects;
import java.util.stream.Collectors;

import org.meniscus.water.explain.Wording;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** The message bundles in the reader's language. A text that is missing shows its code and figures rather than nothing. */
@Component
class MessageSourceTexts implements Wording.Texts {

	private final MessageSource messages;

	MessageSourceTexts(MessageSource messages) {
		this.messages = messages;
	}

	@Override
	public String text(String key, Object... args) {
		String bare = key.substring(key.lastIndexOf('.') + 1).replace('-', ' ');
		String figures = Arrays.stream(args).map(String::valueOf).collect(Collectors.joining(", "));
		String otherwise = figures.isEmpty() ? bare : bare + " (" + figures + ")";
		return Objects.requireNonNullElse(messages.getMessage(key, args, otherwise, locale()), otherwise);
	}

	Locale locale() {
		return LocaleContextHolder.getLocale();
	}

}
