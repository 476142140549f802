package org.meniscus.client;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Currency;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;

import org.apache.commons.csv.CSVRecord;
import org.jspecify.annotations.Nullable;
import org.meniscus.client.PoolDetails.FillLimits;
import org.meniscus.client.PoolDimensions.Measure;
import org.meniscus.platform.DecimalParser;
import org.meniscus.platform.MinorUnits;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.pool.FillWater;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.pool.Surface;
import org.meniscus.water.pool.VolumeCertainty;
import org.meniscus.water.units.UnitSystem;

/** Reads one row, gathering everything that is wrong with it instead of stopping at the first. */
final class CsvRowParser {

	/** Where a column stands in this file, and in which units. */
	record ColumnPosition(int index, UnitSystem units, String header) {
	}

	private final int line;

	private final CSVRecord record;

	private final int width;

	private final Map<CsvColumn, ColumnPosition> columns;

	private final Currency currency;

	private final List<CsvProblem> problems = new ArrayList<>();

	CsvRowParser(int line, CSVRecord record, int width, Map<CsvColumn, ColumnPosition> columns, Currency currency) {
		this.line = line;
		this.record = record;
		this.width = width;
		this.columns = columns;
		this.currency = currency;
	}

	CsvRow parse() {
		if (record.size() > width) {
			problems.add(new CsvProblem(line, null, "tooManyCells", List.of(String.valueOf(record.size()), String.valueOf(width)),
					record.get(record.size() - 1)));
			return new CsvRow(line, null, null, problems);
		}
		ClientDetails client = client();
		PoolDetails pool = hasPool() ? pool() : null;
		return problems.isEmpty() ? new CsvRow(line, client, pool, problems) : new CsvRow(line, null, null, problems);
	}

	private @Nullable ClientDetails client() {
		String name = text(CsvColumn.CLIENT, ClientDetails.NAME_MAX);
		if (name == null && !isRejected(CsvColumn.CLIENT)) {
			reject(CsvColumn.CLIENT, "missing");
		}
		String email = text(CsvColumn.EMAIL, ClientDetails.EMAIL_MAX);
		if (email != null && !email.matches("[^@\\s]+@[^@\\s]+")) {
			reject(CsvColumn.EMAIL, "email");
		}
		String phone = text(CsvColumn.PHONE, ClientDetails.PHONE_MAX);
		String language = text(CsvColumn.LANGUAGE, 10);
		if (language != null && !language.equalsIgnoreCase("en") && !language.equalsIgnoreCase("es")) {
			reject(CsvColumn.LANGUAGE, "oneOf", "en, es");
		}
		String notes = text(CsvColumn.CLIENT_NOTES, ClientDetails.NOTES_MAX);
		return problems.isEmpty() ? new ClientDetails((name != null) ? name : "", email, phone, (language != null) ? language : "en", notes)
				: null;
	}

	private boolean hasPool() {
		return columns.keySet().stream().anyMatch(column -> !column.isClientColumn() && !cell(column).isEmpty());
	}

	private @Nullable PoolDetails pool() {
		String name = text(CsvColumn.POOL, PoolDetails.NAME_MAX);
		String street = text(CsvColumn.STREET, Place.STREET_MAX);
		String town = text(CsvColumn.TOWN, Place.TOWN_MAX);
		String postcode = text(CsvColumn.POSTCODE, Place.POSTCODE_MAX);
		Double latitude = number(CsvColumn.LATITUDE, 1, -90, 90);
		Double longitude = number(CsvColumn.LONGITUDE, 1, -180, 180);
		if (cell(CsvColumn.LATITUDE).isEmpty() != cell(CsvColumn.LONGITUDE).isEmpty()) {
			reject(cell(CsvColumn.LATITUDE).isEmpty() ? CsvColumn.LATITUDE : CsvColumn.LONGITUDE, "both");
		}
		BodyOfWater body = enumConstant(CsvColumn.BODY, BodyOfWater.values(), BodyOfWater.POOL);
		Surface surface = enumConstant(CsvColumn.SURFACE, Surface.values(), null);
		Sanitizer sanitizer = enumConstant(CsvColumn.SANITIZER, Sanitizer.values(), null);
		boolean indoor = yesOrNo(CsvColumn.INDOOR);
		PoolSize size = size();
		boolean wasteValve = yesOrNo(CsvColumn.WASTE_VALVE);
		Equipment equipment = equipment();
		FillWater fill = new FillWater(number(CsvColumn.FILL_PH, 1, FillLimits.PH_MIN, FillLimits.PH_MAX),
				number(CsvColumn.FILL_TA_PPM, 1, 0, FillLimits.TA_MAX), number(CsvColumn.FILL_CH_PPM, 1, 0, FillLimits.CH_MAX),
				number(CsvColumn.FILL_SALT_PPM, 1, 0, FillLimits.SALT_MAX));
		Integer fee = fee();
		String equipmentNotes = text(CsvColumn.EQUIPMENT_NOTES, PoolDetails.EQUIPMENT_MAX);
		String access = text(CsvColumn.ACCESS_NOTES, PoolDetails.ACCESS_MAX);
		if (!problems.isEmpty() || body == null || surface == null || sanitizer == null || size == null || equipment == null) {
			return null;
		}
		return new PoolDetails(CsvRow.UNASSIGNED_CLIENT,
				(name != null) ? name : body.name().charAt(0) + body.name().substring(1).toLowerCase(Locale.ROOT),
				new Place(orEmpty(street), orEmpty(town), orEmpty(postcode), latitude, longitude), body, surface, indoor, sanitizer, size,
				wasteValve, equipment, equipmentNotes, access, fill, fee);
	}

	private @Nullable Equipment equipment() {
		Map<EquipmentFigure, Double> figures = new EnumMap<>(EquipmentFigure.class);
		Set<EquipmentFigure> entered = EnumSet.noneOf(EquipmentFigure.class);
		for (EquipmentFigure figure : EquipmentFigure.values()) {
			CsvColumn column = column(figure);
			ColumnPosition cell = columns.get(column);
			if (!cell(column).isEmpty()) {
				entered.add(figure);
			}
			Double value = (cell == null) ? null
					: number(column, figure.perUnit(PoolUnits.of(cell.units())), figure.min(), figure.max());
			if (value != null) {
				figures.put(figure, value);
			}
		}
		if (EquipmentFigure.lacksRating(entered)) {
			reject(CsvColumn.CELL_RATING, "missing");
		}
		Equipment.Filter filter = cell(CsvColumn.FILTER).isEmpty() ? null
				: enumConstant(CsvColumn.FILTER, Equipment.Filter.values(), null);
		Set<Equipment.SecondSystem> systems = Equipment.SecondSystem.of(yesOrNo(CsvColumn.OZONE), yesOrNo(CsvColumn.UV),
				yesOrNo(CsvColumn.IONIZER));
		return problems.isEmpty() ? EquipmentFigure.equipment(figures, filter, systems) : null;
	}

	private static CsvColumn column(EquipmentFigure figure) {
		return switch (figure) {
			case PUMP_HOURS -> CsvColumn.PUMP_HOURS;
			case FLOW -> CsvColumn.FLOW;
			case CLEAN_PRESSURE -> CsvColumn.FILTER_CLEAN;
			case CELL_RATING -> CsvColumn.CELL_RATING;
			case CELL_PERCENT -> CsvColumn.CELL_PERCENT;
			case CELL_STEP -> CsvColumn.CELL_STEP;
			case COVER_HOURS -> CsvColumn.COVER_HOURS;
			case BATHERS -> CsvColumn.BATHERS;
		};
	}

	private @Nullable PoolSize size() {
		Double volume = amount(CsvColumn.VOLUME, PoolSize.LITRES_MIN, PoolSize.LITRES_MAX);
		Double area = amount(CsvColumn.AREA, PoolSize.AREA_MIN, PoolSize.AREA_MAX);
		PoolDimensions dimensions = dimensions();
		boolean certaintyGiven = !cell(CsvColumn.VOLUME_CERTAINTY).isEmpty();
		VolumeCertainty certainty = certaintyGiven ? enumConstant(CsvColumn.VOLUME_CERTAINTY, VolumeCertainty.values(), null) : null;
		if (!problems.isEmpty()) {
			return null;
		}
		if (volume == null && dimensions != null) {
			PoolSize calculated = PoolSize.of(dimensions);
			return new PoolSize(calculated.volumeLitres(), (certainty != null) ? certainty : calculated.certainty(),
					(area != null) ? area : calculated.areaM2(), dimensions);
		}
		if (volume == null && certainty != null && certainty != VolumeCertainty.UNVERIFIED) {
			reject(CsvColumn.VOLUME, "noVolume", certainty.name().toLowerCase(Locale.ROOT));
			return null;
		}
		return new PoolSize(volume, (certainty != null) ? certainty : VolumeCertainty.UNVERIFIED, area, dimensions);
	}

	private @Nullable PoolDimensions dimensions() {
		PoolShape shape = cell(CsvColumn.SHAPE).isEmpty() ? null : enumConstant(CsvColumn.SHAPE, PoolShape.values(), null);
		Map<Measure, Double> metres = new EnumMap<>(Measure.class);
		for (Measure measure : Measure.values()) {
			Double value = amount(column(measure), measure.min(), measure.max());
			if (value != null) {
				metres.put(measure, value);
			}
		}
		if (!problems.isEmpty()) {
			return null;
		}
		if (shape == null) {
			if (!metres.isEmpty()) {
				reject(CsvColumn.SHAPE, "oneOf", codes(PoolShape.values()));
			}
			return null;
		}
		PoolDimensions.missing(shape, metres).forEach(measure -> reject(column(measure), "missing"));
		PoolDimensions.contradictions(shape, metres)
			.forEach(measure -> reject(column(measure), (measure == Measure.DEEP_DEPTH) ? "deepLess" : "narrowMore"));
		return problems.isEmpty() ? PoolDimensions.of(shape, metres) : null;
	}

	private static CsvColumn column(Measure measure) {
		return switch (measure) {
			case LENGTH -> CsvColumn.LENGTH;
			case WIDTH -> CsvColumn.WIDTH;
			case NARROW_WIDTH -> CsvColumn.NARROW_WIDTH;
			case SHALLOW_DEPTH -> CsvColumn.SHALLOW;
			case DEEP_DEPTH -> CsvColumn.DEEP;
		};
	}

	private @Nullable Integer fee() {
		BigDecimal value = decimal(CsvColumn.MONTHLY_FEE);
		if (value == null) {
			return null;
		}
		int digits = currency.getDefaultFractionDigits();
		MinorUnits.Fault fault = MinorUnits.fault(value, digits, PoolDetails.FEE_MAX);
		if (fault == MinorUnits.Fault.DECIMALS) {
			reject(CsvColumn.MONTHLY_FEE, "decimals", String.valueOf(digits));
			return null;
		}
		if (fault == MinorUnits.Fault.RANGE) {
			reject(CsvColumn.MONTHLY_FEE, "range", "0", MinorUnits.formatMax(digits, PoolDetails.FEE_MAX));
			return null;
		}
		return MinorUnits.of(value, digits);
	}

	private boolean yesOrNo(CsvColumn column) {
		String text = cell(column).toLowerCase(Locale.ROOT);
		switch (text) {
			case "yes", "y", "true", "1" -> {
				return true;
			}
			case "", "no", "n", "false", "0" -> {
				return false;
			}
			default -> {
				reject(column, "oneOf", "yes, no");
				return false;
			}
		}
	}

	private <E extends Enum<E>> @Nullable E enumConstant(CsvColumn column, E[] values, @Nullable E defaultValue) {
		String text = cell(column).toUpperCase(Locale.ROOT).replaceAll("[ -]+", "_").replace("FIBERGLASS", "FIBREGLASS");
		if (text.isEmpty() && defaultValue != null) {
			return defaultValue;
		}
		for (E value : values) {
			if (value.name().equals(text)) {
				return value;
			}
		}
		reject(column, text.isEmpty() ? "missingOneOf" : "oneOf", codes(values));
		return null;
	}

	private static String codes(Enum<?>[] values) {
		return Arrays.stream(values).map(value -> value.name().toLowerCase(Locale.ROOT)).collect(Collectors.joining(", "));
	}

	/** A volume, length or area in the unit of its header; limits in litres, metres, square metres. */
	private @Nullable Double amount(CsvColumn column, double min, double max) {
		ColumnPosition cell = columns.get(column);
		if (cell == null) {
			return null;
		}
		PoolUnits units = PoolUnits.of(cell.units());
		return number(column, switch (column) {
			case VOLUME -> units.litresPerVolume();
			case AREA -> units.squareMetresPerArea();
			default -> units.metresPerLength();
		}, min, max);
	}

	private @Nullable Double number(CsvColumn column, double perUnit, double min, double max) {
		BigDecimal value = decimal(column);
		if (value == null) {
			return null;
		}
		double converted = value.doubleValue() * perUnit;
		if (converted < min || converted > max) {
			reject(column, "range", PoolUnits.formatLimit(min / perUnit), PoolUnits.formatLimit(max / perUnit));
			return null;
		}
		return converted;
	}

	private @Nullable BigDecimal decimal(CsvColumn column) {
		String cell = cell(column);
		if (cell.isEmpty()) {
			return null;
		}
		try {
			return DecimalParser.parse(cell);
		}
		catch (NumberFormatException ex) {
			reject(column, cell.matches("-?\\d{1,3}(,\\d{3})+([.]\\d+)?") ? "thousands" : "number");
			return null;
		}
	}

	private @Nullable String text(CsvColumn column, int max) {
		String text = CsvFormulaEscaper.unescape(cell(column)).strip();
		if (text.length() > max) {
			reject(column, "tooLongText", String.valueOf(max), String.valueOf(text.length()));
			return null;
		}
		return text.isEmpty() ? null : text;
	}

	/** Without the blanks around it; empty when the column or the cell is missing. */
	private String cell(CsvColumn column) {
		ColumnPosition cell = columns.get(column);
		return (cell != null && cell.index() < record.size()) ? record.get(cell.index()).strip() : "";
	}

	private boolean isRejected(CsvColumn column) {
		String header = header(column);
		return problems.stream().anyMatch(problem -> header.equals(problem.column()));
	}

	private void reject(CsvColumn column, String code, String... args) {
		problems.add(new CsvProblem(line, header(column), code, List.of(args), cell(column)));
	}

	private String header(CsvColumn column) {
		ColumnPosition cell = columns.get(column);
		return (cell != null) ? cell.header() : column.name().toLowerCase(Locale.ROOT);
	}

	private static String orEmpty(@Nullable String text) {
		return (text != null) ? text : "";
	}

}
