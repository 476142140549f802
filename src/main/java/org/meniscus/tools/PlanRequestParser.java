package org.meniscus.tools;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.assess.MinimumRule;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.demand.ChlorineDemand;
import org.meniscus.water.demand.ClimateDay;
import org.meniscus.water.demand.DissolvingTablets;
import org.meniscus.water.demand.PhDrift;
import org.meniscus.water.demand.PoolForecast;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.SiteConditions;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.Targets;
import org.meniscus.water.pool.TestKit;
import org.meniscus.water.pool.TestMethod;
import org.meniscus.water.pool.TestMethods;
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

	/** A rate that is given counts as learnt from so many visits. */
	private static final int LEARNT_INTERVALS = 12;

	private PlanRequestParser() {
	}

	static PlanRequest parse(JsonNode root) {
		Fields request = new Fields(root, "");
		request.rejectUnknown("units", "pool", "readings", "situation", "products", "policy", "daysToNextVisit", "swimWithinHours",
				"forecast");
		UnitSystem units = request.constant("units", UnitSystem.class, UnitSystem.US);
		int days = (int) request.number("daysToNextVisit", 0);
		PoolFacts pool = pool(request.required("pool"));
		Readings readings = readings(request.required("readings"), units);
		return new PlanRequest(pool, readings,
				request.constant("situation", Situation.class, Situation.ROUTINE), products(request.value("products")),
				policy(request.optional("policy")), days, request.number("swimWithinHours"), units)
			.withForecast(forecast(request.optional("forecast"), PoolForecast.expected(pool, readings), cellSupply(pool, readings)));
	}

	/**
	 * The use is given as a figure with the interval that holds four times in five.
	 *
	 * @param cellSupply what a cell of known output brings a day, ppm; zero where none is known
	 */
	private static PoolForecast forecast(@Nullable Fields given, PoolForecast expected, double cellSupply) {
		if (given == null) {
			return expected;
		}
		given.rejectUnknown("usePerDay", "useLow", "useHigh", "supplyPerDay", "weeklySpread", "daysToSeasonEnd", "driftPerDay",
				"tabletsLeft", "tabletsPerDay", "airExchangePerDay");
		Double use = given.number("usePerDay");
		Double low = given.number("useLow");
		Double high = given.number("useHigh");
		PoolForecast forecast = expected;
		if (use != null) {
			double deviation = (low != null && high != null && low > 0 && high > low) ? Math.log(high / low) / (2 * NormalDistribution.Z80)
					: 0;
			forecast = expected.withDemand(new ChlorineDemand(0, use,
					given.number("supplyPerDay", cellSupply), deviation,
					Math.hypot(deviation, given.number("weeklySpread", 0.2)), 0, 1));
		}
		Double tablets = given.number("tabletsLeft");
		if (tablets != null) {
			forecast = forecast.withTablets(
					new DissolvingTablets(tablets, given.number("tabletsPerDay", tablets / DissolvingTablets.DISSOLVING_DAYS)));
		}
		Double exchange = given.number("airExchangePerDay");
		if (exchange != null) {
			PhDrift own = forecast.phDrift();
			forecast = forecast.withPhDrift(new PhDrift(exchange, own.exchangeLogDeviation(), own.unexplainedPerWeek(),
					own.residualDeviation(), own.tablets(), LEARNT_INTERVALS));
		}
		Map<Level, Double> drift = new EnumMap<>(Level.class);
		Fields slow = given.optional("driftPerDay");
		if (slow != null) {
			slow.node.propertyNames()
				.forEach(name -> drift.put(constant(slow.place + name, name, Level.class), slow.number(name, 0)));
		}
		int days = (int) given.number("daysToSeasonEnd", forecast.daysToSeasonEnd());
		return forecast.withSeason(days, forecast.seasonUse(), drift).withToday(ClimateDay.beforeSeasonEnd(Math.max(0, days)));
	}

	private static PoolFacts pool(Fields pool) {
		pool.rejectUnknown("gallons", "litres", "certainty", "body", "surface", "indoor", "sanitizer", "fill", "wasteValve", "equipment",
				"targets");
		Double gallons = pool.number("gallons");
		Double litres = pool.number("litres");
		if (gallons != null && litres != null) {
			throw new IllegalArgumentException("pool: give gallons or litres, not both");
		}
		Volume volume = (gallons != null) ? Volume.ofUsGallons(gallons) : (litres != null) ? Volume.ofLitres(litres) : null;
		BodyOfWater body = pool.constant("body", BodyOfWater.class, BodyOfWater.POOL);
		Surface surface = pool.constant("surface", Surface.class, Surface.PLASTER);
		Sanitizer sanitizer = pool.constant("sanitizer", Sanitizer.class, Sanitizer.CHLORINE_BY_HAND);
		boolean indoor = Boolean.TRUE.equals(pool.bool("indoor"));
		return new PoolFacts(volume, pool.constant("certainty", VolumeCertainty.class, VolumeCertainty.CALCULATED), body, surface, indoor,
				sanitizer, fill(pool.optional("fill")), Boolean.TRUE.equals(pool.bool("wasteValve")), equipment(pool.optional("equipment")),
				targets(pool.optional("targets"), Targets.defaults(body, surface, indoor, sanitizer)));
	}

	/** Rating in g a day, flow in L an hour, pressure in kPa whatever the units. */
	private static Equipment equipment(@Nullable Fields given) {
		if (given == null) {
			return Equipment.UNKNOWN;
		}
		given.rejectUnknown("cellGramsPerDay", "cellPercent", "cellStep", "pumpHours", "litresPerHour", "filter", "cleanKPa",
				"coverHours", "bathersPerDay", "systems");
		JsonNode filter = given.value("filter");
		Set<Equipment.SecondSystem> systems = EnumSet.noneOf(Equipment.SecondSystem.class);
		JsonNode named = given.value("systems");
		if (named != null) {
			named.forEach(name -> systems.add(constant("pool.equipment.systems", name.asString(""), Equipment.SecondSystem.class)));
		}
		return new Equipment(
				Equipment.Cell.of(given.number("cellGramsPerDay"), given.number("cellPercent"), given.number("cellStep")),
				given.number("pumpHours"), given.number("litresPerHour"),
				(filter == null) ? null : constant("pool.equipment.filter", filter.asString(""), Equipment.Filter.class),
				given.number("cleanKPa"), given.number("coverHours"), given.number("bathersPerDay"), systems);
	}

	private static double cellSupply(PoolFacts pool, Readings found) {
		Double supply = PoolForecast.cellSupply(pool, found);
		return (supply != null) ? supply : 0;
	}

	private static FillWater fill(@Nullable Fields fill) {
		if (fill == null) {
			return FillWater.unknown();
		}
		fill.rejectUnknown("ph", "ta", "ch", "salt");
		return new FillWater(fill.number("ph"), fill.number("ta"), fill.number("ch"), fill.number("salt"));
	}

	private static Targets targets(@Nullable Fields targets, Targets defaults) {
		if (targets == null) {
			return defaults;
		}
		Map<Level, Range> own = new EnumMap<>(Level.class);
		for (String name : targets.node.propertyNames()) {
			Level level = constant(targets.place + name, name, Level.class);
			JsonNode limits = targets.node.get(name);
			if (!limits.isArray() || limits.size() != 4 || !limits.valueStream().allMatch(JsonNode::isNumber)) {
				throw new IllegalArgumentException(targets.place + name
						+ ": four numbers are wanted: acceptable low, ideal low, ideal high, acceptable high");
			}
			own.put(level, new Range(limits.get(0).asDouble(), limits.get(1).asDouble(), limits.get(2).asDouble(), limits.get(3).asDouble(),
					"given"));
		}
		return defaults.with(own);
	}

	private static Readings readings(Fields readings, UnitSystem units) {
		readings.rejectUnknown("fc", "tc", "cc", "bromine", "ph", "phMark", "ta", "ch", "cya", "cyaMark", "salt", "tds", "borate",
				"phosphate", "copper", "iron", "manganese", "ammonia", "temperature", "drainVisible", "tests", "filterKPa",
				"cellPercent", "cellSalt", "heavyRain", "party");
		Double temperature = readings.number("temperature");
		return Readings.builder()
			.fc(readings.number("fc"))
			.tc(readings.number("tc"))
			.cc(readings.number("cc"))
			.bromine(readings.number("bromine"))
			.ph(readings.number("ph"), qualifier(readings, "phMark"))
			.ta(readings.number("ta"))
			.ch(readings.number("ch"))
			.cya(readings.number("cya"), qualifier(readings, "cyaMark"))
			.salt(readings.number("salt"))
			.tds(readings.number("tds"))
			.borate(readings.number("borate"))
			.phosphate(readings.number("phosphate"))
			.trace(Level.COPPER, readings.number("copper"))
			.trace(Level.IRON, readings.number("iron"))
			.trace(Level.MANGANESE, readings.number("manganese"))
			.trace(Level.AMMONIA, readings.number("ammonia"))
			.celsius((temperature == null || units == UnitSystem.METRIC) ? temperature : Double.valueOf((temperature - 32) / 1.8))
			.drainVisible(readings.bool("drainVisible"))
			.tests(tests(readings.value("tests")))
			.site(new SiteConditions(readings.number("filterKPa"), readings.number("cellPercent"), readings.number("cellSalt"),
					Boolean.TRUE.equals(readings.bool("heavyRain")), Boolean.TRUE.equals(readings.bool("party"))))
			.build();
	}

	/** A kit for every level, or by level a kit or {@code "KIT DILUTION"}; what was read is given as it is in the pool. */
	private static TestMethods tests(@Nullable JsonNode node) {
		String place = "readings.tests";
		if (node == null || node.isString()) {
			return (node == null) ? TestMethods.USUAL : TestMethods.of(constant(place, node.asString(), TestKit.class));
		}
		TestMethods methods = TestMethods.USUAL;
		for (String name : node.propertyNames()) {
			String[] given = node.get(name).asString("").split(" ", 2);
			String at = place + "." + name;
			try {
				methods = methods.with(constant(at, name, Level.class), new TestMethod(constant(at, given[0], TestKit.class),
						(given.length == 2) ? Integer.parseInt(given[1]) : 1));
			}
			catch (NumberFormatException ex) {
				throw new IllegalArgumentException(at + ": a kit and its dilution, 1, 2 or 5, are wanted, not " + node.get(name));
			}
		}
		return methods;
	}

	private static ReadingQualifier qualifier(Fields readings, String field) {
		JsonNode node = readings.value(field);
		try {
			return ReadingQualifier.ofSign((node == null) ? null : node.asString());
		}
		catch (IllegalArgumentException ex) {
			throw new IllegalArgumentException(readings.place + field + ": \"<\" or \">\" is wanted, not " + node);
		}
	}

	/** Without a list: one of every kind at its usual strength. */
	private static List<Product> products(@Nullable JsonNode list) {
		if (list == null) {
			return Arrays.stream(ProductKind.values()).map(kind -> Product.usual(kind.name(), kind)).toList();
		}
		if (!list.isArray()) {
			throw new IllegalArgumentException("products: a list is wanted");
		}
		List<Product> products = new ArrayList<>();
		for (JsonNode entry : list) {
			products.add(product(entry, "products[" + products.size() + "]"));
		}
		return products;
	}

	private static Product product(JsonNode entry, String place) {
		if (entry.isString()) {
			ProductKind kind = constant(place, entry.asString(), ProductKind.class);
			return Product.usual(kind.name(), kind);
		}
		Fields product = new Fields(entry, place + ".");
		product.rejectUnknown("kind", "name", "strength", "basis", "density", "package", "price", "labelMaxPerM3", "labelPerPpm", "onTruck",
				"scoop",
				"preference");
		ProductKind kind = product.constant("kind", ProductKind.class, null);
		Product usual = Product.usual(place, kind);
		JsonNode name = product.value("name");
		Double strength = product.number("strength");
		Double price = product.number("price");
		return new Product(place, kind, (name != null) ? name.asString() : kind.name(), (strength != null) ? strength : usual.strength(),
				product.constant("basis", StrengthBasis.class, usual.basis()), product.number("density"),
				product.number("package", usual.packageAmount()), (price != null) ? Long.valueOf(Math.round(price * 100)) : null,
				product.number("labelMaxPerM3"), product.number("labelPerPpm"), usual.tabletGrams(),
				!Boolean.FALSE.equals(product.bool("onTruck")),
				product.number("scoop"), product.constant("preference", ProductPreference.class, ProductPreference.NONE), null);
	}

	private static TreatmentPolicy policy(@Nullable Fields policy) {
		TreatmentPolicy defaults = TreatmentPolicy.defaults();
		if (policy == null) {
			return defaults;
		}
		policy.rejectUnknown("fcCeiling", "swimCeiling", "shockCeiling", "cyaPerFc", "minimumRule", "holdChance", "waterPerM3",
				"drainVisit",
				"workHour", "waterScarce");
		TreatmentCosts costs = defaults.costs();
		return new TreatmentPolicy(policy.number("fcCeiling", defaults.fcCeiling()), policy.number("swimCeiling", defaults.swimCeiling()),
				policy.number("shockCeiling", defaults.shockCeiling()), policy.number("cyaPerFc", defaults.cyaPerFc()),
				policy.constant("minimumRule", MinimumRule.class, defaults.minimumRule()),
				policy.number("holdChance", defaults.holdProbability()),
				new TreatmentCosts(100 * policy.number("waterPerM3", costs.waterPerM3() / 100),
						100 * policy.number("drainVisit", costs.drainLabor() / 100),
						100 * policy.number("workHour", costs.laborHour() / 100))
					.withWaterScarce(Boolean.TRUE.equals(policy.bool("waterScarce"))));
	}

	private static <E extends Enum<E>> E constant(String place, String name, Class<E> type) {
		for (E constant : type.getEnumConstants()) {
			if (constant.name().equalsIgnoreCase(name)) {
				return constant;
			}
		}
		throw new IllegalArgumentException(place + ": one of " + List.of(type.getEnumConstants()) + " is wanted, not \"" + name + "\"");
	}

	/** The fields of an object. @param place what stands before their names in a message */
	private record Fields(JsonNode node, String place) {

		/** Null when it is left out or null in the file. */
		@Nullable
		JsonNode value(String field) {
			JsonNode value = node.get(field);
			return (value == null || value.isNull()) ? null : value;
		}

		Fields required(String field) {
			Fields fields = optional(field);
			if (fields == null || !fields.node.isObject()) {
				throw new IllegalArgumentException(field + ": an object is wanted");
			}
			return fields;
		}

		@Nullable
		Fields optional(String field) {
			JsonNode value = value(field);
			return (value != null) ? new Fields(value, place + field + ".") : null;
		}

		void rejectUnknown(String... fields) {
			Set<String> unknown = new TreeSet<>(node.propertyNames());
			unknown.removeAll(Set.of(fields));
			if (!unknown.isEmpty()) {
				throw new IllegalArgumentException(
						place + unknown.iterator().next() + ": not a field here; known are " + String.join(", ", fields));
			}
		}

		double number(String field, double otherwise) {
			Double value = number(field);
			return (value != null) ? value : otherwise;
		}

		@Nullable
		Double number(String field) {
			JsonNode value = value(field);
			if (value != null && (!value.isNumber() || !Double.isFinite(value.asDouble()))) {
				throw new IllegalArgumentException(place + field + ": a number is wanted, not " + value);
			}
			return (value != null) ? Double.valueOf(value.asDouble()) : null;
		}

		@Nullable
		Boolean bool(String field) {
			JsonNode value = value(field);
			if (value != null && !value.isBoolean()) {
				throw new IllegalArgumentException(place + field + ": true or false is wanted, not " + value);
			}
			return (value != null) ? Boolean.valueOf(value.asBoolean()) : null;
		}

		<E extends Enum<E>> E constant(String field, Class<E> type, @Nullable E otherwise) {
			JsonNode value = value(field);
			if (value != null) {
				return PlanRequestParser.constant(place + field, value.asString(""), type);
			}
			if (otherwise == null) {
				throw new IllegalArgumentException(place + field + ": wanted, one of " + List.of(type.getEnumConstants()));
			}
			return otherwise;
		}

	}

}
