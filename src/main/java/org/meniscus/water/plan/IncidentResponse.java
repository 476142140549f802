package org.meniscus.water.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.PoolWater;
import org.meniscus.water.assess.ReadingCheck;
import org.meniscus.water.assess.ReadingFinding;
import org.meniscus.water.chemistry.Dosing;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Term;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.ActiveIngredient;
import org.meniscus.water.product.MeasuredAmount;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductEffects;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.units.Volume;

/**
 * What is done after stool, vomit or a dead animal in the water, in order: close, take it out, FC for its time, back to normal, write down.
 * Steps: CDC, MMWR 50(20), 2001, and trade table {@code situations.csv}. Formed stool: 2 ppm for 30 minutes (the same notice), with CYA 4
 * ppm for 40 minutes (operator handbook of 2017). Diarrhoea: CT 15,300 mg min/L without CYA (Shields et al. 2008), with up to 15 ppm of it 28
 * hours at 20 ppm (CDC 2018, from memory); above that, water is replaced first. The page of the public health service leads
 * (www.cdc.gov/healthy-swimming); the amount of chlorine is what brings today's water to the FC it names.
 */
final class IncidentResponse {

	/** CT for 3-log inactivation of Cryptosporidium without CYA, mg min/L: Shields et al. 2008, used by CDC. */
	private static final double CRYPTOSPORIDIUM_CT = 15_300;

	private static final double DIARRHOEA_FC = 20;

	/** At 20 ppm with 1 to 15 ppm of CYA: CDC 2018, from memory. */
	private static final double STABILIZED_HOURS = 28;

	/** Above it 3-log was not reached: trade newspaper of May 2023 on the CDC study. */
	private static final double MOST_CYA = 15;

	private static final double MOST_PH = 7.5;

	private static final List<ActiveIngredient> ACIDS = List.of(ActiveIngredient.MURIATIC_ACID, ActiveIngredient.DRY_ACID);

	private static final List<ActiveIngredient> UNSTABILIZED = List.of(ActiveIngredient.SODIUM_HYPOCHLORITE,
			ActiveIngredient.CALCIUM_HYPOCHLORITE);

	/** 77 °F. */
	private static final double LEAST_CELSIUS = 25;

	private final PlanRequest request;

	private final List<Reason> steps = new ArrayList<>();

	private IncidentResponse(PlanRequest request) {
		this.request = request;
	}

	/** Empty in other situations. */
	static List<Reason> of(PlanRequest request) {
		IncidentResponse response = new IncidentResponse(request);
		switch (request.situation()) {
			case CONTAMINATION -> response.formed("work.contamination-net", "not.vacuum-incident");
			case DEAD_ANIMAL -> response.formed("work.animal-bag", "not.bare-hands", "work.animal-raccoon");
			case DIARRHOEA -> response.diarrhoea();
			default -> {
				return List.of();
			}
		}
		return response.steps;
	}

	private void formed(String... takingItOut) {
		start(takingItOut);
		Double cya = this.request.effectiveReadings().cya();
		boolean stabilized = (cya == null) ? !this.request.pool().indoor() : cya > 0;
		hold(stabilized ? 4 : 2, stabilized ? 40 / 60.0 : 0.5, 0);
		say("work.contamination-log");
	}

	private void diarrhoea() {
		start("work.contamination-net", "not.vacuum-incident", "work.diarrhoea-department");
		if (this.request.pool().body() == BodyOfWater.SPA) {
			// Little water goes faster than a day at 20 ppm: drain, scrub, refill; CDC, from memory.
			say("work.incident-drain-spa", "work.contamination-log");
			return;
		}
		Double cya = this.request.effectiveReadings().cya();
		boolean chlorine = this.request.pool().sanitizer().usesChlorine();
		if (chlorine && cya == null) {
			say("work.diarrhoea-cya");
		}
		else if (chlorine && cya != null) {
			boolean dilute = cya > MOST_CYA || this.request.readings().cyaQualifier() == ReadingQualifier.BELOW;
			if (dilute) {
				this.steps.add(Reason.of("work.incident-dilute", Term.of(Level.CYA, cya), Term.of(Level.CYA, MOST_CYA),
						new Term.Share(1 - Math.min(1, MOST_CYA / cya))));
			}
			hold(DIARRHOEA_FC, (cya > 0) ? STABILIZED_HOURS : CRYPTOSPORIDIUM_CT / DIARRHOEA_FC / 60,
					dilute ? 1 - Math.min(1, MOST_CYA / cya) : 0);
			say("not.colour-test-incident");
		}
		say("work.diarrhoea-backwash", "work.contamination-log");
	}

	private void start(String... takingItOut) {
		say("work.contamination-close");
		say(takingItOut);
		say("work.contamination-health-page");
	}

	/** PH while a test can read it, the level everywhere, then the time. @param replaced share of the water that goes before */
	private void hold(double fc, double hours, double replaced) {
		if (!this.request.pool().sanitizer().usesChlorine()) {
			return;
		}
		Double ph = this.request.readings().ph();
		if (ph == null || ph > MOST_PH + 1e-9) {
			this.steps.add(Reason.of("work.incident-ph", Term.of(Level.PH, MOST_PH)));
			acid(ph, replaced);
		}
		say("not.stabilized-incident");
		dose(fc, replaced);
		say("work.contamination-points");
		this.steps.add(Reason.of("work.incident-hold", Term.of(Level.FC, fc), new Term.Hours(hours), Term.of(Level.PH, MOST_PH),
				Term.of(Level.TEMPERATURE, LEAST_CELSIUS)));
		Double celsius = this.request.readings().celsius();
		if (celsius != null && celsius < LEAST_CELSIUS - 1e-9) {
			this.steps.add(
					Reason.of("work.incident-cold", Term.of(Level.TEMPERATURE, celsius), Term.of(Level.TEMPERATURE, LEAST_CELSIUS)));
		}
	}

	/** How much acid brings it there; nothing where water goes first or a figure is missing. */
	private void acid(@Nullable Double ph, double replaced) {
		PoolFacts pool = this.request.pool();
		PoolWater water = PoolWater.of(pool, this.request.effectiveReadings());
		Volume volume = pool.volume();
		if (ph == null || this.request.readings().phQualifier() != ReadingQualifier.EXACT || replaced > 0 || volume == null
				|| !isSound(pool, volume) || !water.knows(Level.TA)) {
			return;
		}
		// Dry acid leaves sulfate in a cell.
		Product product = along(pool, (pool.sanitizer() == Sanitizer.SALT_CELL) ? ACIDS.subList(0, 1) : ACIDS, ProductKind.MURIATIC_3145);
		double needed = Dosing.doseForPh(water.water(), ProductEffects.reagent(product.kind().ingredient()), MOST_PH).orElse(0);
		MeasuredAmount measured = MeasuredAmount.up(ProductEffects.amount(product, needed, volume.litres()), product,
				this.request.units());
		if (needed > 0 && !measured.isZero()) {
			this.steps.add(Reason.of(product.onTruck() ? "work.incident-acid" : "work.incident-acid-bring", new Term.Amount(measured),
					Term.of(product.kind()), Term.of(Level.PH, ph), Term.of(Level.PH, MOST_PH)));
			parts(product, measured, volume);
		}
	}

	/** A volume that somebody checked, and readings that can be. */
	private boolean isSound(PoolFacts pool, Volume volume) {
		return volume.litres() > 0 && pool.certainty() != VolumeCertainty.UNVERIFIED
				&& ReadingCheck.check(this.request.readings(), null, pool, Set.of())
					.stream()
					.allMatch(finding -> finding.kind() == ReadingFinding.Kind.UNLIKELY);
	}

	private void parts(Product product, MeasuredAmount measured, Volume volume) {
		Double most = product.mostFor(volume.litres());
		if (most != null && measured.amount() > most + 1e-9) {
			this.steps.add(Reason.of("work.incident-parts", Term.of(product.kind()),
					new Term.Amount(MeasuredAmount.down(most, product, this.request.units()))));
		}
	}

	/** How much chlorine without stabilizer brings it there: of what is on the truck, else what to bring. Nothing on a volume nobody has checked. */
	private void dose(double fc, double replaced) {
		PoolFacts pool = this.request.pool();
		Double found = this.request.readings().fc();
		Volume volume = pool.volume();
		if (found == null || volume == null || !isSound(pool, volume)) {
			return;
		}
		double now = found * (1 - replaced);
		Product product = along(pool, UNSTABILIZED, ProductKind.LIQUID_CHLORINE_125);
		double amount = ProductEffects.amount(product, Math.max(0, fc - now), volume.litres());
		MeasuredAmount measured = MeasuredAmount.up(amount, product, this.request.units());
		if (amount <= 0 || measured.isZero()) {
			return;
		}
		Term much = new Term.Amount(measured);
		String code = !product.onTruck() ? "work.incident-bring"
				: (pool.body() == BodyOfWater.SPA) ? "work.incident-dose-spa"
						: (product.kind().ingredient() == ActiveIngredient.SODIUM_HYPOCHLORITE) ? "work.incident-dose"
								: "work.incident-dose-dry";
		this.steps.add(Reason.of(code, much, Term.of(product.kind()), Term.of(Level.FC, now), Term.of(Level.FC, fc)));
		parts(product, measured, volume);
	}

	/** The first of these on the truck that this pool takes; else the usual one, to be brought. */
	private Product along(PoolFacts pool, List<ActiveIngredient> wanted, ProductKind usual) {
		return this.request.products()
			.stream()
			.filter(product -> product.onTruck() && ProductEffects.computable(product) && product.preference() != ProductPreference.NEVER
					&& !product.kind().avoid().contains(pool.surface()) && wanted.contains(product.kind().ingredient()))
			.min(Comparator.comparingInt((Product product) -> wanted.indexOf(product.kind().ingredient()))
				.thenComparing(product -> product.kind())
				.thenComparing(Product::id))
			.orElse(Product.usual("usual", usual).withOnTruck(false));
	}

	private void say(String... codes) {
		for (String code : codes) {
			this.steps.add(Reason.of(code));
		}
	}

}
