package org.meniscus.company;

import java.util.Locale;

import jakarta.mail.MessagingException;
import jakarta.mail.internet.InternetAddress;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.context.MessageSource;
import org.springframework.mail.MailException;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.mail.javamail.MimeMessageHelper;
import org.springframework.stereotype.Component;

/** Sends the links by which people choose a password, where a mail server is configured ({@code spring.mail.host}). */
@Component
public class PasswordLinkMailer {

	private static final Logger log = LoggerFactory.getLogger(PasswordLinkMailer.class);

	private final ObjectProvider<JavaMailSender> sender;

	private final MessageSource texts;

	private final String from;

	PasswordLinkMailer(ObjectProvider<JavaMailSender> sender, MessageSource texts,
			@Value("${meniscus.mail.from:meniscus@localhost}") String from) {
		this.sender = sender;
		this.texts = texts;
		this.from = from;
	}

	/** @return false when it was not handed to a mail server: the link must then be passed on by hand */
	public boolean send(PasswordLink link, String url, Locale locale) {
		JavaMailSender server = sender.getIfAvailable();
		if (server == null) {
			return false;
		}
		String kind = link.invitation() ? "invitation" : "passwordReset";
		Object[] names = { singleLine(link.personName()), singleLine(link.companyName()), url };
		try {
			MimeMessageHelper mail = new MimeMessageHelper(server.createMimeMessage(), "UTF-8");
			mail.setFrom(from);
			mail.setTo(new InternetAddress(link.email(), true));
			mail.setSubject(texts.getMessage("mail." + kind + ".subject", names, locale));
			mail.setText(texts.getMessage("mail." + kind + ".text", names, locale));
			server.send(mail.getMimeMessage());
			return true;
		}
		catch (MailException | MessagingException ex) {
			log.warn("a link for {} could not be mailed: {}", link.person(), singleLine(String.valueOf(ex.getMessage())));
			return false;
		}
	}

	/** A name on one line: a line break in a header would begin another header. */
	private static String singleLine(String name) {
		return name.replaceAll("[\\p{Cc}\\u2028\\u2029]+", " ").strip();
	}

}
