package org.meniscus.platform;

import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.ResponseStatus;

/** There is no such thing in this company; the same answer whether it is unknown or another company's. */
@ResponseStatus(HttpStatus.NOT_FOUND)
public class NotFound extends RuntimeException {

	public NotFound(String what) {
		super("no such " + what);
	}

}
