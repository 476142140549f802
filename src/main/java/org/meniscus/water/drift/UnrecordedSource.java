package org.meniscus.water.drift;

import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.units.XorShiftRandom;

/**
 * Something nobody writes down that raises a level day by day, such as a floater the homeowner fills: in every particle none, or one for
 * one level, whose rate is a component of {@link JointNormalParticles}.
 */
final class UnrecordedSource {

	private static final int NONE = -1;

	/** Which level it raises. */
	private final int[] level;

	private final JointNormalParticles state;

	UnrecordedSource(JointNormalParticles state) {
		this.state = state;
		this.level = new int[state.particleCount];
	}

	boolean present(int particle) {
		return level[particle] != NONE;
	}

	boolean raises(int slowLevel, int particle) {
		return level[particle] == slowLevel;
	}

	/** Eight of ten are tablets, one dichlor, one calcium hypochlorite; at a rate not yet known. Assumption. */
	void begin(int particle, XorShiftRandom random) {
		double kind = random.uniform();
		double perChlorine = (kind < 0.8) ? 0.607 : (kind < 0.9) ? 0.910 : 0.72;
		set(particle, (kind < 0.9) ? SlowLevels.CYA : SlowLevels.CH, perChlorine * Priors.UNRECORDED_CHLORINE,
				perChlorine * Priors.UNRECORDED_CHLORINE_SPREAD * perChlorine * Priors.UNRECORDED_CHLORINE_SPREAD);
	}

	void end(int particle) {
		set(particle, NONE, 0, 0);
	}

	private void set(int particle, int slowLevel, double rate, double rateVariance) {
		level[particle] = slowLevel;
		state.set(state.unrecordedRate, particle, rate, rateVariance);
	}

	void gather(int[] from) {
		int[] old = level.clone();
		for (int i = 0; i < from.length; i++) {
			level[i] = old[from[i]];
		}
	}

}
