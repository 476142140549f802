package org.meniscus.company;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.MonthDay;
import java.util.List;
import java.util.UUID;

import org.junit.jupiter.api.Test;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.Stale;
import org.meniscus.support.PoolRows;
import org.meniscus.support.ServiceTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.UnitSystem;
import org.meniscus.water.treatment.Costs;
import org.meniscus.water.treatment.MinimumRule;
import org.springframework.beans.factory.annotation.Autowired;

@ServiceTest
class TreatmentRulesIT {

	private static final TreatmentRules OWN = new TreatmentRules(3.5, 0.85, MinimumRule.HYPOCHLOROUS_ACID,
			new Costs(158.5032, 12_050, 3199), MonthDay.of(10, 15));

	@Autowired
	CompanyRegister register;

	@Autowired
	TestCompanies companies;

	@Autowired
	PoolRows rows;

	@Test
	void aNewCompanyHasTheUsualRulesAndItsOwnOnceDecided() {
		CompanyId company = companies.newCompany(UnitSystem.US).user().company();
		CompanySettings fresh = register.settings(company);
		assertThat(fresh.treatment()).isEqualTo(TreatmentRules.USUAL);
		register.changeTreatment(company, fresh.version(), OWN);
		CompanySettings changed = register.settings(company);
		assertThat(changed.treatment()).isEqualTo(OWN);
		assertThat(changed.name()).isEqualTo(fresh.name());
		assertThat(deeds(company)).containsOnlyOnce("company.treatment.changed");

		register.change(company, new ChangeCompany(changed.version(), "Renamed", UnitSystem.METRIC, changed.zone(), changed.currency()));
		assertThat(register.settings(company).treatment()).as("after another change of the company").isEqualTo(OWN);
		register.changeTreatment(company, register.settings(company).version(), TreatmentRules.USUAL);
		assertThat(register.settings(company).treatment()).isEqualTo(TreatmentRules.USUAL);
	}

	@Test
	void theSecondOfTwoEditorsIsTold() {
		CompanyId company = companies.newCompany(UnitSystem.US).user().company();
		long seen = register.settings(company).version();
		register.changeTreatment(company, seen, OWN);
		assertThatThrownBy(() -> register.changeTreatment(company, seen, TreatmentRules.USUAL)).isInstanceOf(Stale.class);
		assertThat(register.settings(company).treatment()).isEqualTo(OWN);
		assertThat(deeds(company)).containsOnlyOnce("company.treatment.changed");
	}

	/** As the service before these columns still writes it. */
	@Test
	void aCompanyFromBeforeHasTheUsualRules() {
		CompanyId company = new CompanyId(UUID.randomUUID());
		rows.within(company, () -> rows.sql("""
				INSERT INTO company (id, name, units, time_zone, currency, created_at, updated_at)
				VALUES (:id, 'From before', 'US', 'America/Phoenix', 'USD', now(), now())""").param("id", company.value()).update());
		assertThat(register.settings(company).treatment()).isEqualTo(TreatmentRules.USUAL);
	}

	private List<String> deeds(CompanyId company) {
		return rows.within(company, () -> rows.sql("SELECT action FROM audit_event WHERE company_id = :company")
			.param("company", company.value())
			.query(String.class)
			.list());
	}

}
