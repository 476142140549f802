package org.meniscus.visit;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.units.UnitSystem;

/**
 * A step of a plan that has its day: what to do and why as data, so that whoever follows reads it in his own language.
 *
 * @param day at the pool's place, not earlier
 * @param part of that day
 * @param product null for a test or a piece of work
 * @param expected amount expected when the plan was made; null when a test or the label says it
 */
public record DatedFollowUp(LocalDate day, PartOfDay part, Reason reason, @Nullable String product, @Nullable MeasuredAmount expected) {

	/** Nobody is at a pool by night: what falls there is for the morning. */
	public enum PartOfDay {

		MORNING, AFTERNOON, EVENING

	}

	private static final int AFTERNOON_FROM = 12;

	private static final int EVENING_FROM = 17;

	private static final int NIGHT_FROM = 21;

	public DatedFollowUp {
		Objects.requireNonNull(day);
		Objects.requireNonNull(part);
		Objects.requireNonNull(reason);
	}

	/** @param from when the plan was made, at the pool's place */
	static DatedFollowUp of(FollowUpStep later, LocalDateTime from) {
		LocalDateTime due = from.plusMinutes(Math.round(later.afterHours() * 60));
		Product product = later.product();
		int hour = due.getHour();
		LocalDate day = (hour >= NIGHT_FROM) ? due.toLocalDate().plusDays(1) : due.toLocalDate();
		PartOfDay part = (hour >= NIGHT_FROM || hour < AFTERNOON_FROM) ? PartOfDay.MORNING
				: (hour < EVENING_FROM) ? PartOfDay.AFTERNOON : PartOfDay.EVENING;
		return new DatedFollowUp(day, part, later.reason(), (product != null) ? product.name() : null, later.expectedAmount());
	}

	/** What to do, without its day. */
	public String describe(UnitSystem units, Wording.Texts texts) {
		String what = reason.format(units, texts);
		return (product != null && expected != null)
				? texts.text("visit.plan.followUp.amount", Wording.amount(expected, texts), product, what) : what;
	}

}
