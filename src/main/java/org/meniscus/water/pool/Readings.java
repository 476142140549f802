package org.meniscus.water.pool;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;

/**
 * What was tested at one stop. Everything may be missing, and missing is not zero. Units as in {@link Level}. Of FC, TC and CC
 * two give the third: see {@link #combined()} and {@link #total()}. Values are kept as typed; {@code ReadingCheck} looks at them.
 *
 * @param phQualifier BELOW or ABOVE when pH stood at the end of the test's scale: "6.8 or lower", "8.2 or higher"
 * @param cyaQualifier BELOW or ABOVE when CYA stood below the lowest or above the highest mark of the tube
 * @param traces of {@link #TRACES} those that were tested: what is in the water in traces and moves no equilibrium
 * @param drainVisible whether the main drain is visible and sharp; null when nobody looked
 * @param tests how each was read
 * @param site what gauges and panels show, and what has happened since the last stop
 */
public record Readings(@Nullable Double fc, @Nullable Double tc, @Nullable Double cc, @Nullable Double bromine,
		@Nullable Double ph, ReadingQualifier phQualifier, @Nullable Double ta, @Nullable Double ch, @Nullable Double cya,
		ReadingQualifier cyaQualifier,
		@Nullable Double salt, @Nullable Double tds, @Nullable Double borate, Map<Level, Double> traces,
		@Nullable Double celsius, @Nullable Boolean drainVisible, TestMethods tests,
		SiteConditions site) {

	/** Levels in {@code traces}. */
	public static final List<Level> TRACES = List.of(Level.PHOSPHATE, Level.COPPER, Level.IRON, Level.MANGANESE,
			Level.AMMONIA);

	private static final Readings NONE = new Builder().build();

	public Readings {
		Map<Level, Double> tested = new EnumMap<>(Level.class);
		tested.putAll(traces);
		traces = Collections.unmodifiableMap(tested);
	}

	public static Readings none() {
		return NONE;
	}

	public static Builder builder() {
		return new Builder();
	}

	/** A builder that starts from these readings. */
	public Builder toBuilder() {
		Builder builder = new Builder();
		builder.fc = this.fc;
		builder.tc = this.tc;
		builder.cc = this.cc;
		builder.bromine = this.bromine;
		builder.ph = this.ph;
		builder.phQualifier = this.phQualifier;
		builder.ta = this.ta;
		builder.ch = this.ch;
		builder.cya = this.cya;
		builder.cyaQualifier = this.cyaQualifier;
		builder.salt = this.salt;
		builder.tds = this.tds;
		builder.borate = this.borate;
		builder.traces.putAll(this.traces);
		builder.celsius = this.celsius;
		builder.drainVisible = this.drainVisible;
		builder.tests = this.tests;
		builder.site = this.site;
		return builder;
	}

	/** CC as tested, else total minus free (not below zero), else null. */
	public @Nullable Double combined() {
		if (this.cc != null) {
			return this.cc;
		}
		return (this.tc != null && this.fc != null) ? Double.valueOf(Math.max(0, this.tc - this.fc)) : null;
	}

	/** TC as tested, else free plus combined, else null. */
	public @Nullable Double total() {
		if (this.tc != null) {
			return this.tc;
		}
		return (this.cc != null && this.fc != null) ? Double.valueOf(this.fc + this.cc) : null;
	}

	/** The reading of a level, CC and TC worked out when the two others are there; null when missing or never tested. */
	public @Nullable Double value(Level level) {
		return switch (level) {
			case FC -> this.fc;
			case CC -> combined();
			case TC -> total();
			case BROMINE -> this.bromine;
			case PH -> this.ph;
			case TA -> this.ta;
			case CH -> this.ch;
			case CYA -> this.cya;
			case SALT -> this.salt;
			case TDS -> this.tds;
			case BORATE -> this.borate;
			case PHOSPHATE, COPPER, IRON, MANGANESE, AMMONIA -> this.traces.get(level);
			case TEMPERATURE -> this.celsius;
			case HOCL, SATURATION_INDEX -> null;
		};
	}

	public ReadingQualifier qualifier(Level level) {
		return switch (level) {
			case PH -> this.phQualifier;
			case CYA -> this.cyaQualifier;
			default -> ReadingQualifier.EXACT;
		};
	}

	/** Levels that were tested, in the order of {@link Level}. */
	public List<Level> tested() {
		List<Level> tested = new ArrayList<>();
		for (Level level : Level.values()) {
			if (value(level) != null) {
				tested.add(level);
			}
		}
		return List.copyOf(tested);
	}

	/** Collects readings; what is not set stays missing. */
	public static final class Builder {

		private @Nullable Double fc;

		private @Nullable Double tc;

		private @Nullable Double cc;

		private @Nullable Double bromine;

		private @Nullable Double ph;

		private ReadingQualifier phQualifier = ReadingQualifier.EXACT;

		private @Nullable Double ta;

		private @Nullable Double ch;

		private @Nullable Double cya;

		private ReadingQualifier cyaQualifier = ReadingQualifier.EXACT;

		private @Nullable Double salt;

		private @Nullable Double tds;

		private @Nullable Double borate;

		private final Map<Level, Double> traces = new EnumMap<>(Level.class);

		private @Nullable Double celsius;

		private @Nullable Boolean drainVisible;

		private TestMethods tests = TestMethods.USUAL;

		private SiteConditions site = SiteConditions.NONE;

		private Builder() {
		}

		public Builder fc(@Nullable Double ppm) {
			this.fc = ppm;
			return this;
		}

		public Builder tc(@Nullable Double ppm) {
			this.tc = ppm;
			return this;
		}

		public Builder cc(@Nullable Double ppm) {
			this.cc = ppm;
			return this;
		}

		public Builder bromine(@Nullable Double ppm) {
			this.bromine = ppm;
			return this;
		}

		public Builder ph(@Nullable Double value) {
			return ph(value, ReadingQualifier.EXACT);
		}

		public Builder ph(@Nullable Double value, ReadingQualifier qualifier) {
			this.ph = value;
			this.phQualifier = qualifier;
			return this;
		}

		public Builder ta(@Nullable Double ppm) {
			this.ta = ppm;
			return this;
		}

		public Builder ch(@Nullable Double ppm) {
			this.ch = ppm;
			return this;
		}

		public Builder cya(@Nullable Double ppm) {
			return cya(ppm, ReadingQualifier.EXACT);
		}

		public Builder cya(@Nullable Double ppm, ReadingQualifier qualifier) {
			this.cya = ppm;
			this.cyaQualifier = qualifier;
			return this;
		}

		public Builder salt(@Nullable Double ppm) {
			this.salt = ppm;
			return this;
		}

		public Builder tds(@Nullable Double ppm) {
			this.tds = ppm;
			return this;
		}

		public Builder borate(@Nullable Double ppmBoron) {
			this.borate = ppmBoron;
			return this;
		}

		/** Micrograms per litre (ppb) as PO4. */
		public Builder phosphate(@Nullable Double ppb) {
			return trace(Level.PHOSPHATE, ppb);
		}

		/** @param level one of {@link #TRACES} @param value in its unit */
		public Builder trace(Level level, @Nullable Double value) {
			if (value != null) {
				this.traces.put(level, value);
			}
			else {
				this.traces.remove(level);
			}
			return this;
		}

		public Builder celsius(@Nullable Double celsius) {
			this.celsius = celsius;
			return this;
		}

		public Builder drainVisible(@Nullable Boolean visible) {
			this.drainVisible = visible;
			return this;
		}

		/** Every level with the same kit. */
		public Builder kit(TestKit kit) {
			return tests(TestMethods.of(kit));
		}

		public Builder tests(TestMethods tests) {
			this.tests = tests;
			return this;
		}

		public Builder site(SiteConditions site) {
			this.site = site;
			return this;
		}

		public Readings build() {
			return new Readings(this.fc, this.tc, this.cc, this.bromine, this.ph, this.phQualifier, this.ta, this.ch, this.cya,
					this.cyaQualifier, this.salt, this.tds, this.borate, this.traces, this.celsius, this.drainVisible,
					this.tests, this.site);
		}

	}

}
