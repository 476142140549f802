package org.meniscus.water.drift;

/** Something on record that moves a level. It acts after the test of its day: a visit tests first, then drains, then doses. */
public sealed interface KnownInput {

	long day();

	/**
	 * A product that was put in.
	 *
	 * @param source what it is named by in the split of the drift, such as a product kind
	 * @param change by how much it moves the level of the whole pool, in the level's unit; negative for a level it lowers
	 * @param spreadDays dissolves evenly over so many days from its day on; 0 and 1 act at once
	 * @param correcting put in once to set this very level right, not as part of a routine: it says nothing about what is to come
	 */
	record Added(long day, String source, double change, int spreadDays, boolean correcting) implements KnownInput {

		public Added {
			if (Double.isNaN(change) || Double.isInfinite(change) || spreadDays < 0) {
				throw new IllegalArgumentException("not an input: " + change + " over " + spreadDays + " days");
			}
		}

		public Added(long day, String source, double change, int spreadDays) {
			this(day, source, change, spreadDays, false);
		}

		public Added(long day, String source, double change) {
			this(day, source, change, 0);
		}

	}

	/**
	 * Part of the water was replaced.
	 *
	 * @param share of the water replaced, above 0 to 1
	 * @param fillLevel the level in the water that came in
	 */
	record WaterReplaced(long day, double share, double fillLevel) implements KnownInput {

		public WaterReplaced {
			if (!(share > 0 && share <= 1) || !(fillLevel >= 0)) {
				throw new IllegalArgumentException("not a water replacement: " + share + " with " + fillLevel);
			}
		}

	}

}
