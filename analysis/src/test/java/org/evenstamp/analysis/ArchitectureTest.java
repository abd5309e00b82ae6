package org.evenstamp.analysis;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.GeneralCodingRules.NO_CLASSES_SHOULD_ACCESS_STANDARD_STREAMS;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** What the build's modules cannot see. */
@AnalyzeClasses(packages = "org.evenstamp.analysis", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {
    @ArchTest
    static final ArchRule physics_works_on_arrays_alone = noClasses()
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("org.locationtech..", "com.fasterxml..", "picocli..", "org.evenstamp.geometry..");

    @ArchTest
    static final ArchRule nothing_is_printed = NO_CLASSES_SHOULD_ACCESS_STANDARD_STREAMS;

    @ArchTest
    static final ArchRule packages_have_no_cycles =
            slices().matching("org.evenstamp.analysis.(**)").should().beFreeOfCycles();

    @ArchTest
    static final ArchRule analyses_do_not_know_who_runs_them = noClasses()
            .that()
            .resideOutsideOfPackage("..pipeline..")
            .should()
            .dependOnClassesThat()
            .resideInAPackage("..pipeline..");
}
