package org.meniscus.visit.web;

import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.springframework.util.LinkedMultiValueMap;
import org.springframework.util.MultiValueMap;

/** What was typed, as it was typed: it comes back like this whatever is wrong with it. */
final class SubmittedForm {

	private static final int MAX_TEXT_LENGTH = 200_000;

	private final MultiValueMap<String, String> values;

	SubmittedForm(MultiValueMap<String, String> values) {
		this.values = values;
	}

	static SubmittedForm empty() {
		return new SubmittedForm(new LinkedMultiValueMap<>());
	}

	/** Without blanks at the ends; empty when absent. */
	String text(String name) {
		String value = values.getFirst(name);
		return (value == null || value.length() > MAX_TEXT_LENGTH) ? "" : value.strip();
	}

	List<String> all(String name) {
		return values.getOrDefault(name, List.of()).stream().map(value -> (value == null) ? "" : value.strip()).toList();
	}

	boolean has(String name, String value) {
		return all(name).contains(value);
	}

	@Nullable
	UUID id(String name) {
		try {
			return UUID.fromString(text(name));
		}
		catch (IllegalArgumentException ex) {
			return null;
		}
	}

	@Nullable
	Long number(String name) {
		try {
			return Long.valueOf(text(name));
		}
		catch (NumberFormatException ex) {
			return null;
		}
	}

	/** Lines of doses: the four fields of each line are sent side by side. */
	List<DoseForm> doses() {
		List<String> products = all("doseProduct");
		List<String> amounts = all("doseAmount");
		List<String> units = all("doseUnit");
		List<String> planned = all("dosePlanned");
		List<DoseForm> lines = new ArrayList<>();
		for (int n = 0; n < Math.min(products.size(), DoseForm.MAX_DOSES); n++) {
			lines.add(new DoseForm(products.get(n), at(amounts, n), at(units, n), at(planned, n)));
		}
		return lines;
	}

	SubmittedForm with(String name, String value) {
		MultiValueMap<String, String> copy = new LinkedMultiValueMap<>(values);
		copy.set(name, value);
		return new SubmittedForm(copy);
	}

	SubmittedForm withAll(String name, List<String> all) {
		MultiValueMap<String, String> copy = new LinkedMultiValueMap<>(values);
		copy.put(name, List.copyOf(all));
		return new SubmittedForm(copy);
	}

	SubmittedForm withBlankDose() {
		return withDoses(Stream.concat(doses().stream(), Stream.of(DoseForm.blank())).toList());
	}

	SubmittedForm withDoses(List<DoseForm> lines) {
		return withAll("doseProduct", lines.stream().map(DoseForm::product).toList())
			.withAll("doseAmount", lines.stream().map(DoseForm::amount).toList())
			.withAll("doseUnit", lines.stream().map(DoseForm::unit).toList())
			.withAll("dosePlanned", lines.stream().map(DoseForm::planned).toList());
	}

	private static String at(List<String> values, int n) {
		return (n < values.size()) ? values.get(n) : "";
	}

}
