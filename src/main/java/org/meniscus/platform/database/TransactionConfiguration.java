package org.meniscus.platform.database;

import org.springframework.beans.factory.ObjectProvider;
import org.springframework.boot.transaction.autoconfigure.TransactionManagerCustomizers;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

@Configuration(proxyBeanMethods = false)
class TransactionConfiguration {

	@Bean
	TenantTransactionManager transactionManager(ObjectProvider<TransactionManagerCustomizers> customizers) {
		TenantTransactionManager manager = new TenantTransactionManager();
		customizers.ifAvailable(all -> all.customize(manager));
		return manager;
	}

}
