package org.meniscus.product;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.util.OptionalLong;

import org.meniscus.platform.CompanyId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The door to a company's products. */
@Service
public class ProductShelf {

	private final JdbcClient jdbc;

	ProductShelf(JdbcClient jdbc) {
		this.jdbc = jdbc;
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
				SELECT r.price_cents, p.package_amount
				FROM product p JOIN product_price r ON r.company_id = p.company_id AND r.product_id = p.id
				WHERE p.company_id = :company AND p.id = :product AND r.valid_from <= :day
				ORDER BY r.valid_from DESC LIMIT 1""")
			.param("company", company.value())
			.param("product", product.value())
			.param("day", on)
			.query((row, n) -> cost(amount, row.getBigDecimal("package_amount"), row.getInt("price_cents")))
			.optional()
			.map(OptionalLong::of)
			.orElse(OptionalLong.empty());
	}

	private static long cost(double amount, BigDecimal packageAmount, int priceCents) {
		return BigDecimal.valueOf(amount)
			.multiply(BigDecimal.valueOf(priceCents))
			.divide(packageAmount, 0, RoundingMode.HALF_UP)
			.longValueExact();
	}

}
