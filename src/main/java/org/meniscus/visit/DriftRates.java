package org.meniscus.visit;

import java.util.Map;

import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.pool.Level;

/** What visits need to know of the season; the season provides it, so that visits do not depend on it. */
public interface DriftRates {

	/**
	 * By how much slow levels of a pool move if the service puts nothing in: by evaporation and fill water, rain, splash-out, backwash, leaks,
	 * breakdown, scale, and what others put in unrecorded, such as a client who fills the feeder. What visits record is no part of it.
	 *
	 * @return ppm a day, as expected in the mean of the rest of the season; a level about which too little is known is absent
	 */
	Map<Level, Double> driftPerDay(CompanyId company, PoolId pool);

	/** Normals of the weather where a company works; the usual ones where it has not chosen. */
	ClimateNormals climateNormals(CompanyId company);

}
