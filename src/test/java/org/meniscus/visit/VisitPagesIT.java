package org.meniscus.visit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.meniscus.support.MockMvcSignIn.signedInAs;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.multipart;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.awt.Color;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.time.LocalDate;
import java.util.Map;
import java.util.UUID;

import javax.imageio.ImageIO;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantContext;
import org.meniscus.report.ReportService;
import org.meniscus.route.RouteFixtures;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopId;
import org.meniscus.water.assess.TreatmentPolicy;
import org.meniscus.water.plan.PlanRequest;
import org.meniscus.water.plan.Planner;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.TestKit;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.StorageTemperature;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.request.MockMultipartHttpServletRequestBuilder;
import org.springframework.web.util.HtmlUtils;

/** The visit's pages through the real filters, without a browser. */
class VisitPagesIT extends VisitPagesTest {

	@Autowired
	ReportService reports;

	UUID bleach;

	@BeforeEach
	void liquidChlorine() {
		bleach = rows.product(here.company, "LIQUID_CHLORINE_125", "Liquid chlorine", 12.5, "ML", java.util.Map.of());
	}

	@Test
	void repeatedVisitIsStoredOnceAndConflictingContentsAreRefused() throws Exception {
		UUID id = UUID.randomUUID();
		MockHttpServletResponse first = send(lena, visit(id).param("fc", "2").param("ph", "7,5"));
		assertThat(first.getRedirectedUrl()).isEqualTo("/visits/" + id + "?saved");
		assertThat(send(lena, visit(id).param("fc", "2").param("ph", "7,5")).getRedirectedUrl()).isEqualTo(first.getRedirectedUrl());
		assertThat(send(lena, visit(id).param("fc", "3").param("ph", "7.5")).getContentAsString())
			.contains("A visit with this number is stored already")
			.contains("value=\"3\"");
		assertThat(count("visit")).isOne();
		assertThat(stored(id).readings().fc()).isEqualTo(2);
		assertThat(stored(id).readings().ph()).isEqualTo(7.5);
		assertThat(stored(id).stop()).isEqualTo(stop);
	}

	@Test
	void visitWithoutContentsAndSecondVisitToAStopAreAskedAbout() throws Exception {
		assertThat(send(lena, visit(UUID.randomUUID())).getContentAsString()).contains("There is nothing in this visit yet");
		assertThat(count("visit")).isZero();
		UUID first = UUID.randomUUID();
		assertThat(send(lena, visit(first).param("fc", "2")).getRedirectedUrl()).startsWith("/visits/" + first);
		UUID second = UUID.randomUUID();
		assertThat(send(lena, visit(second).param("fc", "3")).getContentAsString()).contains(
				"This stop already has a visit. Correct that one",
				"value=\"second:" + first + "\"");
		assertThat(count("visit")).isOne();
		assertThat(send(lena, visit(second).param("fc", "3").param("confirm", "second:" + first)).getRedirectedUrl())
			.startsWith("/visits/" + second);
	}

	@Test
	void planOfOtherReadingsDoesNotStandUnderAnOpenQuestion() throws Exception {
		String planned = plan("1").getContentAsString();
		assertThat(planned).contains("id=\"visit-plan\"");
		String advice = HtmlUtils.htmlUnescape(planned.replaceAll("(?s).*name=\"advice\" value=\"([^\"]*)\".*", "$1"));
		String asked = pages
			.perform(post("/visit/plan").with(signedInAs(lena)).with(csrf()).param("pool", pool.toString()).param("stop", stop.toString())
				.param("fc", "one").param("ph", "7.5").param("advice", advice))
			.andReturn()
			.getResponse()
			.getContentAsString();
		assertThat(asked).contains("fc-problem-0").doesNotContain("id=\"visit-plan\"");
	}

	@Test
	void stepsOfThePlanBeforeTheNextStopAreShownWithTheWayToPlanOne() throws Exception {
		UUID id = UUID.randomUUID();
		String planned = pages
			.perform(post("/visit/plan").with(signedInAs(lena)).with(csrf()).param("pool", pool.toString()).param("stop", stop.toString())
				.param("situation", "GREEN_ALGAE_LIGHT").param("fc", "0.5").param("ph", "7.5").param("ta", "100").param("cya", "30"))
			.andReturn()
			.getResponse()
			.getContentAsString();
		String advice = HtmlUtils.htmlUnescape(planned.replaceAll("(?s).*name=\"advice\" value=\"([^\"]*)\".*", "$1"));
		assertThat(send(lena, visit(id, Situation.GREEN_ALGAE_LIGHT).param("fc", "0.5").param("ph", "7.5").param("ta", "100")
			.param("cya", "30").param("advice", advice)).getRedirectedUrl()).startsWith("/visits/" + id);
		assertThat(page(lena, "/visits/" + id).getContentAsString()).contains("Before the next planned stop",
				"ask the office to add a stop");
		SignedInUser office = here.owner.user();
		assertThat(page(office, "/visits/" + id).getContentAsString()).contains("Before the next planned stop", "Add a stop on ")
			.contains("/week/stops/new?pool=" + pool);
	}

	private MockHttpServletResponse plan(String fc) throws Exception {
		return pages
			.perform(post("/visit/plan").with(signedInAs(lena)).with(csrf()).param("pool", pool.toString()).param("stop", stop.toString())
				.param("fc", fc).param("ph", "7.5").param("ta", "100").param("cya", "30"))
			.andReturn()
			.getResponse();
	}

	@Test
	void doseIsStoredInCanonicalUnitsAndUnusuallyLargeOneNeedsConfirmation() throws Exception {
		UUID id = UUID.randomUUID();
		assertThat(send(lena, dosed(id, "1", "LB")).getContentAsString()).contains("Liquid chlorine is measured as a liquid");
		assertThat(send(lena, dosed(id, "", "GAL")).getContentAsString()).contains("How much went in?");
		assertThat(send(lena, dosed(id, "-1", "GAL")).getContentAsString()).contains("Nobody can have put in");
		assertThat(send(lena, dosed(id, "900", "GAL")).getContentAsString()).contains("Nobody can have put in").contains("value=\"900\"");
		assertThat(count("visit")).isZero();
		assertThat(send(lena, dosed(id, "0.5", "GAL")).getRedirectedUrl()).startsWith("/visits/" + id);
		// 0.5 US gallon of 3785.411784 mL
		assertThat(stored(id).doses()).singleElement().extracting(DoseRecord::amount).isEqualTo(1892.71);
	}

	/** A sample with an equal part of plain water shows half: twice what was typed is stored, and comes back as typed. */
	@Test
	void eachReadingHasItsTestAndADilutedOneCountsDouble() throws Exception {
		UUID id = UUID.randomUUID();
		send(lena, visit(id).param("fc", "5").param("testFC", "DROPS_10_ML 2").param("ph", "7.5").param("cya", "55")
			.param("testCYA", "PHOTOMETER 2").param("copper", "0.35").param("testCOPPER", "STRIPS").param("iron", "0.1")
			.param("manganese", "0.04")
			.param("ammonia", "0.5")
			.param("phosphate", "600"));
		Readings readings = stored(id).readings();
		assertThat(readings.fc()).isEqualTo(10);
		assertThat(readings.cya()).isEqualTo(110);
		assertThat(readings.traces())
			.isEqualTo(Map.of(Level.COPPER, 0.35, Level.IRON, 0.1, Level.MANGANESE, 0.04, Level.AMMONIA, 0.5, Level.PHOSPHATE, 600.0));
		assertThat(readings.tests().marks()).containsExactly("FC DROPS_10_ML 2", "CYA PHOTOMETER 2", "COPPER STRIPS 1");
		assertThat(page(lena, "/visits/" + id).getContentAsString()).contains("FC Drops, 10 mL, sample diluted: × 2", "Copper");
		assertThat(page(lena, "/visits/" + id + "/correct").getContentAsString()).contains("counts as 10.0 ppm", "counts as 110 ppm")
			.contains("<option value=\"DROPS_10_ML 2\" selected=\"selected\">");
	}

	@Test
	void kitIsStoredAndShownAndStripsAskForDropsBeforeADrain() throws Exception {
		String chosen = "<option value=\"STRIPS\" selected=\"selected\">Test strips</option>";
		assertThat(page(lena, "/visit?pool=" + pool).getContentAsString())
			.contains("<option value=\"\" selected=\"selected\">As the company usually tests</option>");
		String plan = pages
			.perform(post("/visit/plan").with(signedInAs(lena)).with(csrf()).param("id", UUID.randomUUID().toString())
				.param("pool", pool.toString())
				.param("stop", stop.toString())
				.param("situation", "ROUTINE")
				.param("kit", "STRIPS")
				.param("fc", "3")
				.param("ph", "7.5")
				.param("ta", "100")
				.param("cya", "115"))
			.andReturn()
			.getResponse()
			.getContentAsString();
		assertThat(plan).contains(chosen, "115 ppm was read on a strip");
		UUID id = UUID.randomUUID();
		send(lena, visit(id).param("kit", "STRIPS").param("fc", "3").param("ph", "7.5"));
		assertThat(stored(id).readings().tests().method(Level.FC).kit()).isEqualTo(TestKit.STRIPS);
		assertThat(page(lena, "/visits/" + id).getContentAsString()).contains("Tested with: FC Test strips; pH Test strips");
		assertThat(page(lena, "/visits/" + id + "?lang=es").getContentAsString()).contains("Medido con: FC Tiras reactivas");
		assertThat(page(lena, "/visits/" + id + "/correct").getContentAsString()).contains(chosen);
		assertThat(page(lena, "/visit?pool=" + pool).getContentAsString()).as("the next visit begins as usual")
			.contains("<option value=\"\" selected=\"selected\">As the company usually tests</option>");
	}

	/** 40 days at 95 °F leave 54.4 % of 12.5 %: own arithmetic with the published rate. */
	@Test
	void oldLiquidChlorineIsPlannedAndRecordedWithTheStrengthThatIsLeft() throws Exception {
		LocalDate today = TenantContext.runAs(here.company, () -> route.today(here.company));
		rows.inCompany(here.company,
				() -> rows.sql("UPDATE product SET delivered_on = ?, storage = 'HOT', preference = 'FIRST' WHERE company_id = ? AND id = ?")
					.params(today.minusDays(40), here.company.value(), bleach)
					.update());
		String plan = pages
			.perform(post("/visit/plan").with(signedInAs(lena)).with(csrf()).param("id", UUID.randomUUID().toString())
				.param("pool", pool.toString())
				.param("stop", stop.toString())
				.param("situation", "ROUTINE")
				.param("fc", "0.5")
				.param("ph", "7.5")
				.param("ta", "100")
				.param("cya", "30"))
			.andReturn()
			.getResponse()
			.getContentAsString();
		assertThat(plan).contains("12.5 % when delivered 40 days ago, stored at about 95 °F: counted as 6.8 %",
				"It has lost about 46 % of its strength");
		UUID id = UUID.randomUUID();
		send(lena, dosed(id, "0.5", "GAL"));
		assertThat(stored(id).doses()).singleElement().extracting(DoseRecord::strength)
			.isEqualTo(Product.usual("liquid", ProductKind.LIQUID_CHLORINE_125).aged(40, StorageTemperature.HOT).strength());
	}

	@Test
	void tabletsAreCountedInTheVisitAndInItsCorrection() throws Exception {
		UUID tablets = rows.product(here.company, "TRICHLOR_TAB", "Trichlor tablets", 90, "G",
				java.util.Map.of("form", "TABLET", "tablet_grams", 226.8));
		UUID id = UUID.randomUUID();
		assertThat(send(lena, dosed(id, "3", "TABLET")).getContentAsString()).contains("Liquid chlorine is measured as a liquid",
				"value=\"3\"", "<option value=\"TABLET\" selected=\"selected\">tablets</option>");
		assertThat(count("visit")).isZero();
		assertThat(send(lena, dosed(id, tablets, "2.5", "TABLET")).getRedirectedUrl()).startsWith("/visits/" + id);
		assertThat(stored(id).doses()).singleElement().extracting(DoseRecord::amount).isEqualTo(567.0);
		assertThat(page(lena, "/visits/" + id).getContentAsString()).contains("2.5 tablets (1.25 lb)");
		assertThat(page(lena, "/visits/" + id + "?lang=es").getContentAsString()).contains("2.5 tabletas (");
		String form = page(lena, "/visits/" + id + "/correct").getContentAsString();
		assertThat(form).contains("value=\"2.5\"", "<option value=\"TABLET\" selected=\"selected\">tablets</option>");
		assertThat(correctDose(id, 0, tablets, "3", "TABLET").getRedirectedUrl()).isNotNull();
		assertThat(stored(id).doses()).singleElement().extracting(DoseRecord::amount).isEqualTo(680.4);

		rows.inCompany(here.company, () -> rows.sql("UPDATE product SET tablet_grams = 200 WHERE company_id = ? AND id = ?")
			.params(here.company.value(), tablets)
			.update());
		String weighed = page(lena, "/visits/" + id + "/correct").getContentAsString();
		assertThat(weighed).as("680.4 g are no whole number of tablets of 200 g").contains("value=\"1.5\"",
				"<option value=\"LB\" selected=\"selected\">");
		assertThat(page(lena, "/visits/" + id).getContentAsString()).contains("1.5 lb").doesNotContain("tablets (");
		assertThat(correctDose(id, 1, tablets, "1.5", "LB").getRedirectedUrl()).isNotNull();
		assertThat(stored(id).doses()).as("nobody touched it").singleElement().extracting(DoseRecord::amount).isEqualTo(680.4);
	}

	@Test
	void productOfAnotherCompanyIsRefused() throws Exception {
		RouteFixtures other = new RouteFixtures(companies, rows);
		UUID theirs = rows.product(other.company, "LIQUID_CHLORINE_125", "Theirs", 12.5, "ML", java.util.Map.of());
		UUID id = UUID.randomUUID();
		MockHttpServletResponse answer = send(lena, visit(id).param("doseProduct", theirs.toString())
			.param("doseAmount", "1")
			.param("doseUnit", "GAL")
			.param("dosePlanned", ""));
		assertThat(answer.getContentAsString()).contains("Please choose from the list").doesNotContain("Theirs");
		assertThat(count("visit")).isZero();
	}

	@Test
	void technicianWithoutStopAtThePoolGetsNotFound() throws Exception {
		SignedInUser tom = here.driver("Tom Ashe").user();
		UUID id = UUID.randomUUID();
		assertThat(page(tom, "/visit?pool=" + pool).getStatus()).isEqualTo(404);
		assertThat(page(tom, "/visit?pool=" + pool + "&stop=" + stop).getStatus()).isEqualTo(404);
		assertThat(send(tom, visit(id)).getStatus()).isEqualTo(404);
		send(lena, visit(id).param("fc", "2"));
		for (String path : new String[]{ "", "/correct", "/photos/0" }) {
			assertThat(page(tom, "/visits/" + id + path).getStatus()).as(path).isEqualTo(404);
		}
		assertThat(page(here.owner.user(), "/visits/" + id).getStatus()).isEqualTo(200);
		SignedInUser foreign = companies.newCompany(org.meniscus.water.units.UnitSystem.US).user();
		assertThat(page(foreign, "/visits/" + id).getStatus()).isEqualTo(404);
		assertThat(page(foreign, "/visit?pool=" + pool).getStatus()).isEqualTo(404);
	}

	@Test
	void photosAreRotatedScaledAndStrippedOfMetadata() throws Exception {
		UUID id = UUID.randomUUID();
		byte[] sent = SamplePhotos.withPlace();
		assertThat(SamplePhotos.contains(sent, SamplePhotos.CAMERA)).isTrue();
		send(lena, visit(id).file(photo(sent)).file(photo(SamplePhotos.plain())));
		byte[] stored = page(lena, "/visits/" + id + "/photos/0").getContentAsByteArray();
		assertThat(SamplePhotos.contains(stored, SamplePhotos.CAMERA)).isFalse();
		assertThat(SamplePhotos.contains(stored, "Exif")).isFalse();
		BufferedImage image = ImageIO.read(new ByteArrayInputStream(stored));
		assertThat(new int[]{ image.getWidth(), image.getHeight() }).containsExactly(1200, 1600);
		// orientation 6: the picture's right upper quarter is what was stored as its left upper
		assertThat(new Color(image.getRGB(1000, 200)).getRed()).isGreaterThan(200);
		assertThat(new Color(image.getRGB(200, 200)).getRed()).isLessThan(60);
		assertThat(page(lena, "/visits/" + id + "/photos/1").getContentType()).isEqualTo("image/jpeg");
		assertThat(page(lena, "/visits/" + id + "/photos/2").getStatus()).isEqualTo(404);
		assertThat(page(lena, "/visits/" + id + "/photos/x").getStatus()).isEqualTo(404);
	}

	@Test
	void tooManyPhotosAndNonPhotosAreRefused() throws Exception {
		UUID id = UUID.randomUUID();
		MockMultipartHttpServletRequestBuilder seven = visit(id);
		for (int n = 0; n < 7; n++) {
			seven.file(photo(SamplePhotos.jpeg(40, 30)));
		}
		assertThat(send(lena, seven).getContentAsString()).contains("At most 6 photos; 7 were chosen");
		assertThat(send(lena, visit(id).file(photo("<svg onload=alert(1)>".getBytes()))).getContentAsString())
			.contains("Photo 1 could not be read");
		assertThat(count("visit")).isZero();
		assertThat(count("photo")).isZero();
	}

	@Test
	void markupInNotesIsEscapedOnEveryPage() throws Exception {
		UUID id = UUID.randomUUID();
		String markup = "<img src=x onerror=alert(1)>";
		send(lena, visit(id).param("noteToClient", markup).param("noteToOffice", markup));
		for (String path : new String[]{ "", "/correct" }) {
			assertThat(page(lena, "/visits/" + id + path).getContentAsString()).doesNotContain("<img src=x").contains("&lt;img src=x");
		}
		assertThat(send(lena, visit(UUID.randomUUID()).param("noteToClient", markup).param("ph", "99")).getContentAsString())
			.doesNotContain("<img src=x");
	}

	@Test
	void secondOfTwoConcurrentCorrectionsIsRefused() throws Exception {
		UUID id = UUID.randomUUID();
		send(lena, visit(id).param("fc", "2").param("ph", "7.5"));
		assertThat(correct(lena, id, 0, "2.4", "slip of the pen").getRedirectedUrl()).isEqualTo("/visits/" + id + "?corrected");
		String told = correct(here.owner.user(), id, 0, "9", "from the phone call").getContentAsString();
		assertThat(told).contains("Somebody else changed this").contains("value=\"9\"").contains("from the phone call");
		assertThat(stored(id).readings().fc()).isEqualTo(2.4);
		assertThat(stored(id).version()).isOne();
		// after being told it can be saved over what is there now
		assertThat(correct(here.owner.user(), id, 1, "2.6", "from the phone call").getRedirectedUrl()).isNotNull();
		String page = page(lena, "/visits/" + id).getContentAsString();
		assertThat(page).contains("slip of the pen").contains("from the phone call").contains("FC 2.0 ppm").contains("FC 2.4 ppm");
		assertThat(count("visit_version")).isEqualTo(2);
	}

	@Test
	void correctionKeepsEverythingElseExactly() throws Exception {
		UUID id = UUID.randomUUID();
		send(lena, dosed(id, "0.333", "QT").param("temperature", "82").param("ph", "8.6").param("confirm", "all")
			.param("confirm", confirms(send(lena, visit(id).param("ph", "8.6").param("temperature", "82")))));
		VisitRecord before = stored(id);
		String form = page(lena, "/visits/" + id + "/correct").getContentAsString();
		assertThat(form).contains("value=\"82\"").contains("value=\"10.656\"");
		String answer = pages
			.perform(post("/visits/" + id + "/correct").with(signedInAs(lena)).with(csrf()).param("version", "0").param("ph", "8.6")
				.param("temperature", "82").param("doseProduct", bleach.toString()).param("doseAmount", "10.656").param("doseUnit", "FL_OZ")
				.param("dosePlanned", "").param("task", "SKIMMED").param("reason", "forgot the skimming"))
			.andReturn()
			.getResponse()
			.getRedirectedUrl();
		assertThat(answer).as("nothing is asked again that was answered before").isNotNull();
		assertThat(stored(id).readings()).isEqualTo(before.readings());
		assertThat(stored(id).doses()).extracting(DoseRecord::amount).isEqualTo(before.doses().stream().map(DoseRecord::amount).toList());
		assertThat(stored(id).tasks()).containsExactly("SKIMMED");
	}

	@Test
	void planNamesMissingReadingsAndKeepsInput() throws Exception {
		MockHttpServletResponse answer = pages
			.perform(post("/visit/plan").with(signedInAs(lena)).with(csrf()).param("pool", pool.toString()).param("stop", stop.toString())
				.param("fc", "1")
				.param("noteToClient", "kept"))
			.andReturn()
			.getResponse();
		assertThat(answer.getStatus()).isEqualTo(200);
		assertThat(answer.getContentAsString()).contains("No dose was worked out").contains(">kept</textarea>").contains("value=\"1\"");
	}

	@Test
	void formSentAfterSessionExpiryRedirectsToSignIn() throws Exception {
		MockHttpServletResponse plain = pages.perform(multipart("/visit").param("pool", pool.toString())).andReturn().getResponse();
		assertThat(plain.getRedirectedUrl()).isEqualTo("/signin?expired");
		MockHttpServletResponse exchange = pages
			.perform(post("/visit/plan").header("HX-Request", "true").param("pool", pool.toString()))
			.andReturn()
			.getResponse();
		assertThat(exchange.getStatus()).isEqualTo(401);
		assertThat(exchange.getHeader("HX-Redirect")).isEqualTo("/signin?expired");
		assertThat(pages.perform(post("/visit/plan").with(signedInAs(lena)).param("pool", pool.toString())).andReturn().getResponse()
			.getStatus())
			.as("somebody signed in, without the token")
			.isEqualTo(403);
	}

	@Test
	void readingContradictingTheRecordNeedsOneConfirmation() throws Exception {
		UUID first = UUID.randomUUID();
		send(lena, visit(first).param("fc", "3").param("ph", "7.5").param("cya", "40").param("ch", "300"));
		assertThat(stored(first).readings().cya()).isEqualTo(40);
		UUID id = UUID.randomUUID();
		MockHttpServletResponse asked = send(lena, visit(id).param("fc", "3").param("ph", "7.5").param("cya", "80").param("ch", "300"));
		assertThat(asked.getContentAsString())
			.contains("Stabilizer 80 ppm, but the test 0 days ago and doses since give about 40 ppm.");
		assertThat(send(lena,
				visit(id).param("fc", "3").param("ph", "7.5").param("cya", "80").param("ch", "300")
					.param("confirm", confirms(asked), "second:" + first))
			.getRedirectedUrl()).isEqualTo("/visits/" + id + "?saved");
		MockHttpServletResponse lost = send(lena,
				visit(UUID.randomUUID()).param("fc", "3").param("ph", "7.5").param("cya", "60").param("ch", "220"));
		assertThat(lost.getContentAsString()).contains("all down together", "a leak with autofill");
		assertThat(send(lena, visit(UUID.randomUUID()).param("fc", "12").param("ph", "7.5")).getContentAsString())
			.contains("the last visit left 3.0 ppm at most");
		MockHttpServletResponse stool = pages
			.perform(post("/visit/plan").with(signedInAs(lena)).with(csrf()).param("id", id.toString()).param("pool", pool.toString())
				.param("stop", stop.toString()).param("situation", "DIARRHOEA").param("fc", "3").param("ph", "7.5"))
			.andReturn()
			.getResponse();
		assertThat(stool.getContentAsString()).contains("href=\"https://www.cdc.gov/healthy-swimming/\"", "No dose was worked out");
	}

	@Test
	void multiDayPlanIsShownAtNextStopOnDayPageAndInReport() throws Exception {
		UUID id = UUID.randomUUID();
		String planned = pages
			.perform(post("/visit/plan").with(signedInAs(lena)).with(csrf()).param("id", id.toString()).param("pool", pool.toString())
				.param("stop", stop.toString()).param("situation", "GREEN_ALGAE_LIGHT").param("fc", "0.3").param("ph", "7.3"))
			.andReturn()
			.getResponse()
			.getContentAsString();
		assertThat(planned).contains("bring it back to");
		java.util.regex.Matcher advice = java.util.regex.Pattern.compile("name=\"advice\" value=\"([^\"]+)\"").matcher(planned);
		assertThat(advice.find()).isTrue();
		MockMultipartHttpServletRequestBuilder visit = multipart("/visit");
		visit.param("id", id.toString()).param("pool", pool.toString()).param("stop", stop.toString())
			.param("situation", "GREEN_ALGAE_LIGHT")
			.param("fc", "0.3").param("ph", "7.3").param("advice", HtmlUtils.htmlUnescape(advice.group(1)));
		assertThat(send(lena, visit).getRedirectedUrl()).isEqualTo("/visits/" + id + "?saved");
		java.time.LocalDate tomorrow = TenantContext.runAs(here.company, () -> route.today(here.company)).plusDays(1);
		TenantContext.runAs(here.company, () -> {
			route.addExtra(here.company, new RouteService.AddExtraStop(new StopId(UUID.randomUUID()), pool, lena.person(), tomorrow));
		});
		assertThat(page(lena, "/visit?pool=" + pool).getContentAsString()).contains("From the plan of ", "(Green tint, bottom visible)",
				"bring it back to");
		assertThat(page(lena, "/visit?pool=" + pool + "&lang=es").getContentAsString()).contains("Del plan del ",
				"devuélvalo a");
		assertThat(page(lena, "/today?on=" + tomorrow).getContentAsString()).contains("Continues the plan of ");
		String token = TenantContext.runAs(here.company, () -> reports.share(here.owner.user(), UUID.randomUUID(), new VisitId(id), 30))
			.orElseThrow();
		// From an address of its own: other tests may have used up what one address may ask for.
		assertThat(pages.perform(get("/r/" + token).with(request -> {
			request.setRemoteAddr("192.0.2.77");
			return request;
		})).andReturn().getResponse().getContentAsString())
			.contains("The treatment is not over with this visit.", "chlorine is kept high until the water is clear.");
		// A later plan with nothing further takes over.
		String fine = new AdviceFormatter(org.meniscus.water.units.UnitSystem.US, "en", org.meniscus.water.pool.Targets
			.defaults(BodyOfWater.POOL, Surface.PLASTER, false, Sanitizer.CHLORINE_BY_HAND), (key, args) -> key, null)
			.format(Planner.plan(new PlanRequest(
					PoolFacts.of(org.meniscus.water.units.Volume.ofLitres(50_000), VolumeCertainty.MEASURED, BodyOfWater.POOL,
							Surface.PLASTER, false,
							Sanitizer.CHLORINE_BY_HAND),
					Readings.builder().fc(3.0).ph(7.5).build(), Situation.ROUTINE, java.util.List.of(), TreatmentPolicy.defaults(), 0,
					org.meniscus.water.units.UnitSystem.US)), Situation.ROUTINE,
					AdviceFormatter.basis(Readings.builder().fc(3.0).ph(7.5).build(), Situation.ROUTINE, null),
					java.time.LocalDateTime.now(java.time.Clock.systemUTC()))
			.toJson();
		UUID later = UUID.randomUUID();
		MockMultipartHttpServletRequestBuilder routine = multipart("/visit");
		routine.param("id", later.toString()).param("pool", pool.toString()).param("situation", "ROUTINE").param("fc", "3")
			.param("ph", "7.5")
			.param("advice", fine);
		assertThat(send(lena, routine).getRedirectedUrl()).isEqualTo("/visits/" + later + "?saved");
		assertThat(page(lena, "/visit?pool=" + pool).getContentAsString()).doesNotContain("From the plan of ");
		assertThat(page(lena, "/today?on=" + tomorrow).getContentAsString()).doesNotContain("Continues the plan of ");
	}

	/** What the one question of a refused form is answered with. */
	private static String confirms(MockHttpServletResponse asked) throws Exception {
		java.util.regex.Matcher key = java.util.regex.Pattern.compile("name=\"confirm\"[^>]*value=\"(reading:[^\"]+)\"")
			.matcher(asked.getContentAsString());
		assertThat(key.find()).as("something is asked about").isTrue();
		return key.group(1);
	}

	private MockHttpServletResponse correct(SignedInUser who, UUID id, long version, String fc, String reason) throws Exception {
		return pages
			.perform(post("/visits/" + id + "/correct").with(signedInAs(who)).with(csrf()).param("version", String.valueOf(version))
				.param("fc", fc)
				.param("ph", "7.5").param("situation", "ROUTINE").param("reason", reason))
			.andReturn()
			.getResponse();
	}

	private MockMultipartHttpServletRequestBuilder visit(UUID id) {
		return visit(id, Situation.ROUTINE);
	}

	private MockMultipartHttpServletRequestBuilder visit(UUID id, Situation situation) {
		MockMultipartHttpServletRequestBuilder request = multipart("/visit");
		request.param("id", id.toString())
			.param("pool", pool.toString())
			.param("stop", stop.toString())
			.param("situation", situation.name());
		return request;
	}

	private MockHttpServletResponse correctDose(UUID id, long version, UUID product, String amount, String unit) throws Exception {
		return pages
			.perform(post("/visits/" + id + "/correct").with(signedInAs(lena)).with(csrf()).param("version", String.valueOf(version))
				.param("situation", "ROUTINE").param("doseProduct", product.toString()).param("doseAmount", amount).param("doseUnit", unit)
				.param("dosePlanned", "").param("reason", "counted again"))
			.andReturn()
			.getResponse();
	}

	private MockMultipartHttpServletRequestBuilder dosed(UUID id, String amount, String unit) {
		return dosed(id, bleach, amount, unit);
	}

	private MockMultipartHttpServletRequestBuilder dosed(UUID id, UUID product, String amount, String unit) {
		MockMultipartHttpServletRequestBuilder request = visit(id);
		request.param("doseProduct", product.toString()).param("doseAmount", amount).param("doseUnit", unit).param("dosePlanned", "");
		return request;
	}

	private static MockMultipartFile photo(byte[] bytes) {
		return new MockMultipartFile("photos", "a.jpg", "image/jpeg", bytes);
	}

	private MockHttpServletResponse send(SignedInUser who, org.springframework.test.web.servlet.RequestBuilder request) throws Exception {
		return pages.perform(((MockMultipartHttpServletRequestBuilder) request).with(signedInAs(who)).with(csrf())).andReturn()
			.getResponse();
	}

	private int count(String table) {
		return rows.inCompany(here.company, () -> rows.sql("SELECT count(*) FROM " + table + " WHERE company_id = ?")
			.param(here.company.value())
			.query(Integer.class)
			.single());
	}

}
