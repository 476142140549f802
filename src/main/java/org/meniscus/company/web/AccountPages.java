package org.meniscus.company.web;

import jakarta.servlet.http.HttpServletRequest;

import org.meniscus.company.CompanyRegister;
import org.meniscus.company.PeopleBook;
import org.meniscus.company.PersonCard;
import org.meniscus.company.Secret;
import org.meniscus.platform.SignedIn;
import org.meniscus.platform.security.SignInThrottle;
import org.meniscus.platform.security.StaffOnly;
import org.springframework.security.authentication.LockedException;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;

/** What everybody may change of themselves. */
@Controller
@StaffOnly
class AccountPages {

	private final PeopleBook people;

	private final CompanyRegister register;

	private final SignInThrottle throttle;

	AccountPages(PeopleBook people, CompanyRegister register, SignInThrottle throttle) {
		this.people = people;
		this.register = register;
		this.throttle = throttle;
	}

	@GetMapping("/account")
	String account(@AuthenticationPrincipal SignedIn me, Model model) {
		model.addAttribute("form", new AccountForm(null, null));
		return page(people.person(me.company(), me.person()).card(), model);
	}

	@PostMapping("/account")
	String change(@AuthenticationPrincipal SignedIn me, @ModelAttribute("form") AccountForm form, BindingResult errors, Model model,
			HttpServletRequest request) {
		PersonCard card = people.person(me.company(), me.person()).card();
		Secret old = form.old();
		Secret password = form.password();
		if (old == null) {
			errors.rejectValue("old", "field.missing");
		}
		FieldRules.newPassword(errors, "password", password, register.settings(me.company()).name(), card.name(), card.email());
		if (old == null || password == null || errors.hasErrors()) {
			return page(card, model);
		}
		try {
			throttle.attempt(me.person().toString(), null);
		}
		catch (LockedException wait) {
			errors.rejectValue("old", "signin.refused.wait");
			return page(card, model);
		}
		if (!people.changePassword(me, old, password, request.getSession().getId())) {
			errors.rejectValue("old", "account.old.wrong");
			return page(card, model);
		}
		throttle.succeeded(me.person().toString(), null);
		request.changeSessionId();
		return "redirect:/account?saved";
	}

	private static String page(PersonCard card, Model model) {
		model.addAttribute("card", card);
		return "company/account";
	}

}
