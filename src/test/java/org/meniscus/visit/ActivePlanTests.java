package org.meniscus.visit;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.text.MessageFormat;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.Properties;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.meniscus.client.PoolId;
import org.meniscus.platform.PersonId;
import org.meniscus.water.assess.SwimReadiness;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.explain.Reason;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.plan.Plan;
import org.meniscus.water.plan.Plan.FollowUpStep;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.PlanResult;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;
import org.meniscus.water.units.Volume;

/** A plan over several visits keeps its days, survives storing and is followed until another takes over. */
class ActivePlanTests {

	/** A Wednesday. */
	private static final LocalDateTime TEN = LocalDateTime.of(2026, 11, 11, 10, 0);

	private static final PoolFacts POOL = PoolFacts.of(Volume.ofUsGallons(15_000), VolumeCertainty.MEASURED, BodyOfWater.POOL,
			Surface.PLASTER,
			false, Sanitizer.CHLORINE_BY_HAND);

	private static final Readings GREEN = Readings.builder().fc(0.3).ph(7.7).ta(50.0).ch(100.0).cya(40.0).celsius(26.0).build();

	private static Plan plan(Situation situation) {
		List<Product> truck = Arrays.stream(ProductKind.values()).map(kind -> Product.usual(kind.name(), kind)).toList();
		PlanResult outcome = Planner.plan(new PlanRequest(POOL, GREEN, situation, truck, TreatmentPolicy.defaults(), 7, UnitSystem.US));
		assertThat(outcome).isInstanceOf(Plan.class);
		return (Plan) outcome;
	}

	private static Advice advice(Situation situation) {
		return new AdviceFormatter(UnitSystem.US, "en", POOL.targets(), texts(""), null).format(plan(situation), situation, "basis", TEN);
	}

	@ParameterizedTest
	@CsvSource({ "0.5, 2026-11-11, MORNING", "4, 2026-11-11, AFTERNOON", "8, 2026-11-11, EVENING", "12, 2026-11-12, MORNING",
			"18, 2026-11-12, MORNING", "24, 2026-11-12, MORNING", "34, 2026-11-12, EVENING", "168, 2026-11-18, MORNING" })
	void followUpIsDatedToADayAndNeverToTheNight(double hours, LocalDate day, DatedFollowUp.PartOfDay part) {
		DatedFollowUp step = DatedFollowUp.of(new FollowUpStep(hours, null, null, Reason.of("later.test-all")), TEN);
		assertThat(step.day()).isEqualTo(day);
		assertThat(step.part()).isEqualTo(part);
	}

	@ParameterizedTest
	@EnumSource(names = { "ROUTINE", "GREEN_ALGAE_LIGHT", "BLACK_ALGAE", "STAINS_IRON", "HIGH_PHOSPHATE", "NEW_PLASTER", "CLOSING" })
	void followUpsSurviveStorageUnchanged(Situation situation) {
		Advice advice = advice(situation);
		Advice stored = Advice.fromJson(advice.toJson()).orElseThrow();
		assertThat(stored).isEqualTo(advice);
		assertThat(followUps(stored)).hasSameSizeAs(plan(situation).followUps()).isNotEmpty();
	}

	@Test
	void followUpsAreShownInTheReadersLanguage() {
		Advice advice = advice(Situation.GREEN_ALGAE_LIGHT);
		DatedFollowUp holdDay = followUps(advice).stream()
			.map(Advice.FollowUpText::step)
			.filter(step -> step.reason().code().equals("later.hold"))
			.findFirst()
			.orElseThrow();
		List<Advice.FollowUpText> read = followUps(Advice.fromJson(advice.toJson()).orElseThrow());
		DatedFollowUp stored = read.stream().map(Advice.FollowUpText::step).filter(holdDay::equals).findFirst().orElseThrow();
		assertThat(stored.describe(UnitSystem.US, texts(""))).startsWith("Test free chlorine and bring it back to").contains(" ppm");
		assertThat(stored.describe(UnitSystem.US, texts("_es"))).startsWith("Mida el cloro libre y devuélvalo a").contains(" ppm");
		assertThat(followUps(advice)).extracting(Advice.FollowUpText::text)
			.anyMatch(line -> line.startsWith("Thu, Nov 12, morning: Test free chlorine"));
	}

	@Test
	void adviceOfAnotherSchemaOrWithForeignTypesIsNotRead() {
		String json = advice(Situation.GREEN_ALGAE_LIGHT).toJson();
		String now = "\"schema\":" + Advice.SCHEMA;
		assertThat(json).contains(now, "\"is\":\"value\"", "\"is\":\"plan\"");
		assertThat(Advice.fromJson(json)).isPresent();
		assertThat(Advice.fromJson(json.replace(now, "\"schema\":" + (Advice.SCHEMA + 1)))).isEmpty();
		assertThat(Advice.fromJson(json.replace("\"is\":\"value\"", "\"is\":\"java.lang.Runtime\""))).isEmpty();
		assertThat(Advice.fromJson(json.replace("\"is\":\"plan\"", "\"is\":\"java.lang.Runtime\""))).isEmpty();
		assertThat(Advice.fromJson("{" + now + "}")).isEmpty();
	}

	@Test
	void refusalSurvivesStorageUnchanged() {
		PlanResult refused = Planner
			.plan(new PlanRequest(POOL, GREEN, Situation.DIARRHOEA, List.of(), TreatmentPolicy.defaults(), 7, UnitSystem.US));
		Advice advice = new AdviceFormatter(UnitSystem.US, "en", POOL.targets(), texts(""), null).format(refused, Situation.DIARRHOEA, "b",
				TEN);
		assertThat(advice.plan()).isNull();
		assertThat(Objects.requireNonNull(advice.refusal()).tasks()).isNotEmpty();
		assertThat(advice.swim().headline()).isEqualTo("Closed to swimmers until a new test or look.");
		assertThat(Advice.fromJson(advice.toJson())).contains(advice);
	}

	@Test
	void planIsActiveUntilALaterOneReplacesIt() {
		VisitRecord green = visit(11, advice(Situation.GREEN_ALGAE_LIGHT).toJson());
		VisitRecord unplanned = visit(13, null);
		ActivePlan standing = ActivePlan.of(List.of(unplanned, green)).orElseThrow();
		assertThat(standing.visit()).isEqualTo(green.id());
		assertThat(standing.situation()).isEqualTo(Situation.GREEN_ALGAE_LIGHT);
		assertThat(standing.due(LocalDate.of(2026, 11, 12))).isNotEmpty().allMatch(step -> !step.day().isAfter(LocalDate.of(2026, 11, 12)));
		assertThat(standing.after(LocalDate.of(2026, 11, 12))).isNotEmpty();
		assertThat(standing.due(LocalDate.of(2026, 12, 1))).isEqualTo(standing.steps());
		PlanResult refused = Planner
			.plan(new PlanRequest(POOL, GREEN, Situation.PUMP_OFF, List.of(), TreatmentPolicy.defaults(), 7, UnitSystem.US));
		String none = new AdviceFormatter(UnitSystem.US, "en", POOL.targets(), texts(""), null)
			.format(refused, Situation.PUMP_OFF, "b", TEN).toJson();
		assertThat(ActivePlan.of(List.of(visit(13, none), green))).as("no plan takes over where none was worked out").isPresent();
		Readings fine = Readings.builder().fc(3.0).ph(7.5).ta(100.0).ch(280.0).cya(40.0).celsius(26.0).build();
		PlanResult empty = Planner
			.plan(new PlanRequest(POOL, fine, Situation.ROUTINE, List.of(), TreatmentPolicy.defaults(), 0, UnitSystem.US));
		String nothing = new AdviceFormatter(UnitSystem.US, "en", POOL.targets(), texts(""), null)
			.format(empty, Situation.ROUTINE, "b", TEN).toJson();
		assertThat(ActivePlan.of(List.of(visit(13, nothing), green))).as("the newer plan has nothing further").isEmpty();
	}

	private static List<Advice.FollowUpText> followUps(Advice advice) {
		return Objects.requireNonNull(advice.plan()).followUps();
	}

	private static VisitRecord visit(int day, @Nullable String advice) {
		LocalDate on = LocalDate.of(2026, 11, day);
		Instant at = on.atTime(10, 0).toInstant(ZoneOffset.UTC);
		return new VisitRecord(new VisitId(UUID.randomUUID()), 0, new PoolId(UUID.randomUUID()), new PersonId(UUID.randomUUID()), "Lena",
				null, at,
				on, at, Situation.ROUTINE, GREEN, null, List.of(), List.of(), null, null, advice,
				SwimReadiness.of(POOL, GREEN, Situation.ROUTINE, TreatmentPolicy.defaults()), 0, false);
	}

	private static Wording.Texts texts(String language) {
		Properties texts = new Properties();
		for (String bundle : List.of("water", "visit")) {
			try (Reader reader = new InputStreamReader(
					Objects.requireNonNull(ActivePlanTests.class.getResourceAsStream("/messages/" + bundle + language + ".properties")),
					StandardCharsets.UTF_8)) {
				texts.load(reader);
			}
			catch (IOException ex) {
				throw new IllegalStateException(ex);
			}
		}
		return (key, args) -> MessageFormat.format(Objects.requireNonNull(texts.getProperty(key), key), args);
	}

}
