package org.meniscus.tools;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

import tools.jackson.databind.JsonNode;

/**
 * Holds a JSON value against the part of JSON Schema (draft 2020-12) that docs/plan-tool.schema.json uses. A keyword it does not know is an
 * error, so that nothing in the schema goes unchecked.
 */
final class SchemaCheck {

	private static final Set<String> KEYWORDS = Set.of("$schema", "$defs", "$ref", "title", "description", "type", "properties", "required",
			"additionalProperties", "items", "enum", "minimum", "maximum", "oneOf");

	private final JsonNode root;

	private final List<String> faults = new ArrayList<>();

	private SchemaCheck(JsonNode root) {
		this.root = root;
	}

	/** What is wrong, each with its place; empty when the value is valid. */
	static List<String> faults(JsonNode schema, JsonNode value) {
		SchemaCheck check = new SchemaCheck(schema);
		check.check(schema, value, "");
		return check.faults;
	}

	private void check(JsonNode schema, JsonNode value, String place) {
		Set<String> unknown = new TreeSet<>(schema.propertyNames());
		unknown.removeAll(KEYWORDS);
		if (!unknown.isEmpty()) {
			throw new IllegalArgumentException("keywords not known: " + unknown);
		}
		if (schema.has("$ref")) {
			check(this.root.at(schema.get("$ref").asString().substring(1)), value, place);
		}
		if (schema.has("oneOf")) {
			oneOf(schema.get("oneOf"), value, place);
		}
		if (schema.has("type") && !type(schema.get("type"), value)) {
			this.faults.add(place + ": " + schema.get("type") + " wanted, not " + value);
			return;
		}
		if (schema.has("enum") && schema.get("enum").valueStream().noneMatch(value::equals)) {
			this.faults.add(place + ": not one of " + schema.get("enum") + ": " + value);
		}
		if (value.isNumber() && ((schema.has("minimum") && value.asDouble() < schema.get("minimum").asDouble())
				|| (schema.has("maximum") && value.asDouble() > schema.get("maximum").asDouble()))) {
			this.faults.add(place + ": out of bounds: " + value);
		}
		if (value.isObject() && schema.has("properties")) {
			object(schema, value, place);
		}
		if (value.isArray() && schema.has("items")) {
			for (int n = 0; n < value.size(); n++) {
				check(schema.get("items"), value.get(n), place + "/" + n);
			}
		}
	}

	private void object(JsonNode schema, JsonNode value, String place) {
		if (schema.has("required")) {
			schema.get("required").valueStream().map(JsonNode::asString).filter(name -> !value.has(name)).forEach(name -> this.faults.add(
					place + ": missing " + name));
		}
		for (String name : value.propertyNames()) {
			JsonNode property = schema.get("properties").get(name);
			if (property != null) {
				check(property, value.get(name), place + "/" + name);
			}
			else if (schema.has("additionalProperties")) {
				this.faults.add(place + ": not described: " + name);
			}
		}
	}

	private void oneOf(JsonNode choices, JsonNode value, String place) {
		List<String> why = new ArrayList<>();
		int valid = 0;
		for (JsonNode choice : choices) {
			SchemaCheck inner = new SchemaCheck(this.root);
			inner.check(choice, value, place);
			valid += inner.faults.isEmpty() ? 1 : 0;
			why.addAll(inner.faults);
		}
		if (valid != 1) {
			this.faults.add(place + ": fits " + valid + " of the choices: " + why);
		}
	}

	private static boolean type(JsonNode type, JsonNode value) {
		return type.isArray() ? type.valueStream().anyMatch(one -> type(one, value)) : switch (type.asString()) {
			case "object" -> value.isObject();
			case "array" -> value.isArray();
			case "string" -> value.isString();
			case "boolean" -> value.isBoolean();
			case "integer" -> value.isIntegralNumber();
			case "number" -> value.isNumber();
			case "null" -> value.isNull();
			default -> throw new IllegalArgumentException("type not known: " + type);
		};
	}

}
