package org.meniscus.company;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.text.Normalizer;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;

/**
 * What a new password must be. After NIST SP 800-63B-4, section 3.1.1.2: at least 15 characters when nothing else is asked for at
 * sign-in, any characters, no rule of composition, no expiry, but not one of those that are tried first.
 */
public final class PasswordPolicy {

	/** In characters as people count them (code points). */
	public static final int MIN_LENGTH = 15;

	/** The standard asks for 64 at least to be allowed. */
	public static final int MAX_LENGTH = 128;

	/** What must be left once everything is taken out that would be guessed first. No source: half of the shortest. */
	private static final int MIN_REMAINING_LENGTH = 8;

	private static final int MIN_DISTINCT_CHARACTERS = 5;

	private static final List<String> KEYBOARD_ROWS = List.of("qwertyuiop", "asdfghjkl", "zxcvbnm", "qwertzuiop", "azertyuiop",
			"qazwsxedcrfvtgb",
			"1qaz2wsx3edc4rfv", "1q2w3e4r5t6y7u8i");

	private static final List<String> COMMON_WORDS = read("common-words.txt");

	private static final Set<String> COMMON_PASSPHRASES = Set.copyOf(read("common-passphrases.txt"));

	private PasswordPolicy() {
	}

	/** Why a password is refused. */
	public enum PasswordProblem {

		SHORT, LONG,
		/** On the list of common passwords, or made of the words that most of them are made of. */
		COMMON,
		/** One piece over and over, or very few different characters. */
		REPEATED,
		/** Runs of the alphabet, of digits or of neighbouring keys. */
		SEQUENCE,
		/** Little more than the names of the company, the person, this service, or the address. */
		NAMES

	}

	/**
	 * @param names what somebody who knows the company would try: its name, the person's, the address
	 * @return nothing when the password may be used
	 */
	public static Optional<PasswordProblem> findProblem(String password, @Nullable String... names) {
		String composed = Normalizer.normalize(password, Normalizer.Form.NFC);
		int length = composed.codePointCount(0, composed.length());
		if (length < MIN_LENGTH) {
			return Optional.of(PasswordProblem.SHORT);
		}
		if (length > MAX_LENGTH) {
			return Optional.of(PasswordProblem.LONG);
		}
		String plain = normalize(password);
		if (COMMON_PASSPHRASES.contains(plain)) {
			return Optional.of(PasswordProblem.COMMON);
		}
		if (isRepeated(password) || isRepeated(plain)) {
			return Optional.of(PasswordProblem.REPEATED);
		}
		String remaining = removeWords(plain,
				Stream.concat(Stream.of("meniscus"), Arrays.stream(names).flatMap(PasswordPolicy::words)).toList());
		if (tooLittleRemains(plain, remaining)) {
			return Optional.of(PasswordProblem.NAMES);
		}
		String unordered = removeSequences(remaining);
		if (tooLittleRemains(remaining, unordered)) {
			return Optional.of(PasswordProblem.SEQUENCE);
		}
		return tooLittleRemains(unordered, removeWords(unordered, COMMON_WORDS)) ? Optional.of(PasswordProblem.COMMON) : Optional.empty();
	}

	/** Letters and digits in lower case; a password wholly of other signs stays as it is. */
	private static String normalize(String password) {
		String lower = Normalizer.normalize(password, Normalizer.Form.NFKC).toLowerCase(Locale.ROOT);
		StringBuilder letters = new StringBuilder();
		lower.codePoints().filter(Character::isLetterOrDigit).forEach(letters::appendCodePoint);
		return (letters.length() >= MIN_REMAINING_LENGTH) ? letters.toString() : lower;
	}

	private static Stream<String> words(@Nullable String name) {
		return (name == null) ? Stream.empty()
				: Stream.concat(Stream.of(normalize(name)), Arrays.stream(name.toLowerCase(Locale.ROOT).split("[^\\p{L}\\p{N}]+")))
					.filter(word -> word.length() >= 3);
	}

	/** Longest words first, so that a word inside another does not break it up. */
	private static String removeWords(String text, List<String> tokens) {
		String remaining = text;
		for (String word : tokens.stream().sorted(Comparator.comparingInt(String::length).reversed()).collect(Collectors.toList())) {
			remaining = remaining.replace(word, "");
		}
		return remaining;
	}

	private static boolean tooLittleRemains(String before, String after) {
		return after.length() < before.length() && after.length() < MIN_REMAINING_LENGTH;
	}

	private static boolean isRepeated(String text) {
		if (text.codePoints().distinct().count() < MIN_DISTINCT_CHARACTERS) {
			return true;
		}
		for (int unit = 1; unit <= text.length() / 2; unit++) {
			if (text.regionMatches(unit, text, 0, text.length() - unit)) {
				return true;
			}
		}
		return false;
	}

	/** Takes out runs of four or more: neighbours in the alphabet, among the digits or on the keyboard, either way, or the same sign. */
	private static String removeSequences(String text) {
		StringBuilder remaining = new StringBuilder();
		int start = 0;
		while (start < text.length()) {
			int end = start + 1;
			for (int length = 4; start + length <= text.length() && isSequence(text.substring(start, start + length)); length++) {
				end = start + length;
			}
			if (end == start + 1) {
				remaining.append(text.charAt(start));
			}
			start = end;
		}
		return remaining.toString();
	}

	private static boolean isSequence(String part) {
		int step = part.charAt(1) - part.charAt(0);
		boolean even = Math.abs(step) <= 1;
		for (int i = 2; even && i < part.length(); i++) {
			int next = part.charAt(i) - part.charAt(i - 1);
			even = next == step || (step == 1 && part.charAt(i - 1) == '9' && part.charAt(i) == '0');
		}
		String backwards = new StringBuilder(part).reverse().toString();
		return even || KEYBOARD_ROWS.stream().anyMatch(row -> row.contains(part) || row.contains(backwards));
	}

	private static List<String> read(String file) {
		try (var lines = new BufferedReader(new InputStreamReader(
				Optional.ofNullable(PasswordPolicy.class.getResourceAsStream(file))
					.orElseThrow(() -> new IllegalStateException(file + " is missing")),
				StandardCharsets.UTF_8))) {
			return lines.lines().filter(line -> !line.isBlank() && !line.startsWith("#")).map(String::strip).toList();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

}
