package org.meniscus.spend;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.time.YearMonth;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientService;
import org.meniscus.client.PoolSummary;
import org.meniscus.platform.CompanyId;
import org.meniscus.spend.Spend.BreakdownLine;
import org.meniscus.spend.Spend.SpendTotal;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What chemicals cost. */
@Service
public class SpendService {

	/**
	 * All cuts in one statement: one snapshot, one pass over the doses by their (company, day) index. The client comes from the
	 * pool; names are read apart.
	 */
	private static final String BREAKDOWNS = """
			SELECT grouping(month) AS no_month, grouping(pool) AS no_pool, grouping(client) AS no_client,
			       grouping(technician) AS no_technician, grouping(product) AS no_product,
			       month, coalesce(pool, client, technician, product) AS id,
			       coalesce(sum(cost_cents), 0) AS cents, count(*) AS doses, count(*) - count(cost_cents) AS unpriced
			FROM (SELECT date_trunc('month', d.dosed_on)::date AS month, d.pool_id AS pool, p.client_id AS client,
			             d.technician_id AS technician, d.product_id AS product, d.cost_cents
			      FROM dose d JOIN pool p ON p.company_id = d.company_id AND p.id = d.pool_id
			      WHERE d.company_id = :company AND d.dosed_on BETWEEN :from AND :to) AS doses
			GROUP BY GROUPING SETS ((), (month), (pool), (client), (technician), (product))
			""";

	private final JdbcClient jdbc;

	private final ClientService clients;

	SpendService(JdbcClient jdbc, ClientService clients) {
		this.jdbc = jdbc;
		this.clients = clients;
	}

	/** Spend from one day to another, both included. */
	@Transactional(readOnly = true)
	public Spend between(CompanyId company, LocalDate from, LocalDate to) {
		List<GroupingRow> rows = jdbc.sql(BREAKDOWNS)
			.param("company", company.value())
			.param("from", from)
			.param("to", to)
			.query(SpendService::row)
			.list();
		Names names = new Names(company, from, to);
		Map<SpendBreakdown, List<BreakdownLine>> cuts = new EnumMap<>(SpendBreakdown.class);
		for (SpendBreakdown cut : SpendBreakdown.values()) {
			cuts.put(cut, new ArrayList<>());
		}
		SpendTotal total = SpendTotal.ZERO;
		for (GroupingRow row : rows) {
			if (row.breakdown() == null) {
				total = row.sum();
			}
			else {
				cuts.computeIfAbsent(row.breakdown(), cut -> new ArrayList<>()).add(names.line(row));
			}
		}
		names.addPoolsWithoutDoses(Objects.requireNonNull(cuts.get(SpendBreakdown.POOL)));
		Comparator<BreakdownLine> dearestFirst = Comparator.comparingLong((BreakdownLine part) -> part.sum().cents())
			.reversed()
			.thenComparing(BreakdownLine::name)
			.thenComparing(BreakdownLine::id, Comparator.nullsFirst(Comparator.naturalOrder()));
		cuts.forEach((cut, parts) -> parts
			.sort((cut == SpendBreakdown.MONTH)
					? Comparator.comparing(BreakdownLine::month, Comparator.nullsLast(Comparator.reverseOrder()))
					: dearestFirst));
		return new Spend(from, to, total, cuts, (total.unpriced() > 0) ? unpriced(company, from, to) : List.of());
	}

	/** The doses themselves, oldest first: what every total is the sum of. */
	@Transactional(readOnly = true)
	public List<DoseCost> doses(CompanyId company, LocalDate from, LocalDate to) {
		return jdbc.sql("""
				SELECT d.dosed_on, c.name AS client, p.name AS pool, t.name AS technician, d.product_name, d.amount,
				       d.amount_unit, d.cost_cents, d.visit_id
				FROM dose d
				JOIN pool p ON p.company_id = d.company_id AND p.id = d.pool_id
				JOIN client c ON c.company_id = p.company_id AND c.id = p.client_id
				JOIN person t ON t.company_id = d.company_id AND t.id = d.technician_id
				WHERE d.company_id = ? AND d.dosed_on BETWEEN ? AND ?
				ORDER BY d.dosed_on, c.name, p.name, d.visit_id, d.seq""")
			.params(company.value(), from, to)
			.query((row, n) -> new DoseCost(row.getObject("dosed_on", LocalDate.class), row.getString("client"),
					row.getString("pool"), row.getString("technician"), row.getString("product_name"),
					row.getBigDecimal("amount"), "ML".equals(row.getString("amount_unit")),
					row.getObject("cost_cents", Integer.class), row.getObject("visit_id", UUID.class)))
			.list();
	}

	/**
	 * A monthly fee over some days: whole months count once, the ends of the time by their days.
	 *
	 * @return minor units, rounded half up once
	 */
	static long feeFor(int monthlyFeeCents, LocalDate from, LocalDate to) {
		BigDecimal months = BigDecimal.ZERO;
		for (YearMonth month = YearMonth.from(from); !month.isAfter(YearMonth.from(to)); month = month.plusMonths(1)) {
			LocalDate first = month.atDay(1).isBefore(from) ? from : month.atDay(1);
			LocalDate last = month.atEndOfMonth().isAfter(to) ? to : month.atEndOfMonth();
			long days = ChronoUnit.DAYS.between(first, last) + 1;
			months = months.add((days == month.lengthOfMonth()) ? BigDecimal.ONE
					: BigDecimal.valueOf(days).divide(BigDecimal.valueOf(month.lengthOfMonth()), 12, RoundingMode.HALF_UP));
		}
		return months.multiply(BigDecimal.valueOf(monthlyFeeCents)).setScale(0, RoundingMode.HALF_UP).longValueExact();
	}

	private List<Spend.UnpricedProduct> unpriced(CompanyId company, LocalDate from, LocalDate to) {
		return jdbc.sql("""
				SELECT product_name, count(*) AS doses FROM dose
				WHERE company_id = ? AND dosed_on BETWEEN ? AND ? AND cost_cents IS NULL
				GROUP BY product_name ORDER BY count(*) DESC, product_name""")
			.params(company.value(), from, to)
			.query((row, n) -> new Spend.UnpricedProduct(row.getString("product_name"), row.getLong("doses")))
			.list();
	}

	private record GroupingRow(@Nullable SpendBreakdown breakdown, @Nullable LocalDate month, @Nullable UUID id, SpendTotal sum) {
	}

	private static GroupingRow row(ResultSet row, int n) throws SQLException {
		SpendBreakdown cut = null;
		for (SpendBreakdown candidate : SpendBreakdown.values()) {
			if (row.getInt("no_" + candidate.urlValue()) == 0) {
				cut = candidate;
			}
		}
		return new GroupingRow(cut, row.getObject("month", LocalDate.class), row.getObject("id", UUID.class),
				new SpendTotal(row.getLong("cents"), row.getLong("doses"), row.getLong("unpriced")));
	}

	/** What the parts are called; people, products and pools that have left since keep their names. */
	private final class Names {

		private final LocalDate from;

		private final LocalDate to;

		private final Map<UUID, String> people;

		private final Map<UUID, String> products;

		private final Map<UUID, String> clientNames;

		private final Map<UUID, PoolName> pools = new HashMap<>();

		private final List<PoolSummary> activePools;

		private record PoolName(String name, String client, @Nullable Integer monthlyFeeCents) {
		}

		Names(CompanyId company, LocalDate from, LocalDate to) {
			this.from = from;
			this.to = to;
			people = names("SELECT id, name FROM person WHERE company_id = :company", company);
			products = names("SELECT id, name FROM product WHERE company_id = :company", company);
			clientNames = names("SELECT id, name FROM client WHERE company_id = :company", company);
			jdbc.sql("""
					SELECT p.id, p.name, c.name AS client, p.monthly_fee_cents
					FROM pool p JOIN client c ON c.company_id = p.company_id AND c.id = p.client_id
					WHERE p.company_id = ?""").param(company.value()).query(row -> {
				pools.put(row.getObject("id", UUID.class), new PoolName(row.getString("name"), row.getString("client"),
						row.getObject("monthly_fee_cents", Integer.class)));
			});
			activePools = clients.pools(company);
		}

		private Map<UUID, String> names(String sql, CompanyId company) {
			Map<UUID, String> names = new HashMap<>();
			jdbc.sql(sql)
				.param("company", company.value())
				.query(row -> {
					names.put(row.getObject("id", UUID.class), row.getString("name"));
				});
			return names;
		}

		BreakdownLine line(GroupingRow row) {
			return switch (Objects.requireNonNull(row.breakdown())) {
				case MONTH -> new BreakdownLine(null, row.month(), "", null, row.sum(), null);
				case CLIENT -> plain(row, clientNames);
				case TECHNICIAN -> plain(row, people);
				case PRODUCT -> plain(row, products);
				case POOL -> pool(Objects.requireNonNull(row.id()), row.sum());
			};
		}

		private BreakdownLine plain(GroupingRow row, Map<UUID, String> names) {
			return new BreakdownLine(row.id(), null, names.getOrDefault(row.id(), "–"), null, row.sum(), null);
		}

		private BreakdownLine pool(UUID id, SpendTotal sum) {
			PoolName pool = pools.getOrDefault(id, new PoolName("–", "–", null));
			Integer fee = pool.monthlyFeeCents();
			return new BreakdownLine(id, null, pool.name(), pool.client(), sum, (fee != null) ? feeFor(fee, from, to) : null);
		}

		/** A pool that took nothing still pays its fee. */
		void addPoolsWithoutDoses(List<BreakdownLine> parts) {
			for (PoolSummary pool : activePools) {
				UUID id = pool.id().value();
				if (parts.stream().noneMatch(part -> id.equals(part.id()))) {
					parts.add(pool(id, SpendTotal.ZERO));
				}
			}
		}

	}

}
