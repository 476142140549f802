package org.meniscus.client.web;

import java.util.List;
import java.util.Locale;

import org.meniscus.client.ClientList;
import org.meniscus.client.PoolId;
import org.meniscus.platform.web.Measures;
import org.meniscus.water.UnitSystem;
import org.meniscus.water.treatment.VolumeCertainty;
import org.springframework.context.MessageSource;

/** One line about a pool, ready to print. */
record PoolRow(PoolId id, String name, String address, String kind, String volume, boolean unverified, boolean archived) {

	static List<PoolRow> rows(List<ClientList.PoolLine> pools, UnitSystem units, MessageSource texts, Locale locale) {
		return pools.stream().map(pool -> of(pool, units, texts, locale)).toList();
	}

	private static PoolRow of(ClientList.PoolLine pool, UnitSystem units, MessageSource texts, Locale locale) {
		Double litres = pool.volumeLitres();
		String address = pool.street().isEmpty() || pool.town().isEmpty() ? pool.street() + pool.town()
				: pool.street() + ", " + pool.town();
		return new PoolRow(pool.id(), pool.name(), address, texts.getMessage("client.body." + pool.body(), null, locale),
				(litres != null) ? Measures.volume(units, litres) : texts.getMessage("client.volume.none", null, locale),
				pool.certainty() == VolumeCertainty.UNVERIFIED, pool.archived());
	}

}
