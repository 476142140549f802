package org.meniscus.season;

import java.util.List;
import java.util.Locale;

import jakarta.mail.MessagingException;
import jakarta.mail.internet.InternetAddress;

import org.meniscus.company.CompanyService;
import org.meniscus.company.CompanySettings;
import org.meniscus.company.PersonSummary;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.Role;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.context.MessageSource;
import org.springframework.mail.MailException;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.mail.javamail.MimeMessageHelper;
import org.springframework.stereotype.Component;

/** Mails the notices that stand to owners and office, where a mail server is configured ({@code spring.mail.host}). */
@Component
class SeasonDigest {

	private static final Logger log = LoggerFactory.getLogger(SeasonDigest.class);

	private final SeasonService seasons;

	private final SeasonFormatter formatter;

	private final CompanyService companies;

	private final ObjectProvider<JavaMailSender> sender;

	private final MessageSource texts;

	private final String from;

	SeasonDigest(SeasonService seasons, SeasonFormatter words, CompanyService companies, ObjectProvider<JavaMailSender> sender,
			MessageSource texts,
			@Value("${meniscus.mail.from:meniscus@localhost}") String from) {
		this.seasons = seasons;
		this.formatter = words;
		this.companies = companies;
		this.sender = sender;
		this.texts = texts;
		this.from = from;
	}

	/** Nothing is mailed in a week in which no notice stands. */
	void send(CompanyId company) {
		JavaMailSender server = sender.getIfAvailable();
		List<DriftNotice> notices = DriftNotice.open(seasons.pools(company));
		if (server == null || notices.isEmpty()) {
			return;
		}
		CompanySettings settings = companies.settings(company);
		String text = text(settings, notices);
		for (PersonSummary person : companies.people(company)) {
			if (person.active() && person.joined() && person.role() != Role.TECHNICIAN) {
				mail(server, person,
						texts.getMessage("season.digest.subject", new Object[]{ notices.size(), oneLine(settings.name()) }, Locale.US),
						text);
			}
		}
	}

	private String text(CompanySettings settings, List<DriftNotice> notices) {
		StringBuilder text = new StringBuilder(
				texts.getMessage("season.digest.lead", new Object[]{ notices.size(), oneLine(settings.name()) }, Locale.US));
		for (DriftNotice notice : notices) {
			text.append("\n\n").append(oneLine(notice.pool().client())).append(", ").append(oneLine(notice.pool().name())).append('\n');
			text.append(formatter.describe(notice.level(), seasons.today(settings.id()), Locale.US)).append('\n');
			formatter.reasons(notice.level(), Locale.US).forEach(reason -> text.append("- ").append(reason).append('\n'));
		}
		return text.append('\n').append(texts.getMessage("season.digest.end", null, Locale.US)).append('\n').toString();
	}

	/** One address that fails keeps no other from its mail. */
	private void mail(JavaMailSender server, PersonSummary person, String subject, String text) {
		try {
			MimeMessageHelper mail = new MimeMessageHelper(server.createMimeMessage(), "UTF-8");
			mail.setFrom(from);
			mail.setTo(new InternetAddress(person.email(), true));
			mail.setSubject(subject);
			mail.setText(text);
			server.send(mail.getMimeMessage());
		}
		catch (MailException | MessagingException ex) {
			log.warn("the season's notices for {} could not be mailed: {}", person.id(), oneLine(String.valueOf(ex.getMessage())));
		}
	}

	/** A name on one line: a line break in a header would begin another header. */
	private static String oneLine(String name) {
		return name.replaceAll("[\\p{Cc}\\u2028\\u2029]+", " ").strip();
	}

}
