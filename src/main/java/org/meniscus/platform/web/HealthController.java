package org.meniscus.platform.web;

import java.sql.Connection;
import java.sql.SQLException;

import javax.sql.DataSource;

import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RestController;

/** Whether the service can serve, for whatever watches over it: 200 "ok", or 503. Says nothing else. */
@RestController
class HealthController {

	private static final int TIMEOUT_SECONDS = 2;

	private final DataSource database;

	HealthController(DataSource database) {
		this.database = database;
	}

	@GetMapping(path = "/health", produces = MediaType.TEXT_PLAIN_VALUE)
	ResponseEntity<String> health() {
		try (Connection connection = database.getConnection()) {
			if (connection.isValid(TIMEOUT_SECONDS)) {
				return ResponseEntity.ok("ok");
			}
		}
		catch (SQLException away) {
			// the answer says it
		}
		return ResponseEntity.status(HttpStatus.SERVICE_UNAVAILABLE).body("database unavailable");
	}

}
