package org.meniscus.company.web;

import java.beans.PropertyEditorSupport;

import org.meniscus.company.Secret;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.InitBinder;

/** Reads passwords as they are: other text loses the blanks at its ends, a password must not. */
@ControllerAdvice
class SecretReader {

	@InitBinder
	void secrets(WebDataBinder binder) {
		binder.registerCustomEditor(Secret.class, new PropertyEditorSupport() {
			@Override
			public void setAsText(String text) {
				setValue(text.isEmpty() ? null : new Secret(text));
			}

			@Override
			public String getAsText() {
				return "";
			}
		});
	}

}
