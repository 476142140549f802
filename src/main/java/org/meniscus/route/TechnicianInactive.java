package org.meniscus.route;

/** Somebody who has left the company cannot be given stops; nothing was changed. */
public class TechnicianInactive extends RuntimeException {

	TechnicianInactive() {
		super("no longer works here");
	}

}
