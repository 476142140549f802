package org.meniscus.company;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.Arrays;
import java.util.Locale;
import java.util.UUID;

import jakarta.mail.internet.MimeMessage;

import com.icegreen.greenmail.junit5.GreenMailExtension;
import com.icegreen.greenmail.util.GreenMailUtil;
import com.icegreen.greenmail.util.ServerSetupTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;
import org.meniscus.platform.CompanyId;
import org.meniscus.platform.Mailer;
import org.meniscus.platform.PersonId;
import org.springframework.beans.factory.support.StaticListableBeanFactory;
import org.springframework.context.support.ResourceBundleMessageSource;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.mail.javamail.JavaMailSenderImpl;

class PasswordLinkMailerTests {

	@RegisterExtension
	static GreenMailExtension server = new GreenMailExtension(ServerSetupTest.SMTP.dynamicPort());

	private static final String URL = "https://meniscus.example/join/AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8gISIjJCUmJygpKissLS4v";

	@Test
	void invitationIsMailedWithItsFullLink() throws Exception {
		assertThat(mail(server.getSmtp().getPort()).send(link("Teo Robles", "Ozvarra Pool Care", true), URL, Locale.US)).isTrue();
		MimeMessage received = received();
		assertThat(received.getSubject()).isEqualTo("Ozvarra Pool Care invites you to Meniscus");
		assertThat(body(received)).contains(URL).contains("Hello Teo Robles").contains("7 days");
	}

	@Test
	void mailIsWrittenInSpanishForSpanishSpeakers() throws Exception {
		mail(server.getSmtp().getPort()).send(link("Teo Núñez", "Piscinas Peña", false), URL, Locale.forLanguageTag("es-US"));
		MimeMessage received = received();
		assertThat(received.getSubject()).isEqualTo("Contraseña nueva para Piscinas Peña");
		assertThat(body(received)).contains("Hola, Teo Núñez").contains("una hora");
	}

	@Test
	void lineBreaksInNamesCannotInjectMailHeaders() throws Exception {
		String evil = "Eve\r\nBcc: spy@example.org\r\n\r\nOther text\u2028X-More: yes";
		mail(server.getSmtp().getPort()).send(link(evil, evil, true), URL, Locale.US);
		MimeMessage received = received();
		assertThat(received.getSubject()).isEqualTo("Eve Bcc: spy@example.org Other text X-More: yes invites you to Meniscus");
		assertThat(received.getHeader("Bcc")).isNull();
		assertThat(received.getHeader("X-More")).isNull();
		assertThat(received.getAllRecipients()).hasSize(1);
		assertThat(body(received)).contains(URL);
	}

	@Test
	void sendReportsFailureWithoutAReachableMailServer() {
		assertThat(mail(1).send(link("Teo Robles", "Ozvarra Pool Care", true), URL, Locale.US)).as("nobody listens").isFalse();
		PasswordLinkMailer without = new PasswordLinkMailer(
				new Mailer(new StaticListableBeanFactory().getBeanProvider(JavaMailSender.class), "meniscus@example.org"), texts());
		assertThat(without.send(link("Teo Robles", "Ozvarra Pool Care", true), URL, Locale.US)).as("no server configured").isFalse();
	}

	/** The one message, as it went over the line to the one recipient. */
	private static MimeMessage received() {
		assertThat(server.waitForIncomingEmail(5000, 1)).isTrue();
		assertThat(Arrays.stream(server.getReceivedMessages())).hasSize(1);
		return server.getReceivedMessages()[0];
	}

	private static String body(MimeMessage message) throws Exception {
		assertThat(GreenMailUtil.getWholeMessage(message)).contains("charset=UTF-8");
		return String.valueOf(message.getContent());
	}

	private static PasswordLink link(String person, String company, boolean invitation) {
		return new PasswordLink(new CompanyId(UUID.randomUUID()), company, new PersonId(UUID.randomUUID()), person, "teo@example.org",
				"token",
				Instant.parse("2026-06-08T12:00:00Z"), invitation);
	}

	private static PasswordLinkMailer mail(int port) {
		JavaMailSenderImpl sender = new JavaMailSenderImpl();
		sender.setHost("127.0.0.1");
		sender.setPort(port);
		StaticListableBeanFactory beans = new StaticListableBeanFactory();
		beans.addBean("sender", sender);
		return new PasswordLinkMailer(new Mailer(beans.getBeanProvider(JavaMailSender.class), "meniscus@example.org"), texts());
	}

	private static ResourceBundleMessageSource texts() {
		ResourceBundleMessageSource texts = new ResourceBundleMessageSource();
		texts.setBasename("messages/company");
		texts.setDefaultEncoding("UTF-8");
		texts.setFallbackToSystemLocale(false);
		return texts;
	}

}
