package org.meniscus.product;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Instant;
import java.util.UUID;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Id;
import jakarta.persistence.IdClass;
import jakarta.persistence.Table;
import jakarta.persistence.Version;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.RowId;
import org.meniscus.platform.StaleVersion;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.AmountUnit;

/** A product as a company has it. */
@Entity
@Table(name = "product")
@IdClass(RowId.class)
class StockedProduct {

	@Id
	private UUID companyId;

	@Id
	private UUID id;

	@Version
	private @Nullable Long version;

	@Enumerated(EnumType.STRING)
	private ProductKind kind;

	private String name;

	@Enumerated(EnumType.STRING)
	private PhysicalForm form;

	private @Nullable BigDecimal strengthPercent;

	@Enumerated(EnumType.STRING)
	private StrengthBasis strengthBasis;

	@Column(name = "density_kg_per_l")
	private @Nullable BigDecimal density;

	private BigDecimal packageAmount;

	@Enumerated(EnumType.STRING)
	private AmountUnit packageUnit;

	@Column(name = "label_max_per_m3")
	private @Nullable BigDecimal labelMax;

	private @Nullable BigDecimal tabletGrams;

	@Column(name = "scoop_amount")
	private @Nullable BigDecimal scoop;

	private @Nullable String cautions;

	private boolean onTruck;

	@Enumerated(EnumType.STRING)
	private ProductPreference preference;

	private @Nullable Instant archivedAt;

	private Instant createdAt;

	private Instant updatedAt;

	@SuppressWarnings("NullAway.Init")
	protected StockedProduct() {
	}

	StockedProduct(CompanyId company, ProductId id, ProductDetails details, Instant now) {
		this.companyId = company.value();
		this.id = id.value();
		this.kind = details.kind();
		this.createdAt = now;
		apply(details, now);
	}

	/**
	 * The kind stays what it is: doses already recorded as this product would change their meaning.
	 *
	 * @throws StaleVersion when somebody else saved since the form was opened
	 */
	void change(long formVersion, ProductDetails details, Instant now) {
		StaleVersion.requireCurrent(formVersion, version, "product");
		if (details.kind() != kind) {
			throw new IllegalArgumentException("a product keeps its kind");
		}
		apply(details, now);
	}

	/** Archiving twice is archiving once. */
	void archive(Instant now) {
		if (archivedAt == null) {
			archivedAt = now;
			updatedAt = now;
		}
	}

	void restore(Instant now) {
		if (archivedAt != null) {
			archivedAt = null;
			updatedAt = now;
		}
	}

	ProductId id() {
		return new ProductId(id);
	}

	ProductRecord toRecord() {
		return new ProductRecord(id(), (version != null) ? version : 0,
				new ProductDetails(kind, name, number(strengthPercent), strengthBasis, number(density), packageAmount.doubleValue(),
						number(labelMax), number(tabletGrams), number(scoop), cautions, onTruck, preference),
				archivedAt != null);
	}

	/** As the treatment engine takes it. */
	Product toProduct(@Nullable Price price) {
		Long cents = (price != null) ? Long.valueOf(price.centsForPackage(packageAmount.doubleValue())) : null;
		return new Product(id.toString(), kind, name, (strengthPercent != null) ? strengthPercent.movePointLeft(2).doubleValue() : null,
				strengthBasis, number(density), packageAmount.doubleValue(), cents,
				number(labelMax), number(tabletGrams), onTruck, number(scoop), preference);
	}

	private void apply(ProductDetails details, Instant now) {
		this.name = details.name();
		this.form = kind.form();
		this.strengthPercent = scaled(details.strengthPercent(), 3);
		this.strengthBasis = details.basis();
		this.density = scaled(details.density(), 3);
		this.packageAmount = BigDecimal.valueOf(details.packageAmount()).setScale(2, RoundingMode.HALF_UP);
		this.packageUnit = kind.unit();
		this.labelMax = scaled(details.labelMaxPerM3(), 3);
		this.tabletGrams = scaled(details.tabletGrams(), 2);
		this.scoop = scaled(details.scoop(), 2);
		this.cautions = details.cautions();
		this.onTruck = details.onTruck();
		this.preference = details.preference();
		this.updatedAt = now;
	}

	private static @Nullable BigDecimal scaled(@Nullable Double value, int decimals) {
		return (value != null) ? BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP) : null;
	}

	private static @Nullable Double number(@Nullable BigDecimal value) {
		return (value != null) ? value.doubleValue() : null;
	}

}
