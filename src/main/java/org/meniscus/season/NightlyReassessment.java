package org.meniscus.season;

import java.time.Clock;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.temporal.TemporalAdjusters;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.function.Function;

import javax.sql.DataSource;

import com.github.kagkarlsson.scheduler.Scheduler;
import com.github.kagkarlsson.scheduler.task.FailureHandler;
import com.github.kagkarlsson.scheduler.task.helper.CustomTask;
import com.github.kagkarlsson.scheduler.task.helper.Tasks;
import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySignedUp;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.NotFound;
import org.springframework.boot.sql.init.dependency.DependsOnDatabaseInitialization;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.transaction.event.TransactionalEventListener;

/**
 * What runs by the clock, one task a company, in that company's own context: each night every pool is assessed anew, each Monday the
 * notices that stand are mailed. The database keeps which replica has picked a task, so it runs once however many there are.
 */
@Configuration(proxyBeanMethods = false)
class NightlyReassessment {

	private static final LocalTime NIGHTLY_RUN = LocalTime.of(3, 0);

	private static final LocalTime DIGEST_TIME = LocalTime.of(6, 0);

	private static final Duration RETRY_DELAY = Duration.ofMinutes(15);

	private static final Duration POLLING_INTERVAL = Duration.ofSeconds(30);

	@Bean
	CustomTask<Void> seasonNight(DriftSnapshots snapshots, CompanyService companies, Clock clock) {
		return task("season-night", snapshots::updateAll, companies, clock, NightlyReassessment::nextNightlyRun);
	}

	@Bean
	CustomTask<Void> seasonDigest(SeasonDigest digest, CompanyService companies, Clock clock) {
		return task("season-digest", digest::send, companies, clock, NightlyReassessment::nextDigest);
	}

	@Bean(initMethod = "start", destroyMethod = "stop")
	@DependsOnDatabaseInitialization
	Scheduler scheduler(DataSource database, CustomTask<Void> seasonNight, CustomTask<Void> seasonDigest) {
		return Scheduler.create(database, seasonNight, seasonDigest)
			.threads(2)
			.pollingInterval(POLLING_INTERVAL)
			.commitWhenAutocommitDisabled(true)
			.shutdownMaxWait(Duration.ofSeconds(10))
			.build();
	}

	@Bean
	TaskRegistration taskRegistration(Scheduler scheduler, CustomTask<Void> seasonNight, CustomTask<Void> seasonDigest,
			CompanyService companies,
			Clock clock) {
		return new TaskRegistration(scheduler, seasonNight, seasonDigest, companies, clock);
	}

	/** A company that has signed up gets its tasks. */
	record TaskRegistration(Scheduler scheduler, CustomTask<Void> nightlyTask, CustomTask<Void> digestTask, CompanyService companies,
			Clock clock) {

		@TransactionalEventListener
		void onCompanySignedUp(CompanySignedUp event) {
			String company = event.company().value().toString();
			// the zone is read again after each run; until the first one it does not matter much
			ZonedDateTime now = clock.instant().atZone(ZoneId.of("UTC"));
			scheduler.scheduleIfNotExists(nightlyTask.instance(company), nextNightlyRun(now));
			scheduler.scheduleIfNotExists(digestTask.instance(company), nextDigest(now));
		}

	}

	private static CustomTask<Void> task(String name, Consumer<CompanyId> work, CompanyService companies, Clock clock,
			Function<ZonedDateTime, Instant> next) {
		return Tasks.custom(name, Void.class)
			.onFailure(new FailureHandler.OnFailureRetryLater<>(RETRY_DELAY))
			.onDeadExecutionRevive()
			.execute((instance, context) -> {
				CompanyId company = new CompanyId(UUID.fromString(instance.getId()));
				try {
					work.accept(company);
					Instant due = next.apply(clock.instant().atZone(companies.settings(company).zone()));
					return (complete, operations) -> operations.reschedule(complete, due);
				}
				catch (NotFound companyGone) {
					return (complete, operations) -> operations.remove();
				}
			});
	}

	static Instant nextNightlyRun(ZonedDateTime now) {
		ZonedDateTime tonight = now.with(NIGHTLY_RUN);
		return (tonight.isAfter(now) ? tonight : tonight.plusDays(1)).toInstant();
	}

	static Instant nextDigest(ZonedDateTime now) {
		ZonedDateTime monday = now.with(TemporalAdjusters.nextOrSame(DayOfWeek.MONDAY)).with(DIGEST_TIME);
		return (monday.isAfter(now) ? monday : monday.plusWeeks(1)).toInstant();
	}

}
