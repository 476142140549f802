package org.meniscus.season;

import java.util.List;
import java.util.Locale;

import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.Mailer;
import org.meniscus.platform.Role;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/** Mails the notices that stand to owners and office, where a mail server is configured ({@code spring.mail.host}). */
@Component
class SeasonDigest {

	private final SeasonService seasons;

	private final SeasonFormatter formatter;

	private final CompanyService companies;

	private final Mailer mailer;

	private final MessageSource texts;

	SeasonDigest(SeasonService seasons, SeasonFormatter words, CompanyService companies, Mailer mailer, MessageSource texts) {
		this.seasons = seasons;
		this.formatter = words;
		this.companies = companies;
		this.mailer = mailer;
		this.texts = texts;
	}

	/** Nothing is mailed in a week in which no notice stands. */
	void send(CompanyId company) {
		List<DriftNotice> notices = DriftNotice.open(seasons.pools(company));
		if (!mailer.isConfigured() || notices.isEmpty()) {
			return;
		}
		CompanySettings settings = companies.settings(company);
		String subject = texts.getMessage("season.digest.subject",
				new Object[]{ notices.size(), Mailer.singleLine(settings.name()) }, Locale.US);
		String text = text(settings, notices);
		companies.people(company)
			.stream()
			.filter(person -> person.active() && person.joined() && person.role() != Role.TECHNICIAN)
			.forEach(person -> mailer.send(person.id(), person.email(), subject, text));
	}

	private String text(CompanySettings settings, List<DriftNotice> notices) {
		StringBuilder text = new StringBuilder(
				texts.getMessage("season.digest.lead", new Object[]{ notices.size(), Mailer.singleLine(settings.name()) }, Locale.US));
		for (DriftNotice notice : notices) {
			text.append("\n\n").append(Mailer.singleLine(notice.pool().client())).append(", ")
				.append(Mailer.singleLine(notice.pool().name())).append('\n');
			text.append(formatter.describe(notice.level(), seasons.today(settings.id()), Locale.US)).append('\n');
			formatter.reasons(notice.level(), Locale.US).forEach(reason -> text.append("- ").append(reason).append('\n'));
		}
		return text.append('\n').append(texts.getMessage("season.digest.end", null, Locale.US)).append('\n').toString();
	}

}
