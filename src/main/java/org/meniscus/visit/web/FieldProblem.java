package org.meniscus.visit.web;

import org.jspecify.annotations.Nullable;

/**
 * Something to look at again, beside its field.
 *
 * @param field the element it stands at
 * @param confirm sent back by the tick that lets it pass; null when it is refused for good
 */
record FieldProblem(String field, String message, @Nullable String confirm) {

	static FieldProblem refused(String field, String message) {
		return new FieldProblem(field, message, null);
	}

}
