package org.meniscus.route;

import org.meniscus.company.CompanyService;
import org.meniscus.company.PersonSummary;
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

	/** @throws NotFound when there is no such person */
	PersonSummary require(CompanyId company, PersonId technician) {
		return companies.people(company).stream()
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
