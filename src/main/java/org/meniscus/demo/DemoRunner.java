package org.meniscus.demo;

import java.util.Optional;
import java.util.stream.Collectors;

import org.meniscus.platform.CompanyId;
import org.springframework.boot.ApplicationArguments;
import org.springframework.boot.ApplicationRunner;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.core.env.Environment;
import org.springframework.scheduling.annotation.EnableScheduling;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;

/** Makes the invented company at start, keeps its route made ahead while the service runs, and says how to sign in. */
@Component
@EnableScheduling
@ConditionalOnProperty(name = "meniscus.demo", havingValue = "true")
class DemoRunner implements ApplicationRunner {

	private final DemoCompany demo;

	private final Environment environment;

	private volatile Optional<CompanyId> company = Optional.empty();

	DemoRunner(DemoCompany demo, Environment environment) {
		this.demo = demo;
		this.environment = environment;
	}

	@Override
	public void run(ApplicationArguments args) {
		company = demo.ensure();
	}

	@Scheduled(cron = "0 5 * * * *")
	void extendRoute() {
		company.ifPresent(demo::extendRoute);
	}

	@EventListener(ApplicationReadyEvent.class)
	void printSignIn() {
		// For the person at the console, not a log line: nothing in front of it, whatever the logging is set to.
		System.out.println(signInText());
	}

	String signInText() {
		String address = "http://localhost:" + environment.getProperty("local.server.port", "8080");
		if (company.isEmpty()) {
			return """

					Meniscus runs on %s
					This database holds a company already, so no invented one was made. For one, start with another
					data folder, for example -Dspring-boot.run.arguments=--meniscus.database.home=demo-data
					""".formatted(address);
		}
		return """

				Meniscus runs on %s

				  An invented company to look around in: its people, towns, clients and readings are made up.

				  owner        %s
				  office       %s
				  technicians  %s
				  password     %s

				  The password is the same for all and known to everybody: keep this off public addresses.
				""".formatted(address, DemoPerson.OWNER.email(), DemoPerson.OFFICE.email(),
				DemoPerson.TECHNICIANS.stream().map(DemoPerson::email).collect(Collectors.joining(", ")), DemoPerson.PASSWORD);
	}

}
