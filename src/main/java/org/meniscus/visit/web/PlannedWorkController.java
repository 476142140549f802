package org.meniscus.visit.web;

import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.StaffOnly;
import org.meniscus.visit.PlannedWorkService;
import org.meniscus.visit.VisitEntryService;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestParam;

/** At the pool: work that was planned for this stop is done. The form beside it stays as typed. */
@Controller
@StaffOnly
class PlannedWorkController {

	private final VisitEntryService entry;

	private final PlannedWorkService plannedWork;

	private final MessageSourceTexts texts;

	PlannedWorkController(VisitEntryService poolside, PlannedWorkService work, MessageSourceTexts texts) {
		this.entry = poolside;
		this.plannedWork = work;
		this.texts = texts;
	}

	@PostMapping("/visit/planned/{id}/done")
	String done(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @RequestParam UUID pool,
			@RequestParam(required = false) @Nullable UUID stop,
			@RequestHeader(name = "HX-Request", required = false) @Nullable String exchange, Model model) {
		PoolId at = new PoolId(pool);
		entry.context(me, at, stop);
		plannedWork.markDone(me, at, id);
		if (exchange == null) {
			return "redirect:/visit?pool=" + pool + ((stop != null) ? "&stop=" + stop : "");
		}
		model.addAttribute("work", plannedWork.open(me.company(), at).stream().map(one -> one.text(texts, texts.locale())).toList());
		model.addAttribute("workPool", pool);
		model.addAttribute("workStop", stop);
		return "visit/work :: work";
	}

}
