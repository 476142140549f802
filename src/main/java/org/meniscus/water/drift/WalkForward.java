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

	private final ForwardPass pass;

	private @Nullable TechnicianBiasEstimator biasEstimator;

	private Map<Level, Flag> flags = new EnumMap<>(Level.class);

	WalkForward(DriftEngine engine, ForwardPass course) {
		this.engine = engine;
		this.pass = course;
	}

	/** What this pool's readings say of its technicians is told to {@code biasEstimator} from now on. */
	public WalkForward reportingTo(TechnicianBiasEstimator readers) {
		this.biasEstimator = readers;
		return this;
	}

	private void reportBias(SeasonVisit visit) {
		if (biasEstimator == null || visit.technician() == null) {
			return;
		}
		for (Level level : visit.readings().keySet()) {
			TechnicianBias.Key key = new TechnicianBias.Key(visit.technician(), level);
			double[] told = pass.filter().biasLikelihood(key);
			if (told != null) {
				biasEstimator.add(this, key, told);
			}
		}
	}

	public boolean hasNext() {
		return pass.hasNext();
	}

	/** Day of the next visit. */
	public long nextDay() {
		return pass.nextDay();
	}

	/**
	 * Judges at the next day of visits: after the tests and with the routine doses put in that day, before a drain or a product that
	 * sets a level right. {@link LevelDrift#forecast} holds the level today and in 28 days only.
	 *
	 * @param known of the technicians by that day
	 */
	public SeasonDrift next(TechnicianBias known) {
		List<SeasonVisit> ofDay = pass.takeTests(known);
		SeasonVisit all = ForwardPass.merge(ofDay);
		pass.filter().routine(all);
		ForecastEnsemble outlook = new ForecastEnsemble(pass.filter(), all.day() + DAYS_AHEAD, null);
		flags = engine.updateFlags(pass, outlook, flags);
		for (SeasonVisit visit : ofDay) {
			reportBias(visit);
		}
		SeasonDrift drift = engine.summarize(pass, outlook, flags);
		pass.filter().correct(all);
		return drift;
	}

}
