package org.meniscus.route;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.Map;
import java.util.UUID;
import java.util.function.Supplier;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.water.units.UnitSystem;

/** A company of its own for each test, with technicians, pools and schedules as the test asks for. */
public final class RouteFixtures {

	public final CompanyId company;

	public final TestCompanies.TestUser owner;

	private final TestRows rows;

	private int pools;

	public RouteFixtures(TestCompanies companies, TestRows rows) {
		this.owner = companies.newCompany(UnitSystem.US);
		this.company = owner.user().company();
		this.rows = rows;
	}

	public <T> T in(Supplier<T> work) {
		return rows.inCompany(company, work);
	}

	public TestCompanies.TestUser driver(String name) {
		return rows.person(company, Role.TECHNICIAN, name);
	}

	public PersonId technician(String name) {
		return driver(name).user().person();
	}

	public void leaves(PersonId person) {
		update("UPDATE person SET active = false WHERE company_id = :company AND id = :id", person.value());
	}

	/** A plaster pool with chlorine added by hand, in Quombley Bend. */
	public PoolId pool(String client, String street, @Nullable String accessNotes) {
		Map<String, Object> more = new HashMap<>(Map.of("street", street, "town", "Quombley Bend", "sanitizer", "CHLORINE_BY_HAND",
				"latitude", 33.5, "longitude", -112.1));
		if (accessNotes != null) {
			more.put("access_notes", accessNotes);
		}
		return new PoolId(rows.pool(company, rows.client(company, client, Map.of()), "Pool " + ++pools, more));
	}

	public PoolId pool() {
		return pool("Client " + (pools + 1), (pools + 1) + " Juniper Lane", null);
	}

	public void archive(PoolId pool) {
		update("UPDATE pool SET archived_at = now() WHERE company_id = :company AND id = :id", pool.value());
	}

	public void restore(PoolId pool) {
		update("UPDATE pool SET archived_at = NULL WHERE company_id = :company AND id = :id", pool.value());
	}

	/** As a visit would leave it. */
	public void done(StopLine stop) {
		update("UPDATE stop SET state = 'DONE', version = version + 1 WHERE company_id = :company AND id = :id", stop.id().value());
	}

	/** A visit three days before a day with low FC, pH and CYA in range and 200 g of calcium hypochlorite. */
	public UUID visit(PoolId pool, PersonId technician, LocalDate day) {
		UUID product = rows.product(company, "CAL_HYPO_65", "Calcium hypochlorite " + UUID.randomUUID().toString().substring(0, 4),
				73, "G", Map.of());
		UUID visit = rows.visit(company, pool.value(), technician, day.minusDays(3), Map.of("fc_ppm", 0.5, "ph", 7.5, "cya_ppm", 40));
		rows.dose(company, visit, 0, product, 200, 90);
		return visit;
	}

	private void update(String sql, UUID id) {
		in(() -> rows.sql(sql).param("company", company.value()).param("id", id).update());
	}

	public static ScheduleService.AddSchedule weekly(PoolId pool, PersonId technician, DayOfWeek weekday, LocalDate from) {
		return new ScheduleService.AddSchedule(new ServiceScheduleId(UUID.randomUUID()), pool, technician,
				new Recurrence(Frequency.WEEKLY, weekday, null, from, null), null);
	}

}
