package org.meniscus.client;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Currency;
import java.util.List;
import java.util.Locale;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.jspecify.annotations.Nullable;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.CompanyId;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.pool.Equipment;
import org.meniscus.water.units.UnitSystem;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Clients and pools as a file that the import takes back: RFC 4180, commas, CRLF, the columns of {@link CsvColumn}. */
@Service
public class ClientExportService {

	private final ClientRepository clients;

	private final PoolRepository pools;

	private final CompanyService companies;

	ClientExportService(ClientRepository clients, PoolRepository pools, CompanyService companies) {
		this.clients = clients;
		this.pools = pools;
		this.companies = companies;
	}

	/** A file with nothing but the headers. */
	public String template(UnitSystem units) {
		return write(List.of(CsvColumn.headers(units, true)));
	}

	/**
	 * Every client and pool that is looked after, a row for each pool, and one for each client without a pool.
	 *
	 * @param withAccessNotes whether gate codes and the like go along
	 */
	@Transactional(readOnly = true)
	public String export(CompanyId company, boolean withAccessNotes) {
		CompanySettings settings = companies.settings(company);
		List<Pool> all = pools.findByCompanyIdAndArchivedAtIsNullOrderByNameAscIdAsc(company.value());
		List<List<String>> rows = new ArrayList<>();
		rows.add(CsvColumn.headers(settings.units(), withAccessNotes));
		for (Client client : clients.findByCompanyIdAndArchivedAtIsNullOrderByDetailsNameAscIdAsc(company.value())) {
			ClientRecord record = client.toRecord();
			List<PoolDetails> own = all.stream()
				.map(pool -> pool.toRecord().details())
				.filter(pool -> pool.client().equals(record.id()))
				.toList();
			if (own.isEmpty()) {
				rows.add(row(record.details(), null, settings, withAccessNotes));
			}
			own.forEach(pool -> rows.add(row(record.details(), pool, settings, withAccessNotes)));
		}
		return write(rows);
	}

	private static List<String> row(ClientDetails client, @Nullable PoolDetails pool, CompanySettings settings, boolean withAccessNotes) {
		List<String> cells = new ArrayList<>();
		for (CsvColumn column : CsvColumn.values()) {
			if (column.isClientColumn()) {
				cells.add(cell(column, client));
			}
			else if (withAccessNotes || column != CsvColumn.ACCESS_NOTES) {
				cells.add((pool != null) ? cell(column, pool, PoolUnits.of(settings.units()), settings.currency()) : "");
			}
		}
		return cells;
	}

	private static String cell(CsvColumn column, ClientDetails client) {
		return switch (column) {
			case CLIENT -> text(client.name());
			case EMAIL -> text(client.email());
			case PHONE -> text(client.phone());
			case LANGUAGE -> client.language();
			case CLIENT_NOTES -> text(client.notes());
			default -> throw new IllegalArgumentException("not of a client: " + column);
		};
	}

	/** Figures are written fine enough to come back as they are stored. */
	private static String cell(CsvColumn column, PoolDetails pool, PoolUnits units, Currency currency) {
		PoolDimensions measures = pool.size().dimensions();
		boolean round = measures != null && measures.shape() == PoolShape.ROUND;
		Integer fee = pool.monthlyFeeCents();
		return switch (column) {
			case POOL -> text(pool.name());
			case STREET -> text(pool.place().street());
			case TOWN -> text(pool.place().town());
			case POSTCODE -> text(pool.place().postcode());
			case LATITUDE -> figure(pool.place().latitude(), 1, 5);
			case LONGITUDE -> figure(pool.place().longitude(), 1, 5);
			case BODY -> code(pool.body());
			case SURFACE -> code(pool.surface());
			case INDOOR -> yes(pool.indoor());
			case SANITIZER -> code(pool.sanitizer());
			case VOLUME -> figure(pool.size().volumeLitres(), units.litresPerVolume(), (units == PoolUnits.US) ? 2 : 4);
			case VOLUME_CERTAINTY -> code(pool.size().certainty());
			case AREA -> figure(pool.size().areaM2(), units.squareMetresPerArea(), 4);
			case SHAPE -> (measures != null) ? code(measures.shape()) : "";
			case LENGTH -> figure((measures != null) ? measures.length() : null, units.metresPerLength(), 4);
			case WIDTH -> figure((measures != null && !round) ? measures.width() : null, units.metresPerLength(), 4);
			case NARROW_WIDTH -> figure((measures != null) ? measures.narrowWidth() : null, units.metresPerLength(), 4);
			case SHALLOW -> figure((measures != null) ? measures.shallowDepth() : null, units.metresPerLength(), 4);
			case DEEP -> figure((measures != null) ? measures.deepDepth() : null, units.metresPerLength(), 4);
			case WASTE_VALVE -> yes(pool.wasteValve());
			case PUMP_HOURS, FLOW, FILTER, FILTER_CLEAN, CELL_RATING, CELL_PERCENT, CELL_STEP, COVER_HOURS, BATHERS, OZONE, UV, IONIZER ->
				cell(column, pool.equipment(), units);
			case FILL_PH -> figure(pool.fill().ph(), 1, 2);
			case FILL_TA_PPM -> figure(pool.fill().ta(), 1, 1);
			case FILL_CH_PPM -> figure(pool.fill().ch(), 1, 1);
			case FILL_SALT_PPM -> figure(pool.fill().salt(), 1, 1);
			case MONTHLY_FEE -> (fee != null) ? BigDecimal.valueOf(fee, currency.getDefaultFractionDigits()).toPlainString() : "";
			case EQUIPMENT_NOTES -> text(pool.equipmentNotes());
			case ACCESS_NOTES -> text(pool.accessNotes());
			default -> throw new IllegalArgumentException("not of a pool: " + column);
		};
	}

	private static String cell(CsvColumn column, Equipment equipment, PoolUnits units) {
		Equipment.Cell cell = equipment.cell();
		Equipment.Filter filter = equipment.filter();
		return switch (column) {
			case PUMP_HOURS -> figure(equipment.pumpHours(), 1, 1);
			case FLOW -> figure(equipment.litresPerHour(), units.litresPerHourOfFlow(), 4);
			case FILTER -> (filter != null) ? code(filter) : "";
			case FILTER_CLEAN -> figure(equipment.cleanKilopascals(), units.kilopascalsPerPressure(), 3);
			case CELL_RATING -> figure((cell != null) ? cell.gramsPerDay() : null, units.gramsPerCellRating(), 4);
			case CELL_PERCENT -> figure((cell != null) ? cell.percent() : null, 1, 1);
			case CELL_STEP -> figure((cell != null) ? cell.stepPercent() : null, 1, 1);
			case COVER_HOURS -> figure(equipment.coverHours(), 1, 1);
			case BATHERS -> figure(equipment.bathersPerDay(), 1, 1);
			default -> yes(equipment.systems().contains(Equipment.SecondSystem.valueOf(column.name())));
		};
	}

	private static String text(@Nullable String text) {
		return (text != null) ? CsvFormulaEscaper.escape(text) : "";
	}

	private static String code(Enum<?> value) {
		return value.name().toLowerCase(Locale.ROOT);
	}

	private static String yes(boolean value) {
		return value ? "yes" : "no";
	}

	private static String figure(@Nullable Double metric, double perUnit, int decimals) {
		return (metric != null) ? QuantityFormatter.decimal(metric / perUnit, decimals) : "";
	}

	private static String write(List<List<String>> rows) {
		StringBuilder out = new StringBuilder();
		try (CSVPrinter printer = new CSVPrinter(out, CSVFormat.RFC4180)) {
			for (List<String> row : rows) {
				printer.printRecord(row);
			}
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		return out.toString();
	}

}
