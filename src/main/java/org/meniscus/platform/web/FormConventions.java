package org.meniscus.platform.web;

import java.beans.PropertyEditorSupport;
import java.math.BigDecimal;

import org.springframework.beans.propertyeditors.StringTrimmerEditor;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.InitBinder;

/** How every form is read: blanks trimmed and empty taken as absent, decimals with a point or a comma. */
@ControllerAdvice
class FormConventions {

	@InitBinder
	void conventions(WebDataBinder binder) {
		binder.registerCustomEditor(String.class, new StringTrimmerEditor(true));
		binder.registerCustomEditor(BigDecimal.class, new DecimalEditor());
	}

	/** "7.4" and "7,4" are the same number; "1,200" is refused because it could be meant either way. */
	static final class DecimalEditor extends PropertyEditorSupport {

		@Override
		public void setAsText(String text) {
			String entered = text.strip();
			if (entered.isEmpty()) {
				setValue(null);
				return;
			}
			if (entered.matches("-?\\d{1,12}([.]\\d{1,6})?") || entered.matches("-?\\d{1,12},(\\d{1,2}|\\d{4,6})")) {
				setValue(new BigDecimal(entered.replace(',', '.')));
				return;
			}
			throw new NumberFormatException("not a number: " + entered);
		}

		@Override
		public String getAsText() {
			return (getValue() instanceof BigDecimal number) ? number.toPlainString() : "";
		}

	}

}
