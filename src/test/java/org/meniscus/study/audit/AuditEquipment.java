package org.meniscus.study.audit;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;

import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.plan.Step;
import org.meniscus.water.pool.AssumedLevels;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.TestKit;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.Product;

/** Checks of what equipment, tests, storage, metal, ammonia, phosphate and scarce water ask for. Limits: common practice, no source. */
final class AuditEquipment {

	/** Codes that the checks go by; {@code PlanAuditTests} holds that each still stands in the messages. */
	static final Set<String> CODES = Set.of("offer.replace", "offer.cell-set", "offer.cell-run", "offer.cell-small", "offer.cell-times",
			"offer.feeder-times", "work.ionizer-test", "work.ionizer-off", "strength.aged", "caution.chlorine-old", "work.filter-dirty",
			"work.filter-starved", "work.run-time", "work.flow-low", "work.acid-alkalinity", "work.acid-borate", "work.copper-dilute-share",
			"replace.pays", "work.bring-sequestrant", "later.shock-after-metal", "note.ammonia-in-parts");

	/** Copper and iron above it stain, ppm: 0.3 for iron in drinking water, from memory. */
	private static final double STAINS = 0.3;

	/** The same of manganese: the secondary drinking-water standard, from memory. */
	private static final double MANGANESE_STAINS = 0.05;

	/** More than a colour test may show where there is none, ppm as nitrogen. */
	private static final double AMMONIA = 0.2;

	/** Chlorine that a part of ammonia nitrogen takes by stoichiometry: 3 Cl2 for 2 NH3, 3 x 70.9 / (2 x 14.007). */
	private static final double CHLORINE_PER_AMMONIA = 7.6;

	/** A sequestrant goes round before chlorine follows, minutes. */
	private static final int SEQUESTRANT_MINUTES = 30;

	/** What measuring out may bring beyond the least, ppm FC: a mark of a cup in a small spa. */
	private static final double MEASURED = 0.6;

	private static final double PSI_8 = 8 * 6.895;

	private final AuditCase at;

	private final PoolFacts pool;

	private final Readings readings;

	private final List<AuditCheck.Finding> findings = new ArrayList<>();

	private AuditEquipment(AuditCase at) {
		this.at = at;
		this.pool = at.request().pool();
		this.readings = at.request().readings();
	}

	static List<AuditCheck.Finding> check(AuditCase at) {
		AuditEquipment equipment = new AuditEquipment(at);
		equipment.scarceWater();
		equipment.strips();
		equipment.cell();
		equipment.ionizer();
		equipment.ammonia();
		equipment.metal();
		equipment.phosphate();
		equipment.storage();
		equipment.gauges();
		equipment.acidDemand();
		return equipment.findings;
	}

	private void add(AuditCheck check, String format, Object... args) {
		this.findings.add(new AuditCheck.Finding(check, String.format(Locale.ROOT, format, args)));
	}

	/** A spa is emptied whatever a part would do. */
	private void scarceWater() {
		if (!this.at.request().policy().costs().waterScarce() || this.pool.body() == BodyOfWater.SPA) {
			return;
		}
		double least = 0;
		for (Level level : List.of(Level.CYA, Level.CH, Level.SALT, Level.TDS)) {
			Double now = this.at.readings().value(level);
			Double fill = this.pool.fill().value(level);
			double limit = limit(level);
			if (now != null && now > limit) {
				least = Math.max(least, (now - limit) / (now - ((fill != null) ? fill : unknownFill(level))));
			}
		}
		if (this.at.plan().replacement() != null && this.at.plan().replacement().share() > least + 0.02) {
			add(AuditCheck.SCARCE, "replaces %.0f %%, %.0f %% would do", 100 * this.at.plan().replacement().share(), 100 * least);
		}
		else if (least == 0 && this.at.offers("offer.replace")) {
			add(AuditCheck.SCARCE, "offers to replace, every level in range");
		}
	}

	/** As the plan states it. */
	private static double unknownFill(Level level) {
		return (level == Level.SALT || level == Level.TDS) ? AssumedLevels.FILL_SALT : 0;
	}

	/** Of a level in scarce water; stabilizer that asks for as much chlorine as the company allows leaves no dose. */
	private double limit(Level level) {
		Range range = this.pool.targets().range(level);
		double high = (range == null) ? Double.MAX_VALUE : range.acceptableHigh();
		if (level == Level.CYA) {
			double noRoom = this.at.request().policy().cyaPerFc() * this.at.request().policy().fcCeiling();
			Double cya = this.at.readings().cya();
			boolean reached = this.pool.sanitizer().usesChlorine() && cya != null && cya >= noRoom - 1e-9;
			return !this.pool.sanitizer().usesChlorine() ? Double.MAX_VALUE
					: this.pool.indoor() ? 30 : reached ? Math.min(high, 0.75 * noRoom) : high;
		}
		if (level == Level.TDS) {
			Double fill = this.pool.fill().value(Level.TDS);
			return (this.pool.sanitizer() == Sanitizer.SALT_CELL) ? Double.MAX_VALUE
					: 1500 + ((fill != null) ? fill : AssumedLevels.FILL_SALT);
		}
		return (level == Level.SALT && this.pool.sanitizer() != Sanitizer.SALT_CELL) ? Double.MAX_VALUE : high;
	}

	private void strips() {
		Stream<Reason> replacing = (this.at.plan().replacement() == null) ? Stream.empty()
				: this.at.plan().replacement().reasons().stream();
		Stream.concat(replacing, this.at.sentences()).forEach(reason -> {
			Level level = switch (reason.code()) {
				case "replace.cya", "replace.pays", "offer.replace" -> Level.CYA;
				case "replace.ch" -> Level.CH;
				case "replace.salt" -> Level.SALT;
				case "replace.tds" -> Level.TDS;
				case "work.copper-dilute-share" -> Level.COPPER;
				default -> null;
			};
			if (level != null && this.readings.value(level) != null && this.readings.tests().method(level).kit() == TestKit.STRIPS) {
				add(AuditCheck.STRIP_DECIDES, "%s on %s by a strip", reason.code(), level);
			}
		});
	}

	private void cell() {
		Equipment.Cell cell = this.pool.equipment().cell();
		this.at.sentences().filter(reason -> reason.code().startsWith("offer.cell")).forEach(reason -> {
			Double celsius = this.readings.celsius();
			double grams = reason.args()
				.stream()
				.filter(term -> term instanceof Term.Chlorine)
				.mapToDouble(term -> ((Term.Chlorine) term).grams())
				.findFirst()
				.orElse(0);
			boolean tooMuch = cell != null && grams > cell.gramsPerDay() * 1.001;
			boolean figures = reason.args()
				.stream()
				.anyMatch(term -> (term instanceof Term.Hours hours && hours.hours() > 24)
						|| (reason.code().equals("offer.cell-set") && term instanceof Term.Number percent && percent.value() > 100));
			boolean cold = celsius != null && celsius < (60 - 32) / 1.8;
			if (this.pool.sanitizer() != Sanitizer.SALT_CELL || tooMuch || figures || cold) {
				add(AuditCheck.CELL_ABOVE_RATING, "%s: %.0f g of %s, %s C", reason.code(), grams,
						(cell == null) ? "?" : String.valueOf(cell.gramsPerDay()), celsius);
			}
		});
	}

	private void ionizer() {
		if (!this.pool.equipment().systems().contains(Equipment.SecondSystem.IONIZER)) {
			return;
		}
		Double copper = this.readings.value(Level.COPPER);
		boolean said = this.at.says("work.ionizer-test", "work.ionizer-off");
		boolean more = Stream.concat(this.at.plan().steps().stream().map(Step::product), laterProducts())
			.anyMatch(product -> product.kind().ingredient() == ActiveIngredient.COPPER_ALGAECIDE);
		if (more || (!said && (copper == null || copper > 0.2 + 1e-9))) {
			add(AuditCheck.IONIZER_COPPER, "copper %s", copper);
		}
	}

	private Stream<Product> laterProducts() {
		return this.at.plan().followUps().stream().map(FollowUpStep::product).filter(Objects::nonNull);
	}

	private boolean treated() {
		Situation situation = this.at.request().situation();
		return this.pool.sanitizer().usesChlorine() && !situation.chlorineWaits() && situation != Situation.NEW_PLASTER;
	}

	private void ammonia() {
		Double ammonia = this.readings.value(Level.AMMONIA);
		if (ammonia == null || ammonia <= AMMONIA || !treated()) {
			return;
		}
		if (this.at.adds(Step.Purpose.RAISE_CYA) || this.at.plan()
			.steps()
			.stream()
			.anyMatch(step -> step.product().kind().ingredient() == ActiveIngredient.TRICHLOR)) {
			add(AuditCheck.AMMONIA_CHLORINE, "stabilizer before ammonia %.2f is gone", ammonia);
		}
		boolean along = this.at.request()
			.products()
			.stream()
			.anyMatch(product -> product.onTruck() && product.kind().ingredient() == ActiveIngredient.SODIUM_HYPOCHLORITE);
		boolean rest = this.at.says("note.ammonia-in-parts", "note.shock-label", "later.rest");
		double brought = this.at.after().fc() - this.at.now().fc();
		boolean waits = metalHigh() || this.at.says("note.shock-after-metal") || this.at.request().situation() == Situation.STAINS_COPPER
				|| this.at.plan().replacement() != null;
		if (along && !waits && !rest && this.at.after().fc() < this.at.swimFc() + CHLORINE_PER_AMMONIA * ammonia - MEASURED
				&& this.at.after().fc() < this.at.request().policy().shockCeiling() - MEASURED) {
			add(AuditCheck.AMMONIA_CHLORINE, "ammonia %.2f, FC +%.1f", ammonia, brought);
		}
	}

	private boolean metalHigh() {
		return stains(this.readings);
	}

	static boolean stains(Readings readings) {
		Double manganese = readings.value(Level.MANGANESE);
		return (manganese != null && manganese > MANGANESE_STAINS + 1e-9)
				|| Stream.of(Level.COPPER, Level.IRON).map(readings::value).anyMatch(value -> value != null && value > STAINS + 1e-9);
	}

	/** A sequestrant before chlorine and alkali, then no more chlorine than protects the pool: the rest destroys it. */
	private void metal() {
		Situation situation = this.at.request().situation();
		if (!metalHigh() || !treated() || situation == Situation.LEAK_SUSPECTED) {
			return;
		}
		Step sequestrant = this.at.plan()
			.steps()
			.stream()
			.filter(step -> step.purpose() == Step.Purpose.HOLD_METAL)
			.findFirst()
			.orElse(null);
		boolean along = this.at.request()
			.products()
			.stream()
			.anyMatch(product -> product.onTruck() && product.kind().ingredient() == ActiveIngredient.SEQUESTRANT);
		boolean replaced = this.at.plan().replacement() != null;
		double most = MEASURED + (replaced ? Math.max(this.at.leastFc(), this.at.request().policy().fcCeiling()) : this.at.leastFc());
		if (sequestrant == null && along && !replaced) {
			add(AuditCheck.METAL_FIRST, "the sequestrant that is along is not given");
		}
		for (Step step : this.at.plan().steps()) {
			boolean moves = step.purpose() == Step.Purpose.RAISE_FC || step.purpose() == Step.Purpose.RAISE_PH
					|| step.purpose() == Step.Purpose.RAISE_TA || step.purpose() == Step.Purpose.OXIDIZE;
			boolean early = sequestrant != null && step.startMinutes() < sequestrant.startMinutes() + SEQUESTRANT_MINUTES;
			boolean tooMuch = step.purpose() == Step.Purpose.OXIDIZE || (step.purpose() == Step.Purpose.RAISE_TA && !replaced)
					|| (step.purpose() == Step.Purpose.RAISE_FC && this.at.after().fc() > most)
					|| (step.purpose() == Step.Purpose.RAISE_PH && this.at.now().ph() >= 7.0
							&& this.at.settled().ph() > this.at.now().ph() + 0.05);
			boolean calcium = step.product().kind().ingredient() == ActiveIngredient.CALCIUM_HYPOCHLORITE;
			if (moves && (early || tooMuch || calcium)) {
				add(AuditCheck.METAL_FIRST, "%s by %s, FC %.1f, least %.1f", step.purpose(), step.product().name(), this.at.after().fc(),
						this.at.leastFc());
			}
		}
	}

	private void phosphate() {
		if (!this.at.adds(Step.Purpose.LOWER_PHOSPHATE)) {
			return;
		}
		boolean clear = Boolean.TRUE.equals(this.readings.drainVisible());
		boolean chlorine = !this.pool.sanitizer().usesChlorine() || this.at.now().fc() >= this.at.leastFc() - 0.1;
		if (!clear || !chlorine || this.at.now().ta() < 60 || this.at.adds(Step.Purpose.HOLD_METAL)
				|| this.pool.body() == BodyOfWater.SPA) {
			add(AuditCheck.PHOSPHATE_FIRST, "clear %s, FC %.1f, TA %.0f", clear, this.at.now().fc(), this.at.now().ta());
		}
	}

	private void storage() {
		for (Step step : this.at.plan().steps()) {
			Double strength = step.product().strength();
			if (step.product().age() == null || strength == null) {
				continue;
			}
			boolean said = step.instructions().stream().anyMatch(reason -> reason.code().equals("strength.aged"));
			boolean warned = step.cautions().stream().anyMatch(reason -> reason.code().startsWith("caution.chlorine-old"));
			if (!said || warned != (strength < 0.6 * step.product().age().labelStrength())) {
				add(AuditCheck.STORED, "%s at %.3f", step.product().name(), strength);
			}
		}
	}

	private void gauges() {
		Double clean = this.pool.equipment().cleanKilopascals();
		Double now = this.readings.site().filterKilopascals();
		boolean dirty = this.at.plan().tasks().stream().anyMatch(task -> task.code().startsWith("work.filter-dirty"));
		boolean starved = this.at.says("work.filter-starved");
		if (clean != null && now != null && ((dirty && (starved || now < clean)) || (!dirty && now > clean + PSI_8 + 1e-6))) {
			add(AuditCheck.GAUGES, "pressure %.0f, clean %.0f", now, clean);
		}
		Double hours = this.pool.equipment().pumpHours();
		Double turnover = this.pool.equipment().turnoverHours(Objects.requireNonNull(this.pool.volume()).litres());
		boolean said = this.at.says("work.run-time", "work.flow-low");
		if (hours != null && turnover != null && this.pool.body() == BodyOfWater.POOL && said != (turnover > hours)
				&& Math.abs(turnover - hours) > 1) {
			add(AuditCheck.GAUGES, "turnover %.1f h, pump %.1f h", turnover, hours);
		}
	}

	private void acidDemand() {
		boolean falls = this.at.says("work.acid-alkalinity");
		boolean borate = this.at.says("work.acid-borate");
		Double tested = this.readings.borate();
		if ((falls && (this.at.adds(Step.Purpose.RAISE_TA) || this.at.misses(Step.Purpose.RAISE_TA)))
				|| ((falls || borate) && this.at.adds(Step.Purpose.RAISE_PH)) || (borate && tested != null && tested >= 50)) {
			add(AuditCheck.ACID_DEMAND, "TA %.0f, borate %s", this.at.now().ta(), tested);
		}
	}

}
