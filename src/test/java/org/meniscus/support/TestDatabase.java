package org.meniscus.support;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.DriverManager;
import java.sql.SQLException;

import org.springframework.boot.flyway.autoconfigure.FlywayConnectionDetails;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Condition;
import org.springframework.context.annotation.ConditionContext;
import org.springframework.context.annotation.Conditional;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.type.AnnotatedTypeMetadata;
import org.springframework.test.context.DynamicPropertyRegistrar;
import org.testcontainers.DockerClientFactory;
import org.testcontainers.postgresql.PostgreSQLContainer;

/** PostgreSQL in a container where Docker answers, else the embedded one in a fresh folder. Either way the service is app_rw. */
@TestConfiguration(proxyBeanMethods = false)
public class TestDatabase {

	private static final boolean DOCKER = !"embedded".equals(System.getProperty("test.db"))
			&& DockerClientFactory.instance().isDockerAvailable();

	@Bean
	DynamicPropertyRegistrar databaseFolder() throws IOException {
		Path folder = Files.createTempDirectory("meniscus-test");
		folder.toFile().deleteOnExit();
		return registry -> registry.add("meniscus.database.home", folder::toString);
	}

	static final class OnDockerAvailable implements Condition {

		@Override
		public boolean matches(ConditionContext context, AnnotatedTypeMetadata metadata) {
			return DOCKER;
		}

	}

	@Configuration(proxyBeanMethods = false)
	@Conditional(OnDockerAvailable.class)
	static class ContainerDatabase {

		@Bean(destroyMethod = "stop")
		PostgreSQLContainer postgres() throws SQLException {
			PostgreSQLContainer container = new PostgreSQLContainer("postgres:18");
			container.start();
			try (var connection = DriverManager.getConnection(container.getJdbcUrl(), container.getUsername(),
					container.getPassword()); var sql = connection.createStatement()) {
				sql.execute("CREATE ROLE app_owner LOGIN PASSWORD 'owner'");
				sql.execute("CREATE ROLE app_rw LOGIN PASSWORD 'rw'");
				sql.execute("ALTER DATABASE " + container.getDatabaseName() + " OWNER TO app_owner");
				sql.execute("ALTER SCHEMA public OWNER TO app_owner");
			}
			return container;
		}

		@Bean
		JdbcConnectionDetails jdbcDetails(PostgreSQLContainer postgres) {
			return new JdbcConnectionDetails() {

				@Override
				public String getUsername() {
					return "app_rw";
				}

				@Override
				public String getPassword() {
					return "rw";
				}

				@Override
				public String getJdbcUrl() {
					return postgres.getJdbcUrl();
				}

			};
		}

		@Bean
		FlywayConnectionDetails flywayDetails(PostgreSQLContainer postgres) {
			return new FlywayConnectionDetails() {

				@Override
				public String getUsername() {
					return "app_owner";
				}

				@Override
				public String getPassword() {
					return "owner";
				}

				@Override
				public String getJdbcUrl() {
					return postgres.getJdbcUrl();
				}

			};
		}

	}

}
