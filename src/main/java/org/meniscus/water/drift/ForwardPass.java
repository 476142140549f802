package org.meniscus.water.drift;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.Level;

/** Takes a filter through the visits of one pool, day by day of visit, and keeps account of what cannot be told. */
final class ForwardPass {

	/** Longer than this without a visit, and the estimate starts anew: a pool shut for the winter. Assumption. */
	private static final int RESTART_DAYS = 75;

	/** A reading older than this is told to be old. */
	private static final int STALE_DAYS = 60;

	private final SeasonRecord record;

	private final LevelParticleFilter filter;

	private final List<SeasonVisit> visits;

	private final ReadingError[] errors = { ReadingError.TURBIDITY_TUBE, ReadingError.titration(25), ReadingError.CONDUCTIVITY,
			ReadingError.CONDUCTIVITY, ReadingError.BORATE };

	private int next;

	private @Nullable Long restarted;

	ForwardPass(SeasonRecord record, Weather weather, DriftSettings settings, long today) {
		this.record = record;
		this.visits = record.visits().stream().filter(visit -> visit.day() <= today).toList();
		boolean[] followed = new boolean[LevelParticleFilter.LEVELS.size()];
		for (int level = 0; level < followed.length; level++) {
			Level name = LevelParticleFilter.LEVELS.get(level);
			followed[level] = name == Level.CYA || name == Level.CH || record.pool().ranges().containsKey(name)
					|| visits.stream().anyMatch(visit -> visit.readings().containsKey(name));
		}
		long start = visits.isEmpty() ? today : visits.get(0).day();
		this.filter = new LevelParticleFilter(record.pool(), weather, settings, start, followed, 1);
	}

	LevelParticleFilter filter() {
		return filter;
	}

	SeasonPool pool() {
		return record.pool();
	}

	ReadingError lastError(int level) {
		return errors[level];
	}

	/** Goes to the next day with a visit and takes it in, all of it. @return false when there is none */
	boolean next() {
		if (next >= visits.size()) {
			return false;
		}
		List<SeasonVisit> ofDay = takeTests(record.bias());
		SeasonVisit all = merge(ofDay);
		filter.routine(all);
		filter.correct(all);
		return true;
	}

	/** The tests of the next day of visits; its doses, drain and backwash are still to be taken in. */
	List<SeasonVisit> takeTests(TechnicianBias known) {
		List<SeasonVisit> ofDay = new ArrayList<>();
		long day = visits.get(next).day();
		while (next < visits.size() && visits.get(next).day() == day) {
			ofDay.add(visits.get(next++));
		}
		if (day - filter.day > RESTART_DAYS) {
			restarted = day - filter.day;
			filter.advance(day);
			filter.restart();
		}
		filter.advance(day);
		for (SeasonVisit visit : ofDay) {
			if (filter.swapped(visit)) {
				continue;
			}
			filter.test(visit, known);
			for (int level = 0; level < errors.length; level++) {
				SeasonVisit.Reading reading = visit.readings().get(LevelParticleFilter.LEVELS.get(level));
				errors[level] = (reading != null) ? reading.error() : errors[level];
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
		double kept = 1;
		for (SeasonVisit visit : ofDay) {
			doses.addAll(visit.doses());
			backwashed |= visit.backwashed();
			kept *= 1 - visit.replaced();
		}
		SeasonVisit first = ofDay.get(0);
		return new SeasonVisit(first.day(), first.technician(), first.readings(), doses, backwashed, 1 - kept);
	}

	boolean hasNext() {
		return next < visits.size();
	}

	long nextDay() {
		return visits.get(next).day();
	}

	/** Why nothing can be told of a level; null when something can. */
	DriftNote.@Nullable Code whyUnknown(int level) {
		return (filter.readings[level] == 0) ? DriftNote.Code.NOT_MEASURED : null;
	}

	/** About a level. */
	List<DriftNote> notes(int level, long today) {
		Level name = LevelParticleFilter.LEVELS.get(level);
		List<DriftNote> notes = new ArrayList<>();
		DriftNote.Code silence = whyUnknown(level);
		if (silence != null) {
			notes.add(DriftNote.of(silence, name));
			return notes;
		}
		if (filter.exactReadings[level] == 0) {
			notes.add(DriftNote.of(DriftNote.Code.SCALE_ENDED, name, filter.lastMark[level]));
		}
		else if (filter.readings[level] == 1) {
			notes.add(DriftNote.of(DriftNote.Code.ONE_READING, name));
		}
		if (today - filter.lastReading[level] > STALE_DAYS) {
			notes.add(DriftNote.of(DriftNote.Code.STALE, name, today - filter.lastReading[level]));
		}
		filter.notes.stream().filter(note -> note.level() == name).forEach(notes::add);
		return notes;
	}

	/** About the pool. */
	List<DriftNote> notes() {
		List<DriftNote> notes = new ArrayList<>(filter.notes.stream().filter(note -> note.level() == null).toList());
		Double volume = pool().volume();
		if (volume == null) {
			notes.add(DriftNote.of(DriftNote.Code.VOLUME_UNKNOWN, null));
		}
		else {
			double likelier = filter.likelierVolume(volume);
			// beyond what estimating a volume is off by
			if (Math.abs(Math.log(likelier / volume)) > 0.5) {
				notes.add(DriftNote.of(DriftNote.Code.VOLUME_DOUBTED, null, volume, likelier));
			}
		}
		if (filter.strengthUnknown > 0) {
			notes.add(DriftNote.of(DriftNote.Code.STRENGTH_UNKNOWN, null, filter.strengthUnknown));
		}
		if (restarted != null) {
			notes.add(DriftNote.of(DriftNote.Code.RESTARTED, null, restarted));
		}
		return notes;
	}

}
