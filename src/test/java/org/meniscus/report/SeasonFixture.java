package org.meniscus.report;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientDetails;
import org.meniscus.client.ClientId;
import org.meniscus.client.ClientService;
import org.meniscus.client.Place;
import org.meniscus.client.PoolDetails;
import org.meniscus.client.PoolId;
import org.meniscus.client.PoolSize;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.Role;
import org.meniscus.platform.SignedInUser;
import org.meniscus.platform.TenantContext;
import org.meniscus.product.ProductId;
import org.meniscus.product.ProductService;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.visit.NewVisit;
import org.meniscus.visit.NewVisit.NewDose;
import org.meniscus.visit.VisitId;
import org.meniscus.visit.VisitRecord;
import org.meniscus.visit.VisitService;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Situation;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.units.UnitSystem;

/** A company of its own with a few pools and weekly visits to them, all handed in through the doors that the pages use. */
public final class SeasonFixture {

	public static final ZoneId ZONE = ZoneId.of("America/Phoenix");

	public static final double LITRES = 60_000;

	public final TestCompanies.TestUser owner;

	public final CompanyId company;

	public final TestCompanies.TestUser technician;

	public final LocalDate today;

	private final TestRows rows;

	private final ClientService clients;

	private final ProductService productService;

	private final VisitService visits;

	private final Map<ProductKind, ProductId> products = new HashMap<>();

	SeasonFixture(TestCompanies companies, TestRows rows, ClientService clients, ProductService productService, VisitService visits,
			LocalDate today) {
		this.rows = rows;
		this.clients = clients;
		this.productService = productService;
		this.visits = visits;
		this.today = today;
		this.owner = companies.newCompany(UnitSystem.US);
		this.company = owner.user().company();
		this.technician = rows.person(company, Role.TECHNICIAN, "Lenadora Ortizano");
	}

	public SignedInUser office() {
		return owner.user();
	}

	/** @param language of the client's reports */
	public PoolId pool(String client, String language, String name, Sanitizer sanitizer) {
		return TenantContext.runAs(company, () -> {
			ClientId id = new ClientId(UUID.randomUUID());
			clients.add(company, id, new ClientDetails(client, "home@example.org", "555 0100", language, "pays late"));
			PoolId pool = new PoolId(UUID.randomUUID());
			clients.add(company, pool,
					new PoolDetails(id, name, new Place("8 Ember Lane", "Quombley Falls", "00004", null, null), BodyOfWater.POOL,
							Surface.PLASTER, false, sanitizer, new PoolSize(LITRES, VolumeCertainty.MEASURED, null, null), false,
							Equipment.UNKNOWN, "pump in the shed",
							"gate code 4711", FillWater.unknown(), 16_500));
			return pool;
		});
	}

	/** The starter product of a kind, with a price from long ago and a dearer one from a month ago. */
	public ProductId product(ProductKind kind) {
		return products.computeIfAbsent(kind, any -> TenantContext.runAs(company, () -> {
			ProductId id = productService.findAll(company, today)
				.stream()
				.filter(product -> product.kind() == kind)
				.map(product -> new ProductId(UUID.fromString(product.id())))
				.findFirst()
				.orElseThrow();
			productService.setPrice(company, id, today.minusYears(2), 1_733);
			productService.setPrice(company, id, today.minusDays(30), 1_991);
			return id;
		}));
	}

	public NewDose dose(ProductKind kind, double amount) {
		return new NewDose(product(kind), amount, null);
	}

	/** At two in the afternoon. */
	public VisitRecord visit(PoolId pool, LocalDate day, Situation situation, Readings readings, @Nullable String note, NewDose... doses) {
		Instant at = day.atTime(LocalTime.of(14, 0)).atZone(ZONE).toInstant();
		return TenantContext.runAs(company,
				() -> visits.submit(company,
						new NewVisit(new VisitId(UUID.randomUUID()), pool, technician.user().person(), null, at, null, situation, readings,
								null, Arrays.asList(doses), List.of("BRUSHED"), note, "owes us money", null, List.of())));
	}

	/** Weekly visits up to today to a pool fed with tablets: CYA climbs by what they leave, CH stays. */
	public List<VisitRecord> tabletSeason(PoolId pool, int weeks) {
		List<VisitRecord> stored = new ArrayList<>();
		for (int week = weeks - 1; week >= 0; week--) {
			int n = weeks - 1 - week;
			double wobble = ((n * 7) % 5 - 2) / 2.0;
			Readings readings = Readings.builder()
				.fc(1.5 + (n % 4) * 0.5)
				.ph(7.4 + (n % 3) * 0.2)
				.ta(100.0 - n % 3)
				.ch(260.0 + wobble)
				.cya(32 + 2.7 * n + wobble)
				.celsius(27.0)
				.build();
			stored.add((n % 3 == 2)
					? visit(pool, today.minusWeeks(week), Situation.ROUTINE, readings, null, dose(ProductKind.TRICHLOR_TAB, 300),
							dose(ProductKind.MURIATIC_3145, 450))
					: visit(pool, today.minusWeeks(week), Situation.ROUTINE, readings, null, dose(ProductKind.TRICHLOR_TAB, 300)));
		}
		return stored;
	}

	/** Weekly visits to a pool given calcium hypochlorite: CH climbs. */
	public void calciumSeason(PoolId pool, int weeks, double start) {
		for (int week = weeks - 1; week >= 0; week--) {
			int n = weeks - 1 - week;
			Readings readings = Readings.builder()
				.fc(1.0 + (n % 3))
				.ph(7.5)
				.ta(95.0)
				.ch(start + 4.5 * n + ((n * 3) % 4 - 1.5) * 2)
				.cya(42.0 + n % 2)
				.build();
			visit(pool, today.minusWeeks(week), Situation.ROUTINE, readings, null, dose(ProductKind.CAL_HYPO_65, 600));
		}
	}

	/** A picture of one colour, put in as the intake of photos would have left it. */
	public void photo(VisitId visit, int seq, byte[] jpeg) {
		rows.insert(company, "photo", TestRows.columns("visit_id", visit.value(), "seq", seq, "jpeg", jpeg, "width", 320, "height", 240,
				"stored_at", java.sql.Timestamp.from(today.atStartOfDay(ZONE).toInstant())));
	}

}
