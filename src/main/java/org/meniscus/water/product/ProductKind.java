package org.meniscus.water.product;

import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.product.MeasuredAmount.Measure;
import org.meniscus.water.units.AmountUnit;
import org.meniscus.water.units.Volume;

/**
 * The kinds of product the engine knows. Everything said here is a default that the label of the product in hand overrules;
 * figures are those of the trade table {@code products.csv} (its basis column names the source of each row), amounts turned
 * into grams and millilitres. Figures without a source there are common practice.
 */
public enum ProductKind {

	LIQUID_CHLORINE_125(liquid(ActiveIngredient.SODIUM_HYPOCHLORITE).strength(0.125, StrengthBasis.TRADE).density(1.168).gap(15)
		.swimAfter(0.5)
		.use(ApplicationMethod.POUR_AT_RETURN, TimeOfDay.DUSK_IF_UNSTABILIZED, ProtectiveEquipment.FACE_SHIELD)
		.price(1, Measure.GAL, 200, 550)),
	LIQUID_CHLORINE_10(liquid(ActiveIngredient.SODIUM_HYPOCHLORITE).strength(0.10, StrengthBasis.TRADE).density(1.15).gap(15).swimAfter(0.5)
		.use(ApplicationMethod.POUR_AT_RETURN, TimeOfDay.DUSK_IF_UNSTABILIZED, ProtectiveEquipment.FACE_SHIELD)
		.price(1, Measure.GAL, 300, 700)),
	/** Plain unscented bleach; an emergency product, and only where its label lists pools. */
	HOUSEHOLD_BLEACH(liquid(ActiveIngredient.SODIUM_HYPOCHLORITE).strength(0.0825, StrengthBasis.WEIGHT).density(1.10).gap(15)
		.swimAfter(0.5)
		.use(ApplicationMethod.POUR_AT_RETURN, TimeOfDay.DUSK_IF_UNSTABILIZED, ProtectiveEquipment.FACE_SHIELD)
		.price(1, Measure.GAL, 400, 800)),
	CAL_HYPO_65(solid(ActiveIngredient.CALCIUM_HYPOCHLORITE).strength(0.65).density(0.9).gap(30).swimAfter(8).most(2, Measure.LB)
		.use(ApplicationMethod.BUCKET_OR_BROADCAST, TimeOfDay.DUSK, ProtectiveEquipment.DRY_CHLORINE).price(1, Measure.LB, 230, 400)
		.dissolveFor(Surface.VINYL, Surface.PAINTED, Surface.FIBREGLASS, Surface.SOFT_SIDED)),
	CAL_HYPO_48(solid(ActiveIngredient.CALCIUM_HYPOCHLORITE).strength(0.48).density(0.9).gap(30).swimAfter(8)
		.use(ApplicationMethod.BUCKET_OR_BROADCAST, TimeOfDay.DUSK, ProtectiveEquipment.DRY_CHLORINE).price(1, Measure.LB, 300, 600)
		.dissolveFor(Surface.VINYL, Surface.PAINTED, Surface.FIBREGLASS, Surface.SOFT_SIDED)),
	DICHLOR_56(solid(ActiveIngredient.DICHLOR).strength(0.56).density(0.95).gap(15).swimAfter(1)
		.use(ApplicationMethod.BROADCAST_DRY, TimeOfDay.DUSK_BETTER, ProtectiveEquipment.DRY_CHLORINE).price(1, Measure.LB, 340, 550)
		.dissolveFor(Surface.VINYL, Surface.PAINTED, Surface.FIBREGLASS, Surface.SOFT_SIDED)),
	DICHLOR_62(solid(ActiveIngredient.DICHLOR).strength(0.62).density(0.95).gap(15).swimAfter(1)
		.use(ApplicationMethod.BROADCAST_DRY, TimeOfDay.DUSK_BETTER, ProtectiveEquipment.DRY_CHLORINE).price(1, Measure.LB, 360, 600)
		.dissolveFor(Surface.VINYL, Surface.PAINTED, Surface.FIBREGLASS, Surface.SOFT_SIDED)),
	TRICHLOR_TAB(tablet(ActiveIngredient.TRICHLOR).strength(0.90).density(1.8).gap(0).swimAfter(0)
		.use(ApplicationMethod.FEEDER, TimeOfDay.CONTINUOUS, ProtectiveEquipment.DRY_CHLORINE).price(1, Measure.LB, 240, 420)
		.setting()
		.avoid(Surface.VINYL, Surface.PAINTED, Surface.SOFT_SIDED, Surface.FIBREGLASS)),
	TRICHLOR_GRAN(solid(ActiveIngredient.TRICHLOR).strength(0.90).density(1.05).gap(60).swimAfter(8)
		.use(ApplicationMethod.SPOT, TimeOfDay.DUSK, ProtectiveEquipment.DRY_CHLORINE).price(1, Measure.LB, 350, 550).setting()
		.avoid(Surface.VINYL, Surface.PAINTED, Surface.FIBREGLASS, Surface.SOFT_SIDED)),
	/** Non-chlorine oxidizer; strength is weight percent KHSO5. */
	MPS(solid(ActiveIngredient.MONOPERSULFATE).strength(0.428).density(1.2).gap(30).swimAfter(1).most(2, Measure.LB)
		.use(ApplicationMethod.BROADCAST, TimeOfDay.ANY, ProtectiveEquipment.FACE_SHIELD).price(1, Measure.LB, 350, 600)),
	MURIATIC_3145(liquid(ActiveIngredient.MURIATIC_ACID).strength(0.3145).density(1.16).gap(30).swimAfter(0.5).most(32, Measure.FL_OZ)
		.use(ApplicationMethod.POUR_DILUTED, TimeOfDay.ANY, ProtectiveEquipment.FACE_SHIELD).price(1, Measure.GAL, 600, 1400)),
	MURIATIC_145(liquid(ActiveIngredient.MURIATIC_ACID).strength(0.145).density(1.07).gap(30).swimAfter(0.5).most(64, Measure.FL_OZ)
		.use(ApplicationMethod.POUR_DILUTED, TimeOfDay.ANY, ProtectiveEquipment.FACE_SHIELD).price(1, Measure.GAL, 600, 1300)),
	DRY_ACID_93(solid(ActiveIngredient.DRY_ACID).strength(0.932).density(1.38).gap(30).swimAfter(1).most(2, Measure.LB)
		.use(ApplicationMethod.DISSOLVE, TimeOfDay.ANY, ProtectiveEquipment.FACE_SHIELD).price(1, Measure.LB, 150, 300)),
	SODA_ASH(solid(ActiveIngredient.SODA_ASH).strength(0.99).density(1.05).gap(240).swimAfter(1).most(2, Measure.LB)
		.use(ApplicationMethod.DISSOLVE, TimeOfDay.ANY, ProtectiveEquipment.DUST).price(1, Measure.LB, 70, 150)),
	BICARB(solid(ActiveIngredient.BICARBONATE).strength(0.995).density(0.95).gap(360).swimAfter(0.5).most(10, Measure.LB)
		.use(ApplicationMethod.BROADCAST, TimeOfDay.ANY, ProtectiveEquipment.DUST).price(1, Measure.LB, 50, 120)),
	CAL_CHLORIDE_77(solid(ActiveIngredient.CALCIUM_CHLORIDE).strength(0.77).density(0.9).gap(480).swimAfter(2).most(10, Measure.LB)
		.use(ApplicationMethod.DISSOLVE, TimeOfDay.ANY, ProtectiveEquipment.HEAT).price(1, Measure.LB, 60, 150)),
	CAL_CHLORIDE_94(solid(ActiveIngredient.CALCIUM_CHLORIDE).strength(0.94).density(0.95).gap(480).swimAfter(2).most(8, Measure.LB)
		.use(ApplicationMethod.DISSOLVE, TimeOfDay.ANY, ProtectiveEquipment.HEAT).price(1, Measure.LB, 70, 180)),
	CYA(solid(ActiveIngredient.CYANURIC_ACID).strength(0.99).density(0.9).gap(0).swimAfter(1).most(4, Measure.LB)
		.use(ApplicationMethod.SOCK, TimeOfDay.ANY, ProtectiveEquipment.DUST).price(1, Measure.LB, 260, 500)),
	CYA_LIQUID(liquid(ActiveIngredient.CYANURIC_ACID).density(1.25).gap(30).swimAfter(1)
		.use(ApplicationMethod.POUR_AT_SKIMMER, TimeOfDay.ANY, ProtectiveEquipment.DUST).price(1, Measure.GAL, 2200, 4500).asLabelled()),
	SALT(solid(ActiveIngredient.SALT).strength(0.995).density(1.18).gap(0).swimAfter(1).most(400, Measure.LB)
		.use(ApplicationMethod.BROADCAST, TimeOfDay.ANY, ProtectiveEquipment.DUST).price(40, Measure.LB, 700, 1300)),
	/** Boric acid. */
	BORATE(solid(ActiveIngredient.BORIC_ACID).strength(0.99).density(0.88).gap(60).swimAfter(24)
		.use(ApplicationMethod.DISSOLVE, TimeOfDay.ANY, ProtectiveEquipment.DUST).price(1, Measure.LB, 130, 250)),
	/** Borax pentahydrate; stands in the same row of the trade table as boric acid. */
	BORAX(solid(ActiveIngredient.BORAX).strength(0.99).density(0.88).gap(60).swimAfter(24)
		.use(ApplicationMethod.DISSOLVE, TimeOfDay.ANY, ProtectiveEquipment.DUST).price(1, Measure.LB, 130, 250)),
	QUAT_10(liquid(ActiveIngredient.QUAT_ALGAECIDE).strength(0.10).density(0.99).gap(240).swimAfter(0.25)
		.use(ApplicationMethod.POUR_AT_EDGE, TimeOfDay.ANY, ProtectiveEquipment.GOGGLES).price(1, Measure.GAL, 1400, 3000)
		.asLabelled()),
	QUAT_50(liquid(ActiveIngredient.QUAT_ALGAECIDE).strength(0.50).density(0.97).gap(240).swimAfter(0.25)
		.use(ApplicationMethod.POUR_AT_EDGE, TimeOfDay.ANY, ProtectiveEquipment.GOGGLES).price(1, Measure.GAL, 3000, 6000)
		.asLabelled()),
	POLYQUAT_60(liquid(ActiveIngredient.POLYQUAT_ALGAECIDE).strength(0.60).density(1.14).gap(240).swimAfter(0.25)
		.use(ApplicationMethod.POUR_AT_EDGE, TimeOfDay.ANY, ProtectiveEquipment.GOGGLES).price(1, Measure.QT, 1800, 3800)
		.asLabelled()),
	COPPER_7(liquid(ActiveIngredient.COPPER_ALGAECIDE).strength(0.07).density(1.15).gap(1440).swimAfter(0.5)
		.use(ApplicationMethod.POUR_AT_EDGE, TimeOfDay.ANY, ProtectiveEquipment.GOGGLES).price(1, Measure.QT, 1600, 4000)
		.asLabelled()),
	SODIUM_BROMIDE(solid(ActiveIngredient.SODIUM_BROMIDE).density(1.4).gap(0).swimAfter(8)
		.use(ApplicationMethod.AS_LABEL, TimeOfDay.ANY, ProtectiveEquipment.GLOVES).price(2, Measure.LB, 1500, 3000)
		.asLabelled()),
	CLARIFIER(liquid(ActiveIngredient.CLARIFIER).density(1.0).gap(240).swimAfter(0.5)
		.use(ApplicationMethod.POUR_AT_RETURN, TimeOfDay.ANY, ProtectiveEquipment.GLOVES).price(1, Measure.QT, 1000, 2500).asLabelled()),
	FLOC(solid(ActiveIngredient.FLOCCULANT).density(0.9).gap(1440).swimAfter(24)
		.use(ApplicationMethod.SETTLE, TimeOfDay.DUSK, ProtectiveEquipment.GOGGLES).price(2, Measure.LB, 1200, 3000).asLabelled()),
	LANTHANUM(liquid(ActiveIngredient.LANTHANUM).density(1.25).gap(1440).swimAfter(1)
		.use(ApplicationMethod.POUR_AT_SKIMMER, TimeOfDay.ANY, ProtectiveEquipment.GOGGLES).price(1, Measure.QT, 2500, 7000).asLabelled()),
	SEQUESTRANT(liquid(ActiveIngredient.SEQUESTRANT).density(1.25).gap(1440).swimAfter(1)
		.use(ApplicationMethod.POUR_AT_EDGE, TimeOfDay.ANY, ProtectiveEquipment.GOGGLES).price(1, Measure.QT, 1500, 4000).asLabelled()),
	ASCORBIC(solid(ActiveIngredient.ASCORBIC_ACID).strength(0.99).density(0.8).gap(1440).swimAfter(8).most(1, Measure.LB)
		.use(ApplicationMethod.BROADCAST, TimeOfDay.ANY, ProtectiveEquipment.GLOVES).price(1, Measure.LB, 1000, 2000).asLabelled()),
	THIOSULFATE(solid(ActiveIngredient.THIOSULFATE).strength(0.99).density(1.0).gap(60).swimAfter(1)
		.use(ApplicationMethod.IN_PARTS, TimeOfDay.ANY, ProtectiveEquipment.GLOVES).price(1, Measure.LB, 150, 400).asLabelled()),
	SULFITE(solid(ActiveIngredient.SULFITE).strength(0.98).density(1.4).gap(60).swimAfter(1)
		.use(ApplicationMethod.IN_PARTS, TimeOfDay.ANY, ProtectiveEquipment.MASK).price(1, Measure.LB, 150, 350).asLabelled()),
	BROMINE_TAB(tablet(ActiveIngredient.BROMINE_TABLETS).density(1.9).gap(0).swimAfter(0)
		.use(ApplicationMethod.FEEDER, TimeOfDay.CONTINUOUS, ProtectiveEquipment.DRY_CHLORINE).price(1, Measure.LB, 500, 900)
		.setting()),
	DE_MEDIA(solid(ActiveIngredient.FILTER_MEDIA).density(0.28).gap(0).swimAfter(0)
		.use(ApplicationMethod.SLURRY, TimeOfDay.ANY, ProtectiveEquipment.MASK).price(1, Measure.LB, 80, 160).asLabelled());

	/** Litres in 10,000 US gallons, the volume label maxima of the trade are stated for. */
	public static final double LITRES_PER_10000_GALLONS = 10_000 * Volume.LITRES_PER_US_GALLON;

	/** Whether the engine works out an amount. */
	public enum DoseBasis {

		/** Worked out from the chemistry. */
		COMPUTED,
		/** The label's own rate; the engine names the product and leaves the amount to the label. */
		AS_LABELLED,
		/** A feeder's setting or a spot, never a dose for the pool. */
		SETTING

	}

	private final Sheet sheet;

	ProductKind(Sheet sheet) {
		this.sheet = sheet;
	}

	public ActiveIngredient ingredient() {
		return this.sheet.ingredient;
	}

	public PhysicalForm form() {
		return this.sheet.form;
	}

	public AmountUnit unit() {
		return this.sheet.form.unit();
	}

	/** Usual strength as a fraction, in {@link #basis()}; null where only the label says. */
	public @Nullable Double strength() {
		return this.sheet.strength;
	}

	public StrengthBasis basis() {
		return this.sheet.basis;
	}

	/** Density of a liquid, bulk density of a solid, kg/L. */
	public double density() {
		return this.sheet.density;
	}

	/** Minutes with the pump running before the next product. */
	public int gapMinutes() {
		return this.sheet.gapMinutes;
	}

	/** Hours before anyone swims, all other conditions met. */
	public double waitHours() {
		return this.sheet.waitHours;
	}

	/** Most in one addition, grams or millilitres per litre of pool water; null where only the label says. */
	public @Nullable Double mostPerLitre() {
		return (this.sheet.mostPer10000Gallons == null) ? null
				: Double.valueOf(this.sheet.mostPer10000Gallons / LITRES_PER_10000_GALLONS);
	}

	public ApplicationMethod application() {
		return this.sheet.application;
	}

	public TimeOfDay timeOfDay() {
		return this.sheet.timeOfDay;
	}

	public ProtectiveEquipment protection() {
		return this.sheet.protection;
	}

	public DoseBasis dosing() {
		return this.sheet.dosing;
	}

	/** Surfaces it must not touch at all. */
	public Set<Surface> avoid() {
		return this.sheet.avoid;
	}

	/**
	 * Whether it is dissolved in a bucket first: on surfaces that its grains mark, and what is broadcast dry also where grains lie until
	 * they dissolve, on young plaster and on the floor of a spa. Trade tables {@code products.csv} and {@code situations.csv}, rows vinyl and
	 * new plaster; for dichlor elsewhere common practice, no source.
	 */
	public boolean isDissolvedFirst(PoolFacts pool, Situation situation) {
		return this.sheet.dissolveFor.contains(pool.surface()) || (this.sheet.application == ApplicationMethod.BROADCAST_DRY
				&& (pool.body() == BodyOfWater.SPA || situation == Situation.NEW_PLASTER));
	}

	/** Amount the usual price is for: grams or millilitres. */
	public double pricedAmount() {
		return this.sheet.pricedAmount;
	}

	/** Lower end of the usual price of {@link #pricedAmount()}, US cents. */
	public int priceLowCents() {
		return this.sheet.priceLowCents;
	}

	/** Upper end of the usual price of {@link #pricedAmount()}, US cents. */
	public int priceHighCents() {
		return this.sheet.priceHighCents;
	}

	private static Sheet liquid(ActiveIngredient ingredient) {
		return new Sheet(ingredient, PhysicalForm.LIQUID);
	}

	private static Sheet solid(ActiveIngredient ingredient) {
		return new Sheet(ingredient, PhysicalForm.GRANULAR);
	}

	private static Sheet tablet(ActiveIngredient ingredient) {
		return new Sheet(ingredient, PhysicalForm.TABLET);
	}

	private static final class Sheet {

		private final ActiveIngredient ingredient;

		private final PhysicalForm form;

		private @Nullable Double strength;

		private StrengthBasis basis = StrengthBasis.PURITY;

		private double density;

		private int gapMinutes;

		private double waitHours;

		private @Nullable Double mostPer10000Gallons;

		private ApplicationMethod application = ApplicationMethod.AS_LABEL;

		private TimeOfDay timeOfDay = TimeOfDay.ANY;

		private ProtectiveEquipment protection = ProtectiveEquipment.GOGGLES;

		private DoseBasis dosing = DoseBasis.COMPUTED;

		private Set<Surface> avoid = Set.of();

		private Set<Surface> dissolveFor = Set.of();

		private double pricedAmount;

		private int priceLowCents;

		private int priceHighCents;

		Sheet(ActiveIngredient ingredient, PhysicalForm form) {
			this.ingredient = ingredient;
			this.form = form;
		}

		Sheet strength(double fraction) {
			return strength(fraction, StrengthBasis.PURITY);
		}

		Sheet strength(double fraction, StrengthBasis basis) {
			this.strength = fraction;
			this.basis = basis;
			return this;
		}

		Sheet density(double kgPerLitre) {
			this.density = kgPerLitre;
			return this;
		}

		Sheet gap(int minutes) {
			this.gapMinutes = minutes;
			return this;
		}

		Sheet swimAfter(double hours) {
			this.waitHours = hours;
			return this;
		}

		/** Most in one addition for 10,000 US gallons. */
		Sheet most(double count, Measure size) {
			this.mostPer10000Gallons = count * size.size();
			return this;
		}

		Sheet use(ApplicationMethod application, TimeOfDay timeOfDay, ProtectiveEquipment protection) {
			this.application = application;
			this.timeOfDay = timeOfDay;
			this.protection = protection;
			return this;
		}

		Sheet price(double count, Measure size, int lowCents, int highCents) {
			this.pricedAmount = count * size.size();
			this.priceLowCents = lowCents;
			this.priceHighCents = highCents;
			return this;
		}

		Sheet asLabelled() {
			this.dosing = DoseBasis.AS_LABELLED;
			return this;
		}

		Sheet setting() {
			this.dosing = DoseBasis.SETTING;
			return this;
		}

		Sheet avoid(Surface... surfaces) {
			this.avoid = Set.of(surfaces);
			return this;
		}

		Sheet dissolveFor(Surface... surfaces) {
			this.dissolveFor = Set.of(surfaces);
			return this;
		}

	}

}
