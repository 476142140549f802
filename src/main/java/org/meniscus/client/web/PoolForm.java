package org.meniscus.client.web;

import java.math.BigDecimal;
import java.util.Currency;
import java.util.UUID;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientId;
import org.meniscus.client.Place;
import org.meniscus.client.PoolDetails;
import org.meniscus.client.PoolDimensions;
import org.meniscus.client.PoolRecord;
import org.meniscus.client.PoolShape;
import org.meniscus.client.PoolSize;
import org.meniscus.client.PoolUnits;
import org.meniscus.platform.web.FormBinding;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;

/**
 * What the browser sends about a pool, in the company's units; {@link PoolFormParser} turns it into what is kept. Sizes of text are
 * asked for here, figures there, because their limits are stated in the company's units.
 */
record PoolForm(@NotNull @Nullable UUID id, @Nullable Long version, @NotNull(message = "{client.choose}") @Nullable UUID client,
		@NotBlank @Pattern(regexp = FormBinding.NOT_BLANK_PATTERN, message = "{jakarta.validation.constraints.NotBlank.message}") @Size(max = PoolDetails.NAME_MAX, message = "{client.tooLong}") @Nullable String name,
		@Size(max = Place.STREET_MAX, message = "{client.tooLong}") @Nullable String street,
		@Size(max = Place.TOWN_MAX, message = "{client.tooLong}") @Nullable String town,
		@Size(max = Place.POSTCODE_MAX, message = "{client.tooLong}") @Nullable String postcode,
		@Nullable BigDecimal latitude, @Nullable BigDecimal longitude,
		@NotNull(message = "{client.choose}") @Nullable BodyOfWater body, @NotNull(message = "{client.choose}") @Nullable Surface surface,
		@Nullable Boolean indoor, @NotNull(message = "{client.choose}") @Nullable Sanitizer sanitizer,
		@Nullable PoolShape shape, @Nullable BigDecimal length, @Nullable BigDecimal width, @Nullable BigDecimal narrow,
		@Nullable BigDecimal shallow, @Nullable BigDecimal deep, @Nullable BigDecimal volume,
		@NotNull(message = "{client.choose}") @Nullable VolumeCertainty certainty, @Nullable BigDecimal area,
		@Nullable Boolean wasteValve,
		@Size(max = PoolDetails.EQUIPMENT_MAX, message = "{client.tooLong}") @Nullable String equipmentNotes,
		@Size(max = PoolDetails.ACCESS_MAX, message = "{client.tooLong}") @Nullable String accessNotes,
		@Nullable BigDecimal fillPh, @Nullable BigDecimal fillTa, @Nullable BigDecimal fillCh, @Nullable BigDecimal fillSalt,
		@Nullable BigDecimal monthlyFee, @Nullable EquipmentForm equipment) {

	PoolForm {
		equipment = (equipment != null) ? equipment : EquipmentForm.BLANK;
	}

	static PoolForm blank(UUID id, @Nullable ClientId client, String name) {
		return new PoolForm(id, null, (client != null) ? client.value() : null, name, null, null, null, null, null, BodyOfWater.POOL, null,
				false, null, null, null, null, null, null, null, null, VolumeCertainty.UNVERIFIED, null, false, null, null, null, null,
				null, null, null, null);
	}

	static PoolForm of(PoolRecord pool, PoolUnits units, Currency currency) {
		PoolDetails details = pool.details();
		Place place = details.place();
		PoolSize size = details.size();
		PoolDimensions measures = size.dimensions();
		boolean round = measures != null && measures.shape() == PoolShape.ROUND;
		FillWater fill = details.fill();
		Integer fee = details.monthlyFeeCents();
		return new PoolForm(pool.id().value(), pool.version(), details.client().value(), details.name(), place.street(), place.town(),
				place.postcode(), decimal(place.latitude(), 5), decimal(place.longitude(), 5), details.body(), details.surface(),
				details.indoor(), details.sanitizer(), (measures != null) ? measures.shape() : null,
				units.length((measures != null) ? measures.length() : null),
				units.length((measures != null && !round) ? measures.width() : null),
				units.length((measures != null) ? measures.narrowWidth() : null),
				units.length((measures != null) ? measures.shallowDepth() : null),
				units.length((measures != null) ? measures.deepDepth() : null), units.volume(size.volumeLitres()), size.certainty(),
				units.area(size.areaM2()), details.wasteValve(), details.equipmentNotes(), details.accessNotes(),
				decimal(fill.ph(), 2), decimal(fill.ta(), 1), decimal(fill.ch(), 1), decimal(fill.salt(), 1),
				(fee != null) ? BigDecimal.valueOf(fee, currency.getDefaultFractionDigits()) : null,
				EquipmentForm.of(details.equipment(), units));
	}

	PoolForm withVersion(long version) {
		return new PoolForm(id, version, client, name, street, town, postcode, latitude, longitude, body, surface, indoor, sanitizer,
				shape, length, width, narrow, shallow, deep, volume, certainty, area, wasteValve, equipmentNotes, accessNotes, fillPh,
				fillTa, fillCh, fillSalt, monthlyFee, equipment);
	}

	/** The same form with volume, certainty and area as worked out. */
	PoolForm withSize(PoolSize size, PoolUnits units) {
		return new PoolForm(id, version, client, name, street, town, postcode, latitude, longitude, body, surface, indoor, sanitizer,
				shape, length, width, narrow, shallow, deep, units.volume(size.volumeLitres()), size.certainty(),
				units.area(size.areaM2()), wasteValve, equipmentNotes, accessNotes, fillPh, fillTa, fillCh, fillSalt, monthlyFee,
				equipment);
	}

	private static @Nullable BigDecimal decimal(@Nullable Double value, int decimals) {
		return (value != null) ? PoolUnits.rounded(value, decimals) : null;
	}

}
