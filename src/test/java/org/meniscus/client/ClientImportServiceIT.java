package org.meniscus.client;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;

import java.nio.charset.StandardCharsets;
import java.util.List;
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
	ClientService book;

	@Autowired
	TestCompanies companies;

	CompanyId company;

	PersonId person;

	@BeforeEach
	void newCompany() {
		TestCompanies.Owner owner = companies.newCompany(UnitSystem.US);
		company = owner.user().company();
		person = owner.user().person();
	}

	@Test
	void linesBecomeClientsAndPools() {
		UUID id = stage("""
				client,phone,pool,street,surface,sanitizer,volume_gal,volume_certainty,access_notes
				Alma Reyes,555 0101,Back pool,12 Juniper Way,plaster,salt cell,"15000",measured,"Gate ""4711""
				dog: Bruno, friendly"
				Alma Reyes,555 0101,Spa,12 Juniper Way,Fiberglass,chlorine-by-hand,400,,
				Tomas Vale,,,,,,,,
				""");
		assertThat(in(() -> imports.preview(company, id)).lines()).extracting(ClientImportService.Line::line, ClientImportService.Line::fate)
			.containsExactly(tuple(2, ClientImportService.Fate.NEW_CLIENT),
					tuple(4, ClientImportService.Fate.POOL_OF_LINE),
					tuple(5, ClientImportService.Fate.NEW_CLIENT));
		assertThat(in(() -> imports.take(company, id, false, false))).hasValue(new ClientImportService.Taken(2, 2, 0));
		List<PoolSummary> pools = in(() -> book.pools(company));
		assertThat(pools).extracting(PoolSummary::name).containsExactly("Back pool", "Spa");
		PoolDetails back = in(() -> book.poolRecord(company, pools.get(0).id())).details();
		assertThat(back.sanitizer()).isEqualTo(Sanitizer.SALT_CELL);
		assertThat(back.size().certainty()).isEqualTo(VolumeCertainty.MEASURED);
		assertThat(back.size().volumeLitres()).isEqualTo(56781.2);
		assertThat(back.accessNotes()).isEqualTo("Gate \"4711\"\ndog: Bruno, friendly");
		assertThat(pools.get(1).facts().surface()).isEqualTo(Surface.FIBREGLASS);
		assertThat(pools.get(1).facts().certainty()).isEqualTo(VolumeCertainty.UNVERIFIED);
	}

	@Test
	void everyBadLineAndColumnIsNamedAndNothingIsStored() {
		UUID id = stage("""
				client,email,pool,surface,sanitizer,volume_gal,indoor,fill_ph,latitude
				Alma Reyes,,Pool,plaster,salt_cell,15000,no,7.6,
				,,Pool,marble,salt_cell,"15,000",maybe,70,33.5
				Tomas Vale,tomas at home,Pool,,magic,abc,,,
				June Ito,,Pool,vinyl,salt_cell,10,,,,,extra
				""");
		ClientImportService.Preview preview = in(() -> imports.preview(company, id));
		assertThat(preview.lines()).extracting(ClientImportService.Line::line).containsExactly(2);
		assertThat(preview.badLines()).isEqualTo(3);
		assertThat(preview.problems()).extracting(CsvProblem::line, CsvProblem::column, CsvProblem::code)
			.containsExactlyInAnyOrder(problem(3, "client", "missing"), problem(3, "surface", "oneOf"), problem(3, "volume_gal", "thousands"),
					problem(3, "indoor", "oneOf"), problem(3, "fill_ph", "range"), problem(3, "longitude", "both"),
					problem(4, "email", "email"), problem(4, "surface", "missingOneOf"), problem(4, "sanitizer", "oneOf"),
					problem(4, "volume_gal", "number"), problem(5, null, "tooManyCells"));
		assertThat(in(() -> imports.take(company, id, false, false))).isEmpty();
		assertThat(in(() -> book.pools(company))).isEmpty();
		assertThat(in(() -> imports.take(company, id, true, false))).hasValue(new ClientImportService.Taken(1, 1, 3));
		// pressed twice
		assertThat(in(() -> imports.take(company, id, true, false))).hasValue(new ClientImportService.Taken(1, 1, 3));
		assertThat(in(() -> book.pools(company))).hasSize(1);
	}

	@Test
	void aFileThatCannotBeReadSaysWhy() {
		assertThat(refused("")).containsExactly("empty");
		assertThat(refused("\uFEFF \n")).containsExactly("empty");
		assertThat(refused("client,pool\n")).containsExactly("noRows");
		assertThat(refused("customer,pool\nAlma,Pool\n")).containsExactly("noClientColumn");
		assertThat(refused("client,client\nAlma,Pool\n")).containsExactly("columnTwice");
		assertThat(refused("client,pool\nAlma,\"Pool\nBea,Pool\n")).containsExactly("quotes");
		assertThat(refused("client\nA\0lma\n")).containsExactly("binary");
		assertThat(refused("client\n" + "Alma\n".repeat(ClientImportService.ROWS_MAX + 1))).containsExactly("tooLong");
		assertThat(refused("client\nAlma\n".concat("x".repeat(ClientImportService.SIZE_MAX)))).containsExactly("tooBig");
		assertThatThrownBy(() -> in(() -> imports.stage(company, person, "x.csv", "client\nAña\n".getBytes(StandardCharsets.ISO_8859_1))))
			.isInstanceOfSatisfying(ClientImportService.Refused.class, refused -> assertThat(refused.problems().get(0).code()).isEqualTo("notUtf8"));
	}

	@Test
	void byteOrderMarkSemicolonsAndOtherColumnsAreTold() {
		UUID id = stage("\uFEFFclient;pool;surface;sanitizer;fill_ph;shoe size\r\nAna Gil;Pool;tile;bromine;7,4;39\r\n");
		ClientImportService.Preview preview = in(() -> imports.preview(company, id));
		assertThat(preview.semicolons()).isTrue();
		assertThat(preview.unknown()).containsExactly("shoe size");
		assertThat(preview.problems()).isEmpty();
		PoolDetails pool = preview.lines().get(0).pool();
		assertThat(pool).isNotNull();
		assertThat(pool.fill().ph()).isEqualTo(7.4);
		assertThat(pool.body()).isEqualTo(BodyOfWater.POOL);
	}

	@Test
	void whatIsThereAlreadyIsTakenOnlyWhenToldTo() {
		String file = "client,pool,surface,sanitizer\nAlma Reyes,Pool,tile,bromine\n";
		take(file);
		UUID again = stage(file);
		assertThat(in(() -> imports.preview(company, again)).lines()).extracting(ClientImportService.Line::fate)
			.containsExactly(ClientImportService.Fate.DUPLICATE);
		assertThat(in(() -> imports.take(company, again, false, false))).hasValue(new ClientImportService.Taken(0, 0, 1));
		UUID third = stage(file);
		assertThat(in(() -> imports.take(company, third, false, true))).hasValue(new ClientImportService.Taken(0, 1, 0));
	}

	/** What one company exports another takes in, and exports the same, byte for byte; nothing in it is a formula. */
	@Test
	void exportComesBackTheSame() {
		take("""
				client,email,phone,language,client_notes,pool,street,town,postcode,latitude,longitude,body,surface,indoor,sanitizer,shape,length_ft,width_ft,narrow_width_ft,shallow_ft,deep_ft,waste_valve,fill_ph,fill_ta_ppm,monthly_fee,equipment_notes,access_notes
				"Reyes, Alma",alma@example.org,+1 555 0101,es,"first line
				second ""quoted"" line",Back pool,12 Juniper Way,Chandler,85224,33.3,-111.8,pool,plaster,no,salt_cell,kidney,36,18,14.5,3.5,8,yes,7.9,160,129.50,"=HYPERLINK(""http://x"")",'+4711
				@Vale,,,en,-,Spa,=1+1,,,,,spa,fibreglass,yes,bromine,round,8,,,2.75,3,no,,,,,
				Nobody Yet,,,en,,,,,,,,,,,,,,,,,,,,,,,
				""");
		String first = in(() -> exports.export(company, true));
		assertThat(first).contains("'=1+1").contains("'@Vale").contains("'+1 555 0101").contains("\"'=HYPERLINK(\"\"http://x\"\")\"").contains("\r\n");
		for (String cell : first.split("[,\r\n]")) {
			assertThat(cell).doesNotMatch("\"?[=+@].*");
		}
		assertThat(in(() -> exports.export(company, false))).doesNotContain("4711").doesNotContain("access_notes");
		newCompany();
		take("\uFEFF" + first);
		assertThat(in(() -> exports.export(company, true))).isEqualTo(first);
		assertThat(in(() -> book.pools(company))).extracting(PoolSummary::street).contains("=1+1");
	}

	@Test
	void anotherCompanysFileIsNotThereAndAThrownAwayOneIsGone() {
		UUID id = stage("client\nAlma Reyes\n");
		CompanyId other = companies.newCompany(UnitSystem.US).user().company();
		assertThatThrownBy(() -> TenantContext.as(other, () -> imports.preview(other, id))).isInstanceOf(NotFound.class);
		assertThatThrownBy(() -> TenantContext.as(other, () -> imports.take(other, id, true, true))).isInstanceOf(NotFound.class);
		in(() -> {
			imports.discard(company, id);
			return id;
		});
		assertThatThrownBy(() -> in(() -> imports.preview(company, id))).isInstanceOf(NotFound.class);
	}

	private void take(String file) {
		UUID id = stage(file);
		assertThat(in(() -> imports.preview(company, id)).problems()).isEmpty();
		assertThat(in(() -> imports.take(company, id, false, false))).isPresent();
	}

	private UUID stage(String content) {
		return in(() -> imports.stage(company, person, "clients.csv", content.getBytes(StandardCharsets.UTF_8)));
	}

	private List<String> refused(String content) {
		try {
			stage(content);
			return List.of("taken");
		}
		catch (ClientImportService.Refused refused) {
			return refused.problems().stream().map(CsvProblem::code).toList();
		}
	}

	private static Tuple problem(int line, String column, String code) {
		return tuple(line, column, code);
	}

	private <T> T in(Supplier<T> work) {
		return TenantContext.as(company, work);
	}

}
