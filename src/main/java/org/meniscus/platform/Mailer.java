package org.meniscus.platform;

import jakarta.mail.MessagingException;
import jakarta.mail.internet.InternetAddress;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.mail.MailException;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.mail.javamail.MimeMessageHelper;
import org.springframework.stereotype.Component;

/** Sends plain text, where a mail server is configured ({@code spring.mail.host}). */
@Component
public class Mailer {

	private static final Logger log = LoggerFactory.getLogger(Mailer.class);

	private final ObjectProvider<JavaMailSender> sender;

	private final String from;

	public Mailer(ObjectProvider<JavaMailSender> sender, @Value("${meniscus.mail.from:meniscus@localhost}") String from) {
		this.sender = sender;
		this.from = from;
	}

	public boolean isConfigured() {
		return sender.getIfAvailable() != null;
	}

	/** @return false when it was not handed to a mail server */
	public boolean send(PersonId person, String email, String subject, String text) {
		JavaMailSender server = sender.getIfAvailable();
		if (server == null) {
			return false;
		}
		try {
			MimeMessageHelper mail = new MimeMessageHelper(server.createMimeMessage(), "UTF-8");
			mail.setFrom(from);
			mail.setTo(new InternetAddress(email, true));
			mail.setSubject(subject);
			mail.setText(text);
			server.send(mail.getMimeMessage());
			return true;
		}
		catch (MailException | MessagingException ex) {
			log.warn("a mail to {} could not be sent: {}", person, singleLine(String.valueOf(ex.getMessage())));
			return false;
		}
	}

	/** A name on one line: a line break in a header would begin another header. */
	public static String singleLine(String name) {
		return name.replaceAll("[\\p{Cc}\\u2028\\u2029]+", " ").strip();
	}

}
