package org.meniscus.company;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.MonthDay;
import java.util.List;
import java.util.UUID;

import org.junit.jupiter.api.Test;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.StaleVersion;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.water.assess.MinimumRule;
import org.meniscus.water.assess.TreatmentCosts;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.TestKit;
import org.meniscus.water.pool.TestMethod;
import org.meniscus.water.pool.TestMethods;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;

@IntegrationTest
class TreatmentSettingsIT {

	private static final TreatmentSettings OWN = new TreatmentSettings(3.5, 0.85, MinimumRule.HYPOCHLOROUS_ACID,
			new TreatmentCosts(158.5032, 12_050, 3199).withWaterScarce(true), MonthDay.of(10, 15),
			TestMethods.of(TestKit.DROPS_25_ML).with(Level.CYA, new TestMethod(TestKit.PHOTOMETER, 1)));

	@Autowired
	CompanyService companyService;

	@Autowired
	TestCompanies companies;

	@Autowired
	TestRows rows;

	@Test
	void newCompanyHasDefaultSettingsUntilChanged() {
		CompanyId company = companies.newCompany(UnitSystem.US).user().company();
		CompanySettings fresh = companyService.settings(company);
		assertThat(fresh.treatment()).isEqualTo(TreatmentSettings.DEFAULTS);
		companyService.changeTreatment(company, fresh.version(), OWN);
		CompanySettings changed = companyService.settings(company);
		assertThat(changed.treatment()).isEqualTo(OWN);
		assertThat(changed.treatment().tests().method(Level.CYA).kit()).isEqualTo(TestKit.PHOTOMETER);
		assertThat(changed.name()).isEqualTo(fresh.name());
		assertThat(auditActions(company)).containsOnlyOnce("company.treatment.changed");

		companyService.change(company,
				new ChangeCompany(changed.version(), "Renamed", UnitSystem.METRIC, changed.zone(), changed.currency()));
		assertThat(companyService.settings(company).treatment()).as("after another change of the company").isEqualTo(OWN);
		companyService.changeTreatment(company, companyService.settings(company).version(), TreatmentSettings.DEFAULTS);
		assertThat(companyService.settings(company).treatment()).isEqualTo(TreatmentSettings.DEFAULTS);
	}

	@Test
	void changeWithAStaleVersionIsRejected() {
		CompanyId company = companies.newCompany(UnitSystem.US).user().company();
		long seen = companyService.settings(company).version();
		companyService.changeTreatment(company, seen, OWN);
		assertThatThrownBy(() -> companyService.changeTreatment(company, seen, TreatmentSettings.DEFAULTS))
			.isInstanceOf(StaleVersion.class);
		assertThat(companyService.settings(company).treatment()).isEqualTo(OWN);
		assertThat(auditActions(company)).containsOnlyOnce("company.treatment.changed");
	}

	/** As the service before these columns still writes it. */
	@Test
	void companyStoredWithoutTheseColumnsHasDefaultSettings() {
		CompanyId company = new CompanyId(UUID.randomUUID());
		rows.inCompany(company, () -> rows.sql("""
				INSERT INTO company (id, name, units, time_zone, currency, created_at, updated_at)
				VALUES (:id, 'From before', 'US', 'America/Phoenix', 'USD', now(), now())""").param("id", company.value()).update());
		assertThat(companyService.settings(company).treatment()).isEqualTo(TreatmentSettings.DEFAULTS);
	}

	private List<String> auditActions(CompanyId company) {
		return rows.inCompany(company, () -> rows.sql("SELECT action FROM audit_event WHERE company_id = :company")
			.param("company", company.value())
			.query(String.class)
			.list());
	}

}
