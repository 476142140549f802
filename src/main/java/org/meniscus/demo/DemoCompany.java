package org.meniscus.demo;

import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Currency;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

import jakarta.persistence.EntityManager;

import org.meniscus.client.ClientDetails;
import org.meniscus.client.ClientId;
import org.meniscus.client.ClientService;
import org.meniscus.client.Place;
import org.meniscus.client.PoolDetails;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSize;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.PersonId;
import org.meniscus.platform.TenantContext;
import org.meniscus.platform.TenantTransactions;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.product.ProductRecord;
import org.meniscus.product.ProductService;
import org.meniscus.route.Frequency;
import org.meniscus.route.Recurrence;
import org.meniscus.route.RouteService;
import org.meniscus.route.ScheduleService;
import org.meniscus.route.ServiceScheduleId;
import org.meniscus.season.Climate;
import org.meniscus.season.SeasonService;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.units.Mass;
import org.meniscus.water.units.UnitSystem;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.stereotype.Component;

/**
 * Makes the invented company, once, in a database that holds no company yet. After the sign-up everything is one transaction: a
 * start that is broken off leaves the company empty, and the next start fills it.
 */
@Component
@ConditionalOnProperty(name = "meniscus.demo", havingValue = "true")
class DemoCompany {

	private static final Logger log = LoggerFactory.getLogger(DemoCompany.class);

	/** An arbitrary number; another one gives another season. */
	static final long SEED = 20261;

	private static final ZoneId ZONE = ZoneId.of("America/Phoenix");

	/** Week of the season in which liquid chlorine becomes dearer. */
	private static final int PRICE_WEEK = 15;

	private static final double PRICE_BEFORE = 0.88;

	/** Ounces in the invented company's scoop, as somebody there weighed them; about a pint, invented as well. */
	private static final Map<ProductKind, Double> SCOOPS = Map.of(ProductKind.CAL_HYPO_65, 15.0, ProductKind.DICHLOR_56, 15.0,
			ProductKind.MPS, 18.0, ProductKind.SODA_ASH, 16.0, ProductKind.BICARB, 17.0, ProductKind.CAL_CHLORIDE_77, 14.0,
			ProductKind.CYA, 13.0);

	private final CompanyService companies;

	private final ClientService clients;

	private final ProductService productService;

	private final ScheduleService schedules;

	private final RouteService route;

	private final DemoVisits visits;

	private final SeasonService seasons;

	private final UuidGenerator ids;

	private final Clock clock;

	private final TenantTransactions transactions;

	private final EntityManager entities;

	DemoCompany(CompanyService companies, ClientService clients, ProductService productService, ScheduleService schedules,
			RouteService route,
			DemoVisits visits,
			SeasonService seasons, UuidGenerator ids, Clock clock, TenantTransactions transactions, EntityManager entities) {
		this.companies = companies;
		this.clients = clients;
		this.productService = productService;
		this.schedules = schedules;
		this.route = route;
		this.visits = visits;
		this.seasons = seasons;
		this.ids = ids;
		this.clock = clock;
		this.transactions = transactions;
		this.entities = entities;
	}

	/** @return the invented company, made now or before; empty when the database belongs to somebody else */
	Optional<CompanyId> ensure() {
		Optional<CompanyId> before = companies.findCompanyByEmail(DemoPerson.OWNER.email());
		if (before.isEmpty() && !companies.hasNoCompanies()) {
			return Optional.empty();
		}
		CompanyId company = before.orElseGet(this::signUp);
		if (companies.people(company).size() == 1) {
			long start = System.nanoTime();
			transactions.run(company, () -> fill(company));
			seasons.chooseClimate(company, Climate.HOT_DRY);
			log.info("Made the invented company in {} ms", (System.nanoTime() - start) / 1_000_000);
		}
		else {
			extendRoute(company);
		}
		return Optional.of(company);
	}

	/** Makes the stops of the coming days that are not there yet. */
	void extendRoute(CompanyId company) {
		LocalDate today = today();
		TenantContext.runAs(company, () -> route.generateStops(company, today, new DemoCalendar(today).plannedUntil()));
	}

	private CompanyId signUp() {
		return companies
			.signUp(new CompanyService.SignUp(DemoPerson.COMPANY, UnitSystem.US, ZONE, Currency.getInstance("USD"),
					DemoPerson.OWNER.name(), DemoPerson.OWNER.email(), DemoPerson.PASSWORD))
			.company();
	}

	private void fill(CompanyId company) {
		DemoCalendar weeks = new DemoCalendar(today());
		add(company, DemoPerson.OFFICE);
		List<PersonId> technicians = DemoPerson.TECHNICIANS.stream().map(person -> add(company, person)).toList();
		setPrices(company, weeks);
		setProductPreferences(company);
		Map<DemoPool, SimulatedSeason> simulated = simulate(weeks);
		Map<DemoPool, PoolId> pools = pools(company, simulated);
		entities.flush();
		pools.forEach((pool, id) -> addSchedule(company, pool, id, technicians.get(pool.technician()), weeks));
		route.generateStops(company, weeks.first(), weeks.yesterday());
		route.generateStops(company, weeks.today(), weeks.plannedUntil());
		visits.store(company, pools, simulated, technicians, weeks, ZONE);
	}

	private PersonId add(CompanyId company, DemoPerson person) {
		return companies.addWithPassword(company, person.name(), person.email(), person.role(), DemoPerson.PASSWORD);
	}

	/** The usual prices are today's; in the demo they hold from the season's first day, but one. */
	private void setPrices(CompanyId company, DemoCalendar weeks) {
		productService.prices(company, weeks.today()).forEach((product, price) -> {
			ProductKind kind = productService.product(company, product).details().kind();
			if (kind == ProductKind.LIQUID_CHLORINE_125) {
				productService.setPrice(company, product, weeks.first(), (int) Math.round(price.cents() * PRICE_BEFORE));
				productService.setPrice(company, product, weeks.first().plusWeeks(PRICE_WEEK), price.cents());
			}
			else {
				productService.setPrice(company, product, weeks.first(), price.cents());
			}
			productService.removePrice(company, product, weeks.today());
		});
	}

	/** Granular products are measured by the scoop; bleach from the supermarket is nothing for a plan. */
	private void setProductPreferences(CompanyId company) {
		for (ProductRecord product : productService.products(company, false)) {
			Double ounces = SCOOPS.get(product.details().kind());
			if (ounces != null) {
				productService.change(company, product.id(), product.version(), product.details().withScoop(Mass.ofOunces(ounces).grams()));
			}
			else if (product.details().kind() == ProductKind.HOUSEHOLD_BLEACH) {
				productService.change(company, product.id(), product.version(), product.details().withPreference(ProductPreference.NEVER));
			}
		}
	}

	private static Map<DemoPool, SimulatedSeason> simulate(DemoCalendar weeks) {
		Map<DemoPool, SimulatedSeason> seasons = new LinkedHashMap<>();
		for (DemoPool pool : DemoPool.all()) {
			seasons.put(pool, SimulatedSeason.of(pool, SEED, weeks.workday(pool.workday()), weeks.first(), weeks.yesterday()));
		}
		return seasons;
	}

	private Map<DemoPool, PoolId> pools(CompanyId company, Map<DemoPool, SimulatedSeason> seasons) {
		Map<String, ClientId> known = new HashMap<>();
		Map<DemoPool, PoolId> pools = new LinkedHashMap<>();
		seasons.forEach((pool, season) -> {
			ClientId client = known.computeIfAbsent(pool.client(), name -> client(company, pool));
			PoolId id = new PoolId(ids.next());
			double litres = pool.volume().litres();
			boolean measured = pool.certainty() != VolumeCertainty.ESTIMATED;
			DemoEquipment equipment = new DemoEquipment(pool);
			Double area = measured ? Double.valueOf(Math.round(litres / 100 / pool.depth()) / 10.0) : null;
			clients.add(company, id, new PoolDetails(client, pool.name(),
					new Place(pool.street(), pool.town(), pool.postcode(), pool.latitude(), pool.longitude()), pool.body(), pool.surface(),
					pool.indoor(), pool.sanitizer(), new PoolSize(litres, pool.certainty(), area, null), pool.sandFilter(),
					equipment.onFile(equipment.cellPercent(season.cellPerDay())), pool.equipment(), pool.access(),
					new FillWater(7.6, pool.fillTa(), pool.fillCh(), 150.0),
					pool.feeCents()));
			pools.put(pool, id);
		});
		return pools;
	}

	private ClientId client(CompanyId company, DemoPool pool) {
		ClientId id = new ClientId(ids.next());
		String mailbox = pool.client().toLowerCase(java.util.Locale.ROOT).replaceAll("[^a-z]+", ".");
		clients.add(company, id, new ClientDetails(pool.client(), mailbox + "@clients.example", phone(pool), pool.language(), null));
		return id;
	}

	/** From the numbers that are kept free for fiction in North America. */
	private static String phone(DemoPool pool) {
		return "928-555-01%02d".formatted(pool.number());
	}

	private void addSchedule(CompanyId company, DemoPool pool, PoolId id, PersonId technician, DemoCalendar weeks) {
		schedules.add(company, new ScheduleService.AddSchedule(new ServiceScheduleId(ids.next()), id, technician,
				new Recurrence(Frequency.WEEKLY, weeks.workday(pool.workday()), null, weeks.first(), null), null));
	}

	private LocalDate today() {
		return LocalDate.ofInstant(clock.instant(), ZONE);
	}

}
