package org.meniscus.report.web;

import java.util.UUID;

/**
 * A link that was made, on the page that lists them.
 *
 * @param state code under {@code share.state.*}
 */
record ShareLine(UUID id, String made, String by, String expires, String state) {

	public boolean isOpen() {
		return state.equals("OPEN");
	}

}
