package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * What the records alone do to a level. With a start level {@code a} and an unrecorded drift {@code u} a day the level is
 * {@code carry × a + known + u × exposure}: each replacement of water scales all three, each product adds to {@code known}, each
 * day adds one to {@code exposure}.
 */
final class KnownCourse {

	private final long start;

	private final long[] days;

	/** After the event of the same index. */
	private final At[] after;

	/** The three terms at one moment. */
	record At(double carry, double known, double exposure) {
	}

	private record Step(long day, double share, double fillLevel, double change) {
	}

	KnownCourse(long start, List<KnownInput> inputs) {
		this.start = start;
		List<Step> steps = new ArrayList<>();
		for (KnownInput input : inputs) {
			if (input instanceof KnownInput.WaterReplaced replaced) {
				if (replaced.day() >= start) {
					steps.add(new Step(replaced.day(), replaced.share(), replaced.fillLevel(), 0));
				}
			}
			else if (input instanceof KnownInput.Added added) {
				int parts = Math.max(1, added.spreadDays());
				for (int part = 0; part < parts; part++) {
					if (added.day() + part >= start) {
						steps.add(new Step(added.day() + part, 0, 0, added.change() / parts));
					}
				}
			}
		}
		// water goes out before products go in: nobody doses what is about to be drained; the rest makes any order the same
		steps.sort(Comparator.comparingLong(Step::day)
			.thenComparing(Comparator.comparingDouble(Step::share).reversed())
			.thenComparingDouble(Step::fillLevel)
			.thenComparingDouble(Step::change));
		days = new long[steps.size()];
		after = new At[steps.size()];
		At now = new At(1, 0, 0);
		long last = start;
		for (int i = 0; i < steps.size(); i++) {
			Step step = steps.get(i);
			double keep = 1 - step.share();
			now = new At(keep * now.carry(), keep * now.known() + step.share() * step.fillLevel() + step.change(),
					keep * (now.exposure() + step.day() - last));
			last = step.day();
			days[i] = step.day();
			after[i] = now;
		}
	}

	/** When the day's test is taken: before what is put in on that day. */
	At atTest(long day) {
		return at(day, false);
	}

	/** At the end of the day. */
	At atEnd(long day) {
		return at(day, true);
	}

	long[] eventDays() {
		return days.clone();
	}

	private At at(long day, boolean withDay) {
		int index = -1;
		int from = 0;
		int to = days.length - 1;
		while (from <= to) {
			int middle = (from + to) >>> 1;
			if (days[middle] < day || (withDay && days[middle] == day)) {
				index = middle;
				from = middle + 1;
			}
			else {
				to = middle - 1;
			}
		}
		if (index < 0) {
			return new At(1, 0, day - start);
		}
		At last = after[index];
		return new At(last.carry(), last.known(), last.exposure() + day - days[index]);
	}

}
