package org.meniscus.platform.database;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.TenantContext;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.TransactionExecution;
import org.springframework.transaction.TransactionExecutionListener;

/**
 * Opens the tenant's context as the first statement of every transaction. SET LOCAL ends with the transaction, so a pooled
 * connection carries nothing over; the only literals are a UUID and 64 hex digits.
 */
@Component
class TenantTransactionListener implements TransactionExecutionListener {

	private final JdbcTemplate jdbc;

	TenantTransactionListener(JdbcTemplate jdbc) {
		this.jdbc = jdbc;
	}

	@Override
	public void afterBegin(TransactionExecution transaction, @Nullable Throwable beginFailure) {
		if (beginFailure != null) {
			return;
		}
		TenantContext.current().ifPresent(scope -> jdbc.execute(statement(scope)));
	}

	private static String statement(TenantContext.TenantScope scope) {
		if (scope instanceof TenantContext.TenantScope.CompanyScope company) {
			return "SET LOCAL app.company_id = '" + company.id().value() + "'";
		}
		return "SET LOCAL app.lookup_key = '" + ((TenantContext.TenantScope.LookupScope) scope).hexSha256() + "'";
	}

}
