package org.meniscus.water.drift;

import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.TestPrecision;
import org.meniscus.water.product.DoseKind;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.RecordedDose;

/**
 * One visit on record: tested first, then drained, then dosed.
 *
 * @param day days since 1970-01-01 ({@code LocalDate.toEpochDay}); the time of the year follows from it
 * @param technician whoever read the tests; null when not known
 * @param readings what was tested; CYA, CH, SALT, TDS and BORATE are looked at
 * @param doses what was put in
 * @param backwashed whether the filter was backwashed
 * @param replaced share of the water replaced, 0 to 1
 */
public record SeasonVisit(long day, @Nullable String technician, Map<Level, Reading> readings, List<Dose> doses, boolean backwashed,
		double replaced) {

	/** A tablet in a feeder dissolves over about a week. Common practice, no source. */
	private static final int DAYS_A_TABLET_LASTS = 7;

	public SeasonVisit {
		readings = Map.copyOf(readings);
		doses = List.copyOf(doses);
		if (!(replaced >= 0 && replaced <= 1)) {
			throw new IllegalArgumentException("not a share of the water: " + replaced);
		}
	}

	/**
	 * A test of one level.
	 *
	 * @param value ppm; for a marked reading the mark on the test's scale
	 */
	public record Reading(double value, ReadingQualifier qualifier, TestPrecision precision) {

		public Reading {
			if (!(value >= 0) || Double.isInfinite(value)) {
				throw new IllegalArgumentException("not a reading: " + value);
			}
		}

	}

	/**
	 * A product that was put in.
	 *
	 * @param chlorine free chlorine it brings on the recorded volume, ppm; 0 for what is no chlorine
	 * @param change of each lasting level on the recorded volume, ppm; null when it is not known, such as without a strength
	 * @param spreadDays dissolves evenly over so many days from its day on; 0 and 1 act on the day
	 */
	public record Dose(DoseKind kind, double chlorine, @Nullable Map<Level, Double> change, int spreadDays) {

		public Dose {
			change = (change != null) ? Map.copyOf(change) : null;
			if (!(chlorine >= 0) || Double.isInfinite(chlorine) || spreadDays < 0) {
				throw new IllegalArgumentException("not a dose: " + chlorine + " ppm over " + spreadDays + " days");
			}
		}

		/** @param litres the recorded volume; null when not known */
		public static Dose of(RecordedDose recorded, @Nullable Double litres) {
			Map<Level, Double> change = (litres != null) ? recorded.lasting(litres).orElse(null) : null;
			double chlorine = (litres != null) ? recorded.chlorine(litres).orElse(0.0) : 0;
			return new Dose(DoseKind.of(recorded.kind().ingredient()), chlorine, change,
					(recorded.kind().form() == PhysicalForm.TABLET) ? DAYS_A_TABLET_LASTS : 0);
		}

	}

}
