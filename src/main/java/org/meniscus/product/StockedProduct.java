package org.meniscus.product;

import static org.meniscus.platform.database.Decimals.number;
import static org.meniscus.platform.database.Decimals.scaled;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.IdClass;
import jakarta.persistence.Table;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.ArchivableEntity;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.RowId;
import org.meniscus.platform.StaleVersion;
import org.meniscus.water.product.PhysicalForm;
import org.meniscus.water.product.Product;
import org.meniscus.water.product.ProductKind;
import org.meniscus.water.product.ProductPreference;
import org.meniscus.water.product.StorageTemperature;
import org.meniscus.water.product.StrengthBasis;
import org.meniscus.water.units.AmountUnit;

/** A product as a company has it. */
@Entity
@Table(name = "product")
@IdClass(RowId.class)
class StockedProduct extends ArchivableEntity {

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

	private @Nullable BigDecimal labelPerPpm;

	private @Nullable BigDecimal tabletGrams;

	@Column(name = "scoop_amount")
	private @Nullable BigDecimal scoop;

	private @Nullable String cautions;

	private boolean onTruck;

	@Enumerated(EnumType.STRING)
	private ProductPreference preference;

	private @Nullable LocalDate deliveredOn;

	@Enumerated(EnumType.STRING)
	private @Nullable StorageTemperature storage;

	@SuppressWarnings("NullAway.Init")
	protected StockedProduct() {
	}

	StockedProduct(CompanyId company, ProductId id, ProductDetails details, Instant now) {
		super(company, id.value(), now);
		this.kind = details.kind();
		apply(details);
	}

	/**
	 * The kind stays what it is: doses already recorded as this product would change their meaning.
	 *
	 * @throws StaleVersion when somebody else saved since the form was opened
	 */
	void change(long formVersion, ProductDetails details, Instant now) {
		update(formVersion, now);
		if (details.kind() != kind) {
			throw new IllegalArgumentException("a product keeps its kind");
		}
		apply(details);
	}

	ProductId id() {
		return new ProductId(rowId());
	}

	ProductRecord toRecord() {
		return new ProductRecord(id(), version(),
				new ProductDetails(kind, name, number(strengthPercent), strengthBasis, number(density), packageAmount.doubleValue(),
						number(labelMax), number(labelPerPpm), number(tabletGrams), number(scoop), cautions, onTruck, preference,
						delivery()),
				isArchived());
	}

	private @Nullable Delivery delivery() {
		return (deliveredOn != null && storage != null) ? new Delivery(deliveredOn, storage) : null;
	}

	/** As the treatment engine takes it, with the strength it has on a day. */
	Product toProduct(@Nullable Price price, LocalDate day) {
		Long cents = (price != null) ? Long.valueOf(price.centsForPackage(packageAmount.doubleValue())) : null;
		Product labelled = new Product(rowId().toString(), kind, name,
				(strengthPercent != null) ? strengthPercent.movePointLeft(2).doubleValue() : null,
				strengthBasis, number(density), packageAmount.doubleValue(), cents,
				number(labelMax), number(labelPerPpm), number(tabletGrams), onTruck, number(scoop), preference, null);
		Delivery delivery = delivery();
		return (delivery != null) ? labelled.aged((int) ChronoUnit.DAYS.between(delivery.on(), day), delivery.storage()) : labelled;
	}

	private void apply(ProductDetails details) {
		this.name = details.name();
		this.form = kind.form();
		this.strengthPercent = scaled(details.strengthPercent(), 3);
		this.strengthBasis = details.basis();
		this.density = scaled(details.density(), 3);
		this.packageAmount = scaled(details.packageAmount(), 2);
		this.packageUnit = kind.unit();
		this.labelMax = scaled(details.labelMaxPerM3(), 3);
		this.labelPerPpm = scaled(details.labelPerPpm(), 3);
		this.tabletGrams = scaled(details.tabletGrams(), 2);
		this.scoop = scaled(details.scoop(), 2);
		this.cautions = details.cautions();
		this.onTruck = details.onTruck();
		this.preference = details.preference();
		Delivery delivery = details.delivery();
		this.deliveredOn = (delivery != null) ? delivery.on() : null;
		this.storage = (delivery != null) ? delivery.storage() : null;
	}

}
