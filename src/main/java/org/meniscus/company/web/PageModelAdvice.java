package org.meniscus.company.web;

import jakarta.servlet.http.HttpServletRequest;

import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.SignedInUser;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ModelAttribute;

/** What every page knows: {@code me} (who is signed in) and {@code company} (its settings), both absent for visitors, and {@code activeSection}. */
@ControllerAdvice
class PageModelAdvice {

	private final CompanyService companies;

	PageModelAdvice(CompanyService companies) {
		this.companies = companies;
	}

	@ModelAttribute("me")
	@Nullable
	SignedInUser me(@AuthenticationPrincipal @Nullable Object principal) {
		return (principal instanceof SignedInUser user) ? user : null;
	}

	/** First segment of the path, for the mark in the navigation. */
	@ModelAttribute("activeSection")
	String activeSection(HttpServletRequest request) {
		String path = request.getServletPath();
		int end = path.indexOf('/', 1);
		return (end < 0) ? path : path.substring(0, end);
	}

	@ModelAttribute("company")
	@Nullable
	CompanySettings company(@AuthenticationPrincipal @Nullable Object principal) {
		return (principal instanceof SignedInUser user) ? companies.settings(user.company()) : null;
	}

}
