package org.meniscus;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;

import org.junit.jupiter.api.Test;
import org.springframework.modulith.core.ApplicationModules;

class ModularityTests {

	/** Water is free for all and held pure by ArchitectureTests, so it is left out of the feature boundaries here. */
	@Test
	void modulesUseOnlyPublicTypesOfDeclaredDependencies() {
		ApplicationModules.of(Meniscus.class, resideInAPackage("org.meniscus.water..")).verify();
	}

}
