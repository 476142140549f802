package org.meniscus.company;

import java.util.Locale;

import org.meniscus.platform.Mailer;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/** Sends the links by which people choose a password, where a mail server is configured ({@code spring.mail.host}). */
@Component
public class PasswordLinkMailer {

	private final Mailer mailer;

	private final MessageSource texts;

	PasswordLinkMailer(Mailer mailer, MessageSource texts) {
		this.mailer = mailer;
		this.texts = texts;
	}

	/** @return false when it was not handed to a mail server: the link must then be passed on by hand */
	public boolean send(PasswordLink link, String url, Locale locale) {
		String kind = link.invitation() ? "invitation" : "passwordReset";
		Object[] names = { Mailer.singleLine(link.personName()), Mailer.singleLine(link.companyName()), url };
		return mailer.send(link.person(), link.email(), texts.getMessage("mail." + kind + ".subject", names, locale),
				texts.getMessage("mail." + kind + ".text", names, locale));
	}

}
