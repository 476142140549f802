package org.meniscus.visit;

import com.fasterxml.jackson.annotation.JsonSubTypes;
import com.fasterxml.jackson.annotation.JsonTypeInfo;
import org.meniscus.water.explain.Term;

/** How the kinds of {@link Term} are distinguished in stored advice; the names are never changed. */
@JsonTypeInfo(use = JsonTypeInfo.Id.NAME, property = "is")
@JsonSubTypes({ @JsonSubTypes.Type(value = Term.Value.class, name = "value"),
		@JsonSubTypes.Type(value = Term.Difference.class, name = "difference"),
		@JsonSubTypes.Type(value = Term.Number.class, name = "number"), @JsonSubTypes.Type(value = Term.Share.class, name = "share"),
		@JsonSubTypes.Type(value = Term.Hours.class, name = "hours"), @JsonSubTypes.Type(value = Term.Days.class, name = "days"),
		@JsonSubTypes.Type(value = Term.WaterVolume.class, name = "water"), @JsonSubTypes.Type(value = Term.Amount.class, name = "amount"),
		@JsonSubTypes.Type(value = Term.Chlorine.class, name = "chlorine"), @JsonSubTypes.Type(value = Term.Word.class, name = "word"),
		@JsonSubTypes.Type(value = Term.Words.class, name = "words"), @JsonSubTypes.Type(value = Term.Text.class, name = "text") })
interface TermMixin {
}
