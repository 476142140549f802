package org.meniscus.company;

import java.math.BigDecimal;
import java.time.ZoneId;
import java.util.Currency;

import org.meniscus.water.UnitSystem;

/**
 * What a company wants to be from now on. Amounts stored in another currency keep their figures; nothing is converted.
 *
 * @param version as it was when the form was opened
 * @param fcSwimCeiling highest FC in ppm at which it lets people swim, 1 to 10, both allowed
 */
public record ChangeCompany(long version, String name, UnitSystem units, ZoneId zone, Currency currency, BigDecimal fcSwimCeiling) {
}
