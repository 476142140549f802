package org.meniscus.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.meniscus.study.DriftScore.Estimate;
import org.meniscus.study.DriftScore.Exit;
import org.meniscus.study.DriftScore.Interval;
import org.meniscus.study.DriftScore.Key;
import org.meniscus.study.DriftScore.Side;
import org.meniscus.study.DriftScore.TrueSeason;
import org.meniscus.study.DriftScore.TrueVisit;

/** The scorer against the score of the example in src/test/resources/drift and against seasons small enough to score by hand. */
class DriftScoreTests {

	private static final Path DRIFT = Path.of("src/test/resources/drift");

	@Test
	void exampleEstimatesGetTheScorePublishedWithThem() throws IOException {
		assertThat(run(DRIFT.toString(), DRIFT.resolve("example-estimates.csv").toString()))
			.isEqualTo("0 " + Files.readString(DRIFT.resolve("example-score.txt")));
	}

	@Test
	void leadCountsFromTheFirstFlagOfTheUnbrokenRunBeforeTheExit() {
		Map<Key, Estimate> estimates = new HashMap<>();
		rising().forEach(visit -> estimates.put(cya(visit.day()), flag(visit.day() == 14 || visit.day() >= 35 ? Side.HIGH : null)));
		Map<String, Number> figures = DriftScore.flags(List.of(risingSeason()), estimates).figures();
		assertThat(figures).containsEntry("true exits (day >= 28)", 1)
			.containsEntry("median lead, days (missed = 0)", 25)
			.containsEntry("share flagged >= 14 days ahead", 1.0)
			.containsEntry("share flagged >= 28 days ahead", 0.0)
			.containsEntry("share missed", 0.0);
		estimates.put(cya(56), flag(null));
		assertThat(DriftScore.flags(List.of(risingSeason()), estimates).figures()).containsEntry("share missed", 1.0)
			.containsEntry("share flagged < 14 days ahead", 0.0);
	}

	@Test
	void droppedAndRaisedFlagIsTwoFalseAlarmsAndStandingOneIsJudgedAgainEvery84Days() {
		List<TrueVisit> steady = new ArrayList<>();
		for (int day = 0; day < 190; day += 7) {
			steady.add(new TrueVisit(day, 300, 300, Map.of(), null));
		}
		TrueSeason season = new TrueSeason("A", "ch", 150, 1000, steady, List.of());
		Map<Key, Estimate> twice = new HashMap<>();
		for (int day : List.of(28, 35, 49)) {
			twice.put(new Key("A", day, "ch"), flag(Side.LOW));
		}
		assertThat(DriftScore.flags(List.of(season), twice).figures()).containsEntry("false alarms per pool-season", 2.0)
			.containsEntry("  of them never within 15 % of limit", 2.0)
			.containsEntry("share of flagged visits false", 1.0);
		Map<Key, Estimate> standing = new HashMap<>();
		steady.forEach(visit -> standing.put(new Key("A", visit.day(), "ch"), flag(Side.HIGH)));
		assertThat(DriftScore.flags(List.of(season), standing).figures()).containsEntry("false alarms per pool-season", 3.0);
	}

	@Test
	void levelsAreScoredFromDay28OnAndWhereTheTrueLevelIsNearTheRange() {
		Map<Key, Estimate> estimates = new HashMap<>();
		for (TrueVisit visit : rising()) {
			double far = (visit.level() < 125) ? 2 : 50;
			estimates.put(cya(visit.day()),
					new Estimate(Side.HIGH, visit.level() + far, new Interval(visit.level() + 1, visit.level() + 3.0),
							visit.in28Days() - 6, new Interval(visit.in28Days() - 10, visit.in28Days() - 4), 62.0, new Interval(50, null)));
		}
		// Range 30 to 100: near is 18 to 125, the level is 40 + day, so days 28 to 84 count.
		Map<String, Number> figures = DriftScore.levels(List.of(risingSeason()), estimates, false).figures();
		number(figures, "RMSE level today, ppm", 2);
		number(figures, "  same, last reading", 5);
		number(figures, "share of visits with a level", 1);
		number(figures, "coverage of 80 % level interval", 0);
		number(figures, "RMSE level in 28 days, ppm", 6);
		number(figures, "coverage of 80 % interval, 28 days", 0);
		number(figures, "mean width of it, ppm", 6);
		number(figures, "interval (Winkler) score, ppm", 6 + 10 * 4);
		number(figures, "coverage of 80 % exit interval", 1);
		number(figures, "median abs error of exit day", 2);
		// With day 91, at 131 ppm, one of ten visits is 50 ppm off.
		number(DriftScore.levels(List.of(risingSeason()), estimates, true).figures(), "RMSE level today, ppm",
				Math.sqrt((9 * 4 + 2500) / 10.0));
	}

	@Test
	void exitThatIsNotSeenIsCoveredByAnIntervalThatEndsAfterTheDaysJudged() {
		TrueSeason season = new TrueSeason("A", "cya", 30, 100, List.of(new TrueVisit(28, 60, 60, Map.of(), 60.0)), List.of());
		for (Double end : new Double[]{ null, 113.0, 112.0 }) {
			Estimate estimate = new Estimate(Side.HIGH, null, null, null, null, 70.0, new Interval(50, end));
			number(DriftScore.levels(List.of(season), Map.of(cya(28), estimate), false).figures(), "coverage of 80 % exit interval",
					(end == null || end > 28 + 84) ? 1 : 0);
		}
	}

	@Test
	void unusableEstimatesAreNamed(@TempDir Path dir) throws IOException {
		String header = "season,day,analyte,flag,level,level_lo80,level_hi80,p28,p28_lo80,p28_hi80,exit_day,exit_lo80,exit_hi80\n";
		Path file = dir.resolve("e.csv");
		assertThat(run(DRIFT.toString())).startsWith("2 drift-score: give a folder and a file");
		assertThat(run(DRIFT.toString(), file.toString())).startsWith("2 drift-score: no such file");
		Files.writeString(file, header + "P001,0,ch,up,,,,,,,,,\n");
		assertThat(run(DRIFT.toString(), file.toString())).startsWith("2 drift-score: not a flag: up");
		Files.writeString(file, header + "P001,0,ch,,,,,,,,,,\nP001,0,ch,,,,,,,,,,\n");
		assertThat(run(DRIFT.toString(), file.toString())).startsWith("2 drift-score: two lines for");
		Files.writeString(file, header + "P001,1,ch,,,,,,,,,,\n");
		assertThat(run(DRIFT.toString(), file.toString())).startsWith("2 drift-score: 1 lines do not belong to a visit");
	}

	/** CYA 40 ppm on day 0, one ppm more a day, beyond 100 ppm on day 60; each reading 5 ppm too high. */
	private static TrueSeason risingSeason() {
		return new TrueSeason("A", "cya", 30, 100, rising(), List.of(new Exit(Side.HIGH, 60)));
	}

	private static List<TrueVisit> rising() {
		List<TrueVisit> visits = new ArrayList<>();
		for (int day = 0; day < 92; day += 7) {
			visits.add(new TrueVisit(day, 40 + day, 68 + day, Map.of(Side.HIGH, Math.max(60, day)), 45.0 + day));
		}
		return visits;
	}

	private static Key cya(int day) {
		return new Key("A", day, "cya");
	}

	private static Estimate flag(@Nullable Side side) {
		return new Estimate(side, null, null, null, null, null, null);
	}

	private static void number(Map<String, Number> figures, String measure, double expected) {
		assertThat(figures.get(measure).doubleValue()).as(measure).isCloseTo(expected, within(1e-9));
	}

	/** Exit status, what is printed and what is complained of. */
	private static String run(String... args) {
		ByteArrayOutputStream both = new ByteArrayOutputStream();
		PrintStream stream = new PrintStream(both, true, StandardCharsets.UTF_8);
		int status = DriftScore.run(args, stream, stream);
		return status + " " + both.toString(StandardCharsets.UTF_8);
	}

}
