package org.meniscus.route;

import java.util.List;

import org.meniscus.company.CompanyService;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.springframework.stereotype.Component;

/** Who can be given stops. */
@Component
class Technicians {

	private final CompanyService companies;

	Technicians(CompanyService companies) {
		this.companies = companies;
	}

	/** Everybody of the company, by name, those who have left included. */
	List<Technician> all(CompanyId company) {
		return companies.people(company)
			.stream()
			.map(person -> new Technician(person.id(), person.name(), person.role(), person.active()))
			.toList();
	}

	/** @throws NotFound when there is no such person */
	Technician require(CompanyId company, PersonId technician) {
		return all(company).stream()
			.filter(person -> person.id().equals(technician))
			.findFirst()
			.orElseThrow(() -> new NotFound("technician"));
	}

	/**
	 * @throws NotFound when there is no such person
	 * @throws TechnicianInactive when he or she has left
	 */
	void requireActive(CompanyId company, PersonId technician) {
		if (!require(company, technician).active()) {
			throw new TechnicianInactive();
		}
	}

}
