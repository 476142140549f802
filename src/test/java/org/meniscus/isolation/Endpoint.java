package org.meniscus.isolation;

import java.lang.reflect.Method;
import java.lang.reflect.Parameter;
import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.AnnotatedElementUtils;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.util.ClassUtils;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** One route of the service as it stands in the dispatcher: what a new controller method adds here is tested by itself. */
record Endpoint(String method, String pattern, HandlerMethod handler) {

	static List<Endpoint> all(RequestMappingHandlerMapping mapping) {
		List<Endpoint> routes = new ArrayList<>();
		for (Map.Entry<RequestMappingInfo, HandlerMethod> entry : mapping.getHandlerMethods().entrySet()) {
			if (!entry.getValue().getBeanType().getPackageName().startsWith("org.meniscus")) {
				continue;
			}
			Set<RequestMethod> methods = entry.getKey().getMethodsCondition().getMethods();
			Set<String> names = new LinkedHashSet<>();
			methods.forEach(method -> names.add(method.name()));
			if (names.isEmpty()) {
				names.addAll(List.of("GET", "POST"));
			}
			for (String pattern : entry.getKey().getPatternValues()) {
				names.forEach(name -> routes.add(new Endpoint(name, pattern, entry.getValue())));
			}
		}
		routes
			.sort(Comparator.comparing(Endpoint::pattern).thenComparing(Endpoint::method).thenComparing(route -> route.handler.toString()));
		return routes;
	}

	/** Who may use it, as the handler declares: the expression of its PreAuthorize, or "public" without one. */
	String authorization() {
		Method method = handler.getMethod();
		PreAuthorize rule = AnnotatedElementUtils.findMergedAnnotation(method, PreAuthorize.class);
		if (rule == null) {
			rule = AnnotatedElementUtils.findMergedAnnotation(handler.getBeanType(), PreAuthorize.class);
		}
		return (rule != null) ? rule.value() : "public";
	}

	String path(Object id) {
		return pattern.replaceAll("\\{(n|number|seq|index)}", "0").replaceAll("\\{[^}]+}", id.toString());
	}

	boolean hasId() {
		return pattern.contains("{");
	}

	/** A value for everything that the handler reads from the request: ids of the neighbour, and something plausible for the rest. */
	Map<String, String> plausibleFields(Map<String, UUID> neighbourIds) {
		Map<String, String> fields = new LinkedHashMap<>();
		for (Parameter parameter : handler.getMethod().getParameters()) {
			RequestParam param = parameter.getAnnotation(RequestParam.class);
			if (param != null) {
				String name = param.name().isEmpty() ? (param.value().isEmpty() ? parameter.getName() : param.value()) : param.name();
				addField(fields, name, parameter.getType(), neighbourIds);
			}
			else if (parameter.isAnnotationPresent(ModelAttribute.class) || parameter.getType().isRecord()) {
				addFields(fields, "", parameter.getType(), neighbourIds);
			}
		}
		return fields;
	}

	private static void addFields(Map<String, String> fields, String prefix, Class<?> type, Map<String, UUID> neighbourIds) {
		if (!type.isRecord()) {
			return;
		}
		for (RecordComponent component : type.getRecordComponents()) {
			addField(fields, prefix + component.getName(), component.getType(), neighbourIds);
		}
	}

	private static void addField(Map<String, String> fields, String name, Class<?> type, Map<String, UUID> neighbourIds) {
		UUID id = idFor(name, neighbourIds);
		if (type == UUID.class || id != null) {
			fields.put(name, ((id != null) ? id : neighbourIds.get("pool")).toString());
		}
		else if (type == boolean.class || type == Boolean.class) {
			fields.put(name, "true");
		}
		else if (type.isEnum()) {
			fields.put(name, type.getEnumConstants()[0].toString());
		}
		else if (ClassUtils.isPrimitiveOrWrapper(type) || Number.class.isAssignableFrom(type)) {
			fields.put(name, "1");
		}
		else if (type == java.time.LocalDate.class) {
			fields.put(name, "2026-09-01");
		}
		else if (type == String.class) {
			fields.put(name, name.toLowerCase(java.util.Locale.ROOT).matches(".*(from|date|day|on|to)$") ? "2026-09-01" : "Intruder");
		}
	}

	private static @Nullable UUID idFor(String name, Map<String, UUID> neighbourIds) {
		String lower = name.toLowerCase(java.util.Locale.ROOT);
		for (String kind : List.of("pool", "stop", "client", "product", "visit", "schedule", "link")) {
			if (lower.equals(kind) || lower.equals(kind + "id") || lower.endsWith("." + kind)) {
				return neighbourIds.get(kind);
			}
		}
		return (lower.startsWith("technician") || lower.startsWith("person")) ? neighbourIds.get("person") : null;
	}

	@Override
	public String toString() {
		return method + " " + pattern;
	}

}
