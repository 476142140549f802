package org.meniscus;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.context.annotation.FullyQualifiedAnnotationBeanNameGenerator;

/** The service: test the water, dose it, report it, watch the season, know the cost. */
@SpringBootApplication(nameGenerator = FullyQualifiedAnnotationBeanNameGenerator.class)
public class Meniscus {

	public static void main(String[] args) {
		SpringApplication.run(Meniscus.class, args);
	}

}
