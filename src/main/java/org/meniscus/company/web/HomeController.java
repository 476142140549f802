package org.meniscus.company.web;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.SignInFailure;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The front door: where each role's day begins. */
@Controller
class HomeController {

	@GetMapping("/")
	String home(@AuthenticationPrincipal @Nullable SignedInUser user) {
		if (user == null) {
			return "redirect:/signin";
		}
		return (user.role() == Role.TECHNICIAN) ? "redirect:/today" : "redirect:/week";
	}

	@GetMapping("/signin")
	String signIn(@RequestParam(required = false) @Nullable SignInFailure refused, Model model) {
		model.addAttribute("refused", refused);
		return "company/signin";
	}

}
