package org.meniscus;

import static com.tngtech.archunit.core.domain.properties.CanBeAnnotated.Predicates.metaAnnotatedWith;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;

import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import org.junit.platform.commons.annotation.Testable;

@AnalyzeClasses(packages = "org.meniscus", importOptions = ImportOption.OnlyIncludeTests.class)
class TestNamingTests {

	@ArchTest
	static final ArchRule everyClassWithTestsIsRunByOneOfTheTwoLanes = classes().that()
		.doNotHaveModifier(JavaModifier.ABSTRACT)
		.and()
		.containAnyMethodsThat(metaAnnotatedWith(Testable.class))
		.should()
		.haveSimpleNameEndingWith("Tests")
		.orShould()
		.haveSimpleNameEndingWith("IT")
		.because("Surefire takes *Tests and Failsafe takes *IT; a class named otherwise would never run");

}
