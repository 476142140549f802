package org.meniscus.water.drift;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Level;

/**
 * What a reader should know besides: what cannot be told and why, and which record looks wrong.
 *
 * @param level null where it is about the pool
 * @param figures in the order that the code names; days are days since 1970-01-01
 */
public record DriftNote(Code code, @Nullable Level level, List<Double> figures) {

	public DriftNote {
		figures = List.copyOf(figures);
	}

	static DriftNote of(Code code, @Nullable Level level, double... figures) {
		return new DriftNote(code, level, java.util.Arrays.stream(figures).boxed().toList());
	}

	/** In angle brackets the figures. */
	public enum Code {

		/** Never measured this season: nothing can be told. */
		NOT_MEASURED(true),
		/** One reading only: the level can be told, its course rests on what such pools do. */
		ONE_READING(false),
		/** Every reading stood at the end of the test's scale: ‹mark›. */
		SCALE_ENDED(false),
		/** All the water was replaced after the newest reading, and what came in is not on record. */
		WATER_REPLACED(true),
		/** The range at the season's end is so wide that the course says nothing: ‹width of the band, width of the range›. */
		TOO_WIDE(false),
		/** The newest reading is old: ‹days since›. */
		STALE(false),
		/** A reading that does not fit the others was all but left out: ‹day, value, expected›. */
		READING_DOUBTED(false),
		/** CYA and CH of a visit fit better the other way round: ‹day›. */
		READINGS_SWAPPED(false),
		/** No volume on record, so no dose can be counted. */
		VOLUME_UNKNOWN(false),
		/** Depth from volume and area, or the effect of doses, speaks against the recorded volume: ‹recorded, m3; likelier, m3›. */
		VOLUME_DOUBTED(false),
		/** Doses whose strength is not on record and which are taken as the pool's usual ones: ‹how many›. */
		STRENGTH_UNKNOWN(false),
		/** A dose that would move a level by more than any pool needs was left out: ‹day, ppm›. */
		DOSE_DOUBTED(false),
		/** No record for ‹days›: the estimate starts anew there. */
		RESTARTED(false);

		private final boolean silencing;

		Code(boolean silencing) {
			this.silencing = silencing;
		}

		/** Whether with it nothing can be told of the level. */
		public boolean precludesEstimate() {
			return silencing;
		}

	}

}
