package org.meniscus.water.plan;

import static org.meniscus.water.plan.SituationProcedure.DAY;
import static org.meniscus.water.plan.SituationProcedure.NEXT_MORNING;

import java.util.EnumMap;
import java.util.Map;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.ShockLevel;
import org.meniscus.water.chemistry.Breakpoint;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.Volume;

/**
 * The procedure of each situation: columns {@code check_first}, {@code steps_in_order}, {@code follow_up}, {@code do_not_use} and
 * {@code why_not} of the trade table {@code situations.csv}. Days of holding chlorine and of re-tests are common practice, no source.
 */
final class SituationProcedures {

	private static final ActiveIngredient[] CHLORINES = { ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.SODIUM_HYPOCHLORITE,
			ActiveIngredient.DICHLOR, ActiveIngredient.TRICHLOR };

	/** Chlorine makes sticky lumps of it (rows biguanide of the never-mix table); the others spoil it: common practice, no source. */
	private static final ActiveIngredient[] NOT_WITH_BIGUANIDE = { ActiveIngredient.CALCIUM_HYPOCHLORITE,
			ActiveIngredient.SODIUM_HYPOCHLORITE, ActiveIngredient.DICHLOR, ActiveIngredient.TRICHLOR, ActiveIngredient.MONOPERSULFATE,
			ActiveIngredient.SODIUM_BROMIDE, ActiveIngredient.BROMINE_TABLETS, ActiveIngredient.COPPER_ALGAECIDE,
			ActiveIngredient.SEQUESTRANT };
	private static final Reason CELL_COLD = Reason.of("not.cell-cold", Term.of(Level.TEMPERATURE, Equipment.CELL_CELSIUS));

	/** The gap of the algaecide: what went in last has gone round before the lines are emptied, hours. */
	private static final double AFTER_ALGAECIDE = ProductKind.POLYQUAT_60.gapMinutes() / 60.0;

	private static final Map<Situation, SituationProcedure> TABLE = new EnumMap<>(Situation.class);

	/** What differs in a bromine pool; levels and days are common practice, no source. */
	private static final Map<Situation, SituationProcedure> BROMINE_TABLE = new EnumMap<>(Situation.class);

	static {
		routine();
		growth();
		cloudsAndChloramines();
		weatherAndUse();
		stainsAndWaterFaults();
		startAndStop();
		incidents();
		bromine();
	}

	private SituationProcedures() {
	}

	/** At this pool: a bromine pool is treated with what it takes. */
	static SituationProcedure of(Situation situation, PoolFacts pool) {
		SituationProcedure bromine = (pool.sanitizer() == Sanitizer.BROMINE) ? BROMINE_TABLE.get(situation) : null;
		return (bromine != null) ? bromine : of(situation);
	}

	static SituationProcedure of(Situation situation) {
		return Objects.requireNonNull(TABLE.get(situation));
	}

	private static void put(Situation situation, SituationProcedure.Builder procedure) {
		TABLE.put(situation, procedure.build());
	}

	private static SituationProcedure.Builder procedure() {
		return SituationProcedure.builder();
	}

	private static void routine() {
		SituationProcedure.Builder routine = procedure().tasks("clean")
			.tasks(PoolCondition.BIGUANIDE, "biguanide-own")
			.ban(PoolCondition.BIGUANIDE, "biguanide", NOT_WITH_BIGUANIDE)
			.tasks(PoolCondition.FC_LOW.and(PoolCondition.SALT_CELL), "check-cell")
			.tasks(PoolCondition.FC_LOW.and(PoolCondition.SALT_CELL.not()).and(PoolCondition.FED), "check-feed")
			.tasks(PoolCondition.FC_LOW.and(PoolCondition.FED.not()), "check-use")
			.tasks(PoolCondition.COMBINED_HIGH, "oxidizer-lately")
			.tasks(PoolCondition.COMBINED_HIGH.and(PoolCondition.INDOOR), "ventilate", "hall-empty")
			.tasks(PoolCondition.DRAIN_UNSEEN, "drain-cause", "filter-24h")
			.tasks(PoolCondition.FC_TOO_HIGH, "dilute-test")
			.tasks(PoolCondition.FC_TOO_HIGH.and(PoolCondition.FED.not()), "who-added")
			.task(PoolCondition.FC_TOO_HIGH.and(PoolCondition.FED), SituationProcedure.Act.FEED_DOWN,
					(context, dosing) -> Reason.of("work.stop-feed", FeedStop.word("off", context.pool())))
			.task(PoolCondition.FC_TOO_HIGH.and(PoolCondition.SUNLIT), SituationProcedure.Act.COVER_OFF, "cover-off")
			.tasks(PoolCondition.FC_TOO_HIGH.and(PoolCondition.SWIMMERS_EXPECTED), "reducer-in-halves")
			.tasks(PoolCondition.ALKALINITY_LIFTS_CELL_PH, "cell-alkalinity")
			.task(PoolCondition.TABLETS_ATE_ALKALINITY, SituationProcedure.Act.OTHER_CHLORINE, "change-sanitizer")
			.tasks(PoolCondition.HARDNESS_HIGH.and(PoolCondition.SCALING), "hardness-plan")
			.task(PoolCondition.SPA, SituationProcedures::spaWaterChange)
			.later(PoolCondition.FC_LOW.and(PoolCondition.CHLORINE_UNSHIELDED), NEXT_MORNING, "sun-or-demand")
			.later(PoolCondition.DRAIN_UNSEEN, DAY, "test-all")
			.later(PoolCondition.FC_TOO_HIGH, DAY, "test-chlorine")
			.later(PoolCondition.COMBINED_HIGH, NEXT_MORNING, "test-morning");
		put(Situation.ROUTINE, routine);
		put(Situation.WEEKLY_REFRESH, routine.tasks(PoolCondition.COMBINED_UNTESTED, "combined-first"));
	}

	private static void growth() {
		put(Situation.GREEN_ALGAE_LIGHT, procedure().shock(ShockLevel.LIGHT)
			.hold(3)
			.balanceWaits("balance-after-clear")
			.tasks("check-flow", "brush", "filter-24h")
			.later(4 * DAY, ProductKind.POLYQUAT_60, "polyquat")
			.ban("clarifier-first", ActiveIngredient.CLARIFIER, ActiveIngredient.FLOCCULANT)
			.ban("copper-first", ActiveIngredient.COPPER_ALGAECIDE));
		put(Situation.GREEN_ALGAE_HEAVY, procedure().shock(ShockLevel.HEAVY)
			.hold(5)
			.balanceWaits("balance-after-clear")
			.tasks("close-pool", "debris-out", "brush", "filter-24h", "clean-filter-daily", "quote-both")
			.later(6 * DAY, "weigh-draining")
			.warn("vacuum-blind", "acid-wash", "floc-cartridge"));
		put(Situation.MUSTARD_ALGAE, procedure().shock(ShockLevel.STUBBORN)
			.hold(2)
			.balanceWaits("balance-after-clear")
			.tasks("mustard-or-dust", "brush", "gear-in", "clean-fittings", "filter-24h")
			.later(3 * DAY, ProductKind.POLYQUAT_60, "polyquat")
			.later(7 * DAY, "mustard-floor")
			.ban(PoolCondition.OUTDOOR, "bromide-outdoors", ActiveIngredient.SODIUM_BROMIDE));
		put(Situation.BLACK_ALGAE, procedure().shock(ShockLevel.STUBBORN)
			.hold(3)
			.balanceWaits("balance-after-clear")
			.tasks("spot-or-stain")
			.tasks(PoolCondition.BARE_CEMENT, "brush-steel", "spot-tablet")
			.tasks(PoolCondition.BARE_CEMENT.not(), "brush-soft")
			.tasks("dead-spots", "filter-24h")
			.later(4 * DAY, ProductKind.POLYQUAT_60, "polyquat")
			.later(7 * DAY, "black-weekly")
			.later(14 * DAY, "black-weekly")
			.later(21 * DAY, "black-weekly")
			.ban(PoolCondition.BARE_CEMENT.not(), "steel-or-tablet", ActiveIngredient.TRICHLOR));
		put(Situation.PINK_SLIME, procedure().shock(ShockLevel.LIGHT)
			.hold(2)
			.balanceWaits("balance-after-clear")
			.tasks("replace-rubber", "clean-fittings", "purge-pipes", "brush", "filter-24h")
			.later(3 * DAY, ProductKind.POLYQUAT_60, "polyquat")
			.ban("weekly-clarifier", ActiveIngredient.CLARIFIER));
	}

	private static void cloudsAndChloramines() {
		PoolCondition notScaling = PoolCondition.SCALING.not();
		put(Situation.CLOUDY, procedure().shock(PoolCondition.CLOUDS_NEED_CHLORINE, ShockLevel.LIGHT)
			.tasks("check-filter", "filter-24h", "clean-filter")
			.tasks(PoolCondition.CLOUDS_NEED_CHLORINE.not().and(notScaling), "filter-is-the-cure")
			.tasks(PoolCondition.SCALING, "haze-cause")
			.later(DAY, "test-all")
			.later(notScaling.and(PoolCondition.CHLORINE_LACKING.not()).not(), 2 * DAY, ProductKind.CLARIFIER, "clarifier")
			.avoid(PoolCondition.SCALING, "adds-to-haze", ActiveIngredient.SODA_ASH, ActiveIngredient.BICARBONATE,
					ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.CALCIUM_CHLORIDE)
			.ban(notScaling.and(PoolCondition.CHLORINE_LACKING), "clarifier-first", ActiveIngredient.CLARIFIER, ActiveIngredient.FLOCCULANT)
			.warnOfAnything(notScaling.and(PoolCondition.CHLORINE_LACKING.not()), "more-chemicals"));
		put(Situation.HIGH_COMBINED_CHLORINE, procedure().shock(PoolCondition.SHOCK_FOR_COMBINED, ShockLevel.LIGHT)
			.tasks("oxidizer-lately")
			.tasks(PoolCondition.INDOOR, "ventilate", "hall-empty", "dilute")
			.task(PoolCondition.SUNLIT, SituationProcedure.Act.COVER_OFF, "cover-off")
			.tasks(PoolCondition.OUTDOOR, "aerate-chloramines")
			.task(PoolCondition.SHOCK_FOR_COMBINED, SituationProcedures::oxidizerInstead)
			.task(PoolCondition.SHOCK_FOR_COMBINED, (context, dosing) -> TraceDosing.ammoniaDemand(context))
			.task(PoolCondition.SHOCK_FOR_COMBINED.not().and(PoolCondition.OUTDOOR), SituationProcedures::chlorineInstead)
			.tasks("showers")
			.later(NEXT_MORNING, "test-morning")
			.later(2 * DAY, "combined-again")
			.later(14 * DAY, "combined-stays")
			.warn("oxidizer-trust")
			.ban(PoolCondition.INDOOR, "shock-with-people")
			.ban(PoolCondition.OUTDOOR, "trichlor-combined", ActiveIngredient.TRICHLOR));
	}

	private static void weatherAndUse() {
		put(Situation.AFTER_STORM,
				procedure().balanceWaits("balance-after-test")
					.tasks("check-power", "debris-out", "level-to-mark", "empty-baskets", "filter-24h")
					.later(DAY, "test-all")
					.warn("old-readings"));
		put(Situation.AFTER_ASH, procedure().balanceWaits("balance-after-test").tasks("ash-mask", "skim-by-hand")
			.tasks(PoolCondition.WASTE_VALVE, "vacuum-to-waste")
			.tasks(PoolCondition.WASTE_VALVE.not(), "vacuum-fine")
			.tasks("clean-filter")
			.later(DAY, "test-all")
			.later(DAY, "test-phosphate")
			.warn("leaf-blower"));
		put(Situation.AFTER_HEAVY_USE, procedure().tasks("empty-baskets", "filter-24h")
			.later(NEXT_MORNING, ProductKind.MPS, "oxidizer-morning")
			.later(NEXT_MORNING, "test-morning")
			.avoid(PoolCondition.POOL, "dichlor-habit", ActiveIngredient.DICHLOR));
	}

	private static void stainsAndWaterFaults() {
		PoolCondition ammoniaTested = PoolCondition.tested(Level.AMMONIA);
		PoolCondition noAmmonia = PoolCondition.AMMONIA_PRESENT.not().and(ammoniaTested);
		PoolCondition phosphateHigh = PoolCondition.PHOSPHATE_NOT_HIGH.not();
		put(Situation.STAINS_IRON, oxidizedMetal("iron-source").ban("shock-metal", CHLORINES)
			.ban("copper-metal", ActiveIngredient.COPPER_ALGAECIDE));
		put(Situation.STAINS_MANGANESE, oxidizedMetal("manganese-source").ban("oxidizer-manganese", ActiveIngredient.MONOPERSULFATE)
			.ban("shock-metal", CHLORINES));
		put(Situation.STAINS_COPPER, procedure().balanceWaits("balance-after-metal")
			.tasks("copper-source", "test-copper", "ascorbic-spot")
			.task(PoolCondition.ALWAYS, (context, dosing) -> TraceDosing.copperToDilute(context))
			.tasks("copper-log")
			.later(DAY, "ph-after-sequestrant")
			.later(7 * DAY, "test-metal")
			.ban("copper-metal", ActiveIngredient.COPPER_ALGAECIDE)
			.ban("calcium-hypochlorite-metal", ActiveIngredient.CALCIUM_HYPOCHLORITE));
		put(Situation.HIGH_PHOSPHATE, procedure().tasks(PoolCondition.tested(Level.PHOSPHATE).not(), "phosphate-test")
			.tasks("phosphate-after-chlorine", "sequestrant-lately", "phosphate-source")
			.tasks(PoolCondition.PHOSPHATE_NOT_HIGH, "phosphate-not-high")
			.later(phosphateHigh.and(PoolCondition.LANTHANUM_TODAY.not()), 2 * DAY, ProductKind.LANTHANUM, "lanthanum-half")
			.later(PoolCondition.LANTHANUM_TODAY, 2 * DAY, "lanthanum-filter")
			.later(phosphateHigh.and(PoolCondition.LANTHANUM_TODAY.not()), 3 * DAY, "lanthanum-filter")
			.later(phosphateHigh, 7 * DAY, ProductKind.LANTHANUM, "lanthanum-rest")
			.warn("lanthanum-green"));
		put(Situation.FOAM, procedure().tasks("foam-cause")
			.tasks(PoolCondition.POOL, "foam-dilute", "foam-enzyme")
			.later(DAY, "test-all")
			.ban("more-quat", ActiveIngredient.QUAT_ALGAECIDE));
		put(Situation.STABILIZER_GONE, procedure().shock(ShockLevel.LIGHT)
			.hold(3)
			.balanceWaits("balance-after-ammonia")
			.tasks(ammoniaTested.not(), "test-ammonia")
			.tasks(noAmmonia, "ammonia-none")
			.tasks(noAmmonia.not(), "ammonia-repeat")
			.task(noAmmonia.not(), (context, dosing) -> TraceDosing.ammoniaDemand(context))
			.tasks(PoolCondition.AMMONIA_MAY_BE_MUCH, "ammonia-replace")
			.later(5 * DAY, "stabilizer-back")
			.ban("stabilizer-first", ActiveIngredient.CYANURIC_ACID, ActiveIngredient.TRICHLOR)
			.avoid(PoolCondition.ALWAYS, "dichlor-first", ActiveIngredient.DICHLOR));
		put(Situation.LEAK_SUSPECTED, procedure().balanceWaits("balance-after-leak")
			.tasks("autofill-off", "bucket-test", "mark-level", "leak-firm")
			.later(DAY, "read-bucket")
			.later(7 * DAY, "compare-drift")
			.warn("dose-blind"));
	}

	/** Iron and manganese: chlorine would fix the stain. */
	private static SituationProcedure.Builder oxidizedMetal(String source) {
		return procedure().balanceWaits("balance-after-metal")
			.tasks(source, "test-metal", "ascorbic-spot")
			.task(PoolCondition.ALWAYS, SituationProcedure.Act.FEED_DOWN, "chlorine-falls")
			.tasks("filter-24h")
			.later(2 * DAY, ProductKind.ASCORBIC, "ascorbic")
			.later(3 * DAY, ProductKind.SEQUESTRANT, "sequestrant")
			.later(4 * DAY, "ph-after-sequestrant")
			.later(4 * DAY, "algae-watch")
			.later(5 * DAY, "chlorine-back")
			.later(7 * DAY, "test-metal")
			.later(30 * DAY, ProductKind.SEQUESTRANT, "sequestrant-monthly");
	}

	private static void startAndStop() {
		put(Situation.NEW_PLASTER, procedure().balanceWaits("balance-by-maker")
			.tasks("plaster-maker", "brush-plaster")
			.task(PoolCondition.ALWAYS, SituationProcedure.Act.CELL_OFF, "heater-off")
			.tasks("plaster-chlorine")
			.later(DAY, ProductKind.SEQUESTRANT, "sequestrant-plaster")
			.later(2 * DAY, "plaster-ph")
			.later(4 * DAY, "plaster-ph")
			.later(6 * DAY, "plaster-ph")
			.later(14 * DAY, "plaster-ph")
			.later(28 * DAY, "plaster-balance")
			.ban("new-plaster", ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.CALCIUM_CHLORIDE, ActiveIngredient.SALT,
					ActiveIngredient.TRICHLOR));
		put(Situation.CELL_START, procedure().tasks("cell-salt-tested", "cell-range", "cell-off-dissolving", "hand-dose-meanwhile")
			.later(DAY, "cell-on")
			.later(3 * DAY, "cell-output")
			.later(7 * DAY, "test-all")
			.avoid(PoolCondition.ALWAYS, "cell-start", ActiveIngredient.CALCIUM_HYPOCHLORITE, ActiveIngredient.DRY_ACID)
			.warn(PoolCondition.ALWAYS, CELL_COLD));
		put(Situation.OPENING,
				procedure().tasks("opening-safety", "debris-out", "fill-and-prime", "opening-order", "clean-filter", "opening-photos")
					.later(DAY, "test-all")
					.later(7 * DAY, "test-all")
					.ban("trichlor-first", ActiveIngredient.TRICHLOR)
					.warn(PoolCondition.SALT_CELL, CELL_COLD));
		put(Situation.CLOSING, procedure().shock(PoolCondition.PH_READABLE, ShockLevel.LIGHT)
			.tasks("clean", "closing-balance")
			.onceFallen(SituationProcedure.Fall.TO_PH_TEST, PoolCondition.PH_READABLE.not(), 0, null, "closing-when-ph-reads")
			.onceFallen(SituationProcedure.Fall.TO_SWIM, PoolCondition.PH_READABLE, DAY, ProductKind.POLYQUAT_60, "closing-algaecide")
			.onceFallen(SituationProcedure.Fall.TO_SWIM, PoolCondition.PH_READABLE, DAY + AFTER_ALGAECIDE, null, "closing-lines")
			.later(30 * DAY, "winter-check")
			.ban("tablets-on-cover", ActiveIngredient.TRICHLOR)
			.ban("copper-low-ph", ActiveIngredient.COPPER_ALGAECIDE)
			.ban(PoolCondition.PH_HIGH.not(), "acid-closing", ActiveIngredient.MURIATIC_ACID, ActiveIngredient.DRY_ACID)
			.warn("drain-fully"));
		put(Situation.PUMP_OFF, procedure().refuse("pump-off", "work.pump-cause", "work.pump-restart", "work.pump-half-hour",
				"not.feeder-without-flow", "work.pump-interlock"));
	}

	private static void incidents() {
		for (Situation incident : new Situation[]{ Situation.CONTAMINATION, Situation.DIARRHOEA, Situation.DEAD_ANIMAL }) {
			put(incident, procedure().refuse("contamination"));
		}
		put(Situation.BLOOD, procedure().tasks("blood-out", "blood-test", "contamination-health-page", "contamination-log"));
		put(Situation.FLOOD, procedure().refuse("flood", "work.flood-power", "work.flood-no-drain", "work.flood-health",
				"work.flood-clean", "work.flood-photos"));
	}

	private static void bromine() {
		for (Situation other : new Situation[]{ Situation.HIGH_COMBINED_CHLORINE, Situation.STABILIZER_GONE, Situation.CELL_START }) {
			BROMINE_TABLE.put(other, of(Situation.ROUTINE));
		}
		bromineGrowth(Situation.GREEN_ALGAE_LIGHT, procedure().tasks("check-flow", "brush", "filter-24h")
			.ban("copper-first", ActiveIngredient.COPPER_ALGAECIDE));
		bromineGrowth(Situation.GREEN_ALGAE_HEAVY,
				procedure().tasks("close-pool", "debris-out", "brush", "filter-24h", "clean-filter-daily").warn("vacuum-blind",
						"acid-wash"));
		bromineGrowth(Situation.MUSTARD_ALGAE,
				procedure().tasks("mustard-or-dust", "brush", "gear-in", "clean-fittings", "filter-24h")
					.ban(PoolCondition.OUTDOOR, "bromide-outdoors", ActiveIngredient.SODIUM_BROMIDE));
		bromineGrowth(Situation.BLACK_ALGAE, procedure().tasks("spot-or-stain")
			.tasks(PoolCondition.BARE_CEMENT, "brush-steel")
			.tasks(PoolCondition.BARE_CEMENT.not(), "brush-soft")
			.tasks("dead-spots", "filter-24h"));
		bromineGrowth(Situation.PINK_SLIME, procedure().tasks("replace-rubber", "clean-fittings", "purge-pipes", "brush", "filter-24h"));
		BROMINE_TABLE.put(Situation.CLOUDY,
				procedure().tasks("check-filter", "filter-24h", "clean-filter").later(DAY, "test-all").build());
		BROMINE_TABLE.put(Situation.AFTER_HEAVY_USE,
				procedure().tasks("empty-baskets", "filter-24h").later(NEXT_MORNING, "test-bromine").build());
		BROMINE_TABLE.put(Situation.BLOOD,
				procedure().tasks("blood-bromine", "contamination-health-page", "contamination-log").build());
		BROMINE_TABLE.put(Situation.CLOSING, procedure().tasks("clean", "closing-balance")
			.later(AFTER_ALGAECIDE, "closing-lines")
			.later(30 * DAY, "winter-check")
			.ban("copper-low-ph", ActiveIngredient.COPPER_ALGAECIDE)
			.warn("drain-fully")
			.build());
		BROMINE_TABLE.put(Situation.STAINS_IRON, bromineMetal("iron-source"));
		BROMINE_TABLE.put(Situation.STAINS_MANGANESE, bromineMetal("manganese-source"));
	}

	private static void bromineGrowth(Situation situation, SituationProcedure.Builder procedure) {
		BROMINE_TABLE.put(situation, procedure.balanceWaits("balance-after-clear")
			.later(NEXT_MORNING, "bromine-overnight")
			.later(DAY, "bromine-hold")
			.later(2 * DAY, "bromine-hold")
			.later(3 * DAY, "bromine-hold")
			.later(3 * DAY + NEXT_MORNING, "bromine-end")
			.build());
	}

	private static SituationProcedure bromineMetal(String source) {
		return procedure().balanceWaits("balance-after-metal")
			.tasks(source, "test-metal", "ascorbic-spot", "bromine-falls", "filter-24h")
			.later(2 * DAY, ProductKind.ASCORBIC, "ascorbic-bromine")
			.later(3 * DAY, ProductKind.SEQUESTRANT, "sequestrant")
			.later(5 * DAY, "bromine-back")
			.later(7 * DAY, "test-metal")
			.ban("shock-metal", CHLORINES)
			.ban("oxidizer-manganese", ActiveIngredient.MONOPERSULFATE)
			.build();
	}

	/** Days until the water of a spa is changed: US gallons / 3 / bathers a day; common practice, no source. */
	private static @Nullable Reason spaWaterChange(PlanContext context, DosingResult dosing) {
		Volume volume = context.pool().volume();
		if (volume == null) {
			return null;
		}
		double batherDays = volume.usGallons() / 3;
		return Reason.of("work.spa-change", new Term.Days((int) Math.max(1, batherDays)), new Term.Days((int) Math.max(1, batherDays / 2)),
				new Term.Days((int) Math.max(1, batherDays / 4)));
	}

	/** What superchlorination would take instead of the oxidizer. */
	private static @Nullable Reason chlorineInstead(PlanContext context, DosingResult dosing) {
		Double combined = context.readings().combined();
		if (combined == null) {
			return null;
		}
		double fc = ShockLevel.LIGHT.fc(dosing.water().water()) + combined * Breakpoint.FREE_PER_COMBINED;
		return Reason.of("work.chlorine-instead", Term.of(Level.FC, Math.min(fc, context.request().policy().shockCeiling())));
	}

	/** How much of the non-chlorine oxidizer would do. */
	private static @Nullable Reason oxidizerInstead(PlanContext context, DosingResult dosing) {
		Double combined = context.readings().combined();
		for (Product product : context.request().products()) {
			if (combined != null && product.onTruck() && product.kind().ingredient() == ActiveIngredient.MONOPERSULFATE
					&& ProductEffects.computable(product)) {
				MeasuredAmount measured = MeasuredAmount.down(OxidizerDosing.amount(product, combined, context.litres()), product,
						context.request().units());
				return measured.isZero() ? null
						: Reason.of("work.oxidizer-instead", new Term.Amount(measured), Term.of(product.kind()));
			}
		}
		return null;
	}

}
