package org.meniscus.client.web;

import java.math.BigDecimal;
import java.util.EnumMap;
import java.util.Map;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.meniscus.client.TargetService;
import org.meniscus.ui.QuantityFormatter;
import org.meniscus.water.pool.BodyOfWater;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Range;
import org.meniscus.water.pool.ReadingBounds;
import org.springframework.validation.Errors;

/** Ranges of one's own as the browser sends them: four limits for a level, or none. */
class TargetsForm {

	private static final int DECIMALS = 2;

	private @Nullable String seen;

	private final Map<Level, RangeFields> levels = new EnumMap<>(Level.class);

	TargetsForm() {
		TargetService.CONFIGURABLE_LEVELS.forEach(level -> levels.put(level, new RangeFields()));
	}

	static TargetsForm of(Map<Level, Range> own) {
		TargetsForm form = new TargetsForm();
		form.seen = TargetService.fingerprint(own);
		own.forEach((level, range) -> Objects.requireNonNull(form.levels.get(level)).set(range));
		return form;
	}

	/** What the form was opened with, see {@link TargetService#fingerprint}. */
	public String getSeen() {
		return (seen != null) ? seen : "";
	}

	public void setSeen(@Nullable String seen) {
		this.seen = seen;
	}

	public Map<Level, RangeFields> getLevels() {
		return levels;
	}

	/** The ranges entered; what cannot be is said beside its field, and then the answer means nothing. */
	Map<Level, Range> ranges(BodyOfWater body, Errors errors) {
		Map<Level, Range> ranges = new EnumMap<>(Level.class);
		for (Level level : TargetService.CONFIGURABLE_LEVELS) {
			RangeFields limits = Objects.requireNonNull(levels.get(level));
			boolean entered = false;
			for (String limit : RangeFields.NAMES) {
				entered |= limits.get(limit) != null || errors.hasFieldErrors(path(level, limit));
			}
			if (entered && isComplete(level, limits, body, errors)) {
				ranges.put(level, limits.range());
			}
		}
		return ranges;
	}

	private static boolean isComplete(Level level, RangeFields limits, BodyOfWater body, Errors errors) {
		ReadingBounds bounds = ReadingBounds.of(level, body);
		double max = (bounds != null) ? bounds.hardMax() : 100_000;
		double min = (bounds != null && level == Level.PH) ? bounds.hardMin() : 0;
		boolean valid = true;
		BigDecimal before = null;
		for (String limit : RangeFields.NAMES) {
			String path = path(level, limit);
			BigDecimal value = limits.get(limit);
			if (errors.hasFieldErrors(path)) {
				valid = false;
			}
			else if (value == null) {
				errors.rejectValue(path, "client.targets.all");
				valid = false;
			}
			else if (value.doubleValue() < min || value.doubleValue() > max) {
				errors.rejectValue(path, "field.range",
						new Object[]{ QuantityFormatter.decimal(min, 0), QuantityFormatter.decimal(max, 0) }, "Out of range.");
				valid = false;
			}
			else if (value.stripTrailingZeros().scale() > DECIMALS) {
				errors.rejectValue(path, "field.decimals", new Object[]{ DECIMALS }, "Decimals.");
				valid = false;
			}
			else if (before != null && value.compareTo(before) < 0) {
				errors.rejectValue(path, "client.targets.order", new Object[]{ before.toPlainString() }, "Order.");
				valid = false;
			}
			before = (value != null) ? value : before;
		}
		return valid;
	}

	static String path(Level level, String limit) {
		return "levels[" + level + "]." + limit;
	}

	/** Four limits of one level, from the lowest to the highest; ppm, ppb or pH. */
	static class RangeFields {

		static final String[] NAMES = { "acceptableLow", "idealLow", "idealHigh", "acceptableHigh" };

		private @Nullable BigDecimal acceptableLow;

		private @Nullable BigDecimal idealLow;

		private @Nullable BigDecimal idealHigh;

		private @Nullable BigDecimal acceptableHigh;

		void set(Range range) {
			acceptableLow = number(range.acceptableLow());
			idealLow = number(range.idealLow());
			idealHigh = number(range.idealHigh());
			acceptableHigh = number(range.acceptableHigh());
		}

		Range range() {
			return new Range(value(acceptableLow), value(idealLow), value(idealHigh), value(acceptableHigh), "");
		}

		@Nullable
		BigDecimal get(String name) {
			return switch (name) {
				case "acceptableLow" -> acceptableLow;
				case "idealLow" -> idealLow;
				case "idealHigh" -> idealHigh;
				case "acceptableHigh" -> acceptableHigh;
				default -> throw new IllegalArgumentException(name);
			};
		}

		private static double value(@Nullable BigDecimal number) {
			return Objects.requireNonNull(number).doubleValue();
		}

		private static BigDecimal number(double value) {
			return new BigDecimal(QuantityFormatter.decimal(value, DECIMALS));
		}

		public @Nullable BigDecimal getAcceptableLow() {
			return acceptableLow;
		}

		public void setAcceptableLow(@Nullable BigDecimal acceptableLow) {
			this.acceptableLow = acceptableLow;
		}

		public @Nullable BigDecimal getIdealLow() {
			return idealLow;
		}

		public void setIdealLow(@Nullable BigDecimal idealLow) {
			this.idealLow = idealLow;
		}

		public @Nullable BigDecimal getIdealHigh() {
			return idealHigh;
		}

		public void setIdealHigh(@Nullable BigDecimal idealHigh) {
			this.idealHigh = idealHigh;
		}

		public @Nullable BigDecimal getAcceptableHigh() {
			return acceptableHigh;
		}

		public void setAcceptableHigh(@Nullable BigDecimal acceptableHigh) {
			this.acceptableHigh = acceptableHigh;
		}

	}

}
