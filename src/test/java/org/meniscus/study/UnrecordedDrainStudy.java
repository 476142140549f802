package org.meniscus.study;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.stream.IntStream;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.meniscus.tools.SeasonDataset;
import org.meniscus.tools.SeasonDataset.NamedSeason;
import org.meniscus.water.drift.DriftEngine;
import org.meniscus.water.drift.DriftSettings;
import org.meniscus.water.drift.SeasonDrift;
import org.meniscus.water.drift.SeasonRecord;
import org.meniscus.water.drift.SeasonVisit;
import org.meniscus.water.drift.WalkForward;
import org.meniscus.water.explain.DriftNote;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.TechnicianBias;
import org.meniscus.water.units.XorShiftRandom;

/**
 * Whether what changed without a record is found, water replaced first of all: {@code drain DIR [seed]}. Each simulated pool-season of the folder is tested
 * anew ({@link RetestedSeason}) and assessed once as it is, where none should be found, and once with a drain of 30 to 60 % drawn between
 * two visits. Found: noted at the first or second visit with a test after it. The same of leaks, bad reagents and changed volumes.
 */
public final class UnrecordedDrainStudy {

	private static final double LEAST_SHARE = 0.3, MOST_SHARE = 0.6;

	/** Share of the water: 10 mm of 1,430 mm; from which day of the season on. */
	private static final double LEAK_A_DAY = 0.007;

	private static final int LEAK_BEGINS = 56;

	/** Visits with a test before and after the drain. */
	private static final int TESTS_BEFORE = 3, TESTS_AFTER = 2;

	/** An ensemble says nothing of drains: it need not be large. */
	private static final DriftSettings SETTINGS = new DriftSettings(DriftSettings.SINGLE_POOL.particles(), 50, 0.77);

	private UnrecordedDrainStudy() {
	}

	public static void main(String[] args) {
		int status = run(args, System.out, System.err);
		if (status != 0) {
			System.exit(status);
		}
	}

	/** @return 0 when the folder was gone through, 2 otherwise */
	static int run(String[] args, PrintStream out, PrintStream err) {
		if (args.length < 1 || args.length > 2) {
			err.println("drain: give a folder, and if you like a seed");
			return 2;
		}
		try {
			long seed = (args.length > 1) ? Long.parseLong(args[1]) : 1;
			for (boolean fortnightly : new boolean[]{ true, false }) {
				out.println(fortnightly ? "CYA and CH tested at every other visit"
						: "tested as often as in the folder: often one level, or neither");
				print(study(Path.of(args[0]), seed, fortnightly, 1), out);
			}
			print(leaks(Path.of(args[0]), seed, 1), out);
			for (DriftNote.Code code : List.of(DriftNote.Code.REAGENT_DOUBTED, DriftNote.Code.VOLUME_CHANGED)) {
				out.println(code + ": " + changes(Path.of(args[0]), seed, code, 1));
			}
			return 0;
		}
		catch (NumberFormatException ex) {
			err.println("drain: not a seed: " + args[1]);
		}
		catch (NoSuchFileException ex) {
			err.println("drain: no such file: " + ex.getFile());
		}
		catch (IOException | IllegalArgumentException ex) {
			err.println("drain: " + ex.getMessage());
		}
		return 2;
	}

	/**
	 * @param seasons without a drain @param falselyFound of these @param drains drawn @param first found at the first test
	 * @param second found at the second @param later found after that @param shareError mean of found share less drawn one
	 */
	record Tally(int seasons, int falselyFound, int drains, int first, int second, int later, double shareError) {

		double foundWithinTwo() {
			return (double) (first + second) / drains;
		}

		double falselyFoundShare() {
			return (double) falselyFound / seasons;
		}

	}

	/** @param every only each so many-th season */
	static Tally study(Path folder, long seed, boolean fortnightly, int every) throws IOException {
		SeasonDataset dataset = SeasonDataset.read(folder);
		Map<String, RetestedSeason.TrueLevels> truth = RetestedSeason.TrueLevels.read(folder.resolve("truth.csv"));
		Map<String, DriftEngine> engines = new HashMap<>();
		dataset.climates().forEach((name, climate) -> engines.put(name, new DriftEngine(climate, SETTINGS)));
		List<Case> cases = IntStream.range(0, dataset.seasons().size()).filter(n -> n % every == 0).parallel().mapToObj(n -> {
			NamedSeason season = dataset.seasons().get(n);
			return assess(new RetestedSeason(season, truth.get(season.name()), fortnightly, seed), engines.get(season.climate()));
		}).toList();
		List<Case> drawn = cases.stream().filter(one -> one.drawn != null).toList();
		List<Case> found = drawn.stream().filter(one -> one.foundAt > 0).toList();
		return new Tally(cases.size(), (int) cases.stream().filter(Case::falselyFound).count(), drawn.size(), count(found, 1, 1),
				count(found, 2, 2), count(found, 3, Integer.MAX_VALUE),
				found.stream().mapToDouble(one -> one.foundShare - one.drawn.share()).average().orElse(Double.NaN));
	}

	private static int count(List<Case> found, int from, int to) {
		return (int) found.stream().filter(one -> one.foundAt >= from && one.foundAt <= to).count();
	}

	private static void print(Tally tally, PrintStream out) {
		out.println(String.format(Locale.ROOT, "%d drains drawn: %.1f %% found at the first test, %.1f %% within two, %.1f %% later",
				tally.drains, 100.0 * tally.first / tally.drains, 100 * tally.foundWithinTwo(), 100.0 * tally.later / tally.drains));
		out.println(String.format(Locale.ROOT, "share replaced, found less drawn: %+.3f in the mean", tally.shareError));
		out.println(String.format(Locale.ROOT, "%d pool-seasons without one: %.2f %% with one found at any visit", tally.seasons,
				100 * tally.falselyFoundShare()));
	}

	/** @param drawn null where the season has too few tests @param foundAt at which test after the drain; 0 when never */
	private record Case(boolean falselyFound, RetestedSeason.@Nullable Change drawn, int foundAt, double foundShare) {
	}

	private static Case assess(RetestedSeason season, DriftEngine engine) {
		SeasonRecord asItIs = season.record(null);
		boolean falselyFound = false;
		WalkForward walk = engine.walkForward(asItIs);
		while (walk.hasNext()) {
			falselyFound |= note(walk.next(TechnicianBias.NONE)) != null;
		}
		List<Long> tested = asItIs.visits().stream().filter(visit -> !visit.readings().isEmpty()).map(SeasonVisit::day).distinct().toList();
		RetestedSeason.Change drawn = draw(asItIs, tested, season.random("drain"));
		if (drawn == null) {
			return new Case(falselyFound, null, 0, 0);
		}
		walk = engine.walkForward(season.record(drawn));
		int tests = 0;
		while (walk.hasNext()) {
			SeasonDrift drift = walk.next(TechnicianBias.NONE);
			tests += (drift.today() > drawn.day() && tested.contains(drift.today())) ? 1 : 0;
			DriftNote note = note(drift);
			if (note != null && tests > 0 && note.figures().get(0) > drawn.day()) {
				return new Case(falselyFound, drawn, tests, note.figures().get(1));
			}
		}
		return new Case(falselyFound, drawn, 0, 0);
	}

	/** @param seasons as they are; leaks of the simulation are among them @param noted of these @param leaks drawn @param found by weeks */
	record LeakTally(int seasons, int noted, int leaks, Map<Integer, Integer> found) {
	}

	/** Both levels tested at every other visit; water leaks at {@link #LEAK_A_DAY} from {@link #LEAK_BEGINS} on. */
	static LeakTally leaks(Path folder, long seed, int every) throws IOException {
		SeasonDataset dataset = SeasonDataset.read(folder);
		Map<String, RetestedSeason.TrueLevels> truth = RetestedSeason.TrueLevels.read(folder.resolve("truth.csv"));
		int noted = 0;
		int leaks = 0;
		Map<Integer, Integer> found = new TreeMap<>(Map.of(4, 0, 8, 0, 12, 0, 16, 0));
		for (int n = 0; n < dataset.seasons().size(); n += every) {
			NamedSeason season = dataset.seasons().get(n);
			DriftEngine engine = new DriftEngine(Objects.requireNonNull(dataset.climates().get(season.climate())), SETTINGS);
			RetestedSeason tested = new RetestedSeason(season, truth.get(season.name()), true, seed);
			noted += (leakNoted(engine.walkForward(tested.record(null)), Long.MIN_VALUE) < Long.MAX_VALUE) ? 1 : 0;
			long begins = season.first() + LEAK_BEGINS;
			List<SeasonVisit> visits = season.record().visits();
			if (visits.get(visits.size() - 1).day() >= begins + 112) {
				leaks++;
				long day = leakNoted(engine.walkForward(tested.record(RetestedSeason.Change.leak(begins, LEAK_A_DAY))), begins);
				found.replaceAll((weeks, count) -> count + ((day <= begins + 7L * weeks) ? 1 : 0));
			}
		}
		return new LeakTally(dataset.seasons().size() / every, noted, leaks, found);
	}

	/**
	 * Doses act otherwise, or one level's reagent goes bad, from a day of the season on.
	 *
	 * @param falselyNoted of these seasons as they are @param changes drawn @param found at or before so many tests after the change
	 * @param logError mean of ln of noted over drawn factor
	 */
	record ChangeTally(int seasons, int falselyNoted, int changes, Map<Integer, Integer> found, double logError) {

		double foundShare(int tests) {
			return (double) found.get(tests) / changes;
		}

		double falselyNotedShare() {
			return (double) falselyNoted / seasons;
		}

	}

	/** A bad reagent reads too much or too little by this factor, doses act more or less than before by that, either way. */
	private static final double LEAST_FACTOR = 1.5, MOST_FACTOR = 2.2, LEAST_VOLUME_FACTOR = 2, MOST_VOLUME_FACTOR = 3;

	/** Both levels tested at every other visit. @param code {@code REAGENT_DOUBTED} or {@code VOLUME_CHANGED} */
	static ChangeTally changes(Path folder, long seed, DriftNote.Code code, int every) throws IOException {
		SeasonDataset dataset = SeasonDataset.read(folder);
		Map<String, RetestedSeason.TrueLevels> truth = RetestedSeason.TrueLevels.read(folder.resolve("truth.csv"));
		int seasons = 0;
		int falselyNoted = 0;
		int changes = 0;
		double logError = 0;
		Map<Integer, Integer> found = new TreeMap<>(Map.of(2, 0, 3, 0, 4, 0, 8, 0, 99, 0));
		for (int n = 0; n < dataset.seasons().size(); n += every) {
			NamedSeason season = dataset.seasons().get(n);
			DriftEngine engine = new DriftEngine(Objects.requireNonNull(dataset.climates().get(season.climate())), SETTINGS);
			RetestedSeason retested = new RetestedSeason(season, truth.get(season.name()), true, seed);
			SeasonRecord asItIs = retested.record(null);
			seasons++;
			falselyNoted += (noted(engine.walkForward(asItIs), code, Long.MIN_VALUE, List.of()) != null) ? 1 : 0;
			List<Long> tested = asItIs.visits().stream().filter(visit -> !visit.readings().isEmpty()).map(SeasonVisit::day).distinct()
				.toList();
			RetestedSeason.Change change = drawChange(retested, tested, code);
			if (change == null) {
				continue;
			}
			changes++;
			Noted note = noted(engine.walkForward(retested.record(change)), code, change.day(), tested);
			if (note != null) {
				found.replaceAll((tests, count) -> count + ((note.tests <= tests) ? 1 : 0));
				logError += Math.log(note.size / (change.doses() * change.reagent()));
			}
		}
		return new ChangeTally(seasons, falselyNoted, changes, found, logError / Math.max(1, found.get(99)));
	}

	private static RetestedSeason.@Nullable Change drawChange(RetestedSeason season, List<Long> tested, DriftNote.Code code) {
		if (tested.size() < TESTS_BEFORE + 4) {
			return null;
		}
		XorShiftRandom random = season.random(code.name());
		long day = tested.get(TESTS_BEFORE + (int) ((tested.size() / 2 - TESTS_BEFORE) * random.uniform()));
		boolean reagent = code == DriftNote.Code.REAGENT_DOUBTED;
		double factor = reagent ? random.uniform(LEAST_FACTOR, MOST_FACTOR) : random.uniform(LEAST_VOLUME_FACTOR, MOST_VOLUME_FACTOR);
		double either = random.chance(0.5) ? factor : 1 / factor;
		if (reagent) {
			return RetestedSeason.Change.reagent(day, random.chance(0.5) ? Level.CYA : Level.CH, either);
		}
		return RetestedSeason.Change.volume(day, either);
	}

	/** @param tests after the change when it is noted */
	private record Noted(int tests, double size) {
	}

	private static @Nullable Noted noted(WalkForward walk, DriftNote.Code code, long after, List<Long> tested) {
		int tests = 0;
		while (walk.hasNext()) {
			SeasonDrift drift = walk.next(TechnicianBias.NONE);
			tests += (drift.today() > after && tested.contains(drift.today())) ? 1 : 0;
			DriftNote note = Stream.concat(drift.notes().stream(), drift.levels().values().stream().flatMap(one -> one.notes().stream()))
				.filter(one -> one.code() == code && (after == Long.MIN_VALUE || (drift.today() > after)))
				.findFirst()
				.orElse(null);
			if (note != null) {
				return new Noted(tests, note.figures().get(1));
			}
		}
		return null;
	}

	/** First day after so many on which a leak is noted; {@link Long#MAX_VALUE} for never. */
	private static long leakNoted(WalkForward walk, long after) {
		while (walk.hasNext()) {
			SeasonDrift drift = walk.next(TechnicianBias.NONE);
			if (drift.today() > after && drift.notes().stream().anyMatch(note -> note.code() == DriftNote.Code.LEAK_SUSPECTED)) {
				return drift.today();
			}
		}
		return Long.MAX_VALUE;
	}

	private static void print(LeakTally tally, PrintStream out) {
		out.println(tally.leaks + " leaks of 10 mm a day, found by weeks after their start: " + tally.found);
		out.println(tally.seasons + " pool-seasons as they are, leaks of the simulation among them: one noted in " + tally.noted);
	}

	private static @Nullable DriftNote note(SeasonDrift drift) {
		return drift.notes().stream().filter(note -> note.code() == DriftNote.Code.WATER_REPLACED).findFirst().orElse(null);
	}

	private static RetestedSeason.@Nullable Change draw(SeasonRecord record, List<Long> tested, XorShiftRandom random) {
		if (tested.size() < TESTS_BEFORE + TESTS_AFTER) {
			return null;
		}
		long from = tested.get(TESTS_BEFORE - 1);
		long to = tested.get(tested.size() - TESTS_AFTER);
		List<Long> days = new ArrayList<>(
				record.visits().stream().map(SeasonVisit::day).filter(day -> day >= from && day < to).distinct().toList());
		return RetestedSeason.Change.drain(days.get((int) (days.size() * random.uniform())), random.uniform(LEAST_SHARE, MOST_SHARE));
	}

}
