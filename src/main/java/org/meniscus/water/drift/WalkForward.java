package org.meniscus.water.drift;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.drift.LevelDrift.Flag;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.TechnicianBias;

/** Walk-forward assessment of one pool: at each visit with nothing but what was known then. Not for use by several threads. */
public final class WalkForward {

	/** How far ahead days of exit are looked for. */
	static final int DAYS_AHEAD = 98;

	private final DriftEngine engine;

	private final ForwardPass pass;

	private @Nullable TechnicianBiasEstimator biasEstimator;

	private Map<Level, Flag> flags = new EnumMap<>(Level.class);

	WalkForward(DriftEngine engine, ForwardPass pass) {
		this.engine = engine;
		this.pass = pass;
	}

	/** From now on adds what this pool's readings say of its technicians to the estimator. */
	public WalkForward reportingTo(TechnicianBiasEstimator estimator) {
		this.biasEstimator = estimator;
		return this;
	}

	private void reportBias(SeasonVisit visit) {
		if (biasEstimator == null || visit.technician() == null) {
			return;
		}
		for (Level level : visit.readings().keySet()) {
			TechnicianBias.Key key = new TechnicianBias.Key(visit.technician(), level);
			double[] likelihood = pass.filter().biasLikelihood(key);
			if (likelihood != null) {
				biasEstimator.add(this, key, likelihood);
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
	 * Assesses at the next day of visits: after the tests and with the routine doses put in that day, before a drain or a product that
	 * sets a level right. {@link LevelDrift#forecast} holds the level today and in 28 days only.
	 *
	 * @param known of the technicians by that day
	 */
	public SeasonDrift next(TechnicianBias known) {
		List<SeasonVisit> ofDay = pass.takeTests(known);
		SeasonVisit all = ForwardPass.merge(ofDay);
		pass.filter().addRoutineDoses(all);
		ForecastEnsemble ensemble = engine.ensemble(pass, all.day() + DAYS_AHEAD, null);
		flags = engine.updateFlags(pass, ensemble, flags);
		for (SeasonVisit visit : ofDay) {
			reportBias(visit);
		}
		SeasonDrift drift = engine.summarize(pass, ensemble, flags);
		pass.filter().addCorrections(all);
		return drift;
	}

}
