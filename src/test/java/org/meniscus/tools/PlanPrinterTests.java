package org.meniscus.tools;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class PlanPrinterTests {

	private record Printed(int status, String out, String err) {
	}

	private static Printed print(String input, String... args) {
		ByteArrayOutputStream out = new ByteArrayOutputStream();
		ByteArrayOutputStream err = new ByteArrayOutputStream();
		int status = PlanPrinter.run(args, new ByteArrayInputStream(input.getBytes(StandardCharsets.UTF_8)),
				new PrintStream(out, true, StandardCharsets.UTF_8), new PrintStream(err, true, StandardCharsets.UTF_8));
		return new Printed(status, out.toString(StandardCharsets.UTF_8), err.toString(StandardCharsets.UTF_8));
	}

	@Test
	void documentedExampleIsWhatItPrints() throws IOException {
		String page = Files.readString(Path.of("docs/plan-tool.md"));
		List<String> documented = page.substring(page.indexOf("## What it prints for")).lines()
			.filter(line -> line.startsWith("    "))
			.map(line -> line.substring(4))
			.toList();
		Printed printed = print("", "docs/examples/routine-plaster.json");
		assertThat(printed.status()).isZero();
		assertThat(printed.out().lines().filter(line -> !line.isBlank()).toList()).hasSizeGreaterThan(40).isEqualTo(documented);
		assertThat(printed.err()).isEmpty();
	}

	@ParameterizedTest
	@ValueSource(strings = { "green-vinyl", "floater-plaster" })
	void everyExampleIsPrintedWithStepsLevelsAndCost(String example) {
		Printed printed = print("", "docs/examples/" + example + ".json");
		assertThat(printed.status()).isZero();
		assertThat(printed.out()).contains("1. ", "Levels, now -> after", "Ready to swim when all of this is so", "  cost: ", "  today ")
			.doesNotContain("{", "null");
	}

	@Test
	void requestIsReadFromStandardInputAndRefusalSaysWhatIsMissing() {
		Printed printed = print("{\"pool\": {\"gallons\": 15000}, \"readings\": {\"fc\": 1, \"ta\": 100}}", "-");
		assertThat(printed.status()).isEqualTo(1);
		assertThat(printed.out()).contains("No dose is worked out", "pH").doesNotContain("Cost");
	}

	@Test
	void closedPoolIsSaidFirstWithOrWithoutADose() {
		for (String situation : List.of("PUMP_OFF", "ROUTINE")) {
			Printed printed = print("{\"pool\": {\"gallons\": 15000}, \"situation\": \"" + situation
					+ "\", \"readings\": {\"fc\": 0, \"ph\": 7.5, \"ta\": 100, \"cya\": 40, \"drainVisible\": false}}", "-");
			assertThat(printed.out()).startsWith(situation.equals("ROUTINE") ? "Routine visit" : "Pump not running")
				.contains("Ready to swim when all of this is so");
			assertThat(printed.out().lines().skip(1).findFirst()).hasValue("Closed to swimmers until a new test or look.");
		}
	}

	@Test
	void balancedWaterPrintsThatNoChemicalIsNeeded() {
		Printed printed = print(
				"{\"pool\": {\"gallons\": 15000}, \"readings\": {\"fc\": 4, \"ph\": 7.5, \"ta\": 100, \"ch\": 280, \"cya\": 40, \"drainVisible\": true},"
						+ " \"daysToNextVisit\": 1}",
				"-");
		assertThat(printed.status()).isZero();
		assertThat(printed.out()).contains("No chemicals at this visit").doesNotContain("1. ");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', value = { "{ | plan: not JSON", "{\"pool\": {\"gallons\": \"many\"}, \"readings\": {}} | gallons",
			"{\"pool\": {\"surface\": \"GRASS\"}, \"readings\": {}} | surface", "{} | pool" })
	void requestThatIsNotUnderstoodNamesTheField(String json, String named) {
		Printed printed = print(json, "-");
		assertThat(printed.status()).isEqualTo(2);
		assertThat(printed.err()).startsWith("plan: ").contains(named);
		assertThat(printed.out()).isEmpty();
	}

	@Test
	void missingFileAndWrongArgumentsAreNamed() {
		assertThat(print("", "no-such.json")).isEqualTo(new Printed(2, "", "plan: no such file: no-such.json\n"));
		assertThat(print("").err()).startsWith("plan: give files");
	}

}
