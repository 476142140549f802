package org.meniscus.client.web;

import java.util.List;
import java.util.Locale;
import java.util.Set;

import org.meniscus.client.ClientSearchService;
import org.meniscus.client.PoolId;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.units.UnitSystem;
import org.springframework.context.MessageSource;

/** One line about a pool, ready to print. @param closed to swimmers by its newest visit */
record PoolRow(PoolId id, String name, String address, String kind, String volume, boolean unverified, boolean archived,
		boolean closed) {

	static List<PoolRow> rows(List<ClientSearchService.PoolListLine> pools, Set<PoolId> closed, UnitSystem units, MessageSource texts,
			Locale locale) {
		return pools.stream().map(pool -> of(pool, closed.contains(pool.id()), units, texts, locale)).toList();
	}

	private static PoolRow of(ClientSearchService.PoolListLine pool, boolean closed, UnitSystem units, MessageSource texts, Locale locale) {
		Double litres = pool.volumeLitres();
		String address = pool.street().isEmpty() || pool.town().isEmpty() ? pool.street() + pool.town()
				: pool.street() + ", " + pool.town();
		return new PoolRow(pool.id(), pool.name(), address, texts.getMessage("client.body." + pool.body(), null, locale),
				(litres != null) ? QuantityFormatter.volume(units, litres) : texts.getMessage("client.volume.none", null, locale),
				pool.certainty() == VolumeCertainty.UNVERIFIED, pool.archived(), closed && !pool.archived());
	}

}
