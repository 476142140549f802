package org.meniscus.company.web;

import jakarta.servlet.http.HttpServletRequest;

import org.meniscus.company.CompanyService;
import org.meniscus.company.PeopleService;
import org.meniscus.company.PersonSummary;
import org.meniscus.company.RawPassword;
import org.meniscus.platform.SignedInUser;
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

/** Pages on which people change their own account. */
@Controller
@StaffOnly
class AccountController {

	private final PeopleService people;

	private final CompanyService companies;

	private final SignInThrottle throttle;

	AccountController(PeopleService people, CompanyService companies, SignInThrottle throttle) {
		this.people = people;
		this.companies = companies;
		this.throttle = throttle;
	}

	@GetMapping("/account")
	String account(@AuthenticationPrincipal SignedInUser me, Model model) {
		model.addAttribute("form", new AccountForm(null, null));
		return page(people.person(me.company(), me.person()).summary(), model);
	}

	@PostMapping("/account")
	String change(@AuthenticationPrincipal SignedInUser me, @ModelAttribute("form") AccountForm form, BindingResult errors, Model model,
			HttpServletRequest request) {
		PersonSummary summary = people.person(me.company(), me.person()).summary();
		RawPassword old = form.old();
		RawPassword password = form.password();
		if (old == null) {
			errors.rejectValue("old", "field.missing");
		}
		FieldValidation.newPassword(errors, "password", password, companies.settings(me.company()).name(), summary.name(), summary.email());
		if (old == null || password == null || errors.hasErrors()) {
			return page(summary, model);
		}
		try {
			throttle.attempt(me.person().toString(), null);
		}
		catch (LockedException wait) {
			errors.rejectValue("old", "signin.refused.LOCKED");
			return page(summary, model);
		}
		if (!people.changePassword(me, old, password, request.getSession().getId())) {
			errors.rejectValue("old", "account.old.wrong");
			return page(summary, model);
		}
		throttle.succeeded(me.person().toString(), null);
		request.changeSessionId();
		return "redirect:/account?saved";
	}

	private static String page(PersonSummary summary, Model model) {
		model.addAttribute("summary", summary);
		return "company/account";
	}

}
