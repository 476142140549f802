package org.meniscus.study.audit;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

import org.meniscus.water.plan.Step;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;

/** Checks of pH and saturation index, where the plan leaves them and on the way there. */
final class AuditBalance {

	/** Half the last digit that is printed of a pH, and what the two ways of working it out may differ. */
	private static final double PH_TOLERANCE = 0.02;

	private static final double INDEX_TOLERANCE = 0.02;

	/** Saturation index below which acid attacks; common practice, no source. */
	private static final double INDEX_FLOOR = -0.6;

	/** Lower end of the range of the index that is usual; trade press. A pool is closed for its pH, not for an index above this. */
	private static final double INDEX_USUAL = -0.3;

	private static final double HALF_TEST_STEP = 0.05;

	/** Of a search for acid, ppm of TA: half a step of the test of pH moves as much in water of little buffer. */
	private static final double ACID_STEP = 0.5;

	private static final double MOST_ACID = 40;

	private final AuditCase at;

	private final List<AuditCheck.Finding> findings = new ArrayList<>();

	private AuditBalance(AuditCase at) {
		this.at = at;
	}

	static List<AuditCheck.Finding> check(AuditCase at) {
		AuditBalance balance = new AuditBalance(at);
		balance.ph();
		balance.phForgotten();
		balance.index();
		return balance.findings;
	}

	private void add(AuditCheck check, String format, Object... args) {
		this.findings.add(new AuditCheck.Finding(check, String.format(Locale.ROOT, format, args)));
	}

	private void ph() {
		Double ph = this.at.readings().ph();
		if (ph == null || ph < 7.2 - 1e-9 || ph > 7.8 + 1e-9 || !this.at.tested(Level.TA)
				|| this.at.readings().phQualifier() != ReadingQualifier.EXACT) {
			return;
		}
		double settled = this.at.settled().ph();
		if (outside(settled) && !byChlorineAlone(settled, this.at.chlorineAlone(true).ph())) {
			add(bringsBalance() ? AuditCheck.LEFT_OUT_FOR_WANT : AuditCheck.PH_LEFT_OUT, "pH %.1f -> %.2f", ph, settled);
		}
		double after = this.at.atCeiling().ph();
		// on the day of closing the trade table keeps acid out of a pH in range, and nobody swims
		boolean closing = this.at.request().situation() == Situation.CLOSING;
		// it passes with the chlorine: what a test in steps of 0.1 still shows as 7.8 is not answered
		double shown = Math.min(after, Math.max(7.8, after - HALF_TEST_STEP));
		if (outside(shown) && !closing && (after < 7.5 || (!this.at.adds(Step.Purpose.RAISE_TA) && acidHoldsBoth()))
				&& !byChlorineAlone(after, this.at.chlorineAlone(false).ph())) {
			add(bringsBalance() ? AuditCheck.LEFT_OUT_FOR_WANT : AuditCheck.PH_OUT_WITH_CHLORINE, "pH %.1f -> %.2f", ph, after);
		}
	}

	/**
	 * Neither chlorine nor the salt of a cell, which takes 0.03 at most, waits for acid or alkali that is not along and to be brought: nothing
	 * else takes the level as far.
	 */
	private boolean byChlorineAlone(double level, double alone) {
		AuditWater end = this.at.settled();
		double salt = this.at.adds(Step.Purpose.RAISE_SALT) ? end.salt() - this.at.now().salt() : 0;
		double bySalt = (salt == 0) ? 0 : end.plus(0, 0, 0, 0, 0, -salt, 0, 0).ph() - end.ph();
		return bringsBalance() && Math.abs(level + bySalt - 7.5) < Math.abs(alone - 7.5) + PH_TOLERANCE;
	}

	/**
	 * Whether some acid brings pH into range with the chlorine there, and leaves pH and index in order once it is used up. Not asked beside
	 * what lifts alkalinity: the two do not go in on one day (the trade's facts, 1.4).
	 */
	private boolean acidHoldsBoth() {
		boolean known = this.at.tested(Level.TA, Level.CH);
		for (double acid = ACID_STEP; acid <= MOST_ACID; acid += ACID_STEP) {
			if (!outside(this.at.atCeiling().plus(0, -acid, 0, 0, 0, 0, 0, 0).ph())) {
				AuditWater settled = this.at.settled().plus(0, -acid, 0, 0, 0, 0, 0, 0);
				double first = this.at.now().plus(0, -acid, 0, 0, 0, 0, 0, 0).saturationIndex();
				return !outside(settled.ph()) && (!known || first > INDEX_FLOOR
						&& (settled.saturationIndex() > INDEX_USUAL + INDEX_TOLERANCE && this.at.now().saturationIndex() > INDEX_USUAL
								|| outOfBand(settled.saturationIndex()) <= outOfBand(this.at.now().saturationIndex()) + INDEX_TOLERANCE));
			}
		}
		return false;
	}

	/** What cannot wait for another day, nor for other water. */
	private void phForgotten() {
		Readings readings = this.at.request().readings();
		Double ph = readings.ph();
		Double fc = readings.fc();
		// a colour test of pH reads too high in much chlorine
		if (this.at.emptied() || ph == null || readings.ta() == null || readings.phQualifier() != ReadingQualifier.EXACT
				|| (fc != null && fc > 10)) {
			return;
		}
		double today = this.at.chlorineUsed().ph();
		boolean low = ph < 7.0 - 1e-9 && today < 7.0 - PH_TOLERANCE && !this.at.adds(Step.Purpose.RAISE_PH, Step.Purpose.RAISE_TA)
				&& !this.at.misses(Step.Purpose.RAISE_PH)
				&& !this.at.misses(Step.Purpose.RAISE_TA) && !airLifts();
		boolean high = ph > 8.0 + 1e-9 && today > 8.0 + PH_TOLERANCE && !this.at.adds(Step.Purpose.LOWER_PH)
				&& !this.at.misses(Step.Purpose.LOWER_PH) && !acidWaits();
		if (low || high) {
			add(AuditCheck.PH_FORGOTTEN, "pH %.1f, TA %.0f", ph, readings.ta());
		}
	}

	/** Where the water does not attack, and more alkali would bring lime out, air lifts pH. */
	private boolean airLifts() {
		return this.at.says("work.aerate") && this.at.now().saturationIndex() > 0;
	}

	/** Acid follows on what lifts alkalinity first (order of the trade's facts, 1.4), or would make the water attack. */
	private boolean acidWaits() {
		return this.at.says("later.acid-after-alkalinity") && (this.at.adds(Step.Purpose.RAISE_TA)
				|| attacks(this.at.chlorineUsed()) || attacks(this.at.now()));
	}

	/** With a little acid: it is alone until what lifts the index has gone in. */
	private static boolean attacks(AuditWater water) {
		return water.plus(0, -ACID_STEP, 0, 0, 0, 0, 0, 0).saturationIndex() < INDEX_FLOOR + INDEX_TOLERANCE;
	}

	/** What would hold pH and index is not along, and the plan says what to bring. */
	private boolean bringsBalance() {
		return this.at.misses(Step.Purpose.RAISE_PH) || this.at.misses(Step.Purpose.RAISE_TA) || this.at.misses(Step.Purpose.LOWER_PH)
				|| this.at.misses(Step.Purpose.RAISE_CH);
	}

	private static boolean outside(double ph) {
		return ph < 7.2 - PH_TOLERANCE || ph > 7.8 + PH_TOLERANCE;
	}

	private void index() {
		if (!this.at.tested(Level.PH, Level.TA, Level.CH, Level.TEMPERATURE)) {
			return;
		}
		double before = this.at.now().saturationIndex();
		// the salt that a cell needs lowers the index by its ionic strength, whatever else is done
		AuditWater end = this.at.settled();
		double salt = this.at.adds(Step.Purpose.RAISE_SALT) ? this.at.now().salt() - end.salt() : 0;
		double settled = end.plus(0, 0, 0, 0, 0, salt, 0, 0).saturationIndex();
		Double tested = this.at.readings().ph();
		// above 8.0 a pool is closed for its pH, never for its index: acid comes first as long as the water does not attack
		boolean phFirst = tested != null && tested > 8.0 + 1e-9 && end.ph() > 7.8 - 0.1 && settled > INDEX_FLOOR - INDEX_TOLERANCE
				&& settled < before;
		// nor while today's chlorine lifts its pH: acid keeps it in range down to the usual end of the index
		boolean open = this.at.adds(Step.Purpose.LOWER_PH) && this.at.atCeiling().ph() > 7.8 - 0.1
				&& settled > Math.min(before, INDEX_USUAL) - INDEX_TOLERANCE;
		// want of chlorine and combined chlorine close a pool, its index does not
		double alone = outOfBand(this.at.chlorineAlone(true).saturationIndex());
		boolean capped = this.at.says("later.rest-next-visit") && this.at.adds(Step.Purpose.RAISE_PH);
		if (!phFirst && !open && !capped && outOfBand(settled) > Math.max(outOfBand(before), alone) + INDEX_TOLERANCE) {
			double ph = Objects.requireNonNull(this.at.readings().ph());
			boolean inside = ph >= 7.2 - 1e-9 && ph <= 7.8 + 1e-9;
			add(bringsBalance() ? AuditCheck.LEFT_OUT_FOR_WANT : inside ? AuditCheck.INDEX_LEFT : AuditCheck.INDEX_LEFT_PH_OUT,
					"SI %.2f -> %.2f, pH %.1f -> %.2f", before, settled, ph,
					this.at.settled().ph());
		}
		for (int n = 0; n < this.at.waters().size(); n++) {
			double then = this.at.waters().get(n).saturationIndex();
			double from = (n == 0) ? before : this.at.waters().get(n - 1).saturationIndex();
			if (this.at.plan().steps().get(n).purpose() == Step.Purpose.LOWER_PH && then < INDEX_FLOOR - INDEX_TOLERANCE) {
				add(AuditCheck.INDEX_BY_ACID, "SI %.2f -> %.2f by step %d", from, then, n + 1);
			}
		}
	}

	/** By how much an index is out of its surface's band; bands are common practice, no source. */
	private double outOfBand(double index) {
		PoolFacts pool = this.at.request().pool();
		boolean cement = pool.surface().cementBound();
		double low = cement ? -0.1 : -0.5;
		double high = (pool.sanitizer() == Sanitizer.SALT_CELL) ? 0.2 : 0.3;
		return Math.max(0, Math.max(low - index, index - high));
	}

}
