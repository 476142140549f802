package org.meniscus.company.web;

import java.time.Clock;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.company.LastOwner;
import org.meniscus.company.PasswordLink;
import org.meniscus.company.PasswordLinkMailer;
import org.meniscus.company.PeopleService;
import org.meniscus.company.PersonRecord;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.security.OwnerOnly;
import org.meniscus.platform.web.FormBinding;
import org.meniscus.ui.Option;
import org.springframework.context.MessageSource;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

/** Who works here: the owner invites, changes roles and lets people go. */
@Controller
@OwnerOnly
class PeopleController {

	private final PeopleService people;

	private final PasswordLinkMailer mail;

	private final MessageSource texts;

	private final CompanyService companies;

	private final Clock clock;

	PeopleController(PeopleService people, PasswordLinkMailer mail, MessageSource texts, CompanyService companies, Clock clock) {
		this.people = people;
		this.mail = mail;
		this.texts = texts;
		this.companies = companies;
		this.clock = clock;
	}

	/** A line of the list. */
	record PersonRow(PersonRecord person, String state, @Nullable String expiry) {

		/** So the template need not ask for the id in two steps. */
		public UUID id() {
			return person.summary().id().value();
		}

	}

	@GetMapping("/people")
	String list(@AuthenticationPrincipal SignedInUser me, Model model, Locale locale) {
		model.addAttribute("lines", people.all(me.company()).stream().map(person -> row(me, person, locale)).toList());
		return "company/people";
	}

	@GetMapping("/people/invite")
	String invite(Model model, Locale locale) {
		return invitePage(PersonForm.blank(), model, locale);
	}

	@PostMapping("/people/invite")
	String invite(@AuthenticationPrincipal SignedInUser me, @ModelAttribute("form") PersonForm form, BindingResult bound, Model model,
			Locale locale, RedirectAttributes redirect) {
		BindingResult errors = FormBinding.withTarget(model, "form", form, bound);
		form.validateInvitation(errors);
		if (!errors.hasErrors()) {
			try {
				PasswordLink link = people.invite(me, Objects.requireNonNull(form.name()), Objects.requireNonNull(form.email()),
						Role.valueOf(Objects.requireNonNull(form.role())));
				deliverLink(link, redirect, locale);
				return "redirect:/people";
			}
			catch (CompanyService.EmailTaken taken) {
				errors.rejectValue("email", "people.taken");
			}
		}
		return invitePage(form, model, locale);
	}

	@GetMapping("/people/{id}")
	String person(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Model model, Locale locale) {
		PersonRecord person = people.person(me.company(), new PersonId(id));
		return personPage(me, person, PersonForm.of(person), person.version(), model, locale);
	}

	@PostMapping("/people/{id}")
	String change(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @ModelAttribute("form") PersonForm form,
			BindingResult bound,
			Model model, Locale locale) {
		PersonRecord person = people.person(me.company(), new PersonId(id));
		BindingResult errors = FormBinding.withTarget(model, "form", form, bound);
		form.validate(errors);
		if (!errors.hasErrors()) {
			try {
				people.change(me, new PersonId(id), (form.version() != null) ? form.version() : -1,
						Objects.requireNonNull(form.name()), Role.valueOf(Objects.requireNonNull(form.role())));
				return "redirect:/people/" + id + "?saved";
			}
			catch (StaleVersion stale) {
				errors.reject("form.stale");
				model.addAttribute("stale", true);
				// compared and saved again, it is meant
				return personPage(me, person, form, person.version(), model, locale);
			}
			catch (LastOwner last) {
				errors.rejectValue("role", "people.lastOwner");
			}
		}
		return personPage(me, person, form, form.version(), model, locale);
	}

	@PostMapping("/people/{id}/link")
	String link(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, Locale locale, RedirectAttributes redirect) {
		deliverLink(people.link(me.company(), new PersonId(id)), redirect, locale);
		return "redirect:/people";
	}

	@PostMapping("/people/{id}/withdraw")
	String withdraw(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, RedirectAttributes redirect) {
		boolean withdrawn = people.withdrawInvitation(me.company(), new PersonId(id));
		redirect.addFlashAttribute("notice", withdrawn ? "people.withdrawn" : "people.notWithdrawn");
		return withdrawn ? "redirect:/people" : "redirect:/people/" + id;
	}

	@PostMapping("/people/{id}/deactivate")
	String deactivate(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, RedirectAttributes redirect) {
		try {
			people.deactivate(me.company(), new PersonId(id));
			redirect.addFlashAttribute("notice", "people.deactivated");
			return "redirect:/people";
		}
		catch (LastOwner last) {
			redirect.addFlashAttribute("refused", "people.lastOwner");
			return "redirect:/people/" + id;
		}
	}

	@PostMapping("/people/{id}/reactivate")
	String reactivate(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, RedirectAttributes redirect) {
		people.reactivate(me.company(), new PersonId(id));
		redirect.addFlashAttribute("notice", "people.reactivated");
		return "redirect:/people/" + id;
	}

	/** Mails the link; where that cannot be, the next page shows it, once. */
	private void deliverLink(PasswordLink link, RedirectAttributes redirect, Locale locale) {
		String url = ServletUriComponentsBuilder.fromCurrentContextPath().path("/join/" + link.token()).toUriString();
		redirect.addFlashAttribute("linkFor", link.personName());
		redirect.addFlashAttribute("linkMail", link.email());
		redirect.addFlashAttribute("linkKind", link.invitation() ? "invitation" : "passwordReset");
		if (!mail.send(link, url, locale)) {
			redirect.addFlashAttribute("linkUrl", url);
		}
	}

	private String invitePage(PersonForm form, Model model, Locale locale) {
		model.addAttribute("form", form);
		model.addAttribute("roles", roles(locale));
		return "company/invite";
	}

	private String personPage(SignedInUser me, PersonRecord person, PersonForm form, @Nullable Long version, Model model,
			Locale locale) {
		model.addAttribute("form", form);
		model.addAttribute("version", version);
		model.addAttribute("roles", roles(locale));
		model.addAttribute("line", row(me, person, locale));
		return "company/person";
	}

	private List<Option> roles(Locale locale) {
		return Arrays.stream(Role.values())
			.map(role -> new Option(role.name(), texts.getMessage("people.role." + role, null, locale)))
			.toList();
	}

	private PersonRow row(SignedInUser me, PersonRecord person, Locale locale) {
		Instant expiry = person.linkExpiresAt();
		String validUntil = (expiry != null && clock.instant().isBefore(expiry)) ? time(me, expiry, locale) : null;
		String state = !person.summary().active() ? "LEFT"
				: person.summary().joined() ? "JOINED" : (validUntil != null) ? "INVITED" : "EXPIRED";
		return new PersonRow(person, state, validUntil);
	}

	private String time(SignedInUser me, Instant at, Locale locale) {
		CompanySettings company = companies.settings(me.company());
		return DateTimeFormatter.ofPattern("EEE d MMM, HH:mm", locale).withZone(company.zone()).format(at);
	}

}
