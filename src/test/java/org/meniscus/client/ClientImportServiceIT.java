package org.meniscus.client;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.function.Supplier;

import org.assertj.core.groups.Tuple;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;

@IntegrationTest
class ClientImportServiceIT {

	@Autowired
	ClientImportService imports;

	@Autowired
	ClientExportService exports;

	@Autowired
	ClientService clients;

	@Autowired
	TestCompanies companies;

	CompanyId company;

	PersonId person;

	@BeforeEach
	void newCompany() {
		TestCompanies.TestUser owner = companies.newCompany(UnitSystem.US);
		company = owner.user().company();
		person = owner.user().person();
	}

	@Test
	void importCreatesClientsAndPools() {
		UUID id = stage("""
				client,phone,pool,street,surface,sanitizer,volume_gal,volume_certainty,access_notes
				Alma Reyes,555 0101,Back pool,12 Juniper Way,plaster,salt cell,"15000",measured,"Gate ""4711""
				dog: Bruno, friendly"
				Alma Reyes,555 0101,Spa,12 Juniper Way,Fiberglass,chlorine-by-hand,400,,
				Tomas Vale,,,,,,,,
				""");
		assertThat(inCompany(() -> imports.preview(company, id)).lines())
			.extracting(ClientImportService.ImportLine::line, ClientImportService.ImportLine::action)
			.containsExactly(tuple(2, ClientImportService.ImportAction.NEW_CLIENT),
					tuple(4, ClientImportService.ImportAction.POOL_FOR_EARLIER_LINE),
					tuple(5, ClientImportService.ImportAction.NEW_CLIENT));
		assertThat(inCompany(() -> imports.save(company, id, false, false))).hasValue(new ClientImportService.ImportResult(2, 2, 0));
		List<PoolSummary> pools = inCompany(() -> clients.pools(company));
		assertThat(pools).extracting(PoolSummary::name).containsExactly("Back pool", "Spa");
		PoolDetails back = inCompany(() -> clients.poolRecord(company, pools.get(0).id())).details();
		assertThat(back.sanitizer()).isEqualTo(Sanitizer.SALT_CELL);
		assertThat(back.size().certainty()).isEqualTo(VolumeCertainty.MEASURED);
		assertThat(back.size().volumeLitres()).isEqualTo(56781.2);
		assertThat(back.accessNotes()).isEqualTo("Gate \"4711\"\ndog: Bruno, friendly");
		assertThat(pools.get(1).facts().surface()).isEqualTo(Surface.FIBREGLASS);
		assertThat(pools.get(1).facts().certainty()).isEqualTo(VolumeCertainty.UNVERIFIED);
	}

	@Test
	void importReportsEveryInvalidCellAndStoresNothing() {
		UUID id = stage("""
				client,email,pool,surface,sanitizer,volume_gal,indoor,fill_ph,latitude
				Alma Reyes,,Pool,plaster,salt_cell,15000,no,7.6,
				,,Pool,marble,salt_cell,"15,000",maybe,70,33.5
				Tomas Vale,tomas at home,Pool,,magic,abc,,,
				June Ito,,Pool,vinyl,salt_cell,10,,,,,extra
				""");
		ClientImportService.ImportPreview preview = inCompany(() -> imports.preview(company, id));
		assertThat(preview.lines()).extracting(ClientImportService.ImportLine::line).containsExactly(2);
		assertThat(preview.invalidLines()).isEqualTo(3);
		assertThat(preview.problems()).extracting(CsvProblem::line, CsvProblem::column, CsvProblem::code)
			.containsExactlyInAnyOrder(problem(3, "client", "missing"), problem(3, "surface", "oneOf"),
					problem(3, "volume_gal", "thousands"),
					problem(3, "indoor", "oneOf"), problem(3, "fill_ph", "range"), problem(3, "longitude", "both"),
					problem(4, "email", "email"), problem(4, "surface", "missingOneOf"), problem(4, "sanitizer", "oneOf"),
					problem(4, "volume_gal", "number"), problem(5, null, "tooManyCells"));
		assertThat(inCompany(() -> imports.save(company, id, false, false))).isEmpty();
		assertThat(inCompany(() -> clients.pools(company))).isEmpty();
		assertThat(inCompany(() -> imports.save(company, id, true, false))).hasValue(new ClientImportService.ImportResult(1, 1, 3));
		// pressed twice
		assertThat(inCompany(() -> imports.save(company, id, true, false))).hasValue(new ClientImportService.ImportResult(1, 1, 3));
		assertThat(inCompany(() -> clients.pools(company))).hasSize(1);
	}

	/** The limits are those of a pool's form. */
	@Test
	void equipmentOutOfItsLimitsAndCellWithoutRatingAreReported() {
		UUID id = stage("""
				client,pool,surface,sanitizer,pump_hours,flow_m3_h,filter,cell_rating_lb_day,cell_percent,cover_hours
				Alma Reyes,Pool,plaster,salt_cell,8,10,sand,1.4,60,12
				Tomas Vale,Pool,plaster,salt_cell,25,0.05,gravel,0.01,101,13
				June Ito,Pool,plaster,salt_cell,,,,,60,
				""");
		assertThat(inCompany(() -> imports.preview(company, id)).problems())
			.extracting(CsvProblem::line, CsvProblem::column, CsvProblem::code)
			.containsExactlyInAnyOrder(problem(3, "pump_hours", "range"), problem(3, "flow_m3_h", "range"), problem(3, "filter", "oneOf"),
					problem(3, "cell_rating_lb_day", "range"), problem(3, "cell_percent", "range"), problem(3, "cover_hours", "range"),
					problem(4, "cell_rating_lb_day", "missing"));
	}

	@Test
	void unreadableFileIsRejectedWithReason() {
		assertThat(problemCodes("")).containsExactly("empty");
		assertThat(problemCodes("\uFEFF \n")).containsExactly("empty");
		assertThat(problemCodes("client,pool\n")).containsExactly("noRows");
		assertThat(problemCodes("customer,pool\nAlma,Pool\n")).containsExactly("noClientColumn");
		assertThat(problemCodes("client,client\nAlma,Pool\n")).containsExactly("columnTwice");
		assertThat(problemCodes("client,pool\nAlma,\"Pool\nBea,Pool\n")).containsExactly("quotes");
		assertThat(problemCodes("client\nA\0lma\n")).containsExactly("binary");
		assertThat(problemCodes("client\n" + "Alma\n".repeat(ClientImportService.ROWS_MAX + 1))).containsExactly("tooLong");
		assertThat(problemCodes("client\nAlma\n".concat("x".repeat(ClientImportService.SIZE_MAX)))).containsExactly("tooBig");
		assertThatThrownBy(
				() -> inCompany(() -> imports.stage(company, person, "x.csv", "client\nAña\n".getBytes(StandardCharsets.ISO_8859_1))))
			.isInstanceOfSatisfying(ClientImportService.UnreadableImportFile.class,
					refused -> assertThat(refused.problems().get(0).code()).isEqualTo("notUtf8"));
	}

	@Test
	void byteOrderMarkSemicolonsAndUnknownColumnsAreAccepted() {
		UUID id = stage("\uFEFFclient;pool;surface;sanitizer;fill_ph;shoe size\r\nAna Gil;Pool;tile;bromine;7,4;39\r\n");
		ClientImportService.ImportPreview preview = inCompany(() -> imports.preview(company, id));
		assertThat(preview.semicolonSeparated()).isTrue();
		assertThat(preview.unknownHeaders()).containsExactly("shoe size");
		assertThat(preview.problems()).isEmpty();
		PoolDetails pool = preview.lines().get(0).pool();
		assertThat(pool).isNotNull();
		assertThat(pool.fill().ph()).isEqualTo(7.4);
		assertThat(pool.body()).isEqualTo(BodyOfWater.POOL);
	}

	@Test
	void duplicatesAreImportedOnlyOnRequest() {
		String file = "client,pool,surface,sanitizer\nAlma Reyes,Pool,tile,bromine\n";
		importFile(file);
		UUID again = stage(file);
		assertThat(inCompany(() -> imports.preview(company, again)).lines()).extracting(ClientImportService.ImportLine::action)
			.containsExactly(ClientImportService.ImportAction.DUPLICATE);
		assertThat(inCompany(() -> imports.save(company, again, false, false))).hasValue(new ClientImportService.ImportResult(0, 0, 1));
		UUID third = stage(file);
		assertThat(inCompany(() -> imports.save(company, third, false, true))).hasValue(new ClientImportService.ImportResult(0, 1, 0));
	}

	/** What one company exports another takes in, and exports the same, byte for byte; nothing in it is a formula. */
	@Test
	void exportedFileCanBeImportedUnchanged() {
		importFile("""
				client,email,phone,language,client_notes,pool,street,town,postcode,latitude,longitude,body,surface,indoor,sanitizer,shape,length_ft,width_ft,narrow_width_ft,shallow_ft,deep_ft,waste_valve,fill_ph,fill_ta_ppm,monthly_fee,equipment_notes,access_notes,pump_hours,flow_gpm,filter,filter_clean_psi,cell_rating_lb_day,cell_percent,cell_step,cover_hours,bathers,ozone,uv,ionizer
				"Reyes, Alma",alma@example.org,+1 555 0101,es,"first line
				second ""quoted"" line",Back pool,12 Juniper Way,Chandler,85224,33.3,-111.8,pool,plaster,no,salt_cell,kidney,36,18,14.5,3.5,8,yes,7.9,160,129.50,"=HYPERLINK(""http://x"")",'+4711,8,45.5,sand,14,1.4,60,20,6,2.5,yes,no,yes
				@Vale,,,en,-,Spa,=1+1,,,,,spa,fibreglass,yes,bromine,round,8,,,2.75,3,no,,,,,,,,,,,,,,,,,
				Nobody Yet,,,en,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,
				""");
		String first = inCompany(() -> exports.export(company, true));
		assertThat(first).contains("'=1+1").contains("'@Vale").contains("'+1 555 0101").contains("\"'=HYPERLINK(\"\"http://x\"\")\"")
			.contains("\r\n");
		for (String cell : first.split("[,\r\n]")) {
			assertThat(cell).doesNotMatch("\"?[=+@].*");
		}
		assertThat(inCompany(() -> exports.export(company, false))).doesNotContain("4711").doesNotContain("access_notes");
		newCompany();
		importFile("\uFEFF" + first);
		assertThat(inCompany(() -> exports.export(company, true))).isEqualTo(first);
		assertThat(inCompany(() -> clients.pools(company))).extracting(PoolSummary::street).contains("=1+1");
		assertThat(inCompany(() -> clients.pools(company))).extracting(pool -> pool.facts().equipment())
			.contains(new Equipment(new Equipment.Cell(635.03, 60.0, 20), 8.0, 10_334.2, Equipment.Filter.SAND, 96.5, 6.0, 2.5,
					Set.of(Equipment.SecondSystem.OZONE, Equipment.SecondSystem.IONIZER)));
	}

	@Test
	void importOfAnotherCompanyAndDiscardedImportAreNotFound() {
		UUID id = stage("client\nAlma Reyes\n");
		CompanyId other = companies.newCompany(UnitSystem.US).user().company();
		assertThatThrownBy(() -> TenantContext.runAs(other, () -> imports.preview(other, id))).isInstanceOf(NotFound.class);
		assertThatThrownBy(() -> TenantContext.runAs(other, () -> imports.save(other, id, true, true))).isInstanceOf(NotFound.class);
		inCompany(() -> {
			imports.discard(company, id);
			return id;
		});
		assertThatThrownBy(() -> inCompany(() -> imports.preview(company, id))).isInstanceOf(NotFound.class);
	}

	private void importFile(String file) {
		UUID id = stage(file);
		assertThat(inCompany(() -> imports.preview(company, id)).problems()).isEmpty();
		assertThat(inCompany(() -> imports.save(company, id, false, false))).isPresent();
	}

	private UUID stage(String content) {
		return inCompany(() -> imports.stage(company, person, "clients.csv", content.getBytes(StandardCharsets.UTF_8)));
	}

	private List<String> problemCodes(String content) {
		try {
			stage(content);
			return List.of("taken");
		}
		catch (ClientImportService.UnreadableImportFile refused) {
			return refused.problems().stream().map(CsvProblem::code).toList();
		}
	}

	private static Tuple problem(int line, String column, String code) {
		return tuple(line, column, code);
	}

	private <T> T inCompany(Supplier<T> work) {
		return TenantContext.runAs(company, work);
	}

}
