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
 * @param site gauges, panels and what happened since the last visit
 * @param kit what all readings are taken with; empty: as the company usually does
 * @param confirmed questions answered before, sent along so that they are asked once
 * @param problems by the field they stand at
 */
record VisitForm(String id, String pool, String stop, String advice, String performedAt, List<ReadingInput> routine,
		List<ReadingInput> further,
		SiteForm site, String drain, List<Option> kits, String kit, List<Option> situations, String situation, List<Option> swim,
		String swimSoon,
		List<DoseInput> doses,
		List<ProductGroup> products, List<Option> measures, String waterReplaced, List<TaskInput> tasks, String noteToClient,
		String noteToOffice, List<String> confirmed, Map<String, List<FieldProblem>> problems) {

	/**
	 * One reading.
	 *
	 * @param qualifier typed mark: empty, "&lt;" or "&gt;"
	 * @param last the reading of the visit before, empty when there is none
	 * @param test name of the choice of a test, empty where there is none to choose
	 * @param tests the usual one first
	 * @param diluted what was typed as it counts, of a diluted sample; else empty
	 * @param asked whether the situation asks for it
	 */
	record ReadingInput(String name, String code, String label, String unit, String step, String min, String max, String value,
			boolean hasQualifier,
			String qualifier, String last, String test, List<Option> tests, String chosenTest, String diluted, boolean asked) {

		/** What the label says beside the code: "Free chlorine" of FC, "as nitrogen" of "Ammonia (as nitrogen)", nothing of pH. */
		public String beside() {
			String remark = code + " (";
			return label.equals(code) ? "" : label.startsWith(remark) ? label.substring(remark.length(), label.length() - 1) : label;
		}

	}

	record DoseInput(int n, String product, String amount, String unit, String planned, String plannedText) {
	}

	/** @param label empty for the truck */
	record ProductGroup(String label, List<Option> products) {
	}

	record TaskInput(String name, String text, boolean done) {
	}

	public List<FieldProblem> problemsAt(String field) {
		return problems.getOrDefault(field, List.of());
	}

	public boolean hasProblemAt(String field) {
		return problems.containsKey(field);
	}

	/** Something was typed, asked for or is wrong behind the fold. */
	public boolean furtherOpen() {
		return further.stream().anyMatch(field -> field.asked() || !field.value().isEmpty() || hasProblemAt(field.name()));
	}

	/** Something was typed, tapped or is wrong there. */
	public boolean siteOpen() {
		return site.isFilled() || site.gauges().stream().anyMatch(gauge -> hasProblemAt(gauge.name()));
	}

	/** What a plan was worked out from, in short: "FC 0.8 ppm", "pH 7.9", "Routine visit". */
	public List<String> tested() {
		List<String> shown = new ArrayList<>();
		Stream.concat(routine.stream(), further.stream())
			.filter(field -> !field.value().isEmpty())
			.forEach(field -> shown.add((field.code() + " " + field.qualifier() + field.value() + " " + field.unit()).strip()));
		situations.stream().filter(option -> option.value().equals(situation)).forEach(option -> shown.add(option.text()));
		return shown;
	}

	/** Something is wrong or asked about there. */
	public boolean testOpen() {
		return hasProblemAt("situation") || hasProblemAt("plan") || site.gauges().stream().anyMatch(gauge -> hasProblemAt(gauge.name()))
				|| Stream.concat(routine.stream(), further.stream()).anyMatch(field -> hasProblemAt(field.name()));
	}

	/** A note was typed, or something is wrong with notes or photos. */
	public boolean extrasOpen() {
		return !noteToClient.isEmpty() || !noteToOffice.isEmpty() || hasProblemAt("noteToClient") || hasProblemAt("noteToOffice")
				|| hasProblemAt("photos");
	}

	public boolean hasProblems() {
		return !problems.isEmpty();
	}

	/** Nothing is refused for good: everything is only asked about. */
	public boolean onlyQuestions() {
		return hasProblems() && problems.values().stream().flatMap(List::stream).allMatch(problem -> problem.confirm() != null);
	}

	/** Id of the last problem at a field, for the field to be described by; null when there is none. */
	public @Nullable String describedBy(String field) {
		return hasProblemAt(field) ? field + "-problem-0" : null;
	}

}
