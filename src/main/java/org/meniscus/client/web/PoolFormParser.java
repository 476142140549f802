package org.meniscus.client.web;

import java.math.BigDecimal;
import java.util.Arrays;
import java.util.Currency;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.ClientId;
import org.meniscus.client.EquipmentFigure;
import org.meniscus.client.Place;
import org.meniscus.client.PoolDetails;
import org.meniscus.client.PoolDetails.FillLimits;
import org.meniscus.client.PoolDimensions;
import org.meniscus.client.PoolDimensions.Measure;
import org.meniscus.client.PoolShape;
import org.meniscus.client.PoolSize;
import org.meniscus.client.PoolUnits;
import org.meniscus.platform.DecimalParser;
import org.meniscus.platform.web.MoneyField;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.VolumeCertainty;
import org.springframework.validation.Errors;

/** Parses the figures of a pool form from the company's units; what cannot be gets a message beside its field. */
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

	/** The details to store, or null when something was refused. */
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
		PoolDimensions dimensions = parseDimensions();
		Double volume = inRange("volume", form.volume(), units.litresPerVolume(), PoolSize.LITRES_MIN, PoolSize.LITRES_MAX);
		if (form.volume() == null && form.certainty() != null && form.certainty() != VolumeCertainty.UNVERIFIED) {
			reject("volume", "client.volume.missing");
		}
		Double area = inRange("area", form.area(), units.squareMetresPerArea(), PoolSize.AREA_MIN, PoolSize.AREA_MAX);
		FillWater fill = new FillWater(inRange("fillPh", form.fillPh(), 1, FillLimits.PH_MIN, FillLimits.PH_MAX),
				inRange("fillTa", form.fillTa(), 1, 0, FillLimits.TA_MAX), inRange("fillCh", form.fillCh(), 1, 0, FillLimits.CH_MAX),
				inRange("fillSalt", form.fillSalt(), 1, 0, FillLimits.SALT_MAX));
		Equipment equipment = parseEquipment(Objects.requireNonNull(form.equipment()));
		Integer fee = MoneyField.parse("monthlyFee", form.monthlyFee(), currency.getDefaultFractionDigits(), PoolDetails.FEE_MAX, errors);
		if (errors.hasErrors() || equipment == null) {
			return null;
		}
		return new PoolDetails(new ClientId(Objects.requireNonNull(form.client())), Objects.requireNonNull(form.name()),
				new Place(text(form.street()), text(form.town()), text(form.postcode()), latitude, longitude),
				Objects.requireNonNull(form.body()), Objects.requireNonNull(form.surface()), Boolean.TRUE.equals(form.indoor()),
				Objects.requireNonNull(form.sanitizer()),
				new PoolSize(volume, Objects.requireNonNull(form.certainty()), area, dimensions),
				Boolean.TRUE.equals(form.wasteValve()), equipment, form.equipmentNotes(), form.accessNotes(), fill, fee);
	}

	/** Null when something was refused. */
	private @Nullable Equipment parseEquipment(EquipmentForm given) {
		Map<EquipmentFigure, Double> figures = new EnumMap<>(EquipmentFigure.class);
		Set<EquipmentFigure> entered = EnumSet.noneOf(EquipmentFigure.class);
		for (EquipmentFigure figure : EquipmentFigure.values()) {
			String typed = given.typed(figure);
			if (typed != null) {
				entered.add(figure);
				Double value = typed(EquipmentForm.path(figure), typed, figure);
				if (value != null) {
					figures.put(figure, value);
				}
			}
		}
		if (EquipmentFigure.lacksRating(entered)) {
			reject(EquipmentForm.path(EquipmentFigure.CELL_RATING), "client.cellRating.missing");
		}
		return errors.hasErrors() ? null
				: EquipmentFigure.equipment(figures, given.filter(), Equipment.SecondSystem.of(Boolean.TRUE.equals(given.ozone()),
						Boolean.TRUE.equals(given.uv()), Boolean.TRUE.equals(given.ionizer())));
	}

	private @Nullable Double typed(String field, String text, EquipmentFigure figure) {
		try {
			return inRange(field, DecimalParser.parse(text), figure.perUnit(units), figure.min(), figure.max());
		}
		catch (NumberFormatException ex) {
			reject(field, "typeMismatch.java.math.BigDecimal");
			return null;
		}
	}

	/** What the volume can be worked out from; null when nothing was entered or something was refused. */
	@Nullable
	PoolDimensions parseDimensions() {
		if (Arrays.stream(Measure.values()).allMatch(measure -> entered(measure) == null && !anyRejected(field(measure)))) {
			return null;
		}
		PoolShape shape = form.shape();
		if (shape == null) {
			if (!anyRejected("shape")) {
				reject("shape", "client.choose");
			}
			return null;
		}
		Map<Measure, Double> metres = new EnumMap<>(Measure.class);
		for (Measure measure : Measure.values()) {
			Double value = measure.belongsTo(shape)
					? requiredInRange(field(measure), entered(measure), measure.min(), measure.max()) : null;
			if (value != null) {
				metres.put(measure, value);
			}
		}
		Optional<Measure> contradiction = PoolDimensions.contradictions(shape, metres).stream().findFirst();
		contradiction.ifPresent(measure -> reject(field(measure), "client." + field(measure) + ".range"));
		return (contradiction.isEmpty() && PoolDimensions.missing(shape, metres).isEmpty()) ? PoolDimensions.of(shape, metres) : null;
	}

	private static String field(Measure measure) {
		return switch (measure) {
			case LENGTH -> "length";
			case WIDTH -> "width";
			case NARROW_WIDTH -> "narrow";
			case SHALLOW_DEPTH -> "shallow";
			case DEEP_DEPTH -> "deep";
		};
	}

	private @Nullable BigDecimal entered(Measure measure) {
		return switch (measure) {
			case LENGTH -> form.length();
			case WIDTH -> form.width();
			case NARROW_WIDTH -> form.narrow();
			case SHALLOW_DEPTH -> form.shallow();
			case DEEP_DEPTH -> form.deep();
		};
	}

	private @Nullable Double requiredInRange(String field, @Nullable BigDecimal value, double min, double max) {
		if (value == null) {
			if (!anyRejected(field)) {
				reject(field, "client.measure.missing");
			}
			return null;
		}
		return inRange(field, value, units.metresPerLength(), min, max);
	}

	/** The value in the unit it is stored in, as are the limits; null when absent or refused. */
	private @Nullable Double inRange(String field, @Nullable BigDecimal value, double perUnit, double min, double max) {
		if (value == null) {
			return null;
		}
		double converted = value.doubleValue() * perUnit;
		if (converted < min || converted > max) {
			errors.rejectValue(field, "field.range",
					new Object[]{ PoolUnits.formatLimit(min / perUnit), PoolUnits.formatLimit(max / perUnit) }, "Out of range.");
			return null;
		}
		return converted;
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
