package org.meniscus.visit.web;

import java.time.LocalDate;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolSummary;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.visit.ActivePlan;
import org.meniscus.visit.DatedFollowUp;
import org.meniscus.visit.DoseUnits;
import org.meniscus.visit.VisitEntryService;
import org.meniscus.visit.VisitRecord;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.UnitSystem;

/**
 * The pool one stands at.
 *
 * @param facts volume, surface and the like, each as words
 * @param lastOn day of the visit before; null when there was none
 * @param lastUsed what went in then
 * @param trends how it uses up chlorine and where its pH goes, each as a sentence
 * @param submittedVisit id of the visit that was made for this stop already; null when none was
 * @param activePlan the plan of an earlier visit; null when none goes on
 */
record VisitPoolView(String client, String pool, String address, List<String> facts, boolean volumeKnown, String access, String equipment,
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
					texts.text("visit.following", QuantityFormatter.weekdayAndDate(plan.madeOn(), texts.locale()),
							texts.text(Wording.situationKey(plan.situation()))),
					plan.due(today).stream().map(step -> line(step, units, texts)).toList(),
					plan.after(today).stream().map(step -> line(step, units, texts)).toList());
		}

		private static String line(DatedFollowUp step, UnitSystem units, MessageSourceTexts texts) {
			return texts.text("visit.plan.later." + step.part(), QuantityFormatter.weekdayAndDate(step.day(), texts.locale()),
					step.describe(units, texts));
		}

	}

	static VisitPoolView of(VisitEntryService.VisitContext arrival, List<Reason> ahead, MessageSourceTexts texts) {
		PoolSummary card = arrival.pool();
		VisitRecord last = arrival.lastVisit();
		UnitSystem units = arrival.company().units();
		VisitRecord done = arrival.submittedVisit();
		return new VisitPoolView(card.clientName(), card.name(), address(card), facts(card.facts(), units, texts),
				card.facts().volume() != null, arrival.accessNotes(), card.equipmentNotes(),
				(last != null) ? QuantityFormatter.weekdayAndDate(last.performedOn(), texts.locale()) : null,
				(last != null) ? used(last, arrival, texts) : List.of(),
				ahead.stream().map(reason -> reason.format(units, texts)).toList(), (done != null) ? done.id().toString() : null,
				ActivePlanView.of(arrival.activePlan(), arrival.today(), units, texts));
	}

	static String address(PoolSummary card) {
		return Stream.of(card.street(), (card.postcode() + " " + card.town()).strip())
			.filter(part -> !part.isBlank())
			.collect(Collectors.joining(", "));
	}

	static List<String> facts(PoolFacts facts, UnitSystem units, Wording.Texts texts) {
		String volume = (facts.volume() != null) ? QuantityFormatter.volume(units, facts.volume().litres())
				: texts.text("visit.volume.unknown");
		return List.of(volume, texts.text("visit.surface." + facts.surface().name()),
				texts.text(facts.indoor() ? "visit.indoor" : "visit.outdoor"), texts.text("visit.sanitizer." + facts.sanitizer().name()));
	}

	private static List<String> used(VisitRecord last, VisitEntryService.VisitContext arrival, MessageSourceTexts texts) {
		UnitSystem units = arrival.company().units();
		return last.doses().stream().map(dose -> {
			DoseUnits.DoseQuantity entry = DoseUnits.of(dose, arrival.products(), units).quantity(dose.amount());
			String amount = entry.inTablets() ? entry.format(texts)
					: (dose.unit() == AmountUnit.G) ? QuantityFormatter.grams(units, dose.amount())
							: QuantityFormatter.millilitres(units, dose.amount());
			return dose.productName() + " " + amount;
		}).toList();
	}

}
