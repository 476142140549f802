package org.meniscus.visit.web;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.PoolFacts;
import org.meniscus.water.pool.ReadingBounds;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.pool.Readings;
import org.meniscus.water.pool.Sanitizer;
import org.meniscus.water.units.Temperature;
import org.meniscus.water.units.UnitSystem;

/** The reading fields of a pool: which ones, in which order, and how each stands in a form. */
enum ReadingField {

	FC("fc", Level.FC), PH("ph", Level.PH), TC("tc", Level.TC), CC("cc", Level.CC), BROMINE("bromine", Level.BROMINE), TA("ta", Level.TA),
	CH("ch", Level.CH), CYA("cya", Level.CYA), TEMPERATURE("temperature", Level.TEMPERATURE), SALT("salt", Level.SALT),
	TDS("tds", Level.TDS), BORATE("borate", Level.BORATE), PHOSPHATE("phosphate", Level.PHOSPHATE),
	COPPER("copper", Level.COPPER), IRON("iron", Level.IRON), MANGANESE("manganese", Level.MANGANESE),
	AMMONIA("ammonia", Level.AMMONIA);

	private final String field;

	private final Level level;

	ReadingField(String field, Level level) {
		this.field = field;
		this.level = level;
	}

	/** Name of the input. */
	String field() {
		return field;
	}

	Level level() {
		return level;
	}

	/** Tested at nearly every stop of such a pool; the others wait behind a fold. */
	static List<ReadingField> routine(PoolFacts pool) {
		List<ReadingField> fields = new ArrayList<>();
		if (pool.sanitizer() == Sanitizer.BROMINE) {
			fields.addAll(List.of(BROMINE, PH));
		}
		else if (pool.sanitizer() == Sanitizer.BIGUANIDE) {
			fields.add(PH);
		}
		else {
			fields.addAll(List.of(FC, PH, TC, CC));
		}
		fields.addAll(List.of(TA, CH));
		if (pool.sanitizer().usesChlorine()) {
			fields.add(CYA);
		}
		if (pool.sanitizer() == Sanitizer.SALT_CELL) {
			fields.add(SALT);
		}
		fields.add(TEMPERATURE);
		return fields;
	}

	static List<ReadingField> further(PoolFacts pool) {
		List<ReadingField> usual = routine(pool);
		boolean bromine = pool.sanitizer() == Sanitizer.BROMINE;
		List<ReadingField> fields = new ArrayList<>();
		for (ReadingField field : values()) {
			boolean chlorineTest = field == FC || field == TC || field == CC;
			if (!usual.contains(field) && (field != BROMINE || bromine) && !(bromine && chlorineTest)) {
				fields.add(field);
			}
		}
		return fields;
	}

	static @Nullable ReadingField of(Level level) {
		for (ReadingField field : values()) {
			if (field.level == level) {
				return field;
			}
		}
		return null;
	}

	/** Lowest and highest mark of the usual test: what "or lower" and "or higher" stand for when no figure is typed. */
	@Nullable
	Double endOfScale(ReadingQualifier qualifier) {
		return switch (this) {
			case PH -> (qualifier == ReadingQualifier.BELOW) ? 6.8 : 8.2;
			case CYA -> (qualifier == ReadingQualifier.BELOW) ? 30.0 : 100.0;
			default -> null;
		};
	}

	boolean hasQualifier() {
		return this == PH || this == CYA;
	}

	String step(BodyOfWater body) {
		ReadingBounds bounds = ReadingBounds.of(level, body);
		return (bounds != null) ? LevelFormatter.plain(bounds.step(), 2) : "any";
	}

	static Readings.Builder set(Readings.Builder builder, ReadingField field, @Nullable Double value, ReadingQualifier qualifier) {
		return switch (field) {
			case FC -> builder.fc(value);
			case PH -> builder.ph(value, qualifier);
			case TC -> builder.tc(value);
			case CC -> builder.cc(value);
			case BROMINE -> builder.bromine(value);
			case TA -> builder.ta(value);
			case CH -> builder.ch(value);
			case CYA -> builder.cya(value, qualifier);
			case TEMPERATURE -> builder.celsius(value);
			case SALT -> builder.salt(value);
			case TDS -> builder.tds(value);
			case BORATE -> builder.borate(value);
			case PHOSPHATE, COPPER, IRON, MANGANESE, AMMONIA -> builder.trace(field.level, value);
		};
	}

	/** The reading as it was tested; CC and TC are not worked out from each other. */
	@Nullable
	Double value(Readings readings) {
		return switch (this) {
			case TC -> readings.tc();
			case CC -> readings.cc();
			default -> readings.value(level);
		};
	}

	/** From the company's unit to the level's own. */
	double canonical(double typed, UnitSystem units) {
		return (this == TEMPERATURE && units == UnitSystem.US) ? Temperature.ofFahrenheit(typed).celsius() : typed;
	}

}
