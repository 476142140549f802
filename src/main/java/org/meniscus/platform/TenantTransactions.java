package org.meniscus.platform;

import java.util.Objects;
import java.util.function.Supplier;

import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionOperations;

/** Transactions of a company, for work that does not begin with somebody who is signed in. */
@Component
public class TenantTransactions {

	private final TransactionOperations transactions;

	TenantTransactions(TransactionOperations transactions) {
		this.transactions = transactions;
	}

	public <T> T call(CompanyId company, Supplier<T> work) {
		return TenantContext.runAs(company, () -> inTransaction(work));
	}

	public void run(CompanyId company, Runnable work) {
		TenantContext.runAs(company, () -> transactions.executeWithoutResult(status -> work.run()));
	}

	/** See {@link TenantContext#runLookup}. */
	public <T> T lookUp(byte[] sha256, Supplier<T> work) {
		return TenantContext.runLookup(sha256, () -> inTransaction(work));
	}

	private <T> T inTransaction(Supplier<T> work) {
		return Objects.requireNonNull(transactions.execute(status -> work.get()));
	}

}
