package org.meniscus.company.web;

import java.time.Clock;
import java.util.List;
import java.util.Locale;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.ProgrammaticSignIn;
import org.meniscus.platform.security.RateLimiter;
import org.meniscus.ui.Option;
import org.springframework.context.MessageSource;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.AuthenticationException;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.security.web.authentication.WebAuthenticationDetails;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;

/** A company sets itself up and its owner is in at once. */
@Controller
class SignUpController {

	/** From one address; each costs a password hash. Common practice, no source. */
	private static final int PER_MINUTE = 10;

	private final CompanyService companies;

	private final AuthenticationProvider signIn;

	private final ProgrammaticSignIn sessionSignIn;

	private final MessageSource texts;

	private final Clock clock;

	private final RateLimiter limit;

	SignUpController(CompanyService companies, AuthenticationProvider signIn, ProgrammaticSignIn sessionSignIn, MessageSource texts,
			Clock clock) {
		this.companies = companies;
		this.signIn = signIn;
		this.sessionSignIn = sessionSignIn;
		this.texts = texts;
		this.clock = clock;
		this.limit = new RateLimiter(PER_MINUTE, clock);
	}

	@GetMapping("/signup")
	String form(@AuthenticationPrincipal @Nullable SignedInUser me, Model model, Locale locale) {
		return (me != null) ? "redirect:/" : page(SignUpForm.blank(), model, locale);
	}

	@PostMapping("/signup")
	String signUp(@ModelAttribute("form") SignUpForm form, BindingResult errors, Model model, Locale locale,
			HttpServletRequest request, HttpServletResponse response) {
		form.validate(errors);
		if (!errors.hasErrors() && !limit.tryAcquire(request.getRemoteAddr())) {
			errors.reject("signup.wait");
		}
		if (errors.hasErrors()) {
			return page(form, model, locale);
		}
		CompanyService.SignUp command = form.toCommand();
		SignedInUser owner;
		try {
			owner = companies.signUp(command);
		}
		catch (CompanyService.EmailTaken taken) {
			owner = alreadySignedUp(command, request);
			if (owner == null) {
				errors.rejectValue("email", "signup.taken");
				return page(form, model, locale);
			}
		}
		sessionSignIn.signIn(owner, request, response);
		return "redirect:/";
	}

	/** The same form sent twice: the address and its password are already in. */
	private @Nullable SignedInUser alreadySignedUp(CompanyService.SignUp command, HttpServletRequest request) {
		UsernamePasswordAuthenticationToken attempt = UsernamePasswordAuthenticationToken.unauthenticated(command.email(),
				command.password());
		attempt.setDetails(new WebAuthenticationDetails(request));
		try {
			Authentication known = signIn.authenticate(attempt);
			return (known != null && known.getPrincipal() instanceof SignedInUser user) ? user : null;
		}
		catch (AuthenticationException refused) {
			return null;
		}
	}

	private String page(SignUpForm form, Model model, Locale locale) {
		if (!model.containsAttribute("form")) {
			model.addAttribute("form", form);
		}
		model.addAttribute("zones", TimeZoneAndCurrencyOptions.zoneOptions(clock.instant()));
		model.addAttribute("currencies", TimeZoneAndCurrencyOptions.currencyOptions(locale));
		model.addAttribute("unitSystems", unitOptions(texts, locale));
		return "company/signup";
	}

	static List<Option> unitOptions(MessageSource texts, Locale locale) {
		return List.of(new Option("US", texts.getMessage("units.US", null, locale)),
				new Option("METRIC", texts.getMessage("units.METRIC", null, locale)));
	}

}
