package org.meniscus;

import static com.tngtech.archunit.base.DescribedPredicate.not;
import static com.tngtech.archunit.core.domain.JavaCall.Predicates.target;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.core.domain.properties.HasName.Predicates.name;
import static com.tngtech.archunit.core.domain.properties.HasOwner.Predicates.With.owner;
import static com.tngtech.archunit.core.domain.properties.HasParameterTypes.Predicates.rawParameterTypes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

@AnalyzeClasses(packages = "org.meniscus", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTests {

	@ArchTest
	static final ArchRule waterIsPlainJava = classes().that()
		.resideInAPackage("org.meniscus.water..")
		.should()
		.onlyDependOnClassesThat()
		.resideInAnyPackage("org.meniscus.water..", "java.lang..", "java.util..", "java.time..", "java.math..", "org.jspecify..")
		.because("treatments must be workable, and testable, without a container or a database, and on the phone");

	@ArchTest
	static final ArchRule nowComesFromTheClock = noClasses().should()
		.callMethodWhere(target(name("now")).and(target(owner(resideInAPackage("java.time.."))))
			.and(target(rawParameterTypes(new Class<?>[0]))))
		.because("a season of drift is tested by moving the Clock bean");

	@ArchTest
	static final ArchRule waterNeverReadsAClock = noClasses().that()
		.resideInAPackage("org.meniscus.water..")
		.should()
		.dependOnClassesThat()
		.haveFullyQualifiedName("java.time.Clock");

	@ArchTest
	static final ArchRule nothingDependsOnPages = noClasses().that(not(resideInAPackage("..web..")))
		.should()
		.dependOnClassesThat(resideInAPackage("org.meniscus.*.web..").and(not(resideInAPackage("org.meniscus.platform.."))));

	@ArchTest
	static final ArchRule entitiesStayInTheirFeature = classes().that()
		.areAnnotatedWith(jakarta.persistence.Entity.class)
		.should()
		.bePackagePrivate()
		.because("a feature is used through its door");

}
