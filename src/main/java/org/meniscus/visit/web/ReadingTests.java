package org.meniscus.visit.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.meniscus.ui.LevelNames;
import org.meniscus.ui.Option;
import org.meniscus.water.explain.Wording;
import org.meniscus.water.pool.Level;
import org.meniscus.water.pool.TestKit;
import org.meniscus.water.pool.TestMethod;
import org.meniscus.water.pool.TestMethods;

/**
 * How each reading of a form was taken: as chosen beside it, else with the kit chosen for the whole visit, else as the company usually tests.
 * A choice is sent as the name of a kit, with the dilution after it where the sample was diluted.
 */
final class ReadingTests {

	/** Levels above the end of their test: a sample of half or a fifth pool water brings them back into it. */
	private static final List<Level> DILUTED = List.of(Level.FC, Level.CYA, Level.CH);

	private final SubmittedForm form;

	private final TestMethods usual;

	/** @param company what it usually tests with */
	ReadingTests(SubmittedForm submitted, TestMethods company) {
		this.form = submitted;
		this.usual = kit(submitted.text("kit"), company);
	}

	private static TestMethods kit(String name, TestMethods company) {
		return Arrays.stream(TestKit.values()).filter(kit -> kit.name().equals(name)).findFirst().map(TestMethods::of).orElse(company);
	}

	/** Name of the choice beside a reading; null where none is offered. */
	static @Nullable String field(Level level) {
		return TestMethods.CHOSEN.contains(level) || level == Level.BROMINE ? "test" + TestMethods.test(level) : null;
	}

	/** As it is sent. */
	static String value(TestMethod method) {
		return method.kit() + ((method.dilution() > 1) ? " " + method.dilution() : "");
	}

	String chosen(Level level) {
		return form.text("test" + TestMethods.test(level));
	}

	/** What is sent and is no choice counts as none. */
	TestMethod method(Level level) {
		String chosen = chosen(level);
		Level test = TestMethods.test(level);
		if (TestMethods.CHOSEN.contains(test)) {
			for (TestMethod offered : offered(test)) {
				if (value(offered).equals(chosen)) {
					return offered;
				}
			}
		}
		return usual.method(level);
	}

	/** The usual one first. */
	List<Option> options(Level level, Wording.Texts texts) {
		Level test = TestMethods.test(level);
		List<Option> options = new ArrayList<>(List.of(new Option("", name(test, usual.method(test), texts))));
		offered(test).stream()
			.filter(method -> !method.equals(usual.method(test)))
			.forEach(method -> options.add(new Option(value(method), name(test, method, texts))));
		return options;
	}

	private static List<TestMethod> offered(Level test) {
		List<TestMethod> offered = new ArrayList<>();
		TestKit.of(test).forEach(kit -> offered.add(new TestMethod(kit, 1)));
		if (DILUTED.contains(test)) {
			TestKit.of(test)
				.stream()
				.filter(kit -> kit != TestKit.STRIPS)
				.forEach(kit -> offered.add(new TestMethod(kit, TestMethod.HALF)));
		}
		if (test == Level.FC) {
			TestKit.of(test)
				.stream()
				.filter(kit -> kit != TestKit.STRIPS)
				.forEach(kit -> offered.add(new TestMethod(kit, TestMethod.FIFTH)));
		}
		return offered;
	}

	/** "Drops, 10 mL", "Tube, diluted: × 2". */
	static String name(Level level, TestMethod method, Wording.Texts texts) {
		String kit = LevelNames.test(level, method.kit(), texts);
		return (method.dilution() == 1) ? kit : texts.text("visit.test.diluted", kit, method.dilution());
	}

}
