package org.meniscus.company.web;

import java.util.Optional;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;

import org.meniscus.company.CompanyService;
import org.meniscus.company.PasswordLink;
import org.meniscus.company.PeopleService;
import org.meniscus.company.RawPassword;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.ProgrammaticSignIn;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** Choosing a password by a link: on joining, or when the old one is lost. Whoever has the link is the person. */
@Controller
class JoinController {

	private final PeopleService people;

	private final ProgrammaticSignIn signIn;

	JoinController(PeopleService people, ProgrammaticSignIn signIn) {
		this.people = people;
		this.signIn = signIn;
	}

	@GetMapping("/join/{token}")
	String join(@PathVariable String token, Model model, HttpServletResponse response) {
		Optional<PasswordLink> link = people.findLink(token);
		if (link.isEmpty()) {
			return invalidLink(response);
		}
		model.addAttribute("form", new JoinForm(null));
		return page(link.get(), token, model);
	}

	@PostMapping("/join/{token}")
	String join(@PathVariable String token, @ModelAttribute("form") JoinForm form, BindingResult errors, Model model,
			HttpServletRequest request, HttpServletResponse response) {
		Optional<PasswordLink> link = people.findLink(token);
		if (link.isEmpty()) {
			return invalidLink(response);
		}
		RawPassword password = form.password();
		FieldValidation.newPassword(errors, "password", password, link.get().companyName(), link.get().personName(), link.get().email());
		if (password == null || errors.hasErrors()) {
			return page(link.get(), token, model);
		}
		try {
			Optional<SignedInUser> joined = people.setPassword(token, password);
			if (joined.isEmpty()) {
				return invalidLink(response);
			}
			signIn.signIn(joined.get(), request, response);
			return "redirect:/";
		}
		catch (CompanyService.EmailTaken taken) {
			errors.reject("join.taken");
			return page(link.get(), token, model);
		}
	}

	private static String page(PasswordLink link, String token, Model model) {
		model.addAttribute("link", link);
		model.addAttribute("token", token);
		return "company/join";
	}

	/** Used, expired or never made: all look the same. */
	private static String invalidLink(HttpServletResponse response) {
		response.setStatus(HttpServletResponse.SC_NOT_FOUND);
		return "company/join-invalid";
	}

}
