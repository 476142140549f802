package org.meniscus;

import static com.tngtech.archunit.base.DescribedPredicate.not;
import static com.tngtech.archunit.core.domain.JavaCall.Predicates.target;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.simpleName;
import static com.tngtech.archunit.core.domain.properties.HasName.Predicates.name;
import static com.tngtech.archunit.core.domain.properties.HasOwner.Predicates.With.owner;
import static com.tngtech.archunit.core.domain.properties.HasParameterTypes.Predicates.rawParameterTypes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.Architectures.layeredArchitecture;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaPackage;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import org.jspecify.annotations.NullMarked;
import org.springframework.stereotype.Controller;
import org.springframework.stereotype.Service;

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
	static final ArchRule waterPackagesUseOnlyThoseBeforeThem = layeredArchitecture().consideringOnlyDependenciesInLayers()
		.layer("units").definedBy("org.meniscus.water.units")
		.layer("pool").definedBy("org.meniscus.water.pool")
		.layer("chemistry").definedBy("org.meniscus.water.chemistry")
		.layer("product").definedBy("org.meniscus.water.product")
		.layer("demand").definedBy("org.meniscus.water.demand")
		.layer("explain").definedBy("org.meniscus.water.explain")
		.layer("assess").definedBy("org.meniscus.water.assess")
		.layer("season").definedBy("org.meniscus.water.season")
		.layer("plan").definedBy("org.meniscus.water.plan")
		.layer("drift").definedBy("org.meniscus.water.drift")
		.whereLayer("units").mayNotAccessAnyLayer()
		.whereLayer("pool").mayOnlyAccessLayers("units")
		.whereLayer("chemistry").mayOnlyAccessLayers("units", "pool")
		.whereLayer("product").mayOnlyAccessLayers("units", "pool", "chemistry")
		.whereLayer("demand").mayOnlyAccessLayers("units", "pool", "chemistry", "product")
		.whereLayer("explain").mayOnlyAccessLayers("units", "pool", "chemistry", "product", "demand")
		.whereLayer("assess").mayOnlyAccessLayers("units", "pool", "chemistry", "product", "demand", "explain")
		.whereLayer("season").mayOnlyAccessLayers("units", "pool", "chemistry", "product", "demand", "explain", "assess")
		.whereLayer("plan").mayOnlyAccessLayers("units", "pool", "chemistry", "product", "demand", "explain", "assess", "season")
		.whereLayer("drift").mayOnlyAccessLayers("units", "pool", "chemistry", "product", "demand", "explain", "assess");

	@ArchTest
	static final ArchRule waterIsDividedIntoThesePackages = classes().that()
		.resideInAPackage("org.meniscus.water..")
		.and(not(simpleName("package-info")))
		.should()
		.resideInAnyPackage(Stream.of("units", "pool", "chemistry", "product", "demand", "explain", "assess", "season", "plan", "drift")
			.map("org.meniscus.water."::concat)
			.toArray(String[]::new))
		.because("a class outside them would escape the order above");

	@ArchTest
	static void packagesOfWaterStaySmall(JavaClasses all) {
		Map<String, List<String>> types = all.stream()
			.filter(type -> type.isTopLevelClass() && type.getPackageName().startsWith("org.meniscus.water"))
			.filter(type -> !type.getSimpleName().equals("package-info"))
			.collect(Collectors.groupingBy(JavaClass::getPackageName, Collectors.mapping(JavaClass::getSimpleName, Collectors.toList())));
		assertThat(types).hasSizeGreaterThan(5)
			.allSatisfy((name, members) -> assertThat(members).as(name)
				.hasSizeLessThanOrEqualTo(31));
	}

	@ArchTest
	static void everyPackageIsNullMarked(JavaClasses all) {
		List<JavaPackage> packages = all.stream().map(JavaClass::getPackage).distinct().toList();
		assertThat(packages).hasSizeGreaterThan(20)
			.allSatisfy(each -> assertThat(each.isAnnotatedWith(NullMarked.class)).as(each.getName()).isTrue());
	}

	@ArchTest
	static final ArchRule controllersAreNamedSoAndStandInWebPackages = classes().that()
		.areAnnotatedWith(Controller.class)
		.should()
		.haveSimpleNameEndingWith("Controller")
		.andShould()
		.resideInAPackage("..web..");

	@ArchTest
	static final ArchRule doorsArePublicAndNamedService = classes().that()
		.areAnnotatedWith(Service.class)
		.and()
		.arePublic()
		.should()
		.haveSimpleNameEndingWith("Service")
		.andShould()
		.resideOutsideOfPackage("..web..");

	@ArchTest
	static final ArchRule servicesArePublic = classes().that()
		.haveSimpleNameEndingWith("Service")
		.should()
		.bePublic()
		.andShould()
		.beAnnotatedWith(Service.class)
		.because("the word is kept for what other packages ask");

	@ArchTest
	static final ArchRule platformKnowsNothingOfWater = noClasses().that()
		.resideInAPackage("org.meniscus.platform..")
		.should()
		.dependOnClassesThat()
		.resideInAPackage("org.meniscus.water..");

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
