package org.meniscus.water.drift;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.drift.LevelDrift.Flag;
import org.meniscus.water.pool.Level;

/** One pool judged visit by visit, each time with nothing but what was known then. Not for use by several threads. */
public final class WalkForward {

	/** How far ahead days of leaving are looked for. */
	static final int DAYS_AHEAD = 98;

	private final DriftEngine engine;

	private final ForwardPass course;

	private @Nullable TechnicianBiasEstimator readers;

	private Map<Level, Flag> flags = new EnumMap<>(Level.class);

	WalkForward(DriftEngine engine, ForwardPass course) {
		this.engine = engine;
		this.course = course;
	}

	/** What this pool's readings say of its technicians is told to {@code readers} from now on. */
	public WalkForward telling(TechnicianBiasEstimator readers) {
		this.readers = readers;
		return this;
	}

	private void tell(SeasonVisit visit) {
		if (readers == null || visit.technician() == null) {
			return;
		}
		for (Level level : visit.readings().keySet()) {
			TechnicianBias.Key key = new TechnicianBias.Key(visit.technician(), level);
			double[] told = course.filter().told(key);
			if (told != null) {
				readers.tell(this, key, told);
			}
		}
	}

	public boolean hasNext() {
		return course.hasNext();
	}

	/** Day of the next visit. */
	public long nextDay() {
		return course.nextDay();
	}

	/**
	 * Judges at the next day of visits: after the tests and with the routine doses put in that day, before a drain or a product that
	 * sets a level right. {@link LevelDrift#ahead} holds the level today and in 28 days only.
	 *
	 * @param known of the technicians by that day
	 */
	public SeasonDrift next(TechnicianBias known) {
		List<SeasonVisit> ofDay = course.arrive(known);
		SeasonVisit all = ForwardPass.merged(ofDay);
		course.filter().routine(all);
		ForecastEnsemble outlook = new ForecastEnsemble(course.filter(), all.day() + DAYS_AHEAD, null);
		flags = engine.standing(course, outlook, flags);
		for (SeasonVisit visit : ofDay) {
			tell(visit);
		}
		SeasonDrift drift = engine.briefly(course, outlook, flags);
		course.filter().correct(all);
		return drift;
	}

}
