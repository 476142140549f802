package org.meniscus.tools;

import java.io.IOException;
import java.io.PrintStream;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.PriorityQueue;

import org.jspecify.annotations.Nullable;
import org.meniscus.tools.SeasonDataset.NamedSeason;
import org.meniscus.water.demand.ClimateNormals;
import org.meniscus.water.drift.DriftEngine;
import org.meniscus.water.drift.DriftSettings;
import org.meniscus.water.drift.LevelDrift;
import org.meniscus.water.drift.LevelDrift.RangeExit;
import org.meniscus.water.drift.SeasonDrift;
import org.meniscus.water.drift.TechnicianBiasEstimator;
import org.meniscus.water.drift.WalkForward;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.RangeEnd;
import org.meniscus.water.units.Band;

/**
 * Judges every visit of a folder of pool seasons with what was known at it: {@code season DIR OUT.csv [threshold]}. See
 * docs/season.md.
 */
public final class DriftBacktest {

	private DriftBacktest() {
	}

	public static void main(String[] args) {
		int status = run(args, System.out, System.err);
		if (status != 0) {
			System.exit(status);
		}
	}

	/** @return 0 when every season was assessed, 2 when nothing could be done */
	static int run(String[] args, PrintStream out, PrintStream err) {
		if (args.length < 2 || args.length > 3) {
			err.println("season: give a folder and a file, and if you like a threshold: DIR OUT.csv 0.5");
			return 2;
		}
		try {
			DriftSettings settings = DriftSettings.SINGLE_POOL;
			if (args.length == 3) {
				settings = settings.withFlagThreshold(Double.parseDouble(args[2]));
			}
			long begun = System.nanoTime();
			SeasonDataset folder = SeasonDataset.read(Path.of(args[0]));
			List<Assessed> assessed = assess(folder, settings);
			write(Path.of(args[1]), assessed);
			out.println(String.format(Locale.ROOT, "%d pool-seasons, %d visits assessed in %.1f s", folder.seasons().size(),
					assessed.size(), (System.nanoTime() - begun) / 1e9));
			return 0;
		}
		catch (NumberFormatException ex) {
			err.println("season: not a threshold: " + args[2]);
		}
		catch (NoSuchFileException ex) {
			err.println("season: no such file: " + ex.getFile());
		}
		catch (IOException | IllegalArgumentException ex) {
			err.println("season: " + ex.getMessage());
		}
		return 2;
	}

	private record Assessed(NamedSeason season, int order, SeasonDrift drift) {
	}

	/** In order of date over all pools, so that what is learnt at one helps at another only later. */
	private static List<Assessed> assess(SeasonDataset folder, DriftSettings settings) {
		Map<String, DriftEngine> engines = new HashMap<>();
		List<SeasonPass> walks = new ArrayList<>();
		for (NamedSeason season : folder.seasons()) {
			ClimateNormals climate = folder.climates().get(season.climate());
			if (climate == null) {
				throw new IllegalArgumentException(
						"in seasons.csv: " + season.name() + " has no climate in climate.csv: " + season.climate());
			}
			DriftEngine engine = engines.computeIfAbsent(season.climate(), name -> new DriftEngine(climate, settings));
			walks.add(new SeasonPass(season, engine.walkForward(season.record()), walks.size()));
		}
		TechnicianBiasEstimator biasEstimator = new TechnicianBiasEstimator();
		PriorityQueue<SeasonPass> byDate = new PriorityQueue<>(
				Comparator.comparingLong((SeasonPass walking) -> walking.walk.nextDay()).thenComparingInt(SeasonPass::order));
		for (SeasonPass walking : walks) {
			walking.walk.reportingTo(biasEstimator);
			if (walking.walk.hasNext()) {
				byDate.add(walking);
			}
		}
		List<Assessed> assessed = new ArrayList<>();
		while (!byDate.isEmpty()) {
			SeasonPass walking = byDate.poll();
			assessed.add(new Assessed(walking.season, walking.order, walking.walk.next(biasEstimator.excluding(walking.walk))));
			if (walking.walk.hasNext()) {
				byDate.add(walking);
			}
		}
		assessed.sort(Comparator.comparingInt(Assessed::order).thenComparingLong(at -> at.drift().today()));
		return assessed;
	}

	private record SeasonPass(NamedSeason season, WalkForward walk, int order) {
	}

	private static void write(Path file, List<Assessed> assessed) throws IOException {
		try (Writer writer = Files.newBufferedWriter(file, StandardCharsets.UTF_8)) {
			writer.write("season,day,analyte,flag,level,level_lo80,level_hi80,p28,p28_lo80,p28_hi80,exit_day,exit_lo80,exit_hi80\n");
			for (Assessed at : assessed) {
				line(writer, at, Level.CYA, "cya");
				line(writer, at, Level.CH, "ch");
			}
		}
	}

	private static void line(Writer writer, Assessed at, Level name, String analyte) throws IOException {
		long first = at.season().first();
		LevelDrift level = at.drift().levels().get(name);
		String start = at.season().name() + "," + (at.drift().today() - first) + "," + analyte + ",";
		if (level == null || level.today() == null) {
			writer.write(start + ",,,,,,,,,\n");
			return;
		}
		RangeExit low = Objects.requireNonNull(level.exits().get(RangeEnd.LOW));
		RangeExit high = Objects.requireNonNull(level.exits().get(RangeEnd.HIGH));
		RangeEnd side = (level.flag() != null) ? level.flag().end()
				: (high.probabilityWithinHorizon() >= low.probabilityWithinHorizon()) ? RangeEnd.HIGH : RangeEnd.LOW;
		RangeExit leaving = (side == RangeEnd.LOW) ? low : high;
		writer.write(start + ((level.flag() == null) ? "" : (side == RangeEnd.LOW) ? "lo" : "hi") + "," + band(level.today()) + ","
				+ band(level.forecast().get(1).band()) + "," + day(leaving.day50(), first) + "," + day(leaving.day10(), first) + ","
				+ day(leaving.day90(), first) + "\n");
	}

	private static String band(Band band) {
		return String.format(Locale.ROOT, "%.2f,%.2f,%.2f", band.middle(), band.low(), band.high());
	}

	private static String day(@Nullable Long day, long first) {
		return (day != null) ? Long.toString(day - first) : "";
	}

}
