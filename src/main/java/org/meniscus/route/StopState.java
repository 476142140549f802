package org.meniscus.route;

/** What has become of a stop. */
public enum StopState {

	/** Still to be visited; may be moved and may be marked missed. */
	PLANNED,
	/** A visit has been submitted for it; stays as it is. */
	DONE,
	/** Not visited, for a reason. May be undone; a visit that comes in after all makes it done. */
	MISSED

}
