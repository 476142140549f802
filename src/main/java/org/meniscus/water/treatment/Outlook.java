package org.meniscus.water.treatment;

import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

import org.meniscus.water.Volume;
import org.meniscus.water.demand.Demand;
import org.meniscus.water.demand.DemandEstimate;
import org.meniscus.water.demand.PhDrift;
import org.meniscus.water.demand.PhDriftEstimate;
import org.meniscus.water.demand.PoolKind;

/**
 * What is known of the time ahead at one pool.
 *
 * @param demand how it uses up chlorine until the next visit
 * @param phDrift where its pH goes until then
 * @param daysToSeasonEnd how long what is put in today goes on counting; zero: only today counts
 * @param seasonUse FC used up a day in the mean of the rest of the season, ppm
 * @param driftPerDay by how much slow levels (CYA, CH, salt, TA) move by themselves, ppm a day; absent = not known, taken as none
 */
public record Outlook(Demand demand, PhDrift phDrift, int daysToSeasonEnd, double seasonUse, Map<Level, Double> driftPerDay) {

	/** Half a year; a year-round pool is looked ahead as far. Common practice, no source. */
	public static final int SEASON_DAYS = 180;

	/** FC at which the use of a season is told, ppm. */
	private static final double USUAL_FC = 3;

	/** @throws IllegalArgumentException for days or use below zero */
	public Outlook {
		Objects.requireNonNull(demand);
		Objects.requireNonNull(phDrift);
		driftPerDay = driftPerDay.isEmpty() ? Map.of() : Collections.unmodifiableMap(new EnumMap<>(driftPerDay));
		if (daysToSeasonEnd < 0 || !(seasonUse >= 0)) {
			throw new IllegalArgumentException("days or use below zero");
		}
	}

	/** Of a pool about which nothing has been learnt. */
	public static Outlook expected(PoolFacts pool) {
		PoolKind kind = kind(pool);
		Demand demand = DemandEstimate.of(kind, List.of(), PoolWater.ASSUMED_CELSIUS, PoolWater.ASSUMED_CYA_OUTDOORS);
		return new Outlook(demand, PhDriftEstimate.of(kind, List.of(), 0), SEASON_DAYS, demand.use(USUAL_FC).middle(), Map.of());
	}

	/** What tells how a pool uses up chlorine before anything is learnt of it. */
	public static PoolKind kind(PoolFacts pool) {
		Volume volume = pool.volume();
		return new PoolKind(pool.body() == Body.SPA, pool.indoor(), (volume != null) ? Double.valueOf(volume.litres()) : null,
				switch (pool.sanitizer()) {
					case SALT_CELL -> PoolKind.Feed.CELL;
					case TABLET_FEEDER -> PoolKind.Feed.TABLETS;
					default -> PoolKind.Feed.NONE;
				});
	}

	public Outlook withDemand(Demand demand) {
		return new Outlook(demand, this.phDrift, this.daysToSeasonEnd, this.seasonUse, this.driftPerDay);
	}

	public Outlook withPhDrift(PhDrift phDrift) {
		return new Outlook(this.demand, phDrift, this.daysToSeasonEnd, this.seasonUse, this.driftPerDay);
	}

	public Outlook withDaysToSeasonEnd(int daysToSeasonEnd) {
		return new Outlook(this.demand, this.phDrift, daysToSeasonEnd, this.seasonUse, this.driftPerDay);
	}

	public Outlook withSeason(int daysToSeasonEnd, double seasonUse, Map<Level, Double> driftPerDay) {
		return new Outlook(this.demand, this.phDrift, daysToSeasonEnd, seasonUse, driftPerDay);
	}

}
