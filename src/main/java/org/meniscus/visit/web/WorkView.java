package org.meniscus.visit.web;

import java.util.UUID;

import org.meniscus.platform.web.Measures;
import org.meniscus.visit.PoolWork;

/** Planned work as the visit page shows it. @param by who asked for it, and when */
record WorkView(UUID id, String text, String by) {

	static WorkView of(PoolWork work, Texts texts) {
		return new WorkView(work.id(), words(work.planned(), texts),
				texts.text("visit.work.by", work.plannedBy(), Measures.day(work.plannedOn(), texts.locale())));
	}

	private static String words(PoolWork.Task task, Texts texts) {
		if (task instanceof PoolWork.Task.Drain drain) {
			return texts.text("visit.work.drain", Math.round(100 * drain.share()));
		}
		return texts.text("visit.work.chlorine." + ((PoolWork.Task.Chlorine) task).kind());
	}

}
