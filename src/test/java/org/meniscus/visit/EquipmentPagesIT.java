package org.meniscus.visit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.meniscus.support.MockMvcSignIn.signedInAs;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.multipart;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.util.Map;
import java.util.Set;
import java.util.UUID;

import org.junit.jupiter.api.Test;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolRecord;
import org.meniscus.platform.TenantContext;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.SiteConditions;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.MockMultipartHttpServletRequestBuilder;

/** Equipment on the form of a pool, gauges and taps on that of a visit, and what a plan makes of them. */
class EquipmentPagesIT extends VisitPagesTest {

	@Autowired
	ClientService clients;

	@Test
	void equipmentIsRefusedBesideItsFieldAndStoredInItsOwnUnits() throws Exception {
		String refused = change(Map.of("equipment.pumpHours", "25", "equipment.flow", "a lot", "equipment.cellPercent", "60",
				"equipment.ozone", "true"))
			.getContentAsString();
		assertThat(refused).contains("id=\"equipment.pumpHours-error\"", "Please enter a figure from 0.5 to 24", "value=\"25\"",
				"id=\"equipment.flow-error\"", "Please enter a number.", "value=\"a lot\"", "<details open=\"open\">");
		assertThat(change(Map.of("equipment.cellPercent", "60")).getContentAsString()).contains("id=\"equipment.cellRating-error\"",
				"Say what the cell makes at 100 %");
		assertThat(equipment()).isEqualTo(Equipment.UNKNOWN);
		assertThat(change(Map.of("equipment.pumpHours", "8", "equipment.flow", "45", "equipment.filter", "SAND", "equipment.cleanPressure",
				"14", "equipment.cellRating", "1.4", "equipment.cellPercent", "40", "equipment.cellStep", "20", "equipment.bathers", "3",
				"equipment.ozone", "true"))
			.getRedirectedUrl()).contains("?saved");
		Equipment stored = equipment();
		// 45 gal x 60 x 3.785411784 L, 14 psi x 6.894757 kPa, 1.4 lb x 453.59237 g: own arithmetic
		assertThat(stored.litresPerHour()).isCloseTo(10_220.6, within(0.05));
		assertThat(stored.cleanKilopascals()).isCloseTo(96.5, within(0.05));
		assertThat(stored.cell()).isEqualTo(new Equipment.Cell(635.03, 40.0, 20));
		assertThat(stored.systems()).isEqualTo(Set.of(Equipment.SecondSystem.OZONE));
		assertThat(page(here.owner.user(), "/pools/" + pool + "/edit").getContentAsString()).contains("value=\"45\"", "value=\"14\"",
				"value=\"1.4\"", "lb of chlorine a day");
	}

	@Test
	void gaugesAreReadStoredAndAnsweredByThePlan() throws Exception {
		change(Map.of("equipment.filter", "SAND", "equipment.cleanPressure", "14", "equipment.pumpHours", "8", "equipment.cellRating",
				"1.4", "equipment.cellPercent", "20"));
		assertThat(page(lena, "/visit?pool=" + pool + "&stop=" + stop).getContentAsString()).contains("clean 14 psi", "on file 20 %",
				"Salt the cell shows");
		assertThat(visit("/visit/plan", "filterPressure", "1400").getContentAsString()).contains("id=\"filterPressure-problem-0\"",
				"value=\"1400\"");
		assertThat(visit("/visit/plan", "filterPressure", "24").getContentAsString())
			.contains("Backwash the filter: pressure 24 psi, clean it was 14 psi", "The cell shows salt 2000 ppm, the test 3200 ppm");
		UUID id = UUID.randomUUID();
		assertThat(visit("/visit", "filterPressure", "24", "id", id.toString()).getRedirectedUrl()).startsWith("/visits/" + id);
		SiteConditions site = stored(id).readings().site();
		assertThat(site).isEqualTo(new SiteConditions(165.5, 60.0, 2000.0, true, false));
		assertThat(page(lena, "/visits/" + id).getContentAsString()).contains("Filter pressure 24 psi", "Cell is set to 60 %",
				"Salt the cell shows 2000 ppm", "Heavy rain since the last visit")
			.doesNotContain("Party or many bathers");
		assertThat(page(lena, "/visits/" + id + "/correct").getContentAsString()).contains("value=\"24\"", "value=\"2000\"")
			.containsPattern("id=\"event-heavyRain\"[^>]*checked")
			.doesNotContainPattern("id=\"event-party\"[^>]*checked");
	}

	private Equipment equipment() {
		return TenantContext.runAs(here.company, () -> clients.pool(here.company, pool)).facts().equipment();
	}

	private MockHttpServletResponse change(Map<String, String> equipment) throws Exception {
		PoolRecord record = TenantContext.runAs(here.company, () -> clients.poolRecord(here.company, pool));
		MockHttpServletRequestBuilder request = post("/pools/" + pool).with(signedInAs(here.owner.user()))
			.with(csrf())
			.param("id", pool.toString())
			.param("version", String.valueOf(record.version()))
			.param("client", record.details().client().toString())
			.param("name", "Pool")
			.param("body", "POOL")
			.param("surface", "PLASTER")
			.param("sanitizer", "SALT_CELL")
			.param("volume", "15000")
			.param("certainty", "MEASURED");
		equipment.forEach(request::param);
		return pages.perform(request).andReturn().getResponse();
	}

	private MockHttpServletResponse visit(String path, String... fields) throws Exception {
		MockMultipartHttpServletRequestBuilder request = multipart(path);
		request.param("pool", pool.toString()).param("stop", stop.toString()).param("situation", "ROUTINE").param("fc", "3")
			.param("ph", "7.5").param("ta", "90").param("ch", "300").param("cya", "70").param("salt", "3200").param("cellPercent", "60")
			.param("cellSalt", "2000").param("event", "heavyRain");
		for (int n = 0; n < fields.length; n += 2) {
			request.param(fields[n], fields[n + 1]);
		}
		return pages.perform(request.with(signedInAs(lena)).with(csrf())).andReturn().getResponse();
	}

}
