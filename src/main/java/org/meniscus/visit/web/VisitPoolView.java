package org.meniscus.visit.web;

import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolSummary;
import org.meniscus.ui.EquipmentFormatter;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.visit.ActivePlan;
import org.meniscus.visit.DatedFollowUp;
import org.meniscus.visit.DoseUnits;
import org.meniscus.visit.VisitEntryService;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.units.UnitSystem;

/**
 * The pool that is visited.
 *
 * @param facts volume, surface and the like, each as words
 * @param closed the visit before left it closed to swimmers
 * @param lastOn day of the visit before; null when there was none
 * @param lastUsed what went in then
 * @param trends how it uses up chlorine and where its pH goes, each as a sentence
 * @param submittedVisit id of the visit that was made for this stop already; null when none was
 * @param activePlan the plan of an earlier visit; null when none goes on
 */
record VisitPoolView(String client, String name, String address, List<String> facts, boolean closed,
		boolean volumeKnown, String access, String equipment,
		@Nullable String lastOn, List<String> lastUsed, List<String> trends, @Nullable String submittedVisit,
		@Nullable ActivePlanView activePlan) {

	/**
	 * A plan that goes on.
	 *
	 * @param title which one
	 * @param due what is to be done by today, as sentences
	 * @param later what follows after today
	 */
	record ActivePlanView(String title, List<String> due, List<String> later) {

		static @Nullable ActivePlanView of(@Nullable ActivePlan plan, LocalDate today, UnitSystem units, MessageSourceTexts texts) {
			if (plan == null) {
				return null;
			}
			return new ActivePlanView(
					texts.text("visit.activePlan", QuantityFormatter.weekdayAndDate(plan.madeOn(), texts.locale()),
							texts.text(Wording.situationKey(plan.situation()))),
					plan.due(today).stream().map(step -> line(step, units, texts)).toList(),
					plan.after(today).stream().map(step -> line(step, units, texts)).toList());
		}

		private static String line(DatedFollowUp step, UnitSystem units, MessageSourceTexts texts) {
			return texts.text("visit.plan.followUp." + step.part(), QuantityFormatter.weekdayAndDate(step.day(), texts.locale()),
					step.describe(units, texts));
		}

	}

	static VisitPoolView of(VisitEntryService.VisitContext context, List<Reason> trends, MessageSourceTexts texts) {
		PoolSummary pool = context.pool();
		VisitRecord last = context.lastVisit();
		UnitSystem units = context.company().units();
		VisitRecord submitted = context.submittedVisit();
		return new VisitPoolView(pool.clientName(), pool.name(), pool.address(), facts(pool.facts(), units, texts),
				last != null && last.closed(), pool.facts().volume() != null, context.accessNotes(),
				EquipmentFormatter.describe(pool.equipmentNotes(), pool.facts().equipment(), units, texts),
				(last != null) ? QuantityFormatter.weekdayAndDate(last.performedOn(), texts.locale()) : null,
				(last != null) ? used(last, context, texts) : List.of(),
				trends.stream().map(reason -> reason.format(units, texts)).toList(), (submitted != null) ? submitted.id().toString() : null,
				ActivePlanView.of(context.activePlan(), context.today(), units, texts));
	}

	static List<String> facts(PoolFacts facts, UnitSystem units, Wording.Texts texts) {
		String volume = (facts.volume() != null) ? QuantityFormatter.volume(units, facts.volume().litres())
				: texts.text("visit.volume.unknown");
		return List.of(volume, texts.text("water.surface.label." + facts.surface().name()),
				texts.text(facts.indoor() ? "visit.indoor" : "visit.outdoor"), texts.text("water.sanitizer." + facts.sanitizer().name()));
	}

	private static List<String> used(VisitRecord last, VisitEntryService.VisitContext context, MessageSourceTexts texts) {
		UnitSystem units = context.company().units();
		return last.doses().stream().map(dose -> {
			DoseUnits.DoseQuantity entry = DoseUnits.of(dose, context.products(), units).quantity(dose.amount());
			String amount = entry.inTablets() ? entry.format(texts)
					: QuantityFormatter.amount(units, dose.unit(), dose.amount());
			return dose.productName() + ": " + amount;
		}).toList();
	}

}
