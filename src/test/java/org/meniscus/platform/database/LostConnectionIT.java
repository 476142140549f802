package org.meniscus.platform.database;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;

import javax.sql.DataSource;

import com.zaxxer.hikari.HikariDataSource;
import org.junit.jupiter.api.Test;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.TenantTransactions;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.water.units.UnitSystem;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.CannotCreateTransactionException;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/** A connection that is gone costs the transaction that meets it, and nothing after it. */
@IntegrationTest
class LostConnectionIT {

	@Autowired
	TestCompanies companies;

	@Autowired
	TenantTransactions transactions;

	@Autowired
	JdbcClient jdbc;

	@Autowired
	DataSource dataSource;

	@Test
	void aThreadSeesItsCompanyAgainAfterItsConnectionWasLost() throws SQLException {
		CompanyId company = companies.newCompany(UnitSystem.US).user().company();
		int met = 0;
		for (int n = 0; n < 30 && met < 3; n++) {
			loseTheConnectionOfThisThread(company);
			try {
				peopleSeenBy(company);
			}
			catch (CannotCreateTransactionException ex) {
				met++;
			}
			assertThat(TransactionSynchronizationManager.isSynchronizationActive()).isFalse();
			assertThat(TransactionSynchronizationManager.getResourceMap()).isEmpty();
			assertThat(peopleSeenBy(company)).isEqualTo(1);
		}
		assertThat(met).isEqualTo(3);
	}

	/** The pool gives a thread the connection it had last, and on a machine that is not too busy does not look whether it is still there. */
	private void loseTheConnectionOfThisThread(CompanyId company) throws SQLException {
		int backend = transactions.call(company, () -> jdbc.sql("SELECT pg_backend_pid()").query(Integer.class).single());
		HikariDataSource pool = dataSource.unwrap(HikariDataSource.class);
		try (Connection other = DriverManager.getConnection(pool.getJdbcUrl(), pool.getUsername(), pool.getPassword());
				Statement statement = other.createStatement();
				ResultSet ended = statement.executeQuery("SELECT pg_terminate_backend(" + backend + ", 2000)")) {
			assertThat(ended.next() && ended.getBoolean(1)).isTrue();
		}
	}

	private int peopleSeenBy(CompanyId company) {
		return transactions.call(company, () -> jdbc.sql("SELECT count(*) FROM person").query(Integer.class).single());
	}

}
