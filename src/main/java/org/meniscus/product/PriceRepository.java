package org.meniscus.product;

import static org.meniscus.platform.database.Decimals.number;

import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

import org.meniscus.platform.CompanyId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** The table of prices by day. */
@Repository
class PriceRepository {

	private final JdbcClient jdbc;

	PriceRepository(JdbcClient jdbc) {
		this.jdbc = jdbc;
	}

	/** The price of every product that has one on the day. */
	Map<ProductId, Price> findValidOn(CompanyId company, LocalDate day) {
		Map<ProductId, Price> prices = new HashMap<>();
		jdbc.sql("""
				SELECT DISTINCT ON (product_id) product_id, valid_from, price_cents, typical, package_amount FROM product_price
				WHERE company_id = ? AND valid_from <= ? ORDER BY product_id, valid_from DESC""")
			.params(company.value(), day)
			.query(row -> {
				prices.put(new ProductId(row.getObject("product_id", UUID.class)), price(row));
			});
		return prices;
	}

	/** Newest first. */
	List<Price> findByProduct(CompanyId company, ProductId product) {
		return jdbc.sql("""
				SELECT valid_from, price_cents, typical, package_amount FROM product_price
				WHERE company_id = ? AND product_id = ? ORDER BY valid_from DESC""")
			.params(company.value(), product.value())
			.query((row, n) -> price(row))
			.list();
	}

	/** Prices so far are those of the package the product came in until now. */
	void fixPackage(CompanyId company, ProductId product, double packageAmount) {
		jdbc.sql("""
				UPDATE product_price SET package_amount = ?
				WHERE company_id = ? AND product_id = ? AND package_amount IS NULL""")
			.params(packageAmount, company.value(), product.value())
			.update();
	}

	/** A price from the same day is put right; it is one of the package the product comes in now. */
	void save(CompanyId company, ProductId product, Price price) {
		jdbc.sql("""
				INSERT INTO product_price (company_id, product_id, valid_from, price_cents, typical)
				VALUES (:company, :product, :day, :cents, :typical)
				ON CONFLICT (company_id, product_id, valid_from) DO UPDATE SET price_cents = excluded.price_cents, typical = excluded.typical,
				    package_amount = NULL""")
			.param("company", company.value())
			.param("product", product.value())
			.param("day", price.validFrom())
			.param("cents", price.cents())
			.param("typical", price.typical())
			.update();
	}

	void delete(CompanyId company, ProductId product, LocalDate validFrom) {
		jdbc.sql("DELETE FROM product_price WHERE company_id = ? AND product_id = ? AND valid_from = ?")
			.params(company.value(), product.value(), validFrom)
			.update();
	}

	private static Price price(java.sql.ResultSet row) throws java.sql.SQLException {
		return new Price(row.getObject("valid_from", LocalDate.class), row.getInt("price_cents"), row.getBoolean("typical"),
				number(row, "package_amount"));
	}

}
