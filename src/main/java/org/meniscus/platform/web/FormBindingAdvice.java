package org.meniscus.platform.web;

import java.beans.PropertyEditorSupport;
import java.math.BigDecimal;

import org.meniscus.platform.DecimalParser;
import org.springframework.beans.propertyeditors.StringTrimmerEditor;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.InitBinder;

/** How every form is read: blanks trimmed and empty taken as absent, decimals with a point or a comma. */
@ControllerAdvice
class FormBindingAdvice {

	@InitBinder
	void registerEditors(WebDataBinder binder) {
		binder.registerCustomEditor(String.class, new StringTrimmerEditor(true));
		binder.registerCustomEditor(BigDecimal.class, new DecimalEditor());
	}

	/** Reads as {@link DecimalParser} does. */
	static final class DecimalEditor extends PropertyEditorSupport {

		@Override
		public void setAsText(String text) {
			String entered = text.strip();
			if (entered.isEmpty()) {
				setValue(null);
				return;
			}
			setValue(DecimalParser.parse(entered));
		}

		@Override
		public String getAsText() {
			return (getValue() instanceof BigDecimal number) ? number.toPlainString() : "";
		}

	}

}
