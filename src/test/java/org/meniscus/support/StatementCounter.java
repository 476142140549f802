package org.meniscus.support;

import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;

import javax.sql.DataSource;

import org.springframework.beans.factory.config.BeanPostProcessor;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.context.annotation.Bean;
import org.springframework.jdbc.datasource.DelegatingDataSource;

/** Counts what a thread sends to the database, through JPA or JdbcClient alike; a batch counts once. */
@TestConfiguration(proxyBeanMethods = false)
public class StatementCounter {

	private static final ThreadLocal<long[]> SENT = ThreadLocal.withInitial(() -> new long[1]);

	/** Work that may fail. */
	public interface Work {

		void run() throws Exception;

	}

	public static long count(Work work) throws Exception {
		long before = SENT.get()[0];
		work.run();
		return SENT.get()[0] - before;
	}

	@Bean
	static BeanPostProcessor countedDataSource() {
		return new BeanPostProcessor() {

			@Override
			public Object postProcessAfterInitialization(Object bean, String name) {
				return (bean instanceof DataSource database) ? new CountedDataSource(database) : bean;
			}

		};
	}

	private static final class CountedDataSource extends DelegatingDataSource {

		CountedDataSource(DataSource database) {
			super(database);
		}

		@Override
		public Connection getConnection() throws SQLException {
			return counted(Connection.class, super.getConnection());
		}

	}

	private static <T> T counted(Class<T> type, Object target) {
		return type.cast(Proxy.newProxyInstance(type.getClassLoader(), new Class<?>[]{ type }, (proxy, method, arguments) -> {
			if (method.getName().startsWith("execute")) {
				SENT.get()[0]++;
			}
			try {
				Object result = method.invoke(target, arguments);
				return Statement.class.isAssignableFrom(method.getReturnType()) ? counted(method.getReturnType(), result) : result;
			}
			catch (InvocationTargetException ex) {
				throw ex.getCause();
			}
		}));
	}

}
