package org.meniscus.season;

import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.drift.DriftCause;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.units.DatedBand;
import tools.jackson.databind.DeserializationFeature;
import tools.jackson.databind.json.JsonMapper;

/**
 * What an assessment of one level rests on, kept beside it for the small picture and the reason.
 *
 * @param range null when the pool is not assessed by this level
 * @param readings of the last half year, oldest first
 * @param forecast the forecast, about week by week
 * @param causes ppm by cause since {@code causesFrom}; empty where no flag stands
 * @param causesFrom days since 1970-01-01
 */
public record DriftEvidence(@Nullable Range range, List<PlottedReading> readings, List<DatedBand> forecast,
		Map<DriftCause, Double> causes,
		@Nullable Long causesFrom, List<DriftNote> notes) {

	private static final JsonMapper JSON = JsonMapper.builder()
		.disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
		.build();

	/** @param day days since 1970-01-01 */
	public record PlottedReading(long day, double value, ReadingQualifier qualifier) {

		public static PlottedReading of(LevelTrend.LevelReading reading) {
			return new PlottedReading(reading.day().toEpochDay(), reading.value(), reading.qualifier());
		}

	}

	String toJson() {
		return JSON.writeValueAsString(this);
	}

	static DriftEvidence of(String json) {
		return JSON.readValue(json, DriftEvidence.class);
	}

}
