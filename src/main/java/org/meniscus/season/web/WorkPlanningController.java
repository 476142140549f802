package org.meniscus.season.web;

import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.security.OfficeOnly;
import org.meniscus.visit.PlannedWork;
import org.meniscus.visit.PlannedWorkService;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Puts a drain or another chlorine on the plan of a pool's next visit, and takes it off again. */
@Controller
@OfficeOnly
class WorkPlanningController {

	private final PlannedWorkService plannedWork;

	WorkPlanningController(PlannedWorkService work) {
		this.plannedWork = work;
	}

	/** The buttons send only what they were made with; anything else is no choice of this page. */
	@PostMapping("/pools/{id}/planned")
	String plan(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @RequestParam(required = false) @Nullable Integer drain,
			@RequestParam(required = false) @Nullable UUID drainId, @RequestParam(required = false) @Nullable String chlorine,
			@RequestParam(required = false) @Nullable UUID chlorineId) {
		PoolId pool = new PoolId(id);
		if (drain != null && drainId != null) {
			if (drain < 5 || drain > 100) {
				throw new NotFound("share");
			}
			plannedWork.plan(me, drainId, pool, new PlannedWork.PlannedAction.DrainAndRefill(drain / 100.0));
		}
		if (chlorine != null && chlorineId != null) {
			plannedWork.plan(me, chlorineId, pool,
					new PlannedWork.PlannedAction.ChlorineSwitch(WhatIfForm.CHLORINE_PRODUCTS.stream()
						.filter(kind -> kind.name().equals(chlorine))
						.findFirst()
						.orElseThrow(() -> new NotFound("chlorine"))));
		}
		return "redirect:/pools/" + id + "?planned";
	}

	@PostMapping("/pools/{id}/planned/{work}/drop")
	String drop(@AuthenticationPrincipal SignedInUser me, @PathVariable UUID id, @PathVariable("work") UUID one) {
		plannedWork.drop(me, new PoolId(id), one);
		return "redirect:/pools/" + id;
	}

}
