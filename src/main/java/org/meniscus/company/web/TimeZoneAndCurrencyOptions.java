package org.meniscus.company.web;

import java.time.Instant;
import java.time.ZoneId;
import java.time.zone.ZoneRules;
import java.util.Comparator;
import java.util.Currency;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.meniscus.ui.Option;

/** Time zones and currencies to choose from. */
final class TimeZoneAndCurrencyOptions {

	/** Areas of the tz database that name places. */
	private static final Set<String> AREAS = Set.of("Africa", "America", "Antarctica", "Asia", "Atlantic", "Australia", "Europe", "Indian",
			"Pacific");

	private TimeZoneAndCurrencyOptions() {
	}

	/** By name, each with its distance from UTC now. */
	static List<Option> zoneOptions(Instant now) {
		return ZoneId.getAvailableZoneIds()
			.stream()
			.filter(TimeZoneAndCurrencyOptions::isZone)
			.sorted()
			.map(zone -> new Option(zone, zone.replace('_', ' ') + " (UTC" + offset(ZoneId.of(zone).getRules(), now) + ")"))
			.toList();
	}

	private static String offset(ZoneRules rules, Instant now) {
		String id = rules.getOffset(now).getId();
		return id.equals("Z") ? "" : id.replace('-', '\u2212');
	}

	static boolean isZone(@Nullable String zone) {
		return zone != null && zone.indexOf('/') > 0 && AREAS.contains(zone.substring(0, zone.indexOf('/')))
				&& ZoneId.getAvailableZoneIds().contains(zone);
	}

	/** Those counted in hundredths, as every stored price is; by code. */
	static List<Option> currencyOptions(Locale locale) {
		return Currency.getAvailableCurrencies()
			.stream()
			.filter(currency -> isCurrency(currency.getCurrencyCode()))
			.sorted(Comparator.comparing(Currency::getCurrencyCode))
			.map(currency -> new Option(currency.getCurrencyCode(), currency.getCurrencyCode() + ", " + currency.getDisplayName(locale)))
			.collect(Collectors.toList());
	}

	static boolean isCurrency(@Nullable String code) {
		return code != null && !code.startsWith("X") && Currency.getAvailableCurrencies()
			.stream()
			.anyMatch(currency -> currency.getCurrencyCode().equals(code) && currency.getDefaultFractionDigits() == 2);
	}

}
