package org.meniscus.tools;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.MinimumRule;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.ChlorineDemand;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.Targets;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.NormalDistribution;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;
import tools.jackson.databind.JsonNode;

/**
 * Reads one plan request from JSON; the form is in docs/plan-tool.md. Anything that is not understood is an
 * {@link IllegalArgumentException} naming its place.
 */
final class PlanRequestParser {

	private final UnitSystem units;

	private PlanRequestParser(UnitSystem units) {
		this.units = units;
	}

	static PlanRequest parse(JsonNode root) {
		rejectUnknownFields(root, "", "units", "pool", "readings", "situation", "products", "policy", "daysToNextVisit", "swimWithinHours",
				"forecast");
		UnitSystem units = constant(root, "", "units", UnitSystem.class, UnitSystem.US);
		PlanRequestParser reader = new PlanRequestParser(units);
		Double days = number(root, "", "daysToNextVisit");
		PoolFacts pool = reader.pool(child(root, "pool"));
		return new PlanRequest(pool, reader.readings(child(root, "readings")),
				constant(root, "", "situation", Situation.class, Situation.ROUTINE), products(root), policy(field(root, "policy")),
				(days != null) ? days.intValue() : 0, number(root, "", "swimWithinHours"), units)
			.withForecast(forecast(root.get("forecast"), PoolForecast.expected(pool)));
	}

	/** The use is given as a figure with the interval that holds four times in five. */
	private static PoolForecast forecast(@Nullable JsonNode node, PoolForecast expected) {
		if (node == null) {
			return expected;
		}
		String place = "forecast.";
		rejectUnknownFields(node, place, "usePerDay", "useLow", "useHigh", "supplyPerDay", "weeklySpread", "daysToSeasonEnd",
				"driftPerDay", "tabletsLeft", "tabletsPerDay");
		Double use = number(node, place, "usePerDay");
		Double low = number(node, place, "useLow");
		Double high = number(node, place, "useHigh");
		PoolForecast forecast = expected;
		if (use != null) {
			double deviation = (low != null && high != null && low > 0 && high > low) ? Math.log(high / low) / (2 * NormalDistribution.Z80)
					: 0;
			double spread = number(node, place, "weeklySpread", 0.2);
			forecast = expected
				.withDemand(
						new ChlorineDemand(0, use, number(node, place, "supplyPerDay", 0), deviation, Math.hypot(deviation, spread), 0, 1));
		}
		Double tablets = number(node, place, "tabletsLeft");
		if (tablets != null) {
			forecast = forecast
				.withTablets(new DissolvingTablets(tablets,
						number(node, place, "tabletsPerDay", tablets / DissolvingTablets.DISSOLVING_DAYS)));
		}
		Map<Level, Double> drift = new EnumMap<>(Level.class);
		JsonNode slow = field(node, "driftPerDay");
		if (slow != null) {
			for (String name : slow.propertyNames()) {
				drift.put(constant(place + "driftPerDay." + name, name, Level.class), number(slow, place + "driftPerDay.", name, 0));
			}
		}
		return forecast.withSeason((int) number(node, place, "daysToSeasonEnd", forecast.daysToSeasonEnd()), forecast.seasonUse(), drift);
	}

	private PoolFacts pool(JsonNode pool) {
		rejectUnknownFields(pool, "pool.", "gallons", "litres", "certainty", "body", "surface", "indoor", "sanitizer", "fill", "wasteValve",
				"targets");
		Double gallons = number(pool, "pool.", "gallons");
		Double litres = number(pool, "pool.", "litres");
		if (gallons != null && litres != null) {
			throw new IllegalArgumentException("pool: give gallons or litres, not both");
		}
		Volume volume = (gallons != null) ? Volume.ofUsGallons(gallons) : (litres != null) ? Volume.ofLitres(litres) : null;
		BodyOfWater body = constant(pool, "pool.", "body", BodyOfWater.class, BodyOfWater.POOL);
		Surface surface = constant(pool, "pool.", "surface", Surface.class, Surface.PLASTER);
		Sanitizer sanitizer = constant(pool, "pool.", "sanitizer", Sanitizer.class, Sanitizer.CHLORINE_BY_HAND);
		boolean indoor = Boolean.TRUE.equals(bool(pool, "pool.", "indoor"));
		return new PoolFacts(volume, constant(pool, "pool.", "certainty", VolumeCertainty.class, VolumeCertainty.CALCULATED), body, surface,
				indoor, sanitizer, fill(field(pool, "fill")), Boolean.TRUE.equals(bool(pool, "pool.", "wasteValve")),
				targets(field(pool, "targets"), Targets.defaults(body, surface, indoor, sanitizer)));
	}

	private static FillWater fill(@Nullable JsonNode fill) {
		if (fill == null) {
			return FillWater.unknown();
		}
		rejectUnknownFields(fill, "pool.fill.", "ph", "ta", "ch", "salt");
		return new FillWater(number(fill, "pool.fill.", "ph"), number(fill, "pool.fill.", "ta"), number(fill, "pool.fill.", "ch"),
				number(fill, "pool.fill.", "salt"));
	}

	private static Targets targets(@Nullable JsonNode targets, Targets defaults) {
		if (targets == null) {
			return defaults;
		}
		Map<Level, Range> own = new EnumMap<>(Level.class);
		for (String name : targets.propertyNames()) {
			Level level = constant("pool.targets." + name, name, Level.class);
			JsonNode limits = targets.get(name);
			if (!limits.isArray() || limits.size() != 4 || !limits.valueStream().allMatch(JsonNode::isNumber)) {
				throw new IllegalArgumentException("pool.targets." + name
						+ ": four numbers are wanted: acceptable low, ideal low, ideal high, acceptable high");
			}
			own.put(level, new Range(limits.get(0).asDouble(), limits.get(1).asDouble(), limits.get(2).asDouble(), limits.get(3).asDouble(),
					"given"));
		}
		return defaults.with(own);
	}

	private Readings readings(JsonNode readings) {
		rejectUnknownFields(readings, "readings.", "fc", "tc", "cc", "bromine", "ph", "phMark", "ta", "ch", "cya", "cyaMark", "salt", "tds",
				"borate",
				"phosphate", "temperature", "drainVisible");
		Double temperature = number(readings, "readings.", "temperature");
		Double celsius = (temperature == null || this.units == UnitSystem.METRIC) ? temperature : Double.valueOf((temperature - 32) / 1.8);
		return Readings.builder()
			.fc(number(readings, "readings.", "fc"))
			.tc(number(readings, "readings.", "tc"))
			.cc(number(readings, "readings.", "cc"))
			.bromine(number(readings, "readings.", "bromine"))
			.ph(number(readings, "readings.", "ph"), qualifier(readings, "phMark"))
			.ta(number(readings, "readings.", "ta"))
			.ch(number(readings, "readings.", "ch"))
			.cya(number(readings, "readings.", "cya"), qualifier(readings, "cyaMark"))
			.salt(number(readings, "readings.", "salt"))
			.tds(number(readings, "readings.", "tds"))
			.borate(number(readings, "readings.", "borate"))
			.phosphate(number(readings, "readings.", "phosphate"))
			.celsius(celsius)
			.drainVisible(bool(readings, "readings.", "drainVisible"))
			.build();
	}

	private static ReadingQualifier qualifier(JsonNode readings, String field) {
		JsonNode node = field(readings, field);
		try {
			return ReadingQualifier.ofSign((node == null) ? null : node.asString());
		}
		catch (IllegalArgumentException ex) {
			throw new IllegalArgumentException("readings." + field + ": \"<\" or \">\" is wanted, not " + node);
		}
	}

	/** Without a list: one of every kind at its usual strength. */
	private static List<Product> products(JsonNode root) {
		List<Product> products = new ArrayList<>();
		JsonNode list = field(root, "products");
		if (list == null) {
			for (ProductKind kind : ProductKind.values()) {
				products.add(Product.usual(kind.name(), kind));
			}
			return products;
		}
		if (!list.isArray()) {
			throw new IllegalArgumentException("products: a list is wanted");
		}
		for (JsonNode entry : list) {
			String place = "products[" + products.size() + "]";
			if (entry.isString()) {
				ProductKind kind = constant(place, entry.asString(), ProductKind.class);
				products.add(Product.usual(kind.name(), kind));
				continue;
			}
			rejectUnknownFields(entry, place + ".", "kind", "name", "strength", "basis", "density", "package", "price", "labelMaxPerM3",
					"onTruck",
					"scoop", "preference");
			ProductKind kind = constant(entry, place + ".", "kind", ProductKind.class, null);
			Product usual = Product.usual(place, kind);
			JsonNode name = field(entry, "name");
			Double amount = number(entry, place + ".", "package");
			Double price = number(entry, place + ".", "price");
			Double strength = number(entry, place + ".", "strength");
			products.add(new Product(place, kind, (name != null) ? name.asString() : kind.name(),
					(strength != null) ? strength : usual.strength(),
					constant(entry, place + ".", "basis", StrengthBasis.class, usual.basis()), number(entry, place + ".", "density"),
					(amount != null) ? amount : usual.packageAmount(), (price != null) ? Long.valueOf(Math.round(price * 100)) : null,
					number(entry, place + ".", "labelMaxPerM3"), usual.tabletGrams(),
					!Boolean.FALSE.equals(bool(entry, place + ".", "onTruck")), number(entry, place + ".", "scoop"),
					constant(entry, place + ".", "preference", ProductPreference.class, ProductPreference.NONE)));
		}
		return products;
	}

	private static TreatmentPolicy policy(@Nullable JsonNode policy) {
		TreatmentPolicy defaults = TreatmentPolicy.defaults();
		if (policy == null) {
			return defaults;
		}
		rejectUnknownFields(policy, "policy.", "fcCeiling", "swimCeiling", "shockCeiling", "cyaPerFc", "minimumRule", "holdChance",
				"waterPerM3", "drainVisit", "workHour");
		TreatmentCosts costs = defaults.costs();
		return new TreatmentPolicy(number(policy, "policy.", "fcCeiling", defaults.fcCeiling()),
				number(policy, "policy.", "swimCeiling", defaults.swimCeiling()),
				number(policy, "policy.", "shockCeiling", defaults.shockCeiling()),
				number(policy, "policy.", "cyaPerFc", defaults.cyaPerFc()),
				constant(policy, "policy.", "minimumRule", MinimumRule.class, defaults.minimumRule()),
				number(policy, "policy.", "holdChance", defaults.holdProbability()),
				new TreatmentCosts(100 * number(policy, "policy.", "waterPerM3", costs.waterPerM3() / 100),
						100 * number(policy, "policy.", "drainVisit", costs.drainLabor() / 100),
						100 * number(policy, "policy.", "workHour", costs.laborHour() / 100)));
	}

	private static JsonNode child(JsonNode root, String field) {
		JsonNode node = field(root, field);
		if (node == null || !node.isObject()) {
			throw new IllegalArgumentException(field + ": an object is wanted");
		}
		return node;
	}

	/** A field's value; null when it is left out or null in the file. */
	private static @Nullable JsonNode field(JsonNode node, String name) {
		JsonNode value = node.get(name);
		return (value == null || value.isNull()) ? null : value;
	}

	private static void rejectUnknownFields(JsonNode node, String place, String... fields) {
		Set<String> unknown = new TreeSet<>(node.propertyNames());
		unknown.removeAll(Set.of(fields));
		if (!unknown.isEmpty()) {
			throw new IllegalArgumentException(
					place + unknown.iterator().next() + ": not a field here; known are " + String.join(", ", fields));
		}
	}

	private static double number(JsonNode node, String place, String field, double otherwise) {
		Double value = number(node, place, field);
		return (value != null) ? value : otherwise;
	}

	private static @Nullable Double number(JsonNode node, String place, String field) {
		JsonNode value = field(node, field);
		if (value == null) {
			return null;
		}
		if (!value.isNumber() || !Double.isFinite(value.asDouble())) {
			throw new IllegalArgumentException(place + field + ": a number is wanted, not " + value);
		}
		return value.asDouble();
	}

	private static @Nullable Boolean bool(JsonNode node, String place, String field) {
		JsonNode value = field(node, field);
		if (value == null) {
			return null;
		}
		if (!value.isBoolean()) {
			throw new IllegalArgumentException(place + field + ": true or false is wanted, not " + value);
		}
		return value.asBoolean();
	}

	private static <E extends Enum<E>> E constant(JsonNode node, String place, String field, Class<E> type, @Nullable E otherwise) {
		JsonNode value = field(node, field);
		if (value == null) {
			if (otherwise == null) {
				throw new IllegalArgumentException(place + field + ": wanted, one of " + List.of(type.getEnumConstants()));
			}
			return otherwise;
		}
		return constant(place + field, value.asString(""), type);
	}

	private static <E extends Enum<E>> E constant(String place, String name, Class<E> type) {
		for (E constant : type.getEnumConstants()) {
			if (constant.name().equalsIgnoreCase(name)) {
				return constant;
			}
		}
		throw new IllegalArgumentException(place + ": one of " + List.of(type.getEnumConstants()) + " is wanted, not \"" + name + "\"");
	}

}
