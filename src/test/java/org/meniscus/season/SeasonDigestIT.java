package org.meniscus.season;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;

import jakarta.mail.internet.MimeMessage;

import com.icegreen.greenmail.junit5.GreenMailExtension;
import com.icegreen.greenmail.util.ServerSetupTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;
import org.meniscus.client.PoolId;
import org.meniscus.company.CompanyService;
import org.meniscus.platform.Mailer;
import org.meniscus.platform.Role;
import org.meniscus.report.SeasonFixture;
import org.meniscus.report.SeasonFixtures;
import org.meniscus.support.IntegrationTest;
import org.meniscus.support.TestCompanies;
import org.meniscus.support.TestRows;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.Sanitizer;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.support.StaticListableBeanFactory;
import org.springframework.context.MessageSource;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.mail.javamail.JavaMailSenderImpl;

/** The week's mail about notices, received by a mail server. */
@IntegrationTest
class SeasonDigestIT {

	@RegisterExtension
	static GreenMailExtension server = new GreenMailExtension(ServerSetupTest.SMTP.dynamicPort());

	@Autowired
	SeasonFixtures seasons;

	@Autowired
	TestRows rows;

	@Autowired
	SeasonService seasonService;

	@Autowired
	DriftSnapshots snapshots;

	@Autowired
	SeasonFormatter words;

	@Autowired
	CompanyService companyService;

	@Autowired
	MessageSource texts;

	@Test
	void digestForOfficeAndOwnerNamesPoolsAndReasons() throws Exception {
		SeasonFixture season = seasons.newSeason();
		TestCompanies.TestUser office = rows.person(season.company, Role.OFFICE, "Olga Finch");
		PoolId pool = season.pool("Rowan Halewood", "en", "Back yard", Sanitizer.TABLET_FEEDER);
		SeasonDigest digest = digest();
		digest.send(season.company);
		assertThat(server.getReceivedMessages()).as("nothing stands yet").isEmpty();

		seasonService.chooseClimate(season.company, Climate.HOT_DRY);
		season.tabletSeason(pool, 28);
		snapshots.updateAll(season.company);
		digest.send(season.company);
		List<MimeMessage> received = Arrays.asList(server.getReceivedMessages());
		assertThat(received).extracting(mail -> mail.getAllRecipients()[0].toString())
			.containsExactlyInAnyOrder(season.owner.email(), office.email());
		assertThat(received.get(0).getSubject()).isEqualTo("One pool level on the way out of range: Ozvarra Pool Care");
		String body = (String) received.get(0).getContent();
		assertThat(body).contains("Rowan Halewood, Back yard", "Stabilizer (CYA) about", "stands above 100, or will within", "Tested: ",
				"trichlor tablets +");

		seasonService.dismiss(season.office(), pool, Level.CYA, "agreed with the client");
		digest.send(season.company);
		assertThat(server.getReceivedMessages()).as("what is handled is not mailed").hasSize(2);
	}

	private SeasonDigest digest() {
		JavaMailSenderImpl sender = new JavaMailSenderImpl();
		sender.setHost("127.0.0.1");
		sender.setPort(server.getSmtp().getPort());
		StaticListableBeanFactory beans = new StaticListableBeanFactory();
		beans.addBean("sender", sender);
		return new SeasonDigest(seasonService, words, companyService,
				new Mailer(beans.getBeanProvider(JavaMailSender.class), "meniscus@example.org"), texts);
	}

}
