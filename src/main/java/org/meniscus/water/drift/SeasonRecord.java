package org.meniscus.water.drift;

import java.util.Comparator;
import java.util.List;

import org.meniscus.water.pool.TechnicianBias;

/**
 * Everything on record about one pool that its drift is estimated from.
 *
 * @param visits in any order; those after the day asked about are left out
 * @param bias what is known of its technicians
 */
public record SeasonRecord(SeasonPool pool, List<SeasonVisit> visits, TechnicianBias bias) {

	public SeasonRecord {
		visits = visits.stream().sorted(Comparator.comparingLong(SeasonVisit::day)).toList();
	}

}
