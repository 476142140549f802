package org.meniscus.demo;

import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;

import org.meniscus.support.TestDatabase;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.context.annotation.Import;
import org.springframework.test.context.bean.override.convention.TestBean;

/** The service with the invented company as a first start makes it, in a database of its own, at ten in the morning of one day. */
@SpringBootTest(webEnvironment = SpringBootTest.WebEnvironment.RANDOM_PORT, properties = { "meniscus.database.durable=false",
		"meniscus.demo=true" })
@Import(TestDatabase.class)
abstract class DemoContext {

	@TestBean
	Clock clock;

	static Clock clock() {
		return Clock.fixed(Instant.parse("2026-11-25T17:00:00Z"), ZoneOffset.UTC);
	}

}
