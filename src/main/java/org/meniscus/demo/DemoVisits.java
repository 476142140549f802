package org.meniscus.demo;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Properties;
import java.util.TreeMap;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.product.ProductId;
import org.meniscus.product.ProductService;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopId;
import org.meniscus.route.StopLine;
import org.meniscus.visit.NewVisit;
import org.meniscus.visit.VisitId;
import org.meniscus.visit.VisitService;
import org.meniscus.water.product.ProductKind;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.stereotype.Component;

/** Enters the simulated season visit by visit, oldest first, as the technicians would have. */
@Component
@ConditionalOnProperty(name = "meniscus.demo", havingValue = "true")
class DemoVisits {

	private static final LocalTime FIRST_STOP = LocalTime.of(7, 40);

	private static final int MINUTES_APART = 55;

	private final ProductService productService;

	private final RouteService route;

	private final VisitService visits;

	private final UuidGenerator ids;

	private final Properties notes = notes();

	DemoVisits(ProductService productService, RouteService route, VisitService visits, UuidGenerator ids) {
		this.productService = productService;
		this.route = route;
		this.visits = visits;
		this.ids = ids;
	}

	private record PoolVisit(DemoPool pool, PoolId id, SimulatedVisit visit) {
	}

	private record StopKey(PoolId pool, LocalDate day) {
	}

	void store(CompanyId company, Map<DemoPool, PoolId> pools, Map<DemoPool, SimulatedSeason> seasons, List<PersonId> technicians,
			DemoCalendar weeks, ZoneId zone) {
		Map<ProductKind, ProductId> products = new HashMap<>();
		productService.findAll(company, weeks.today())
			.forEach(product -> products.put(product.kind(), new ProductId(java.util.UUID.fromString(product.id()))));
		Map<StopKey, StopLine> stops = stops(company, weeks);
		Map<LocalDate, List<PoolVisit>> days = new TreeMap<>();
		pools.forEach((pool, id) -> {
			SimulatedSeason season = Objects.requireNonNull(seasons.get(pool));
			season.missed().forEach((day, reason) -> {
				StopLine stop = Objects.requireNonNull(stops.get(new StopKey(id, day)), "a missed stop was planned");
				route.markMissed(company, new RouteService.MarkMissed(stop.id(), stop.version(), reason, null));
			});
			season.visits().forEach(
					visit -> days.computeIfAbsent(visit.day(), day -> new java.util.ArrayList<>()).add(new PoolVisit(pool, id, visit)));
		});
		days.forEach((day, entries) -> entries.forEach(entry -> {
			PersonId technician = technicians.get(entry.pool().technician());
			StopLine planned = stops.get(new StopKey(entry.id(), day));
			StopId stop;
			int place = 4;
			if (planned != null && !entry.visit().extra()) {
				stop = planned.id();
				place = planned.place();
			}
			else {
				stop = new StopId(ids.next());
				route.addExtra(company, new RouteService.AddExtraStop(stop, entry.id(), technician, day));
			}
			Instant at = day
				.atTime(FIRST_STOP.plusMinutes((place - 1) * MINUTES_APART + (entry.pool().number() * 7 + day.getDayOfMonth()) % 13))
				.atZone(zone)
				.toInstant();
			visits.submit(company, visit(entry, technician, stop, at, products));
		}));
	}

	private NewVisit visit(PoolVisit entry, PersonId technician, StopId stop, Instant at, Map<ProductKind, ProductId> products) {
		SimulatedVisit visit = entry.visit();
		List<NewVisit.NewDose> doses = visit.doses()
			.stream()
			.map(dose -> new NewVisit.NewDose(Objects.requireNonNull(products.get(dose.kind())), dose.amount(), null))
			.toList();
		return new NewVisit(new VisitId(ids.next()), entry.id(), technician, stop.value(), at, null, visit.situation(), visit.readings(),
				visit.waterReplaced(), doses, visit.tasks(), note("client", visit.toClient(), entry.pool().language()),
				note("office", visit.toOffice(), "en"), null, List.of());
	}

	private Map<StopKey, StopLine> stops(CompanyId company, DemoCalendar weeks) {
		Map<StopKey, StopLine> stops = new HashMap<>();
		for (LocalDate monday = weeks.first(); !monday.isAfter(weeks.yesterday()); monday = monday.plusWeeks(1)) {
			route.week(company, monday).stops().forEach(stop -> stops.put(new StopKey(stop.pool(), stop.plannedOn()), stop));
		}
		return stops;
	}

	private @Nullable String note(String reader, @Nullable String key, String language) {
		return (key == null) ? null
				: notes.getProperty(reader + "." + key + (language.equals("es") ? ".es" : ""), notes.getProperty(reader + "." + key));
	}

	private static Properties notes() {
		Properties notes = new Properties();
		try (Reader text = new InputStreamReader(DemoVisits.class.getResourceAsStream("/demo/notes.properties"), StandardCharsets.UTF_8)) {
			notes.load(text);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		return notes;
	}

}
