package org.meniscus.client.web;

import org.springframework.ui.Model;
import org.springframework.validation.BeanPropertyBindingResult;
import org.springframework.validation.BindingResult;

/** What is shown again after a form was refused for another reason than its fields. */
final class Forms {

	private Forms() {
	}

	/** Puts a changed copy of the form in place, without losing what was said about its fields. */
	static BindingResult retry(Model model, String name, Object form) {
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
