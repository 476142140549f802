package org.meniscus.tools;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.meniscus.support.Draws;
import org.meniscus.tools.SeasonDataset.NamedSeason;
import org.meniscus.water.drift.DriftCause;
import org.meniscus.water.drift.DriftEngine;
import org.meniscus.water.drift.DriftSettings;
import org.meniscus.water.drift.LevelDrift;
import org.meniscus.water.drift.SeasonDrift;
import org.meniscus.water.drift.SeasonRecord;
import org.meniscus.water.drift.SeasonVisit;
import org.meniscus.water.drift.WalkForward;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.TechnicianBias;

/**
 * Against src/test/resources/drift: 400 simulated pool seasons with exact truth, a daily water balance with unknown volume, water
 * use, unrecorded inputs and test errors (equations and parameters: docs/season.md). Simulated, not measured.
 */
class DriftBacktestTests {

	private static final Path DRIFT = Path.of("src/test/resources/drift");

	private static final DriftSettings FEW = new DriftSettings(200, 100, 0.76);

	private static SeasonDataset folder;

	@BeforeAll
	static void read() throws IOException {
		folder = SeasonDataset.read(DRIFT);
	}

	@Test
	void causesAddUpToTheEstimatedChangeInEverySeason() {
		Map<String, DriftEngine> engines = engines();
		int known = 0;
		int assessed = 0;
		for (NamedSeason season : drawn()) {
			assessed++;
			List<SeasonVisit> visits = season.record().visits();
			long today = visits.get(visits.size() - 1).day();
			SeasonDrift drift = engines.get(season.climate()).explain(season.record(), today, today + 90, Map.of());
			for (LevelDrift level : drift.levels().values()) {
				if (level.today() == null) {
					continue;
				}
				known++;
				LevelDrift.Causes causes = level.causes();
				double sum = causes.parts().values().stream().mapToDouble(Double::doubleValue).sum();
				assertThat(sum).as(season.name() + " " + level.level()).isCloseTo(causes.change(), within(0.01));
				assertThat(level.today().middle() - causes.start().middle()).isCloseTo(causes.change(), within(0.01));
				assertThat(causes.part(DriftCause.DILUTION)).isLessThanOrEqualTo(0);
				assertThat(causes.unrecorded().middle()).isCloseTo(causes.part(DriftCause.UNRECORDED), within(0.01));
			}
		}
		assertThat(known).isGreaterThan((int) (1.95 * assessed));
	}

	@Test
	void causesOfATabletPoolNameOnlyRecordedProducts() {
		NamedSeason season = folder.seasons().stream().filter(one -> one.name().equals("P005")).findFirst().orElseThrow();
		long today = season.record().visits().get(20).day();
		LevelDrift cya = engines().get(season.climate()).explain(season.record(), today, today + 90, Map.of()).level(Level.CYA)
			.orElseThrow();
		assertThat(cya.causes().part(DriftCause.TABLETS)).isPositive();
		assertThat(cya.causes().parts()).doesNotContainKeys(DriftCause.DICHLOR, DriftCause.CALCIUM_CHLORIDE, DriftCause.PLASTER_AND_SCALE);
	}

	@Test
	void estimateBeatsLastReadingAndItsBandCoversEightyPercent() throws IOException {
		Map<String, double[]> truth = truth();
		Map<String, DriftEngine> engines = engines();
		double[] engine = new double[2];
		double[] reading = new double[2];
		double[] inside = new double[2];
		int[] count = new int[2];
		// pools differ: a quarter of them would be off by 0.02 for sampling alone
		for (NamedSeason season : folder.seasons()) {
			WalkForward walk = engines.get(season.climate()).walkForward(season.record());
			Double[] last = new Double[2];
			for (SeasonVisit visit : season.record().visits()) {
				SeasonDrift drift = walk.next(TechnicianBias.NONE);
				for (int a = 0; a < 2; a++) {
					Level name = (a == 0) ? Level.CYA : Level.CH;
					SeasonVisit.Reading read = visit.readings().get(name);
					last[a] = (read != null) ? Double.valueOf(read.value()) : last[a];
					LevelDrift level = drift.levels().get(name);
					if (last[a] == null || visit.day() - season.first() < 28 || level.today() == null) {
						continue;
					}
					double exact = truth.get(season.name() + "," + (visit.day() - season.first()))[a];
					engine[a] += Math.pow(level.today().middle() - exact, 2);
					reading[a] += Math.pow(last[a] - exact, 2);
					inside[a] += (level.today().low() <= exact && exact <= level.today().high()) ? 1 : 0;
					count[a]++;
				}
			}
		}
		for (int a = 0; a < 2; a++) {
			assertThat(count[a]).isGreaterThan(1000);
			// the last reading is half as far off again
			assertThat(Math.sqrt(reading[a] / count[a])).isGreaterThan(1.5 * Math.sqrt(engine[a] / count[a]));
			assertThat(inside[a] / count[a]).isBetween(0.775, 0.825);
		}
	}

	/**
	 * In 84 days without a recorded dose for the level and without a drain, what the level did it did by itself. Taken without knowing
	 * anything of the pool: CYA loses 0.25 % a day, CH stays.
	 */
	@Test
	void baselineDriftBeatsADefaultRate() throws IOException {
		int days = 84;
		Map<String, double[]> truth = truth();
		Map<String, DriftEngine> engines = engines();
		double[] engine = new double[2];
		double[] usual = new double[2];
		int[] count = new int[2];
		for (NamedSeason season : folder.seasons()) {
			List<SeasonVisit> visits = season.record().visits();
			for (long week : List.of(6, 14, 22)) {
				long today = season.first() + 7 * week;
				double[] before = truth.get(season.name() + "," + 7 * week);
				double[] after = truth.get(season.name() + "," + (7 * week + days));
				if (before == null || after == null
						|| !(untouched(visits, Level.CYA, today, days) || untouched(visits, Level.CH, today, days))) {
					continue;
				}
				SeasonDrift drift = engines.get(season.climate()).assess(season.record(), today, today + days, Map.of());
				for (int a = 0; a < 2; a++) {
					Level name = (a == 0) ? Level.CYA : Level.CH;
					LevelDrift level = drift.levels().get(name);
					if (level.baselineDrift() == null || !untouched(visits, name, today, days)) {
						continue;
					}
					double moved = after[a] - before[a];
					double kept = (a == 0) ? Math.exp(-0.0025 * days) : 1;
					engine[a] += Math.pow(level.baselineDrift() * days - moved, 2);
					usual[a] += Math.pow(level.today().middle() * (kept - 1) - moved, 2);
					count[a]++;
				}
			}
		}
		for (int a = 0; a < 2; a++) {
			assertThat(count[a]).isGreaterThan(200);
			assertThat(Math.sqrt(engine[a] / count[a])).as("level " + a + " beside " + Math.sqrt(usual[a] / count[a]))
				.isLessThan(((a == 0) ? 0.85 : 0.6) * Math.sqrt(usual[a] / count[a]));
		}
	}

	/** No dose of it dissolves in these days, and no water was replaced. */
	private static boolean untouched(List<SeasonVisit> visits, Level level, long today, int days) {
		return visits.stream()
			.filter(visit -> visit.day() >= today - 8 && visit.day() < today + days)
			.allMatch(visit -> (visit.replaced() == 0 || visit.day() < today) && visit.doses()
				.stream()
				.allMatch(dose -> dose.change() != null && dose.change().getOrDefault(level, 0.0) == 0));
	}

	@Test
	void assessmentIgnoresLaterVisits() {
		for (int n = 0; n < 12; n++) {
			NamedSeason season = folder.seasons().get(n);
			List<SeasonVisit> visits = season.record().visits();
			SeasonRecord half = new SeasonRecord(season.record().pool(), visits.subList(0, visits.size() / 2), TechnicianBias.NONE);
			DriftEngine engine = engines().get(season.climate());
			WalkForward whole = engine.walkForward(season.record());
			WalkForward part = engine.walkForward(half);
			while (part.hasNext()) {
				assertThat(part.next(TechnicianBias.NONE)).isEqualTo(whole.next(TechnicianBias.NONE));
			}
			assertThat(whole.hasNext()).isTrue();
		}
	}

	@Test
	void everyVisitGetsALineAndLowerThresholdFlagsMore(@TempDir Path dir) throws IOException {
		Path small = dir.resolve("in");
		Files.createDirectory(small);
		Set<String> kept = new HashSet<>();
		folder.seasons().subList(0, 6).forEach(season -> kept.add(season.name()));
		for (String file : List.of("seasons.csv", "visits.csv", "doses.csv", "events.csv")) {
			List<String> lines = Files.readAllLines(DRIFT.resolve(file));
			List<String> few = new ArrayList<>(lines.subList(0, 1));
			lines.stream().filter(line -> kept.contains(line.substring(0, 4))).forEach(few::add);
			Files.write(small.resolve(file), few);
		}
		Files.copy(DRIFT.resolve("climate.csv"), small.resolve("climate.csv"));
		List<String> calm = flags(small, dir.resolve("calm.csv"), "0.95");
		List<String> awake = flags(small, dir.resolve("awake.csv"), "0.3");
		long visits = folder.seasons().subList(0, 6).stream().mapToLong(season -> season.record().visits().size()).sum();
		assertThat(calm).hasSize((int) (2 * visits + 1));
		assertThat(calm.get(0)).isEqualTo(
				"season,day,analyte,flag,level,level_lo80,level_hi80,p28,p28_lo80,p28_hi80,exit_day,exit_lo80,exit_hi80");
		assertThat(calm).allMatch(line -> line.split(",", -1).length == 13);
		assertThat(flagged(awake)).isGreaterThan(flagged(calm));
	}

	@Test
	void unreadableInputIsNamed(@TempDir Path dir) throws IOException {
		assertThat(run(DRIFT.toString())).startsWith("2 season: give a folder");
		assertThat(run(DRIFT.toString(), dir.resolve("o.csv").toString(), "often")).startsWith("2 season: not a threshold: often");
		assertThat(run(DRIFT.toString(), dir.resolve("o.csv").toString(), "1.5")).startsWith("2 season: not a setting");
		assertThat(run(dir.toString(), dir.resolve("o.csv").toString())).startsWith("2 season: no such file").contains("visits.csv");
		for (String file : List.of("seasons.csv", "visits.csv", "doses.csv", "events.csv", "climate.csv")) {
			Files.copy(DRIFT.resolve(file), dir.resolve(file));
		}
		Files.writeString(dir.resolve("visits.csv"), "season,day,tech,cya,cya_q,ch\nP001,0,T1,many,,300\n");
		assertThat(run(dir.toString(), dir.resolve("o.csv").toString())).contains("visits.csv line 2: cya is not a number: many");
	}

	/** A hundred seasons, as a fixed seed draws them; all with {@code -Ddraws=20000}. */
	private static List<NamedSeason> drawn() {
		List<NamedSeason> seasons = new ArrayList<>(folder.seasons());
		Collections.shuffle(seasons, new Random(4));
		return seasons.subList(0, (Draws.COUNT < 20_000) ? 100 : seasons.size());
	}

	private static Map<String, DriftEngine> engines() {
		Map<String, DriftEngine> engines = new HashMap<>();
		folder.climates().forEach((name, climate) -> engines.put(name, new DriftEngine(climate, FEW)));
		return engines;
	}

	private static Map<String, double[]> truth() throws IOException {
		Map<String, double[]> truth = new HashMap<>();
		for (String line : Files.readAllLines(DRIFT.resolve("truth.csv"))) {
			String[] fields = line.split(",", -1);
			if (!fields[0].equals("season")) {
				truth.put(fields[0] + "," + fields[1], new double[]{ Double.parseDouble(fields[2]), Double.parseDouble(fields[6]) });
			}
		}
		return truth;
	}

	private static List<String> flags(Path in, Path out, String threshold) throws IOException {
		assertThat(run(in.toString(), out.toString(), threshold)).startsWith("0");
		return Files.readAllLines(out);
	}

	private static long flagged(List<String> lines) {
		return lines.stream().map(line -> line.split(",", -1)[3]).filter(flag -> flag.equals("lo") || flag.equals("hi")).count();
	}

	private static String run(String... args) {
		ByteArrayOutputStream err = new ByteArrayOutputStream();
		int status = DriftBacktest.run(args, new PrintStream(new ByteArrayOutputStream()),
				new PrintStream(err, true, StandardCharsets.UTF_8));
		return status + " " + err.toString(StandardCharsets.UTF_8);
	}

}
