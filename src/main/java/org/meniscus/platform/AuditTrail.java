package org.meniscus.platform;

import java.sql.Timestamp;
import java.time.Clock;
import java.util.Map;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;
import tools.jackson.databind.json.JsonMapper;

/**
 * What was done to what, by whom, for the company. Written in the transaction of the deed, so one is never stored without the
 * other. Holds ids only, never names, addresses or codes: nothing here ever needs erasing.
 */
@Component
public class AuditTrail {

	private final JdbcClient jdbc;

	private final JsonMapper json;

	private final UuidGenerator ids;

	private final Clock clock;

	AuditTrail(JdbcClient jdbc, JsonMapper json, UuidGenerator ids, Clock clock) {
		this.jdbc = jdbc;
		this.json = json;
		this.ids = ids;
		this.clock = clock;
	}

	/**
	 * The person is whoever is signed in; none for a deed before sign-in.
	 *
	 * @param action dotted name such as {@code person.deactivated}
	 * @param subject id of what was acted on
	 * @param detail more ids and codes by name
	 * @throws IllegalStateException outside a company's context
	 */
	@Transactional(propagation = Propagation.MANDATORY)
	public void record(String action, String subject, Map<String, ?> detail) {
		CompanyId company = TenantContext.current()
			.filter(TenantContext.TenantScope.CompanyScope.class::isInstance)
			.map(scope -> ((TenantContext.TenantScope.CompanyScope) scope).id())
			.orElseThrow(() -> new IllegalStateException("no company to record " + action + " for"));
		jdbc.sql("""
				INSERT INTO audit_event (company_id, id, at, person_id, action, subject, detail)
				VALUES (:company, :id, :at, :person, :action, :subject, CAST(:detail AS jsonb))""")
			.param("company", company.value())
			.param("id", ids.next())
			.param("at", Timestamp.from(clock.instant()))
			.param("person", person(company), java.sql.Types.OTHER)
			.param("action", action)
			.param("subject", subject)
			.param("detail", detail.isEmpty() ? null : json.writeValueAsString(detail), java.sql.Types.VARCHAR)
			.update();
	}

	private static @Nullable UUID person(CompanyId company) {
		Authentication authentication = SecurityContextHolder.getContext().getAuthentication();
		return (authentication != null && authentication.getPrincipal() instanceof SignedInUser user && user.company().equals(company))
				? user.person().value() : null;
	}

}
