package org.meniscus.study;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.meniscus.study.DriftScore.Estimate;
import org.meniscus.study.DriftScore.Exit;
import org.meniscus.study.DriftScore.Key;
import org.meniscus.study.DriftScore.Side;
import org.meniscus.study.DriftScore.TrueSeason;
import org.meniscus.study.DriftScore.TrueVisit;

/** How far ahead of true exits flags stood, and how many flags were false. */
final class DriftFlagTally {

	/** Days ahead from which a flag is in time. */
	private static final int LEAD_DAYS = 14;

	/** A false alarm is gross when the level stays further from the limit than this share of it. */
	private static final double GROSS = 0.15;

	/** Days from the first visit of an unbroken run of right flags to the exit; zero when missed. */
	private final List<Integer> leads = new ArrayList<>();

	private int missed;

	private int pools;

	private @Nullable String lastPool;

	private int alarms;

	private int falseAlarms;

	private int grossAlarms;

	private int flaggedVisits;

	private int falseVisits;

	/** The levels of one pool-season come one after the other. */
	void add(TrueSeason season, Map<Key, Estimate> estimates) {
		if (!season.season().equals(this.lastPool)) {
			this.lastPool = season.season();
			this.pools++;
		}
		season.exits().stream().filter(exit -> exit.day() >= DriftScore.FIRST_DAY).forEach(exit -> exit(season, exit, estimates));
		alarms(season, estimates);
	}

	private void exit(TrueSeason season, Exit exit, Map<Key, Estimate> estimates) {
		int since = exit.day();
		for (int n = season.visits().size() - 1; n >= 0; n--) {
			int day = season.visits().get(n).day();
			if (day >= exit.day()) {
				continue;
			}
			if (flag(season, day, estimates) != exit.side()) {
				break;
			}
			since = day;
		}
		int lead = exit.day() - since;
		this.leads.add(lead);
		this.missed += (lead == 0) ? 1 : 0;
	}

	private void alarms(TrueSeason season, Map<Key, Estimate> estimates) {
		Side before = null;
		int assessed = 0;
		for (TrueVisit visit : season.visits()) {
			Side flag = flag(season, visit.day(), estimates);
			if (flag != null && !season.beyond(flag, visit.level())) {
				boolean raised = flag != before || visit.day() - assessed >= DriftScore.CROSSING_DAYS;
				boolean wrong = !visit.crossings().containsKey(flag);
				double limit = season.limit(flag);
				boolean far = Math.min(Math.abs(visit.level() - limit), Math.abs(visit.in28Days() - limit)) > GROSS * limit;
				this.flaggedVisits++;
				this.falseVisits += wrong ? 1 : 0;
				if (raised) {
					assessed = visit.day();
					this.alarms++;
					this.falseAlarms += wrong ? 1 : 0;
					this.grossAlarms += (wrong && far) ? 1 : 0;
				}
			}
			else if (flag != before) {
				assessed = visit.day();
			}
			before = flag;
		}
	}

	private static @Nullable Side flag(TrueSeason season, int day, Map<Key, Estimate> estimates) {
		return estimates.getOrDefault(new Key(season.season(), day, season.analyte()), Estimate.NONE).flag();
	}

	Map<String, Number> figures() {
		int exits = this.leads.size();
		Map<String, Number> figures = new LinkedHashMap<>();
		figures.put("true exits (day >= 28)", exits);
		figures.put("share flagged >= 14 days ahead", DriftScore.ratio(ahead(LEAD_DAYS), exits));
		figures.put("share flagged >= 28 days ahead", DriftScore.ratio(ahead(2 * LEAD_DAYS), exits));
		figures.put("share flagged < 14 days ahead", DriftScore.ratio(exits - this.missed - ahead(LEAD_DAYS), exits));
		figures.put("share missed", DriftScore.ratio(this.missed, exits));
		figures.put("median lead, days (missed = 0)", DriftScore.median(this.leads));
		figures.put("alarm episodes per pool-season", DriftScore.ratio(this.alarms, this.pools));
		figures.put("false alarms per pool-season", DriftScore.ratio(this.falseAlarms, this.pools));
		figures.put("  of them never within 15 % of limit", DriftScore.ratio(this.grossAlarms, this.pools));
		figures.put("share of alarms that are true", 1 - DriftScore.ratio(this.falseAlarms, this.alarms));
		figures.put("share of flagged visits false", DriftScore.ratio(this.falseVisits, this.flaggedVisits));
		return figures;
	}

	private int ahead(int days) {
		return (int) this.leads.stream().filter(lead -> lead >= days).count();
	}

}
