package org.meniscus.route.web;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.UUID;

import org.meniscus.platform.PersonId;
import org.meniscus.route.RouteService;
import org.meniscus.route.StopId;

/**
 * Where a stop of the board shall go, as one text: stop, version, technician, day and place with commas between. One text, so
 * that a plain button can send it and the board needs one form instead of two for every stop.
 */
record BoardMove(StopId stop, long version, PersonId technician, LocalDate day, int place) {

	/** @throws IllegalArgumentException when it is anything else */
	static BoardMove parse(String text) {
		String[] parts = text.split(",", -1);
		if (parts.length != 5) {
			throw new IllegalArgumentException("not a move");
		}
		try {
			return new BoardMove(new StopId(UUID.fromString(parts[0])), Long.parseLong(parts[1]),
					new PersonId(UUID.fromString(parts[2])), LocalDate.parse(parts[3]), Integer.parseInt(parts[4]));
		}
		catch (DateTimeException ex) {
			throw new IllegalArgumentException("not a move", ex);
		}
	}

	RouteService.MoveStop command() {
		return new RouteService.MoveStop(stop, version, technician, day, place);
	}

}
