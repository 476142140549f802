package org.meniscus.company.web;

import java.beans.PropertyEditorSupport;

import org.meniscus.company.RawPassword;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.InitBinder;

/** Reads passwords as they are: other text loses the blanks at its ends, a password must not. */
@ControllerAdvice
class RawPasswordBindingAdvice {

	@InitBinder
	void registerEditor(WebDataBinder binder) {
		binder.registerCustomEditor(RawPassword.class, new PropertyEditorSupport() {

			@Override
			public void setAsText(String text) {
				setValue(text.isEmpty() ? null : new RawPassword(text));
			}

			@Override
			public String getAsText() {
				return "";
			}

		});
	}

}
