package org.meniscus.visit;

import org.meniscus.water.explain.Term;
import tools.jackson.databind.DeserializationFeature;
import tools.jackson.databind.json.JsonMapper;

/** What of a visit is kept as JSON is written and read by one mapper. */
final class VisitJson {

	static final JsonMapper MAPPER = JsonMapper.builder()
		.disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
		.disable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
		.addMixIn(Term.class, TermMixin.class)
		.build();

	private VisitJson() {
	}

}
