package org.meniscus.platform.database;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.TenantContext;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionOperations;

@IntegrationTest
class TenantIsolationIT {

	@Autowired
	TestCompanies companies;

	@Autowired
	JdbcClient jdbc;

	@Autowired
	TransactionOperations transactions;

	@Test
	void oneCompanySeesNoRowOfAnother() {
		CompanyId first = companies.newCompany(UnitSystem.US).user().company();
		CompanyId second = companies.newCompany(UnitSystem.METRIC).user().company();
		assertThat(peopleSeenBy(first)).isEqualTo(1);
		assertThat(peopleSeenBy(second)).isEqualTo(1);
		assertThat(TenantContext.<Integer>runAs(first,
				() -> transactions.execute(status -> jdbc.sql("SELECT count(*) FROM person WHERE company_id = :other")
					.param("other", second.value())
					.query(Integer.class)
					.single())))
			.isZero();
	}

	@Test
	void noRowsAreVisibleWithoutACompany() {
		companies.newCompany(UnitSystem.US);
		assertThat(transactions.<Integer>execute(status -> jdbc.sql("SELECT count(*) FROM person").query(Integer.class).single())).isZero();
	}

	@Test
	void writingIntoAnotherCompanyIsRefusedByTheDatabase() {
		CompanyId first = companies.newCompany(UnitSystem.US).user().company();
		CompanyId second = companies.newCompany(UnitSystem.US).user().company();
		assertThatThrownBy(() -> TenantContext.runAs(first, () -> transactions.execute(status -> jdbc.sql("""
				INSERT INTO client (company_id, id, name, created_at, updated_at)
				VALUES (:other, gen_random_uuid(), 'x', now(), now())""").param("other", second.value()).update())))
			.isInstanceOf(DataAccessException.class)
			.rootCause()
			.hasMessageContaining("row-level security");
	}

	private int peopleSeenBy(CompanyId company) {
		return TenantContext.<Integer>runAs(company,
				() -> transactions.execute(status -> jdbc.sql("SELECT count(*) FROM person").query(Integer.class).single()));
	}

}
