package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.SlowLevels;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.pool.TestPrecision;

/** Takes a particle filter through the visits of one pool, day by day of visit, and notes what cannot be known. */
final class ForwardPass {

	/** Longer than this without a visit, and the estimate starts anew: a pool shut for the winter. Assumption. */
	private static final int RESTART_DAYS = 75;

	/** After so many days a reading is stale. */
	private static final int STALE_DAYS = 60;

	/** What estimating a volume is off by, natural logarithm. Assumption. */
	private static final double VOLUME_TOLERANCE = 0.5;

	private final SeasonRecord record;

	private final LevelParticleFilter filter;

	private final List<SeasonVisit> visits;

	private final ReadingSummary[] readings = SlowLevels.ALL.stream()
		.map(level -> new ReadingSummary(TestPrecision.usual(level)))
		.toArray(ReadingSummary[]::new);

	private int next;

	private @Nullable Long restarted;

	/** Readings of a level since the season's start, and the newest of all. */
	static final class ReadingSummary {

		private int count;

		private int exact;

		private long lastDay;

		private double lastValue;

		private TestPrecision lastPrecision;

		/** @param usual precision of a test, as long as there is no reading */
		ReadingSummary(TestPrecision usual) {
			this.lastPrecision = usual;
		}

		private void add(SeasonVisit.Reading reading, long day) {
			count++;
			exact += (reading.qualifier() == ReadingQualifier.EXACT) ? 1 : 0;
			lastDay = day;
			lastValue = reading.value();
			lastPrecision = reading.precision();
		}

		private void restart() {
			count = 0;
			exact = 0;
		}

		int exact() {
			return exact;
		}

		TestPrecision lastPrecision() {
			return lastPrecision;
		}

	}

	ForwardPass(SeasonRecord record, Weather weather, DriftSettings settings, long today) {
		this.record = record;
		this.visits = record.visits().stream().filter(visit -> visit.day() <= today).toList();
		boolean[] follows = new boolean[SlowLevels.COUNT];
		for (int level = 0; level < follows.length; level++) {
			Level name = SlowLevels.ALL.get(level);
			follows[level] = name == Level.CYA || name == Level.CH || record.pool().ranges().containsKey(name)
					|| visits.stream().anyMatch(visit -> visit.readings().containsKey(name));
		}
		long start = visits.isEmpty() ? today : visits.get(0).day();
		this.filter = new LevelParticleFilter(record, weather, settings.particles(), start, follows, 1,
				LevelParticleFilter.NoiseModel.POOL);
	}

	LevelParticleFilter filter() {
		return filter;
	}

	SeasonPool pool() {
		return record.pool();
	}

	ReadingSummary readings(int level) {
		return readings[level];
	}

	/** Goes to the next day with a visit and takes it in, all of it. @return false when there is none */
	boolean next() {
		if (next >= visits.size()) {
			return false;
		}
		SeasonVisit all = merge(takeTests(record.bias()));
		filter.addRoutineDoses(all);
		filter.addCorrections(all);
		return true;
	}

	/** The tests of the next day of visits; its doses, water replacement and backwash are still to be taken in. */
	List<SeasonVisit> takeTests(TechnicianBias known) {
		List<SeasonVisit> ofDay = new ArrayList<>();
		long day = visits.get(next).day();
		while (next < visits.size() && visits.get(next).day() == day) {
			ofDay.add(visits.get(next++));
		}
		long gap = day - filter.day;
		filter.advance(day);
		if (gap > RESTART_DAYS) {
			restarted = gap;
			filter.restart();
			for (ReadingSummary summary : readings) {
				summary.restart();
			}
		}
		for (SeasonVisit visit : ofDay) {
			if (filter.readingsSwapped(visit)) {
				continue;
			}
			filter.assimilate(visit, known);
			for (int level = 0; level < readings.length; level++) {
				SeasonVisit.Reading reading = visit.readings().get(SlowLevels.ALL.get(level));
				if (reading != null) {
					readings[level].add(reading, visit.day());
				}
			}
		}
		return ofDay;
	}

	/** What was done at all visits of one day together. */
	static SeasonVisit merge(List<SeasonVisit> ofDay) {
		if (ofDay.size() == 1) {
			return ofDay.get(0);
		}
		List<SeasonVisit.Dose> doses = new ArrayList<>();
		boolean backwashed = false;
		double retained = 1;
		for (SeasonVisit visit : ofDay) {
			doses.addAll(visit.doses());
			backwashed |= visit.backwashed();
			retained *= 1 - visit.replaced();
		}
		SeasonVisit first = ofDay.get(0);
		return new SeasonVisit(first.day(), first.technician(), first.readings(), doses, backwashed, 1 - retained);
	}

	boolean hasNext() {
		return next < visits.size();
	}

	long nextDay() {
		return visits.get(next).day();
	}

	/** Whether a level was read at all this season. */
	boolean measured(int level) {
		return readings[level].count > 0;
	}

	/** About a level. */
	List<DriftNote> notes(int level, long today) {
		Level name = SlowLevels.ALL.get(level);
		List<DriftNote> notes = new ArrayList<>();
		ReadingSummary summary = readings[level];
		if (!measured(level)) {
			notes.add(DriftNote.of(DriftNote.Code.NOT_MEASURED, name));
			return notes;
		}
		if (summary.exact == 0) {
			notes.add(DriftNote.of(DriftNote.Code.SCALE_ENDED, name, summary.lastValue));
		}
		else if (summary.count == 1) {
			notes.add(DriftNote.of(DriftNote.Code.ONE_READING, name));
		}
		if (today - summary.lastDay > STALE_DAYS) {
			notes.add(DriftNote.of(DriftNote.Code.STALE, name, today - summary.lastDay));
		}
		ChangePoints.Finding drain = filter.changePoints.drain();
		ChangePoints.Finding reagent = filter.changePoints.reagent(name);
		filter.notes.stream()
			.filter(note -> note.level() == name && !explains(drain, note) && !explains(reagent, note))
			.forEach(notes::add);
		if (reagent != null) {
			notes.add(DriftNote.of(DriftNote.Code.REAGENT_DOUBTED, name, reagent.day(), reagent.size(), reagent.probability()));
		}
		return notes;
	}

	/** A reading that seemed not to fit is no slip once the change is known. */
	private static boolean explains(ChangePoints.@Nullable Finding change, DriftNote note) {
		return change != null && note.code() == DriftNote.Code.READING_DOUBTED && note.figures().get(0) >= change.day();
	}

	/** About the pool. */
	List<DriftNote> notes() {
		List<DriftNote> notes = new ArrayList<>(filter.notes.stream().filter(note -> note.level() == null).toList());
		ChangePoints.Finding drain = filter.changePoints.drain();
		if (drain != null) {
			notes.add(DriftNote.of(DriftNote.Code.WATER_REPLACED, null, drain.day(), drain.size(), drain.probability()));
		}
		filter.leak().filter(leak -> leak.probability() >= ChangePoints.TOLD_FROM)
			.ifPresent(leak -> notes.add(DriftNote.of(DriftNote.Code.LEAK_SUSPECTED, null, leak.probability(), leak.perDay())));
		ChangePoints.Finding changed = filter.changePoints.volume();
		if (changed != null) {
			notes.add(DriftNote.of(DriftNote.Code.VOLUME_CHANGED, null, changed.day(), changed.size(), changed.probability()));
		}
		Double volume = pool().volume();
		if (volume == null) {
			notes.add(DriftNote.of(DriftNote.Code.VOLUME_UNKNOWN, null));
		}
		else {
			double estimated = filter.estimatedVolume(volume);
			if (Math.abs(Math.log(estimated / volume)) > VOLUME_TOLERANCE) {
				notes.add(DriftNote.of(DriftNote.Code.VOLUME_DOUBTED, null, volume, estimated));
			}
		}
		int unknownStrengths = filter.dosing.unknownStrengths();
		if (unknownStrengths > 0) {
			notes.add(DriftNote.of(DriftNote.Code.STRENGTH_UNKNOWN, null, unknownStrengths));
		}
		if (restarted != null) {
			notes.add(DriftNote.of(DriftNote.Code.RESTARTED, null, restarted));
		}
		return notes;
	}

}
