package org.meniscus.platform.web;

import org.springframework.ui.Model;
import org.springframework.validation.BeanPropertyBindingResult;
import org.springframework.validation.BindingResult;
import org.springframework.validation.Validator;

/** What is shown again when a form is refused. */
public final class FormBinding {

	/** A text with at least one character one can see: no row of blanks and control characters of any kind. */
	public static final String NOT_BLANK_PATTERN = "(?s).*[^\\s\\p{Z}\\p{C}].*";

	private FormBinding() {
	}

	/**
	 * Errors that more can be added to. When a text could not be read as what its field holds, a record is made without it, and
	 * Spring leaves its errors without the record: further refusals would fail. These stand on the record.
	 */
	public static BindingResult withTarget(Model model, String name, Object form, BindingResult errors) {
		return (errors.getTarget() != null) ? errors : rebind(model, name, form);
	}

	/**
	 * The same, and what the record's own constraints say: they are not looked at when a text could not be read. A field that
	 * could not be read is not refused twice.
	 */
	public static BindingResult withTarget(Model model, String name, Object form, BindingResult errors, Validator validator) {
		if (errors.getTarget() != null) {
			return errors;
		}
		BindingResult result = rebind(model, name, form);
		validator.validate(form, result);
		return result;
	}

	/** Puts a changed copy of the form in place, without losing what was said about its fields. */
	public static BindingResult rebind(Model model, String name, Object form) {
		String key = BindingResult.MODEL_KEY_PREFIX + name;
		BeanPropertyBindingResult result = new BeanPropertyBindingResult(form, name);
		if (model.getAttribute(key) instanceof BindingResult before) {
			before.getAllErrors().forEach(result::addError);
		}
		model.addAttribute(name, form);
		model.addAttribute(key, result);
		return result;
	}

}
