package org.meniscus.water.explain;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Level;

/**
 * What a reader should know besides: what is not known and why, and which record looks wrong.
 *
 * @param level null where it is about the pool
 * @param figures in the order that the code names; days are days since 1970-01-01
 */
public record DriftNote(Code code, @Nullable Level level, List<Double> figures) {

	public DriftNote {
		figures = List.copyOf(figures);
	}

	public static DriftNote of(Code code, @Nullable Level level, double... figures) {
		return new DriftNote(code, level, java.util.Arrays.stream(figures).boxed().toList());
	}

	/** In angle brackets the figures. */
	public enum Code {

		/** Never measured this season: nothing is known. */
		NOT_MEASURED,
		/** One reading only: its course rests on the priors. */
		ONE_READING,
		/** Every reading stood at the end of the test's scale: ‹mark›. */
		SCALE_ENDED,
		/** The range at the season's end is so wide that the forecast says nothing: ‹width of the band, width of the range›. */
		TOO_WIDE,
		/** The newest reading is old: ‹days since›. */
		STALE,
		/** A reading that does not fit the others was all but left out: ‹day, value, expected›. */
		READING_DOUBTED,
		/** CYA and CH of a visit fit better the other way round: ‹day›. */
		READINGS_SWAPPED,
		/** Readings look as if water was replaced though no visit records it: ‹day of the visit that found it, share, 0 to 1, probability›. */
		WATER_REPLACED,
		/** Readings look as if the pool leaks: ‹probability, mm a day if it does›. */
		LEAK_SUSPECTED,
		/** Readings of one technician look as if the reagent were bad: ‹day of the first of them, read over true, probability›. */
		REAGENT_DOUBTED,
		/** Doses act as in another volume than before: ‹from which day on, times what they did, probability›. */
		VOLUME_CHANGED,
		/** No volume on record, so no dose can be counted. */
		VOLUME_UNKNOWN,
		/** Depth from volume and area, or the effect of doses, speaks against the recorded volume: ‹recorded, m3; likelier, m3›. */
		VOLUME_DOUBTED,
		/** Doses whose strength is not on record and which are taken as the pool's usual ones: ‹how many›. */
		STRENGTH_UNKNOWN,
		/** A dose that would move a level by more than any pool needs was left out: ‹day, ppm›. */
		DOSE_DOUBTED,
		/** No record for ‹days›: the estimate starts anew there. */
		RESTARTED

	}

}
