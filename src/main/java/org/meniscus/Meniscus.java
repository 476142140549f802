package org.meniscus;

import java.util.Optional;

import org.slf4j.LoggerFactory;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.context.annotation.FullyQualifiedAnnotationBeanNameGenerator;

/** The service: test the water, dose it, report it, watch the season, know the cost. */
@SpringBootApplication(nameGenerator = FullyQualifiedAnnotationBeanNameGenerator.class)
public class Meniscus {

	public static void main(String[] args) {
		try {
			SpringApplication.run(Meniscus.class, args);
		}
		catch (SpringApplication.AbandonedRunException abandoned) {
			throw abandoned;
		}
		catch (RuntimeException | Error failure) {
			Optional<String> fault = StartupFailure.describe(failure);
			if (fault.isPresent()) {
				System.err.println("Meniscus did not start. " + fault.get());
			}
			else {
				LoggerFactory.getLogger(Meniscus.class).error("Meniscus did not start, and does not know why", failure);
			}
			System.exit(1);
		}
	}

}
