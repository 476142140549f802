package org.meniscus.client.web;

import java.math.BigDecimal;
import java.util.Currency;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientId;
import org.meniscus.client.Place;
import org.meniscus.client.PoolDetails;
import org.meniscus.client.PoolDetails.FillLimits;
import org.meniscus.client.PoolDimensions;
import org.meniscus.client.PoolShape;
import org.meniscus.client.PoolSize;
import org.meniscus.client.PoolUnits;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.VolumeCertainty;
import org.springframework.validation.Errors;

/** Reads the figures of a pool form out of the company's units and says, beside its field, what cannot be. */
final class PoolFormParser {

	private final PoolForm form;

	private final PoolUnits units;

	private final Currency currency;

	private final Errors errors;

	PoolFormParser(PoolForm form, PoolUnits units, Currency currency, Errors errors) {
		this.form = form;
		this.units = units;
		this.currency = currency;
		this.errors = errors;
	}

	/** What is to be kept, or null when something was refused. */
	@Nullable
	PoolDetails parse() {
		Double latitude = inRange("latitude", form.latitude(), 1, -90, 90);
		Double longitude = inRange("longitude", form.longitude(), 1, -180, 180);
		if (form.latitude() == null && form.longitude() != null) {
			reject("latitude", "client.both");
		}
		if (form.longitude() == null && form.latitude() != null) {
			reject("longitude", "client.both");
		}
		PoolDimensions measures = parseDimensions();
		Double volume = inRange("volume", form.volume(), units.litresPerVolume(), PoolSize.LITRES_MIN, PoolSize.LITRES_MAX);
		if (form.volume() == null && form.certainty() != null && form.certainty() != VolumeCertainty.UNVERIFIED) {
			reject("volume", "client.volume.missing");
		}
		Double area = inRange("area", form.area(), units.squareMetresPerArea(), PoolSize.AREA_MIN, PoolSize.AREA_MAX);
		FillWater fill = new FillWater(inRange("fillPh", form.fillPh(), 1, FillLimits.PH_MIN, FillLimits.PH_MAX),
				inRange("fillTa", form.fillTa(), 1, 0, FillLimits.TA_MAX), inRange("fillCh", form.fillCh(), 1, 0, FillLimits.CH_MAX),
				inRange("fillSalt", form.fillSalt(), 1, 0, FillLimits.SALT_MAX));
		Integer fee = fee();
		if (errors.hasErrors()) {
			return null;
		}
		return new PoolDetails(new ClientId(Objects.requireNonNull(form.client())), Objects.requireNonNull(form.name()),
				new Place(text(form.street()), text(form.town()), text(form.postcode()), latitude, longitude),
				Objects.requireNonNull(form.body()), Objects.requireNonNull(form.surface()), Boolean.TRUE.equals(form.indoor()),
				Objects.requireNonNull(form.sanitizer()),
				new PoolSize(volume, Objects.requireNonNull(form.certainty()), area, measures),
				Boolean.TRUE.equals(form.wasteValve()), form.equipmentNotes(), form.accessNotes(), fill, fee);
	}

	/** What the volume can be worked out from; null when nothing was entered or something was refused. */
	@Nullable
	PoolDimensions parseDimensions() {
		boolean untouched = form.length() == null && form.width() == null && form.narrow() == null && form.shallow() == null
				&& form.deep() == null;
		if (untouched && !anyRejected("length", "width", "narrow", "shallow", "deep")) {
			return null;
		}
		PoolShape shape = form.shape();
		if (shape == null) {
			if (!anyRejected("shape")) {
				reject("shape", "client.choose");
			}
			return null;
		}
		Double length = side("length", form.length());
		Double width = (shape == PoolShape.ROUND) ? length : side("width", form.width());
		Double narrow = (shape == PoolShape.KIDNEY) ? side("narrow", form.narrow()) : null;
		Double shallow = depth("shallow", form.shallow());
		Double deep = depth("deep", form.deep());
		if (shallow != null && deep != null && shallow > deep) {
			reject("deep", "client.deep.range");
			return null;
		}
		if (narrow != null && width != null && narrow > width) {
			reject("narrow", "client.narrow.range");
			return null;
		}
		if (length == null || width == null || shallow == null || deep == null || (shape == PoolShape.KIDNEY && narrow == null)) {
			return null;
		}
		return new PoolDimensions(shape, length, width, narrow, shallow, deep);
	}

	private @Nullable Double side(String field, @Nullable BigDecimal value) {
		return requiredInRange(field, value, PoolDimensions.SIDE_MIN, PoolDimensions.SIDE_MAX);
	}

	private @Nullable Double depth(String field, @Nullable BigDecimal value) {
		return requiredInRange(field, value, PoolDimensions.DEPTH_MIN, PoolDimensions.DEPTH_MAX);
	}

	private @Nullable Double requiredInRange(String field, @Nullable BigDecimal value, double least, double most) {
		if (value == null) {
			if (!anyRejected(field)) {
				reject(field, "client.measure.missing");
			}
			return null;
		}
		return inRange(field, value, units.metresPerLength(), least, most);
	}

	/** The value in the unit it is kept in, or null when absent or refused. Limits are in the unit it is kept in. */
	private @Nullable Double inRange(String field, @Nullable BigDecimal value, double perUnit, double least, double most) {
		if (value == null) {
			return null;
		}
		double kept = value.doubleValue() * perUnit;
		if (kept < least || kept > most) {
			errors.rejectValue(field, "client.range",
					new Object[]{ PoolUnits.formatLimit(least / perUnit), PoolUnits.formatLimit(most / perUnit) }, "Out of range.");
			return null;
		}
		return kept;
	}

	private @Nullable Integer fee() {
		if (form.monthlyFee() == null) {
			return null;
		}
		BigDecimal cents = form.monthlyFee().movePointRight(currency.getDefaultFractionDigits());
		if (cents.stripTrailingZeros().scale() > 0) {
			errors.rejectValue("monthlyFee", "client.fee.decimals", new Object[]{ currency.getDefaultFractionDigits() }, "Decimals.");
			return null;
		}
		if (cents.signum() < 0 || cents.compareTo(BigDecimal.valueOf(PoolDetails.FEE_MAX)) > 0) {
			errors.rejectValue("monthlyFee", "client.range",
					new Object[]{ "0",
							PoolUnits.formatGrouped(
									BigDecimal.valueOf(PoolDetails.FEE_MAX, currency.getDefaultFractionDigits()).doubleValue(), 0) },
					"Out of range.");
			return null;
		}
		return cents.intValueExact();
	}

	private void reject(String field, String code) {
		errors.rejectValue(field, code);
	}

	private boolean anyRejected(String... fields) {
		for (String field : fields) {
			if (errors.hasFieldErrors(field)) {
				return true;
			}
		}
		return false;
	}

	private static String text(@Nullable String text) {
		return (text != null) ? text : "";
	}

}
