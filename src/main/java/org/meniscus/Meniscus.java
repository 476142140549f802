package org.meniscus;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;

/** The service: test the water, dose it, report it, watch the season, know the cost. */
@SpringBootApplication
public class Meniscus {

	public static void main(String[] args) {
		SpringApplication.run(Meniscus.class, args);
	}

}
