package org.meniscus.route;

import java.util.List;
import java.util.UUID;

import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.Role;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Who can be given stops. */
@Component
class Crew {

	private final JdbcClient jdbc;

	Crew(JdbcClient jdbc) {
		this.jdbc = jdbc;
	}

	/** Everybody of the company, by name, those who have left included. */
	List<Technician> all(CompanyId company) {
		return jdbc.sql("SELECT id, name, role, active FROM person WHERE company_id = :company ORDER BY name, id")
			.param("company", company.value())
			.query((row, n) -> new Technician(new PersonId(row.getObject("id", UUID.class)), row.getString("name"),
					Role.valueOf(row.getString("role")), row.getBoolean("active")))
			.list();
	}

	/** @throws NotFound when there is no such person */
	Technician mustExist(CompanyId company, PersonId technician) {
		return all(company).stream()
			.filter(person -> person.id().equals(technician))
			.findFirst()
			.orElseThrow(() -> new NotFound("technician"));
	}

	/**
	 * @throws NotFound when there is no such person
	 * @throws NotWorking when he or she has left
	 */
	void mustWork(CompanyId company, PersonId technician) {
		if (!mustExist(company, technician).active()) {
			throw new NotWorking();
		}
	}

}
