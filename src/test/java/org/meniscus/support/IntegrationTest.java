package org.meniscus.support;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

import org.meniscus.report.SeasonFixtures;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.context.annotation.Import;

/** The whole service on a real PostgreSQL and a random port. One context serves every test that carries just this. */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@SpringBootTest(webEnvironment = SpringBootTest.WebEnvironment.RANDOM_PORT, properties = { "meniscus.database.durable=false",
		"meniscus.demo=false" })
@Import({ TestDatabase.class, StatementCounter.class, TestCompanies.class, TestRows.class, SeasonFixtures.class })
public @interface IntegrationTest {
}
