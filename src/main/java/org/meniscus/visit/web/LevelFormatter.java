package org.meniscus.visit.web;

import org.jspecify.annotations.Nullable;
import org.meniscus.ui.LevelNames;
import org.meniscus.ui.LevelRule;
import org.meniscus.visit.Advice;
import org.meniscus.water.assess.LevelState;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingQualifier;
import org.meniscus.water.units.Temperature;
import org.meniscus.water.units.UnitSystem;

/** Levels in the company's units, as words and as graduated rules. */
final class LevelFormatter {

	private final UnitSystem units;

	private final Wording.Texts texts;

	LevelFormatter(UnitSystem units, Wording.Texts texts) {
		this.units = units;
		this.texts = texts;
	}

	/** "FC", "pH". */
	String code(Level level) {
		return LevelNames.code(level, texts);
	}

	/** "Free chlorine". */
	String name(Level level) {
		return texts.text(Wording.levelKey(level));
	}

	String unit(Level level) {
		return switch (level.unit()) {
			case PPM -> "ppm";
			case PPB -> "ppb";
			case CELSIUS -> (units == UnitSystem.US) ? "°F" : "°C";
			case PH, INDEX -> "";
		};
	}

	double inUnits(Level level, double value) {
		return (level == Level.TEMPERATURE && units == UnitSystem.US) ? Temperature.ofCelsius(value).fahrenheit() : value;
	}

	/** As one would write it into a field: "7.5", "82". */
	String number(Level level, double value) {
		return plain(inUnits(level, value), Math.max(1, level.decimals()));
	}

	/** "< 30 ppm". */
	String format(Level level, double value, ReadingQualifier qualifier) {
		String sign = (qualifier == ReadingQualifier.EXACT) ? "" : qualifier.sign() + " ";
		return sign + Wording.level(level, value, units);
	}

	/** A level against its range, with what it becomes where that is known. */
	LevelRule rule(Level level, Range range, LevelState.State state, @Nullable Double now, ReadingQualifier qualifier,
			@Nullable Double after) {
		Range band = new Range(inUnits(level, range.acceptableLow()), inUnits(level, range.idealLow()), inUnits(level, range.idealHigh()),
				inUnits(level, range.acceptableHigh()), range.source());
		return LevelRule.of(code(level), unit(level), state.name(), band, (now != null) ? inUnits(level, now) : null, qualifier,
				(after != null) ? inUnits(level, after) : null, level.decimals());
	}

	/** A change drawn as a rule; null when the level has no range, or its limits came back from the browser out of order. */
	@Nullable
	LevelRule rule(Advice.LevelChange change) {
		LevelState.State state = (change.state() != null) ? change.state() : change.stateAfter();
		if (state == null || change.acceptableLow() == null || change.idealLow() == null || change.idealHigh() == null
				|| change.acceptableHigh() == null) {
			return null;
		}
		try {
			Range range = new Range(change.acceptableLow(), change.idealLow(), change.idealHigh(), change.acceptableHigh(), "");
			return rule(change.level(), range, state, change.now(), change.qualifier(), change.changes() ? change.after() : null);
		}
		catch (IllegalArgumentException ex) {
			return null;
		}
	}

	/** "pH 7.8 → 7.4". */
	String format(Advice.LevelChange change) {
		Double now = change.now();
		Double after = change.after();
		String from = (now != null) ? Wording.number(change.level(), inUnits(change.level(), now)) : "–";
		String to = (after != null && change.changes()) ? " → " + Wording.number(change.level(), inUnits(change.level(), after)) : "";
		String unit = unit(change.level());
		return code(change.level()) + " " + from + to + (unit.isEmpty() ? "" : " " + unit);
	}

	static String plain(double value, int decimals) {
		return Wording.trimmedDecimal(value, decimals);
	}

}
