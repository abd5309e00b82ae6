package org.evenstamp.tool;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.Architectures.layeredArchitecture;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.core.importer.Location;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

@AnalyzeClasses(
        packages = "org.evenstamp",
        importOptions = {ImportOption.DoNotIncludeTests.class, ArchitectureTest.NoTestJars.class})
class ArchitectureTest {
    /** Test classes of the modules below come from a folder or, once packaged, from a jar. */
    static final class NoTestJars implements ImportOption {
        @Override
        public boolean includes(Location location) {
            return !location.contains("-tests.jar!");
        }
    }

    @ArchTest
    static final ArchRule arrows_between_modules_point_down = layeredArchitecture()
            .consideringOnlyDependenciesInLayers()
            .layer("tool")
            .definedBy("org.evenstamp.tool..")
            .layer("output")
            .definedBy("org.evenstamp.output..")
            .layer("engine")
            .definedBy("org.evenstamp.engine..")
            .layer("geometry")
            .definedBy("org.evenstamp.geometry..")
            .layer("analysis")
            .definedBy("org.evenstamp.analysis..")
            .layer("shared")
            .definedBy("org.evenstamp.shared..")
            .whereLayer("tool")
            .mayNotBeAccessedByAnyLayer()
            .whereLayer("output")
            .mayOnlyBeAccessedByLayers("tool")
            .whereLayer("engine")
            .mayOnlyBeAccessedByLayers("tool", "output")
            .whereLayer("geometry")
            .mayOnlyBeAccessedByLayers("tool", "output", "engine")
            .whereLayer("analysis")
            .mayOnlyBeAccessedByLayers("tool", "output", "engine")
            .whereLayer("shared")
            .mayNotAccessAnyLayer();

    @ArchTest
    static final ArchRule packages_form_no_cycles =
            slices().matching("org.evenstamp.(**)").should().beFreeOfCycles();

    @ArchTest
    static final ArchRule only_geometry_knows_the_geometry_library = noClasses()
            .that()
            .resideOutsideOfPackage("org.evenstamp.geometry..")
            .should()
            .dependOnClassesThat()
            .resideInAPackage("org.locationtech..");

    @ArchTest
    static final ArchRule only_the_commands_know_the_command_line_library = noClasses()
            .that()
            .resideOutsideOfPackage("org.evenstamp.tool.command..")
            .should()
            .dependOnClassesThat()
            .resideInAPackage("picocli..");

    @ArchTest
    static final ArchRule analysis_and_shared_know_no_json = noClasses()
            .that(resideInAPackage("org.evenstamp.analysis..").or(resideInAPackage("org.evenstamp.shared..")))
            .should()
            .dependOnClassesThat()
            .resideInAPackage("com.fasterxml..");

    @ArchTest
    static final ArchRule libraries_do_not_print = noClasses()
            .that()
            .resideOutsideOfPackage("org.evenstamp.tool..")
            .should()
            .accessField(System.class, "out")
            .orShould()
            .accessField(System.class, "err");

    @ArchTest
    static final ArchRule only_main_ends_the_process = noClasses()
            .that()
            .doNotHaveFullyQualifiedName("org.evenstamp.tool.Main")
            .and()
            .doNotHaveFullyQualifiedName(
                    "org.evenstamp.tool.exit.Interruption") // stops a plug-in that ends the process
            .should()
            .callMethod(System.class, "exit", int.class)
            .orShould()
            .callMethod(Runtime.class, "halt", int.class);
}
