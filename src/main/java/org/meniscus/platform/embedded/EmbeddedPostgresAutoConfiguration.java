package org.meniscus.platform.embedded;

import java.nio.file.Path;

import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.autoconfigure.AutoConfiguration;
import org.springframework.boot.autoconfigure.condition.ConditionMessage;
import org.springframework.boot.autoconfigure.condition.ConditionOutcome;
import org.springframework.boot.autoconfigure.condition.ConditionalOnMissingBean;
import org.springframework.boot.autoconfigure.condition.SpringBootCondition;
import org.springframework.boot.flyway.autoconfigure.FlywayAutoConfiguration;
import org.springframework.boot.flyway.autoconfigure.FlywayConnectionDetails;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.ConditionContext;
import org.springframework.context.annotation.Conditional;
import org.springframework.core.type.AnnotatedTypeMetadata;
import org.springframework.util.StringUtils;

/** Runs the embedded PostgreSQL when no datasource is set; migrations run as its owner, the service as {@code app_rw}. */
@AutoConfiguration(before = { DataSourceAutoConfiguration.class, FlywayAutoConfiguration.class })
@Conditional(EmbeddedPostgresAutoConfiguration.NoDatasourceUrl.class)
@ConditionalOnMissingBean(JdbcConnectionDetails.class)
public class EmbeddedPostgresAutoConfiguration {

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

	static final class NoDatasourceUrl extends SpringBootCondition {

		@Override
		public ConditionOutcome getMatchOutcome(ConditionContext context, AnnotatedTypeMetadata metadata) {
			boolean set = StringUtils.hasText(context.getEnvironment().getProperty("spring.datasource.url"));
			return new ConditionOutcome(!set, ConditionMessage.of(set ? "a datasource is set" : "no datasource is set"));
		}

	}

}
