package org.meniscus.water.demand;

import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.AssumedLevels;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;

/**
 * What is known of the time ahead at one pool.
 *
 * @param demand how it uses up chlorine until the next visit
 * @param phDrift where its pH goes until then
 * @param daysToSeasonEnd how long what is put in today goes on counting; zero: only today counts
 * @param seasonUse FC used up a day in the mean of the rest of the season, ppm
 * @param today in the year of its climate
 * @param tablets dissolving now in a pool whose tablets the service puts in; null where a plan does not decide on tablets, because there
 * are none or others fill the feeder
 * @param driftPerDay by how much slow levels (CYA, CH, salt, TA) move by themselves, ppm a day; absent = not known: CYA then loses the usual
 * share, the others stay
 */
public record PoolForecast(ChlorineDemand demand, PhDrift phDrift, int daysToSeasonEnd, double seasonUse, ClimateDay today,
		@Nullable DissolvingTablets tablets, Map<Level, Double> driftPerDay) {

	/** Half a year; a year-round pool is looked ahead as far. Common practice, no source. */
	public static final int SEASON_DAYS = 180;

	/** FC at which the use of a season is stated, ppm. */
	private static final double USUAL_FC = 3;

	/** Share of the sun on chlorine that a cover keeps off, and hours of daylight in the mean of a year; common practice, no source. */
	private static final double COVER_SHADE = 0.9;

	private static final double DAYLIGHT_HOURS = 12;

	/** Relative standard deviation of what tablets bring; assumption. */
	private static final double TABLET_RELATIVE_DEVIATION = 0.2;

	/** @throws IllegalArgumentException for days or use below zero */
	public PoolForecast {
		Objects.requireNonNull(demand);
		Objects.requireNonNull(phDrift);
		Objects.requireNonNull(today);
		driftPerDay = driftPerDay.isEmpty() ? Map.of() : Collections.unmodifiableMap(new EnumMap<>(driftPerDay));
		if (daysToSeasonEnd < 0 || !(seasonUse >= 0)) {
			throw new IllegalArgumentException("days or use below zero");
		}
	}

	/** Of a pool about which nothing has been learnt. */
	public static PoolForecast expected(PoolFacts pool) {
		return expected(pool, Readings.none());
	}

	/** Of a pool about which nothing has been learnt but today's temperature, stabilizer and setting of its cell. */
	public static PoolForecast expected(PoolFacts pool, Readings found) {
		double celsius = (found.celsius() != null) ? found.celsius() : AssumedLevels.CELSIUS;
		PoolKind kind = poolKind(pool.withSetting(found), celsius);
		ChlorineDemand usual = ChlorineDemandEstimator.of(kind, List.of(), AssumedLevels.CELSIUS, AssumedLevels.CYA_OUTDOORS);
		return new PoolForecast(ChlorineDemandEstimator.of(kind, List.of(), celsius, workingCya(found)),
				PhDriftEstimator.of(kind, List.of(), 0), SEASON_DAYS, usual.use(USUAL_FC).middle(),
				ClimateDay.beforeSeasonEnd(SEASON_DAYS), (pool.sanitizer() == Sanitizer.FLOATER) ? DissolvingTablets.NONE : null, Map.of());
	}

	/** Below the lowest mark of the tube half of it is counted, as in the water that is dosed, ppm. */
	private static double workingCya(Readings found) {
		Double cya = found.cya();
		return (cya == null) ? AssumedLevels.CYA_OUTDOORS : (found.cyaQualifier() == ReadingQualifier.BELOW) ? cya / 2 : cya;
	}

	/** What a cell brings a day at the setting found, in water as warm as found, ppm FC; null where it is not known. */
	public static @Nullable Double cellSupply(PoolFacts pool, Readings found) {
		return poolKind(pool.withSetting(found), (found.celsius() != null) ? found.celsius() : AssumedLevels.CELSIUS).cellSupply();
	}

	/** What the prior of its demand depends on. @param celsius of the water now: a cell makes nothing in the cold */
	public static PoolKind poolKind(PoolFacts pool, double celsius) {
		Double litres = (pool.volume() != null) ? Double.valueOf(pool.volume().litres()) : null;
		Equipment equipment = pool.equipment();
		boolean cell = pool.sanitizer() == Sanitizer.SALT_CELL;
		Double covered = equipment.coverHours();
		return new PoolKind(pool.body() == BodyOfWater.SPA, pool.indoor(), litres, switch (pool.sanitizer()) {
			case SALT_CELL -> PoolKind.Feed.CELL;
			case TABLET_FEEDER -> PoolKind.Feed.TABLETS;
			default -> PoolKind.Feed.NONE;
		}, (cell && litres != null) ? equipment.cellSupply(litres, celsius) : null,
				(covered == null) ? 1 : 1 - COVER_SHADE * covered / DAYLIGHT_HOURS, equipment.bathersPerDay());
	}

	public PoolForecast withDemand(ChlorineDemand demand) {
		return new PoolForecast(demand, this.phDrift, this.daysToSeasonEnd, this.seasonUse, this.today, this.tablets, this.driftPerDay);
	}

	public PoolForecast withPhDrift(PhDrift phDrift) {
		return new PoolForecast(this.demand, phDrift, this.daysToSeasonEnd, this.seasonUse, this.today, this.tablets, this.driftPerDay);
	}

	public PoolForecast withSeason(int daysToSeasonEnd, double seasonUse, Map<Level, Double> driftPerDay) {
		return new PoolForecast(this.demand, this.phDrift, daysToSeasonEnd, seasonUse, this.today, this.tablets, driftPerDay);
	}

	public PoolForecast withToday(ClimateDay today) {
		return new PoolForecast(this.demand, this.phDrift, this.daysToSeasonEnd, this.seasonUse, today, this.tablets, this.driftPerDay);
	}

	public PoolForecast withTablets(@Nullable DissolvingTablets tablets) {
		return new PoolForecast(this.demand, this.phDrift, this.daysToSeasonEnd, this.seasonUse, this.today, tablets, this.driftPerDay);
	}

	/** Feeder, floater or cell brings this share of what it would. @param on from zero to one */
	public PoolForecast withFeed(double on) {
		ChlorineDemand less = new ChlorineDemand(this.demand.firstOrderRate(), this.demand.zeroOrderRate(), on * this.demand.supply(),
				this.demand.logStandardError(), this.demand.logPredictionDeviation(), on * this.demand.supplyDeviation(),
				this.demand.intervals());
		PhDrift drift = new PhDrift(this.phDrift.exchangeRate(), this.phDrift.exchangeLogDeviation(), this.phDrift.unexplainedPerWeek(),
				this.phDrift.residualDeviation(), on * this.phDrift.tablets(), this.phDrift.intervals());
		DissolvingTablets dissolving = (this.tablets == null) ? null
				: new DissolvingTablets(on * this.tablets.undissolved(), on * this.tablets.perDay());
		return new PoolForecast(less, drift, this.daysToSeasonEnd, this.seasonUse, this.today, dissolving, this.driftPerDay);
	}

	/** The days until the next visit when tablets go in today. @param ppm FC they bring in all, ppm @param days above zero, else nothing changes */
	public PoolForecast withTabletsAdded(double ppm, int days) {
		if (this.tablets == null || days == 0) {
			return this;
		}
		DissolvingTablets fed = this.tablets.plus(ppm);
		double supply = fed.dissolvedWithin(days) / days;
		ChlorineDemand with = new ChlorineDemand(this.demand.firstOrderRate(), this.demand.zeroOrderRate(), supply,
				this.demand.logStandardError(),
				this.demand.logPredictionDeviation(),
				TABLET_RELATIVE_DEVIATION * supply, this.demand.intervals());
		PhDrift drift = new PhDrift(this.phDrift.exchangeRate(), this.phDrift.exchangeLogDeviation(), this.phDrift.unexplainedPerWeek(),
				this.phDrift.residualDeviation(),
				supply, this.phDrift.intervals());
		return new PoolForecast(with, drift, this.daysToSeasonEnd, this.seasonUse, this.today, fed, this.driftPerDay);
	}

}
