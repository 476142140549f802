package org.meniscus.platform.database;

import java.util.Objects;

import org.meniscus.platform.TenantContext;
import org.meniscus.platform.TenantContext.TenantScope;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.orm.jpa.JpaTransactionManager;
import org.springframework.transaction.CannotCreateTransactionException;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.DefaultTransactionStatus;

/**
 * Begins every transaction by naming its company to the database. SET LOCAL ends with the transaction, so a pooled connection carries
 * nothing over; the only literals are a UUID and 64 hex digits. A transaction whose company cannot be named does not begin, and leaves
 * nothing on the thread.
 */
class TenantTransactionManager extends JpaTransactionManager {

	@Override
	protected void doBegin(Object transaction, TransactionDefinition definition) {
		super.doBegin(transaction, definition);
		try {
			TenantContext.current().ifPresent(this::setLocal);
		}
		catch (RuntimeException | Error ex) {
			giveUp(transaction, definition, ex);
			throw new CannotCreateTransactionException("The database could not be told whose transaction this is", ex);
		}
	}

	private void setLocal(TenantScope scope) {
		new JdbcTemplate(Objects.requireNonNull(getDataSource())).execute(statement(scope));
	}

	/** Spring takes a transaction whose begin failed for one that has left nothing behind. */
	private void giveUp(Object transaction, TransactionDefinition definition, Throwable ex) {
		try {
			doRollback(new DefaultTransactionStatus(definition.getName(), transaction, true, false, false, definition.isReadOnly(), false,
					null));
		}
		catch (RuntimeException rollback) {
			ex.addSuppressed(rollback);
		}
		finally {
			doCleanupAfterCompletion(transaction);
		}
	}

	private static String statement(TenantScope scope) {
		if (scope instanceof TenantScope.CompanyScope company) {
			return "SET LOCAL app.company_id = '" + company.id().value() + "'";
		}
		return "SET LOCAL app.lookup_key = '" + ((TenantScope.LookupScope) scope).hexSha256() + "'";
	}

}
