package org.meniscus.company;

import java.time.ZoneId;
import java.util.Currency;

import org.meniscus.water.units.UnitSystem;

/**
 * What a company wants to be from now on. Amounts stored in another currency keep their figures; nothing is converted.
 *
 * @param version as it was when the form was opened
 */
public record ChangeCompany(long version, String name, UnitSystem units, ZoneId zone, Currency currency) {
}
