package org.meniscus.visit;

import static org.meniscus.platform.database.Decimals.scaled;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolId;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.meniscus.platform.PersonId;
import org.meniscus.product.ProductId;
import org.meniscus.product.ProductService;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.RecordedDose;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.AmountUnit;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Doses as rows, each with its own copy of the product and of what the amount cost on its day. */
@Repository
class DoseRepository {

	/** A product as a dose copies it. */
	record ProductSnapshot(String name, ProductKind kind, @Nullable BigDecimal strengthPercent, @Nullable String basis, AmountUnit unit) {
	}

	/** A dose ready to be written. */
	record PricedDose(NewVisit.NewDose dose, ProductSnapshot product, @Nullable Long costCents) {

		RecordedDose recorded() {
			return new RecordedDose(product.kind(),
					(product.strengthPercent() != null) ? product.strengthPercent().doubleValue() / 100 : null,
					(product.basis() != null) ? StrengthBasis.valueOf(product.basis()) : null, dose.amount());
		}

	}

	private final JdbcClient jdbc;

	private final JdbcTemplate batches;

	private final ProductService products;

	DoseRepository(JdbcClient jdbc, JdbcTemplate batches, ProductService products) {
		this.jdbc = jdbc;
		this.batches = batches;
		this.products = products;
	}

	/**
	 * @param before doses that a correction replaces: a product among them stays as it was on that day
	 * @throws NotFound when a product is not this company's
	 */
	List<PricedDose> priced(CompanyId company, LocalDate day, List<NewVisit.NewDose> doses, List<DoseRecord> before) {
		List<PricedDose> lines = new ArrayList<>();
		for (NewVisit.NewDose dose : doses) {
			ProductSnapshot product = before.stream()
				.filter(old -> old.product().equals(dose.product()))
				.findFirst()
				.map(DoseRepository::snapshot)
				.or(() -> product(company, dose.product(), day))
				.orElseThrow(() -> new NotFound("product"));
			OptionalLong cost = products.costCents(company, dose.product(), amount(dose.amount()).doubleValue(), day);
			lines.add(new PricedDose(dose, product, cost.isPresent() ? cost.getAsLong() : null));
		}
		return lines;
	}

	void insert(CompanyId company, VisitId visit, PoolId pool, PersonId technician, LocalDate day, List<PricedDose> lines) {
		if (lines.isEmpty()) {
			return;
		}
		List<Object[]> rows = new ArrayList<>();
		for (PricedDose line : lines) {
			ProductSnapshot product = line.product();
			Double planned = line.dose().plannedAmount();
			rows.add(new Object[]{ company.value(), visit.value(), rows.size(), line.dose().product().value(), product.name(),
					product.kind().name(), product.strengthPercent(), product.basis(), amount(line.dose().amount()),
					product.unit().name(), (planned != null) ? amount(planned) : null, day, line.costCents(), pool.value(),
					technician.value() });
		}
		batches.batchUpdate("""
				INSERT INTO dose (company_id, visit_id, seq, product_id, product_name, product_kind, strength_percent, strength_basis,
				                  amount, amount_unit, planned_amount, dosed_on, cost_cents, pool_id, technician_id)
				VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""", rows);
	}

	void delete(CompanyId company, VisitId visit) {
		jdbc.sql("DELETE FROM dose WHERE company_id = ? AND visit_id = ?")
			.params(company.value(), visit.value())
			.update();
	}

	/** With the strength it had on the day, as a plan of that day counts it. */
	private Optional<ProductSnapshot> product(CompanyId company, ProductId product, LocalDate day) {
		return products.find(company, product, day)
			.map(stocked -> new ProductSnapshot(stocked.name(), stocked.kind(), percent(stocked.strength()),
					(stocked.basis() != null) ? stocked.basis().name() : null, stocked.unit()));
	}

	private static ProductSnapshot snapshot(DoseRecord dose) {
		return new ProductSnapshot(dose.productName(), dose.kind(), percent(dose.strength()),
				(dose.basis() != null) ? dose.basis().name() : null, dose.unit());
	}

	private static @Nullable BigDecimal percent(@Nullable Double strength) {
		return (strength != null) ? scaled(strength * 100, 3) : null;
	}

	private static BigDecimal amount(double value) {
		return scaled(value, 2).max(new BigDecimal("0.01"));
	}

}
