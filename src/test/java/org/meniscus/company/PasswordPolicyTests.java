package org.meniscus.company;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.meniscus.company.PasswordPolicy.PasswordProblem;

/** The rules are those of NIST SP 800-63B-4, section 3.1.1.2; the examples are made up here. */
class PasswordPolicyTests {

	private static final String COMPANY = "Ozvarra Pool Care";

	private static final String PERSON = "Ida Brook";

	private static final String EMAIL = "ida.brook@ozvarra.example";

	@ParameterizedTest
	@ValueSource(strings = { "slow river under the old bridge", "correct lantern basil", "~ x! o? (z) [-] {u} %k",
			"\u6f6e\u6c50\u306e\u591c\u660e\u3051\u524d\u306e\u9759\u3051\u3055\u3068\u6708\u5f71\u3068",
			"my cat Brook eats warm oatmeal", "k7Q!zr2Lm#9pWx4", "pool pump humming beside tall pines", "the seventh lantern is green" })
	void longPasswordsThatAreHardToGuessAreAccepted(String password) {
		assertThat(PasswordPolicy.findProblem(password, COMPANY, PERSON, EMAIL)).isEmpty();
	}

	@ParameterizedTest
	@CsvSource({ "fourteen chars,SHORT", "'',SHORT", "correct horse battery staple,COMMON", "Correct-Horse-Battery-Staple!,COMMON",
			"PasswordPassword1,COMMON", "Welcome to 2026 Pools,COMMON", "letmein letmein please,COMMON", "aaaaaaaaaaaaaaaaaaaa,REPEATED",
			"abcabcabcabcabcabc,REPEATED", "lantern lantern lantern ,REPEATED", "abcdefghijklmnopqrstuvwxyz,SEQUENCE",
			"12345678901234567890,REPEATED", "123456789012345,SEQUENCE", "qwertyuiopasdfghjkl,SEQUENCE", "9876543210fedcba,SEQUENCE",
			"ozvarrapoolcare2026,NAMES",
			"Ida Brook Ida Brook!!,REPEATED", "ida brook 1234567,NAMES", "ida.brook@ozvarra.example,NAMES",
			"meniscus Meniscus 1,NAMES" })
	void easilyGuessedPasswordsAreRejected(String password, PasswordProblem problem) {
		assertThat(PasswordPolicy.findProblem(password, COMPANY, PERSON, EMAIL)).contains(problem);
	}

	@Test
	void lengthCountsCodePoints() {
		String wave = "\uD83C\uDF0A";
		assertThat(PasswordPolicy.findProblem("ocean " + wave.repeat(3) + " stone")).as("fifteen").isEmpty();
		assertThat(PasswordPolicy.findProblem("ocean " + wave.repeat(3) + "stone")).as("fourteen").contains(PasswordProblem.SHORT);
		String long128 = ("lantern basil k7Q!zr2Lm#9pWx4 slow river under the old bridge, the seventh lantern is green; my cat eats warm oatmeal "
				+ "by tall pines")
			.substring(0, 128);
		assertThat(PasswordPolicy.findProblem(long128)).as("128").isEmpty();
		assertThat(PasswordPolicy.findProblem(long128 + "x")).as("129").contains(PasswordProblem.LONG);
	}

	@Test
	void passwordIsNotInToString() {
		assertThat("" + new RawPassword("slow river under the old bridge")).doesNotContain("river");
	}

}
