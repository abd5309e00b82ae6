package org.evenstamp.shared;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.library.GeneralCodingRules.NO_CLASSES_SHOULD_ACCESS_STANDARD_STREAMS;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

@AnalyzeClasses(packages = "org.evenstamp.shared", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {
    @ArchTest
    static final ArchRule the_vocabulary_needs_nothing_but_java = classes()
            .should()
            .onlyDependOnClassesThat()
            .resideInAnyPackage("org.evenstamp.shared..", "java..", "org.jspecify..");

    @ArchTest
    static final ArchRule nothing_is_printed = NO_CLASSES_SHOULD_ACCESS_STANDARD_STREAMS;

    @ArchTest
    static final ArchRule packages_have_no_cycles =
            slices().matching("org.evenstamp.shared.(*)..").should().beFreeOfCycles();
}
