package org.meniscus.tools;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.text.MessageFormat;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.ResourceBundle;
import java.util.stream.Stream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.support.Draws;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.plan.Pools;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The plan tool's {@code --json} and several files, against docs/plan-tool.schema.json. */
class PlanJsonTests {

	private static final JsonMapper JSON = JsonMapper.shared();

	private static final JsonNode SCHEMA = schema();

	private static final Wording.Texts TEXTS = (key, args) -> MessageFormat
		.format(ResourceBundle.getBundle("messages.water", Locale.ROOT).getString(key), args);

	private record Printed(int status, List<String> lines, String err) {

		JsonNode json(int line) {
			return JSON.readTree(this.lines.get(line));
		}

	}

	private static JsonNode schema() {
		try {
			return JSON.readTree(Files.readString(Path.of("docs/plan-tool.schema.json")));
		}
		catch (IOException ex) {
			throw new IllegalStateException(ex);
		}
	}

	private static Printed print(String input, String... args) {
		ByteArrayOutputStream out = new ByteArrayOutputStream();
		ByteArrayOutputStream err = new ByteArrayOutputStream();
		int status = PlanPrinter.run(args, new ByteArrayInputStream(input.getBytes(StandardCharsets.UTF_8)),
				new PrintStream(out, true, StandardCharsets.UTF_8), new PrintStream(err, true, StandardCharsets.UTF_8));
		return new Printed(status, out.toString(StandardCharsets.UTF_8).lines().toList(), err.toString(StandardCharsets.UTF_8));
	}

	@Test
	void everyLineIsAsTheSchemaSaysOneForEachFileInOrder() throws IOException {
		List<String> files;
		try (Stream<Path> all = Stream.concat(Files.list(Path.of("docs/examples")), Files.list(Path.of("src/test/resources/cases")))) {
			files = all.map(Path::toString).filter(name -> name.endsWith(".json")).sorted().toList();
		}
		Printed printed = print("", Stream.concat(Stream.of("--json"), files.stream()).toArray(String[]::new));
		assertThat(printed.status()).isZero();
		assertThat(printed.lines()).hasSameSizeAs(files).hasSizeGreaterThan(25);
		for (int n = 0; n < files.size(); n++) {
			assertThat(SchemaCheck.faults(SCHEMA, printed.json(n))).as(files.get(n)).isEmpty();
			assertThat(files.get(n)).endsWith(printed.json(n).get("file").asString());
		}
	}

	@Test
	void drawnPlansAndRefusalsAreAsTheSchemaSays() {
		Random random = new Random(11);
		int refused = 0;
		for (int n = 0; n < Draws.COUNT / 4; n++) {
			PlanRequest request = Pools.random(random);
			PlanJson json = PlanJson.of("drawn.json", request, Planner.plan(request), TEXTS);
			assertThat(SchemaCheck.faults(SCHEMA, JSON.valueToTree(json))).as("%s", request).isEmpty();
			assertThat(json.closed() && json.swim().notBeforeHours() != null).as("closed and a time").isFalse();
			refused += json.outcome().equals("REFUSED") ? 1 : 0;
		}
		assertThat(refused).isPositive();
	}

	@Test
	void amountsLevelsAndTimesAreThoseOfThePlan() {
		JsonNode plan = print("", "--json", "docs/examples/routine-plaster.json").json(0);
		JsonNode acid = plan.get("steps").get(0);
		assertThat(acid.get("kind").asString()).isEqualTo("MURIATIC_3145");
		double millilitres = acid.get("millilitres").asDouble();
		assertThat(acid.get("shown").asString()).isEqualTo(Math.round(millilitres) + " mL");
		// 1.16 kg/L: reference/product-doses.csv
		assertThat(acid.get("grams").asDouble()).isCloseTo(1.16 * millilitres, within(0.01));
		// acid, then 30 minutes: trade/products.csv
		assertThat(plan.get("steps").get(1).get("startAfterHours").asDouble()).isEqualTo(0.5);
		JsonNode levels = plan.get("levels");
		assertThat(levels.get("before").get("PH").asDouble()).isEqualTo(7.9);
		assertThat(levels.get("afterSteps").size()).isEqualTo(plan.get("steps").size());
		JsonNode last = levels.get("afterSteps").get(plan.get("steps").size() - 1);
		JsonNode settled = levels.get("settled");
		assertThat(settled.get("FC")).isEqualTo(levels.get("before").get("FC"));
		// 0.7058 ppm of TA for each ppm of chlorine used up: reference/side-effects.csv
		assertThat(settled.get("TA").asDouble())
			.isCloseTo(last.get("TA").asDouble() - 0.7058 * (last.get("FC").asDouble() - settled.get("FC").asDouble()), within(0.05));
		assertThat(settled.get("PH").asDouble()).isLessThan(last.get("PH").asDouble()).isGreaterThan(7.4);
	}

	@Test
	void badFileAmongSeveralGivesItsFaultAndTheOthersAreStillPrinted() throws IOException {
		Printed printed = print("{\"pool\": {\"gallons\": \"many\"}, \"readings\": {}}", "--json", "docs/examples/routine-plaster.json",
				"-",
				"no-such.json", "docs/examples/green-vinyl.json");
		assertThat(printed.status()).isEqualTo(2);
		assertThat(printed.lines()).hasSize(4);
		assertThat(printed.json(0).get("outcome").asString()).isEqualTo("PLAN");
		assertThat(printed.json(1).get("error").asString()).contains("gallons");
		assertThat(printed.json(2).get("error").asString()).isEqualTo("no such file: no-such.json");
		assertThat(printed.json(3).get("file").asString()).isEqualTo("green-vinyl.json");
		printed.lines().forEach(line -> assertThat(SchemaCheck.faults(SCHEMA, JSON.readTree(line))).isEmpty());
	}

	@Test
	void severalFilesForPeopleStandEachUnderItsName() {
		Printed printed = print("", "docs/examples/routine-plaster.json", "no-such.json", "docs/examples/green-vinyl.json");
		assertThat(printed.status()).isEqualTo(2);
		assertThat(printed.lines()).contains("== docs/examples/routine-plaster.json", "== docs/examples/green-vinyl.json", "Routine visit");
		assertThat(printed.err()).isEqualTo("plan: no such file: no-such.json\n");
	}

	@Test
	void refusalSaysWhyAndEndsWithOne() {
		Printed printed = print("{\"pool\": {\"gallons\": 15000}, \"readings\": {\"fc\": 1, \"ta\": 100}}", "--json", "-");
		assertThat(printed.status()).isEqualTo(1);
		assertThat(printed.json(0).get("outcome").asString()).isEqualTo("REFUSED");
		assertThat(printed.json(0).get("reasons").get(0).asString()).contains("pH");
		assertThat(SchemaCheck.faults(SCHEMA, printed.json(0))).isEmpty();
	}

	@ParameterizedTest
	@ValueSource(strings = { "\"outcome\": \"MAYBE\"", "\"closed\": \"no\"", "\"minimumFc\": -1", "\"extra\": 1", "\"replace\": {}" })
	void schemaRefusesWhatIsNotSo(String changed) {
		String line = print("", "--json", "docs/examples/routine-plaster.json").lines().get(0);
		JsonNode wrong = JSON.readTree("{" + changed + ", " + line.substring(1).replaceFirst(
				changed.substring(0, changed.indexOf(':')) + ":(\"[A-Z]+\"|true|false|null|[0-9.]+),", ""));
		assertThat(SchemaCheck.faults(SCHEMA, wrong)).isNotEmpty();
	}

}
