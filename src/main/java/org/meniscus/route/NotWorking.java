package org.meniscus.route;

/** Somebody who has left the company cannot be given stops; nothing was changed. */
public class NotWorking extends RuntimeException {

	NotWorking() {
		super("no longer works here");
	}

}
