package org.meniscus.client;

import static org.meniscus.platform.database.Decimals.number;
import static org.meniscus.platform.database.Decimals.scaled;

import java.math.BigDecimal;
import java.time.Instant;
import java.util.UUID;

import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.IdClass;

import org.jspecify.annotations.Nullable;
import org.meniscus.platform.ArchivableEntity;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.RowId;
import org.meniscus.platform.StaleVersion;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;

/** A pool or spa of a client. */
@Entity
@IdClass(RowId.class)
class Pool extends ArchivableEntity {

	private UUID clientId;

	private String name;

	private String street;

	private String town;

	private String postcode;

	private @Nullable BigDecimal latitude;

	private @Nullable BigDecimal longitude;

	@Enumerated(EnumType.STRING)
	private BodyOfWater body;

	@Enumerated(EnumType.STRING)
	private Surface surface;

	private boolean indoor;

	@Enumerated(EnumType.STRING)
	private Sanitizer sanitizer;

	private @Nullable BigDecimal volumeLitres;

	@Enumerated(EnumType.STRING)
	private VolumeCertainty volumeCertainty;

	@Column(name = "area_m2")
	private @Nullable BigDecimal areaM2;

	@Enumerated(EnumType.STRING)
	private @Nullable PoolShape shape;

	@Column(name = "length_m")
	private @Nullable BigDecimal lengthM;

	@Column(name = "width_m")
	private @Nullable BigDecimal widthM;

	@Column(name = "narrow_m")
	private @Nullable BigDecimal narrowM;

	@Column(name = "shallow_m")
	private @Nullable BigDecimal shallowM;

	@Column(name = "deep_m")
	private @Nullable BigDecimal deepM;

	private boolean hasWasteValve;

	@Embedded
	private PoolEquipment equipment;

	private @Nullable String equipmentNotes;

	private @Nullable String accessNotes;

	private @Nullable BigDecimal fillPh;

	private @Nullable BigDecimal fillTaPpm;

	private @Nullable BigDecimal fillChPpm;

	private @Nullable BigDecimal fillSaltPpm;

	private @Nullable Integer monthlyFeeCents;

	@SuppressWarnings("NullAway.Init")
	protected Pool() {
	}

	Pool(CompanyId company, PoolId id, PoolDetails details, Instant now) {
		super(company, id.value(), now);
		write(details);
	}

	/** @throws StaleVersion when somebody else saved since the form was opened */
	void change(long formVersion, PoolDetails details, Instant now) {
		update(formVersion, now);
		write(details);
	}

	PoolRecord toRecord() {
		return new PoolRecord(new PoolId(rowId()), version(),
				new PoolDetails(new ClientId(clientId), name,
						new Place(street, town, postcode, number(latitude), number(longitude)), body, surface, indoor, sanitizer,
						new PoolSize(number(volumeLitres), volumeCertainty, number(areaM2), dimensions()), hasWasteValve,
						equipment.toEquipment(), equipmentNotes, accessNotes,
						new FillWater(number(fillPh), number(fillTaPpm), number(fillChPpm), number(fillSaltPpm)), monthlyFeeCents),
				isArchived());
	}

	private void write(PoolDetails details) {
		this.clientId = details.client().value();
		this.name = details.name();
		this.street = details.place().street();
		this.town = details.place().town();
		this.postcode = details.place().postcode();
		this.latitude = scaled(details.place().latitude(), 5);
		this.longitude = scaled(details.place().longitude(), 5);
		this.body = details.body();
		this.surface = details.surface();
		this.indoor = details.indoor();
		this.sanitizer = details.sanitizer();
		this.volumeLitres = scaled(details.size().volumeLitres(), 1);
		this.volumeCertainty = details.size().certainty();
		this.areaM2 = scaled(details.size().areaM2(), 4);
		write(details.size().dimensions());
		this.hasWasteValve = details.wasteValve();
		this.equipment = new PoolEquipment(details.equipment());
		this.equipmentNotes = details.equipmentNotes();
		this.accessNotes = details.accessNotes();
		this.fillPh = scaled(details.fill().ph(), 2);
		this.fillTaPpm = scaled(details.fill().ta(), 1);
		this.fillChPpm = scaled(details.fill().ch(), 1);
		this.fillSaltPpm = scaled(details.fill().salt(), 1);
		this.monthlyFeeCents = details.monthlyFeeCents();
	}

	private void write(@Nullable PoolDimensions measures) {
		this.shape = (measures != null) ? measures.shape() : null;
		this.lengthM = scaled((measures != null) ? measures.length() : null, 4);
		this.widthM = scaled((measures != null) ? measures.width() : null, 4);
		this.narrowM = scaled((measures != null) ? measures.narrowWidth() : null, 4);
		this.shallowM = scaled((measures != null) ? measures.shallowDepth() : null, 4);
		this.deepM = scaled((measures != null) ? measures.deepDepth() : null, 4);
	}

	private @Nullable PoolDimensions dimensions() {
		if (shape == null || lengthM == null || widthM == null || shallowM == null || deepM == null) {
			return null;
		}
		return new PoolDimensions(shape, lengthM.doubleValue(), widthM.doubleValue(), number(narrowM), shallowM.doubleValue(),
				deepM.doubleValue());
	}

}
