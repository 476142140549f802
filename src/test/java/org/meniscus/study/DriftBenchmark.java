package org.meniscus.study;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;

import org.meniscus.tools.SeasonDataset;
import org.meniscus.tools.SeasonDataset.NamedSeason;
import org.meniscus.water.drift.DriftEngine;
import org.meniscus.water.drift.DriftSettings;
import org.meniscus.water.drift.SeasonVisit;

/**
 * How fast all pools of a company are gone through: {@code season-scan DIR}. For each pool-season one pass over all its visits and
 * one forecast from the last of them, half a year ahead, as the nightly recompute does it, on all cores.
 */
public final class DriftBenchmark {

	/** The first rounds warm up the compiler. */
	private static final int ROUNDS = 8;

	private static final int DAYS_AHEAD = 182;

	private DriftBenchmark() {
	}

	public static void main(String[] args) {
		int status = run(args, System.out, System.err);
		if (status != 0) {
			System.exit(status);
		}
	}

	/** @return 0 when the folder was gone through, 2 otherwise */
	static int run(String[] args, PrintStream out, PrintStream err) {
		if (args.length != 1) {
			err.println("season-scan: give a folder");
			return 2;
		}
		try {
			SeasonDataset folder = SeasonDataset.read(Path.of(args[0]));
			Map<String, DriftEngine> engines = folder.climates().entrySet().stream()
				.collect(Collectors.toMap(Map.Entry::getKey, climate -> new DriftEngine(climate.getValue(), DriftSettings.SCAN)));
			double weeks = folder.seasons().stream().mapToLong(season -> lastDay(season) - season.first()).sum() / 7.0;
			for (int round = 1; round <= ROUNDS; round++) {
				long begun = System.nanoTime();
				long flagged = folder.seasons().parallelStream().filter(season -> flagged(engines, season)).count();
				double seconds = (System.nanoTime() - begun) / 1e9;
				out.println(String.format(Locale.ROOT,
						"%d pool-seasons of %.0f weeks in %.2f s: %.0f pool-seasons/s, %.0f pool-weeks/s (%d flagged; %d particles, %d cores)",
						folder.seasons().size(), weeks / folder.seasons().size(), seconds, folder.seasons().size() / seconds,
						weeks / seconds, flagged, DriftSettings.SCAN.particles(), Runtime.getRuntime().availableProcessors()));
			}
			return 0;
		}
		catch (NoSuchFileException ex) {
			err.println("season-scan: no such file: " + ex.getFile());
		}
		catch (IOException | IllegalArgumentException ex) {
			err.println("season-scan: " + ex.getMessage());
		}
		return 2;
	}

	private static boolean flagged(Map<String, DriftEngine> engines, NamedSeason season) {
		DriftEngine engine = engines.get(season.climate());
		if (engine == null) {
			throw new IllegalArgumentException("in seasons.csv: " + season.name() + " has no climate: " + season.climate());
		}
		long today = lastDay(season);
		return engine.assess(season.record(), today, today + DAYS_AHEAD, Map.of()).levels().values().stream()
			.anyMatch(level -> level.flag() != null);
	}

	private static long lastDay(NamedSeason season) {
		List<SeasonVisit> visits = season.record().visits();
		return visits.isEmpty() ? season.first() : visits.get(visits.size() - 1).day();
	}

}
