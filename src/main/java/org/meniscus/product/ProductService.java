package org.meniscus.product;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Clock;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;

import jakarta.persistence.EntityManager;

import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.company.CompanySignedUp;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.StaleVersion;
import org.meniscus.platform.UuidGenerator;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** A company's products. */
@Service
public class ProductService {

	private final StockedProductRepository products;

	private final PriceRepository prices;

	private final JdbcClient jdbc;

	private final EntityManager entities;

	private final CompanyService companies;

	private final UuidGenerator ids;

	private final Clock clock;

	ProductService(StockedProductRepository products, PriceRepository prices, JdbcClient jdbc, EntityManager entities,
			CompanyService companies, UuidGenerator ids, Clock clock) {
		this.products = products;
		this.prices = prices;
		this.jdbc = jdbc;
		this.entities = entities;
		this.companies = companies;
		this.ids = ids;
		this.clock = clock;
	}

	/** Every product that is not archived, by name, with the price valid and the strength left on a day. {@link Product#id} is the text of the {@link ProductId}. */
	@Transactional(readOnly = true)
	public List<Product> findAll(CompanyId company, LocalDate day) {
		Map<ProductId, Price> valid = prices.findValidOn(company, day);
		return products.findByCompanyIdAndArchivedAtIsNullOrderByName(company.value())
			.stream()
			.map(product -> product.toProduct(valid.get(product.id()), day))
			.toList();
	}

	/** One product, archived or not, with the price valid and the strength left on a day; empty when this company has no such product. */
	@Transactional(readOnly = true)
	public Optional<Product> find(CompanyId company, ProductId id, LocalDate day) {
		return products.findByCompanyIdAndId(company.value(), id.value())
			.map(product -> product.toProduct(prices.findValidOn(company, day).get(id), day));
	}

	/**
	 * What an amount of a product cost at the price valid on a day: amount / package × price, rounded half up to the minor
	 * unit.
	 *
	 * @param amount grams of a solid, millilitres of a liquid, as the product's package is stated
	 * @return empty when no price was valid on that day or the product is unknown; never 0 in place of "not known"
	 */
	@Transactional(readOnly = true)
	public OptionalLong costCents(CompanyId company, ProductId product, double amount, LocalDate on) {
		return jdbc.sql("""
				SELECT r.price_cents, coalesce(r.package_amount, p.package_amount) AS package_amount
				FROM product p JOIN product_price r ON r.company_id = p.company_id AND r.product_id = p.id
				WHERE p.company_id = ? AND p.id = ? AND r.valid_from <= ?
				ORDER BY r.valid_from DESC LIMIT 1""")
			.params(company.value(), product.value(), on)
			.query((row, n) -> cost(amount, row.getBigDecimal("package_amount"), row.getInt("price_cents")))
			.optional()
			.map(OptionalLong::of)
			.orElse(OptionalLong.empty());
	}

	/** @throws NotFound when this company has no such product */
	@Transactional(readOnly = true)
	public ProductRecord product(CompanyId company, ProductId id) {
		return products.findByCompanyIdAndId(company.value(), id.value())
			.map(StockedProduct::toRecord)
			.orElseThrow(() -> new NotFound("product"));
	}

	/** Every product by name, archived ones too when asked for. */
	@Transactional(readOnly = true)
	public List<ProductRecord> products(CompanyId company, boolean archivedToo) {
		return (archivedToo ? products.findByCompanyIdOrderByName(company.value())
				: products.findByCompanyIdAndArchivedAtIsNullOrderByName(company.value()))
			.stream()
			.map(StockedProduct::toRecord)
			.toList();
	}

	/** The price of every product that has one on the day. */
	@Transactional(readOnly = true)
	public Map<ProductId, Price> prices(CompanyId company, LocalDate day) {
		return prices.findValidOn(company, day);
	}

	/** A new product; adding the same id again changes nothing, so a form sent twice adds once. */
	@Transactional
	public void add(CompanyId company, ProductId id, ProductDetails details) {
		if (products.findByCompanyIdAndId(company.value(), id.value()).isEmpty()) {
			products.save(new StockedProduct(company, id, details, clock.instant()));
		}
	}

	/** A new product that costs so much from today on. */
	@Transactional
	public void add(CompanyId company, ProductId id, ProductDetails details, int cents) {
		add(company, id, details);
		entities.flush();
		addPrice(company, id, today(company), cents);
	}

	/** The day it is where the company works. */
	@Transactional(readOnly = true)
	public LocalDate today(CompanyId company) {
		return companies.settings(company).today(clock);
	}

	/** The usual cautions of a kind, as the starter list has them. */
	public static String defaultCautions(ProductKind kind) {
		return StarterList.cautions(kind);
	}

	/**
	 * Prices stated so far stay prices of the package the product came in until now.
	 *
	 * @param formVersion the version that was seen
	 * @throws StaleVersion when somebody else saved since then
	 * @throws IllegalArgumentException when the kind is another: a product keeps its kind
	 */
	@Transactional
	public void change(CompanyId company, ProductId id, long formVersion, ProductDetails details) {
		StockedProduct product = findForUpdate(company, id);
		double packageBefore = product.toRecord().details().packageAmount();
		product.change(formVersion, details, clock.instant());
		if (product.toRecord().details().packageAmount() != packageBefore) {
			prices.fixPackage(company, id, packageBefore);
		}
	}

	/** Takes it out of lists and off the trucks; what was dosed with it stays. */
	@Transactional
	public void archive(CompanyId company, ProductId id) {
		findForUpdate(company, id).archive(clock.instant());
	}

	@Transactional
	public void restore(CompanyId company, ProductId id) {
		findForUpdate(company, id).restore(clock.instant());
	}

	/** The prices of a product, newest first. @throws NotFound when this company has no such product */
	@Transactional(readOnly = true)
	public List<Price> priceHistory(CompanyId company, ProductId id) {
		product(company, id);
		return prices.findByProduct(company, id);
	}

	/**
	 * A price from a day on; one from the same day is put right. Doses recorded before keep what they cost.
	 *
	 * @throws NotFound when this company has no such product
	 */
	@Transactional
	public void setPrice(CompanyId company, ProductId id, LocalDate validFrom, int cents) {
		findForUpdate(company, id);
		prices.save(company, id, new Price(validFrom, cents, false));
	}

	/**
	 * A price from a day on for which there is none yet. A typical price gives way, and the very same price again changes
	 * nothing, so a form sent twice adds once.
	 *
	 * @return the price that already stands for that day and stays; empty when this one was taken
	 * @throws NotFound when this company has no such product
	 */
	@Transactional
	public Optional<Price> addPrice(CompanyId company, ProductId id, LocalDate validFrom, int cents) {
		findForUpdate(company, id);
		Optional<Price> priceOfThatDay = prices.findByProduct(company, id)
			.stream()
			.filter(price -> price.validFrom().equals(validFrom) && !price.typical()
					&& (price.cents() != cents || price.packageAmount() != null))
			.findFirst();
		if (priceOfThatDay.isEmpty()) {
			prices.save(company, id, new Price(validFrom, cents, false));
		}
		return priceOfThatDay;
	}

	/** Takes a price out of the history; the one before it is valid again. */
	@Transactional
	public void removePrice(CompanyId company, ProductId id, LocalDate validFrom) {
		findForUpdate(company, id);
		prices.delete(company, id, validFrom);
	}

	/**
	 * Gives a company the usual products in the packages of its unit system. The middle of the usual price range, known in US
	 * dollars only, goes along from today on for companies that count in them, marked as typical.
	 */
	@Transactional
	public void addStarterList(CompanyId company) {
		CompanySettings settings = companies.settings(company);
		LocalDate today = settings.today(clock);
		boolean dollars = settings.currency().getCurrencyCode().equals("USD");
		Map<ProductId, StarterList.StarterProduct> added = new LinkedHashMap<>();
		for (StarterList.StarterProduct entry : StarterList.entries(settings.units())) {
			ProductId id = new ProductId(ids.next());
			products.save(new StockedProduct(company, id, entry.details(), clock.instant()));
			added.put(id, entry);
		}
		if (dollars) {
			// the prices go past Hibernate, so their products must be there first
			entities.flush();
			added.forEach((id, entry) -> prices.save(company, id, new Price(today, entry.typicalUsCents(), true)));
		}
	}

	@EventListener
	void onCompanySignedUp(CompanySignedUp event) {
		addStarterList(event.company());
	}

	private StockedProduct findForUpdate(CompanyId company, ProductId id) {
		return products.findForUpdate(company.value(), id.value()).orElseThrow(() -> new NotFound("product"));
	}

	private static long cost(double amount, BigDecimal packageAmount, int priceCents) {
		return BigDecimal.valueOf(amount)
			.multiply(BigDecimal.valueOf(priceCents))
			.divide(packageAmount, 0, RoundingMode.HALF_UP)
			.longValueExact();
	}

}
