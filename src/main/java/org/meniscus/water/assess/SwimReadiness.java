package org.meniscus.water.assess;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Levels;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.units.Volume;

/**
 * When people may swim: all conditions, never one alone. The plan, the stored visit, the pages of the staff and the homeowner's report
 * ask this and nothing else, so that they agree.
 *
 * @param waitHours longest wait of what goes in, hours from the first addition; zero when nothing asks for waiting
 * @param fcMinimum lowest FC, ppm, to enter; zero in a pool not kept on chlorine
 * @param fcMaximum highest FC, ppm, to enter
 * @param conditions every condition, in the order they are shown
 */
public record SwimReadiness(double waitHours, double fcMinimum, double fcMaximum, List<Condition> conditions) {

	/** CC up to which the air and the water are fit to be in, ppm; model code (MAHC 5.7.3), from memory. */
	public static final double COMBINED_LIMIT = 0.4;

	/** So long tests of FC and CC read non-chlorine oxidizer as chlorine, hours: Taylor Technologies, note on interference. */
	public static final double OXIDIZER_HOURS = 12;

	/** Hottest water of a spa, °C; 104 °F: CPSC and the model code, read in the table of Montana ARM 37.115.1308 (superseded version). */
	static final double SPA_CELSIUS = 40;

	/** The sentence that every page says first of a closed pool. */
	public static final Reason CLOSED = Reason.of("swim.closed");

	/** FC is tested and stated in tenths of a ppm: less room than this is none. */
	private static final double HALF_A_TENTH = 0.05;

	/** Half a step of a pH test. */
	private static final double PH_TEST = 0.05;

	/** Whether anybody may go in. */
	public enum State {

		/** Nothing asks for waiting. */
		OPEN,
		/** Once the wait is over, by the clock. */
		AFTER_WAIT,
		/** Not before a new test or look, whatever the clock says. */
		CLOSED

	}

	/** What shows that a condition holds. */
	public enum Evidence {

		/** The test and what went in: nothing speaks against it. */
		KNOWN,
		/** Time that passes. */
		TIME,
		/** Time that has to pass before the test or look that opens the pool; opens nothing by itself. */
		TIME_OF_TEST,
		/** Whoever swims looks before going in. */
		SIGHT,
		/** A new test or look, by anybody: until then the pool is closed. */
		TEST,
		/** Whoever treats the water has to look again: until then the pool is closed. */
		TREATMENT

	}

	public record Condition(Reason reason, Evidence evidence) {

		public Condition {
			Objects.requireNonNull(reason);
			Objects.requireNonNull(evidence);
		}

		boolean closes() {
			return this.evidence == Evidence.TEST || this.evidence == Evidence.TREATMENT;
		}

	}

	/** @param startHours hours after the first addition */
	public record TimedAddition(ProductKind kind, double startHours) {

		double readyHours(PoolFacts pool) {
			return this.startHours + pool.mixingHours(this.kind.waitHours());
		}

	}

	public SwimReadiness {
		conditions = List.copyOf(conditions);
	}

	/**
	 * @param readings today's, with levels of earlier visits in place of what was not tested
	 * @param added what goes in, in order
	 * @param after every known level once it is in; FC or pH missing: not known, so that a test has to show it
	 */
	public static SwimReadiness of(PoolFacts pool, Readings readings, Situation situation, TreatmentPolicy policy,
			List<TimedAddition> added,
			Levels after) {
		TimedAddition slowest = null;
		for (TimedAddition addition : added) {
			if (addition.readyHours(pool) > ((slowest != null) ? slowest.readyHours(pool) : 0)) {
				slowest = addition;
			}
		}
		boolean chlorine = pool.sanitizer().usesChlorine();
		Readings stabilized = withStabilizer(readings, after.value(Level.CYA));
		double minimum = chlorine ? Assessor.fcToSwim(pool, stabilized) : 0;
		// A spa's own code range goes up to 10 ppm, but the label in hand and the company's ceiling come first.
		double maximum = Math.max(minimum, policy.swimCeiling());
		double wait = (slowest != null) ? slowest.readyHours(pool) : 0;
		if (situation == Situation.CLOSING) {
			return new SwimReadiness(wait, minimum, maximum, List.of(new Condition(Reason.of("swim.season-closed"), Evidence.TREATMENT)));
		}
		List<Condition> conditions = new ArrayList<>();
		if (slowest != null) {
			conditions.add(new Condition(
					Reason.of("swim.wait", new Term.Hours(wait), Term.of(slowest.kind())), Evidence.TIME));
		}
		conditions.add(new Condition(Reason.of("swim.drain"),
				Boolean.FALSE.equals(readings.drainVisible()) ? Evidence.TEST : Evidence.SIGHT));
		if (chlorine) {
			boolean oxidized = added.stream().anyMatch(addition -> addition.kind().ingredient() == ActiveIngredient.MONOPERSULFATE);
			Reason ammonia = ammonia(pool, after);
			// Beside ammonia no free chlorine stays: what goes in says nothing of what is there.
			chlorine(conditions, (ammonia == null) ? after.value(Level.FC) : null, minimum, policy.swimCeiling(), oxidized);
			combined(conditions, after.value(Level.CC), situation, pool.indoor(), oxidized);
			if (ammonia != null) {
				conditions.add(new Condition(ammonia, Evidence.TREATMENT));
			}
		}
		else if (pool.sanitizer() == Sanitizer.BROMINE) {
			bromine(conditions, pool.targets().range(Level.BROMINE), readings.bromine(), after.value(Level.BROMINE));
		}
		else if (pool.sanitizer() == Sanitizer.BIGUANIDE) {
			conditions.add(new Condition(Reason.of("swim.biguanide"), Evidence.SIGHT));
		}
		ph(conditions, pool.targets().range(Level.PH), after.value(Level.PH), readings.phQualifier() == ReadingQualifier.EXACT);
		if (pool.sanitizer() == Sanitizer.FLOATER) {
			conditions.add(new Condition(Reason.of("swim.floater-out"), Evidence.SIGHT));
		}
		if (pool.body() == BodyOfWater.SPA) {
			conditions.add(heat(pool, readings.celsius()));
		}
		Reason treated = treated(pool, readings, situation, chlorine ? Assessor.fcToHold(pool, readings, policy) : 0);
		if (treated != null) {
			conditions.add(new Condition(treated, Evidence.TREATMENT));
		}
		conditions.add(new Condition(Reason.of("swim.covers"), Evidence.KNOWN));
		return new SwimReadiness(wait, minimum, maximum, closingFirst(conditions));
	}

	/** Stabilizer that goes in or out with what is done counts as it settles. */
	private static Readings withStabilizer(Readings readings, @Nullable Double cya) {
		return (readings.cya() == null || cya == null) ? readings : readings.toBuilder().cya(cya, readings.cyaQualifier()).build();
	}

	/** What closes the pool is said first; a wait is then no time from which on it is open, but the earliest time of the test. */
	private static List<Condition> closingFirst(List<Condition> conditions) {
		if (conditions.stream().noneMatch(Condition::closes)) {
			return conditions;
		}
		List<Condition> closing = new ArrayList<>();
		List<Condition> others = new ArrayList<>();
		Condition wait = null;
		for (Condition condition : conditions) {
			if (condition.evidence() == Evidence.TIME) {
				wait = new Condition(new Reason("swim.test-after", condition.reason().args()), Evidence.TIME_OF_TEST);
			}
			else {
				(condition.closes() ? closing : others).add(condition);
			}
		}
		if (wait != null) {
			closing.add(wait);
		}
		closing.addAll(others);
		return closing;
	}

	/** The same where nothing goes in. */
	public static SwimReadiness of(PoolFacts pool, Readings readings, Situation situation, TreatmentPolicy policy) {
		return of(pool, readings, situation, policy, List.of(), PoolWater.of(pool, readings).levels());
	}

	/**
	 * After a visit.
	 *
	 * @param readings as tested, with levels of earlier visits in place of what was not
	 * @param waterReplaced share replaced after the test and before the doses, null when none was
	 * @param doses when each went in is not known: their waits are counted from the visit
	 */
	public static SwimReadiness of(PoolFacts pool, Readings readings, Situation situation, TreatmentPolicy policy,
			@Nullable Double waterReplaced, List<RecordedDose> doses) {
		SwimReadiness swim = of(pool, readings, situation, policy, doses.stream().map(dose -> new TimedAddition(dose.kind(), 0)).toList(),
				after(pool, readings, waterReplaced, doses));
		return (waterReplaced != null && waterReplaced > 0) ? swim.refilled() : swim;
	}

	/** What was tested before is gone with the old water: whoever reads that chlorine is missing is told which. */
	private SwimReadiness refilled() {
		return new SwimReadiness(this.waitHours, this.fcMinimum, this.fcMaximum, this.conditions.stream()
			.map(condition -> (condition.closes() && condition.reason().code().equals("swim.fc"))
					? new Condition(new Reason("swim.fc-refilled", condition.reason().args()), condition.evidence()) : condition)
			.toList());
	}

	private static Levels after(PoolFacts pool, Readings readings, @Nullable Double waterReplaced, List<RecordedDose> doses) {
		PoolWater water = PoolWater.of(pool, readings);
		if (waterReplaced != null) {
			water = water.afterReplacing(pool.fill(), waterReplaced);
		}
		Volume volume = pool.volume();
		return water.after(doses, (volume != null) ? volume.litres() : null).levels();
	}

	/** @param oxidized whether non-chlorine oxidizer goes in: a test is trusted only before it or long after */
	private static void chlorine(List<Condition> conditions, @Nullable Double fc, double minimum, double ceiling, boolean oxidized) {
		if (Assessor.minimumReachesCeiling(minimum + HALF_A_TENTH, ceiling)) {
			conditions
				.add(new Condition(Reason.of("swim.no-room", Term.of(Level.FC, minimum), Term.of(Level.FC, ceiling)), Evidence.TREATMENT));
			if (fc != null && fc > minimum + 1e-9) {
				conditions.add(new Condition(Reason.of("swim.fc-falls", Term.of(Level.FC, fc), Term.of(Level.FC, ceiling)), Evidence.TEST));
			}
			return;
		}
		Term least = Term.of(Level.FC, minimum);
		Term most = Term.of(Level.FC, ceiling);
		conditions.add(new Condition(
				oxidized ? Reason.of("swim.fc-oxidizer", least, most, new Term.Hours(OXIDIZER_HOURS)) : Reason.of("swim.fc", least, most),
				(fc == null || fc < minimum - 1e-9) ? Evidence.TEST : Evidence.KNOWN));
		if (fc != null && fc > ceiling + 1e-9) {
			conditions.add(new Condition(Reason.of("swim.fc-falls", Term.of(Level.FC, fc), Term.of(Level.FC, ceiling)), Evidence.TEST));
		}
	}

	/** In every chlorine pool. What oxidizes it shows only in the next test, so CC stands as tested. */
	private static void combined(List<Condition> conditions, @Nullable Double combined, Situation situation, boolean indoor,
			boolean oxidized) {
		boolean high = combined != null && combined > COMBINED_LIMIT + 1e-9;
		Term limit = Term.of(Level.CC, COMBINED_LIMIT);
		String code = indoor ? "swim.combined-indoor" : "swim.combined";
		conditions.add(new Condition(
				oxidized ? Reason.of(code + "-oxidizer", limit, new Term.Hours(OXIDIZER_HOURS)) : Reason.of(code, limit),
				(situation == Situation.HIGH_COMBINED_CHLORINE) ? Evidence.TREATMENT : high ? Evidence.TEST : Evidence.KNOWN));
	}

	/** What has to be shown of ammonia; null where none was found. */
	private static @Nullable Reason ammonia(PoolFacts pool, Levels after) {
		Range range = pool.targets().range(Level.AMMONIA);
		boolean present = range != null && after.value(Level.AMMONIA, 0) > range.acceptableHigh() + 1e-9;
		return present ? Reason.of("swim.ammonia", Term.of(Level.CC, COMBINED_LIMIT)) : null;
	}

	/** What makes bromine needs bromide, which no test shows: too little of it closes until a test has shown more, whatever goes in. */
	private static void bromine(List<Condition> conditions, @Nullable Range range, @Nullable Double tested, @Nullable Double bromine) {
		if (range == null) {
			return;
		}
		double least = range.acceptableLow() - 1e-9;
		Term most = Term.of(Level.BROMINE, range.acceptableHigh());
		conditions.add(new Condition(Reason.of("swim.bromine", Term.of(Level.BROMINE, range.acceptableLow()), most),
				(bromine == null || bromine < least || tested == null || tested < least) ? Evidence.TEST : Evidence.KNOWN));
		if (bromine != null && bromine > range.acceptableHigh() + 1e-9) {
			conditions.add(new Condition(Reason.of("swim.bromine-falls", Term.of(Level.BROMINE, bromine), most), Evidence.TEST));
		}
	}

	/** @param onScale a test off its scale says how far it is at least, never how far */
	private static void ph(List<Condition> conditions, @Nullable Range range, @Nullable Double ph, boolean onScale) {
		if (range == null) {
			return;
		}
		boolean inside = onScale && ph != null && ph >= range.acceptableLow() - PH_TEST && ph <= range.acceptableHigh() + PH_TEST;
		conditions.add(new Condition(
				Reason.of(onScale ? "swim.ph" : "swim.ph-scale", Term.of(Level.PH, range.acceptableLow()),
						Term.of(Level.PH, range.acceptableHigh())),
				inside ? Evidence.KNOWN : Evidence.TEST));
	}

	private static Condition heat(PoolFacts pool, @Nullable Double celsius) {
		Term most = Term.of(Level.TEMPERATURE, SPA_CELSIUS);
		return (celsius != null && isTooHot(pool, celsius))
				? new Condition(Reason.of("swim.spa-hot", Term.of(Level.TEMPERATURE, celsius), most), Evidence.TEST)
				: new Condition(Reason.of("swim.spa-heat", most), Evidence.KNOWN);
	}

	/** A spa in which the body overheats. */
	static boolean isTooHot(PoolFacts pool, double celsius) {
		return pool.body() == BodyOfWater.SPA && celsius > SPA_CELSIUS + 1e-6;
	}

	/** What has to be so before whoever treats the water opens the pool again; null where the situation does not close it. */
	private static @Nullable Reason treated(PoolFacts pool, Readings readings, Situation situation, double fcMinimum) {
		return switch (situation) {
			case GREEN_ALGAE_LIGHT, GREEN_ALGAE_HEAVY, MUSTARD_ALGAE, BLACK_ALGAE, PINK_SLIME -> clear(pool);
			case CLOUDY -> pool.sanitizer().usesChlorine() && lacksChlorine(readings, fcMinimum) ? Reason.of("swim.clear-overnight") : null;
			case HIGH_COMBINED_CHLORINE -> pool.sanitizer().usesChlorine() ? null : Reason.of("swim.looked-again");
			case NEW_PLASTER -> Reason.of("swim.plaster-maker");
			case CONTAMINATION, DIARRHOEA, BLOOD, DEAD_ANIMAL -> Reason.of("swim.public-health");
			case PUMP_OFF, FLOOD, OPENING, STAINS_IRON, STAINS_MANGANESE -> Reason.of("swim.looked-again");
			default -> null;
		};
	}

	/** Growth is dead: what disinfects is still there in the morning. */
	private static Reason clear(PoolFacts pool) {
		Range bromine = (pool.sanitizer() == Sanitizer.BROMINE) ? pool.targets().range(Level.BROMINE) : null;
		return (bromine != null) ? Reason.of("swim.clear-bromine", Term.of(Level.BROMINE, bromine.acceptableLow()))
				: Reason.of("swim.clear-overnight");
	}

	/** Clouds that chlorine has to clear: there is too little of it, or it is spent on what swimmers left. */
	public static boolean lacksChlorine(Readings readings, double fcMinimum) {
		Double fc = readings.fc();
		Double combined = readings.combined();
		return (fc != null && fc < fcMinimum) || (combined != null && combined > COMBINED_LIMIT + 1e-9);
	}

	public State state() {
		if (this.conditions.stream().anyMatch(Condition::closes)) {
			return State.CLOSED;
		}
		return (this.waitHours > 0) ? State.AFTER_WAIT : State.OPEN;
	}

	/** Nobody swims until a new test or look. */
	public boolean closed() {
		return state() == State.CLOSED;
	}

	/** Whether only whoever treats the water can say that it is open again: no test of the homeowner's own is enough. */
	public boolean needsTreatment() {
		return this.conditions.stream().anyMatch(condition -> condition.evidence() == Evidence.TREATMENT);
	}

	/** What keeps the pool closed; empty when it is not. */
	public List<Reason> closedUntil() {
		return this.conditions.stream().filter(Condition::closes).map(Condition::reason).toList();
	}

	/** Every condition as a sentence. */
	public List<Reason> reasons() {
		return this.conditions.stream().map(Condition::reason).toList();
	}

}
