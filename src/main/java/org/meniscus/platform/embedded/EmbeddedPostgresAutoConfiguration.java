package org.meniscus.platform.embedded;

import java.nio.file.Path;
import java.util.Arrays;

import org.flywaydb.core.Flyway;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.autoconfigure.AutoConfiguration;
import org.springframework.boot.autoconfigure.condition.ConditionalOnMissingBean;
import org.springframework.boot.flyway.autoconfigure.FlywayAutoConfiguration;
import org.springframework.boot.flyway.autoconfigure.FlywayConnectionDetails;
import org.springframework.boot.flyway.autoconfigure.FlywayMigrationStrategy;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Condition;
import org.springframework.context.annotation.ConditionContext;
import org.springframework.context.annotation.Conditional;
import org.springframework.core.type.AnnotatedTypeMetadata;
import org.springframework.util.StringUtils;

/** Runs the embedded PostgreSQL when no datasource is set; migrations run as its owner, the service as {@code app_rw}. */
@AutoConfiguration(before = { DataSourceAutoConfiguration.class, FlywayAutoConfiguration.class })
@Conditional(EmbeddedPostgresAutoConfiguration.NoDatasourceUrl.class)
@ConditionalOnMissingBean(JdbcConnectionDetails.class)
public class EmbeddedPostgresAutoConfiguration {

	/** A step of the line of migrations before the first release, which the present line does not carry on. */
	private static final String STEP_OF_EARLIER_LINE = "V004__service_plans_and_stops.sql";

	@Bean(destroyMethod = "close")
	EmbeddedPostgresServer embeddedPostgresServer(@Value("${meniscus.database.home:data}") Path home,
			@Value("${meniscus.database.durable:true}") boolean durable) {
		return EmbeddedPostgresServer.start(home.toAbsolutePath().normalize(), durable);
	}

	@Bean
	JdbcConnectionDetails embeddedJdbcDetails(EmbeddedPostgresServer server) {
		return new JdbcConnectionDetails() {

			@Override
			public String getUsername() {
				return EmbeddedPostgresServer.RUNTIME_ROLE;
			}

			@Override
			public String getPassword() {
				return server.password(EmbeddedPostgresServer.RUNTIME_ROLE);
			}

			@Override
			public String getJdbcUrl() {
				return server.url();
			}

		};
	}

	@Bean
	FlywayConnectionDetails embeddedFlywayDetails(EmbeddedPostgresServer server) {
		return new FlywayConnectionDetails() {

			@Override
			public String getUsername() {
				return EmbeddedPostgresServer.OWNER_ROLE;
			}

			@Override
			public String getPassword() {
				return server.password(EmbeddedPostgresServer.OWNER_ROLE);
			}

			@Override
			public String getJdbcUrl() {
				return server.url();
			}

		};
	}

	@Bean
	FlywayMigrationStrategy embeddedMigrationStrategy(EmbeddedPostgresServer server) {
		return flyway -> migrate(flyway, server.home());
	}

	static void migrate(Flyway flyway, Path home) {
		if (Arrays.stream(flyway.info().applied()).anyMatch(step -> STEP_OF_EARLIER_LINE.equals(step.getScript()))) {
			throw new DatabaseFolderUnusable("The data folder " + home + " was made by an earlier line of migrations, which this version "
					+ "cannot carry on. To start anew, delete that folder, or choose another with meniscus.database.home.", null);
		}
		flyway.migrate();
	}

	static final class NoDatasourceUrl implements Condition {

		@Override
		public boolean matches(ConditionContext context, AnnotatedTypeMetadata metadata) {
			return !StringUtils.hasText(context.getEnvironment().getProperty("spring.datasource.url"));
		}

	}

}
