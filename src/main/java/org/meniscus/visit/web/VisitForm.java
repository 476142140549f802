package org.meniscus.visit.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.meniscus.ui.Option;

/**
 * The form of a visit, or of its correction, as it is shown: made anew from what was typed on every answer.
 *
 * @param id made in the browser, or with the form where there is no script
 * @param further fields behind a fold
 * @param confirmed questions answered before, sent along so that they are asked once
 * @param problems by the field they stand at
 */
record VisitForm(String id, String pool, String stop, String advice, String performedAt, List<Field> usual, List<Field> further,
		String drain, List<Option> situations, String situation, List<Option> swim, String swimSoon, List<Line> lines,
		List<ProductGroup> products, List<Option> measures, String waterReplaced, List<Task> tasks, String noteToClient,
		String noteToOffice, List<String> confirmed, Map<String, List<FieldProblem>> problems) {

	/**
	 * One reading.
	 *
	 * @param mark typed mark: empty, "&lt;" or "&gt;"
	 * @param last the reading of the visit before, empty when there is none
	 */
	record Field(String name, String code, String label, String unit, String step, String min, String max, String value, boolean marks,
			String mark, String last) {
	}

	record Line(int n, String product, String amount, String unit, String planned, String plannedText) {
	}

	/** @param label empty for the truck */
	record ProductGroup(String label, List<Option> products) {
	}

	record Task(String name, String text, boolean done) {
	}

	public List<FieldProblem> at(String field) {
		return problems.getOrDefault(field, List.of());
	}

	public boolean bad(String field) {
		return problems.containsKey(field);
	}

	/** Something was typed or is wrong behind the fold. */
	public boolean furtherOpen() {
		return further.stream().anyMatch(field -> !field.value().isEmpty() || bad(field.name()));
	}

	/** What a plan was worked out from, in short: "FC 0.8 ppm", "pH 7.9", "Routine visit". */
	public List<String> tested() {
		List<String> said = new ArrayList<>();
		Stream.concat(usual.stream(), further.stream())
			.filter(field -> !field.value().isEmpty())
			.forEach(field -> said.add((field.code() + " " + field.mark() + field.value() + " " + field.unit()).strip()));
		situations.stream().filter(option -> option.value().equals(situation)).forEach(option -> said.add(option.text()));
		return said;
	}

	/** Something is wrong or asked about there. */
	public boolean testOpen() {
		return bad("situation") || bad("plan") || Stream.concat(usual.stream(), further.stream()).anyMatch(field -> bad(field.name()));
	}

	/** A note was typed, or something is wrong with notes or photos. */
	public boolean extrasOpen() {
		return !noteToClient.isEmpty() || !noteToOffice.isEmpty() || bad("noteToClient") || bad("noteToOffice") || bad("photos");
	}

	public boolean refused() {
		return !problems.isEmpty();
	}

	/** Nothing is refused for good: everything is only asked about. */
	public boolean onlyAsked() {
		return refused() && problems.values().stream().flatMap(List::stream).allMatch(problem -> problem.confirm() != null);
	}

	/** Id of the last problem at a field, for the field to be described by; null when there is none. */
	public @Nullable String described(String field) {
		return bad(field) ? field + "-problem-0" : null;
	}

}
