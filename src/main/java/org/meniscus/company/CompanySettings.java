package org.meniscus.company;

import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Currency;

import org.meniscus.platform.CompanyId;
import org.meniscus.water.units.UnitSystem;

/**
 * What a company has chosen for itself.
 *
 * @param zone where its pools are: a day of the week plan is a day there
 */
public record CompanySettings(CompanyId id, long version, String name, UnitSystem units, ZoneId zone, Currency currency,
		TreatmentSettings treatment) {

	/** The day it is where the pools are. */
	public LocalDate today(Clock clock) {
		return LocalDate.ofInstant(clock.instant(), zone);
	}

}
