package org.meniscus.route;

/** How often a pool is visited. */
public enum Frequency {

	/** Every week on one weekday. */
	WEEKLY,
	/** Every second week on one weekday, counted from the first such day of the schedule. */
	EVERY_SECOND_WEEK,
	/** Every week on two weekdays. */
	TWICE_WEEKLY,
	/** Once a month, on the same nth weekday as the schedule's first day; a fifth one means the last of each month. */
	MONTHLY

}
