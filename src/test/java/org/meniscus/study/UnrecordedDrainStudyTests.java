package org.meniscus.study;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;

import org.junit.jupiter.api.Test;

/** A short form of {@link UnrecordedDrainStudy}; the whole stands in docs/benchmarks.md. */
class UnrecordedDrainStudyTests {

	@Test
	void mostDrainsAreFoundAndFewThatWereNone() throws IOException {
		UnrecordedDrainStudy.Tally tally = UnrecordedDrainStudy.study(Path.of("src/test/resources/drift"), 3, true, 10);
		assertThat(tally.drains()).isEqualTo(40);
		assertThat(tally.foundWithinTwo()).isGreaterThan(0.65);
		assertThat(tally.falselyFound()).isLessThanOrEqualTo(3);
		assertThat(Math.abs(tally.shareError())).isLessThan(0.05);
	}

	/** Half of those drawn within 16 weeks; where none was drawn, as many as the simulation has (one pool in eight) and few more. */
	@Test
	void leaksAreFoundBeforeTheSeasonIsOver() throws IOException {
		UnrecordedDrainStudy.LeakTally tally = UnrecordedDrainStudy.leaks(Path.of("src/test/resources/drift"), 3, 16);
		assertThat(tally.leaks()).isGreaterThan(18);
		assertThat(tally.found().get(16)).isGreaterThan(tally.leaks() / 2);
		assertThat(tally.noted()).isLessThanOrEqualTo(tally.seasons() / 4);
	}

	@Test
	void whatCannotBeUnderstoodIsSaid() {
		ByteArrayOutputStream err = new ByteArrayOutputStream();
		PrintStream to = new PrintStream(err, true, StandardCharsets.UTF_8);
		assertThat(UnrecordedDrainStudy.run(new String[0], to, to)).isEqualTo(2);
		assertThat(UnrecordedDrainStudy.run(new String[]{ "nowhere" }, to, to)).isEqualTo(2);
		assertThat(UnrecordedDrainStudy.run(new String[]{ "nowhere", "x" }, to, to)).isEqualTo(2);
		assertThat(err.toString(StandardCharsets.UTF_8)).contains("drain: give a folder").contains("drain: no such file: nowhere")
			.contains("drain: not a seed: x");
	}

}
