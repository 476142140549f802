package org.meniscus.visit.web;

import java.util.UUID;

import org.meniscus.ui.QuantityFormatter;
import org.meniscus.visit.PlannedWork;

/** Planned work as the visit page shows it. @param by who asked for it, and when */
record PlannedWorkView(UUID id, String text, String by) {

	static PlannedWorkView of(PlannedWork work, MessageSourceTexts texts) {
		return new PlannedWorkView(work.id(), describe(work.action(), texts),
				texts.text("visit.work.by", work.plannedBy(), QuantityFormatter.weekdayAndDate(work.plannedOn(), texts.locale())));
	}

	private static String describe(PlannedWork.PlannedAction task, MessageSourceTexts texts) {
		if (task instanceof PlannedWork.PlannedAction.DrainAndRefill drain) {
			return texts.text("visit.work.drain", Math.round(100 * drain.share()));
		}
		return texts.text("visit.work.chlorine." + ((PlannedWork.PlannedAction.ChlorineSwitch) task).kind());
	}

}
