package org.evenstamp.analysis.completion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.evenstamp.analysis.material.FilmLaws;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.MaterialKind;
import org.evenstamp.analysis.material.MaterialLibrary;
import org.evenstamp.shared.problem.Problem;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class JobCompletionTest {
    private final MaterialLibrary library = MaterialLibrary.standard();
    private final Map<String, Double> quantities = new HashMap<>();
    private final Map<String, String> words = new HashMap<>();
    private final Map<String, List<Map<String, Double>>> tables = new HashMap<>();
    private List<Problem> problems = List.of();

    private void complete(String film) {
        JobCompletion.Completed completed = given(named(film));
        quantities.putAll(completed.values().numbers());
        problems = completed.problems();
    }

    private JobCompletion.Completed given(NamedMaterials materials) {
        return JobCompletion.complete(new ValueSet(quantities, words, tables, Set.of()), materials);
    }

    private NamedMaterials named(String film) {
        Material material = library.get(MaterialKind.FILM, film);
        return new NamedMaterials(
                Optional.of(material),
                Optional.of(library.get(MaterialKind.SOLVENT, "generic")),
                Optional.of(library.get(MaterialKind.STAMP, "nickel")),
                Optional.of(library.get(MaterialKind.COATING, "fluorosilane")),
                Optional.of(library.get(MaterialKind.SUBSTRATE, "silicon")));
    }

    @ParameterizedTest
    @ValueSource(strings = {"pmma-75k", "ps-50k", "cyclic-olefin", "uv-acrylate"})
    void a_film_has_the_viscosity_of_its_law_at_the_temperature_of_pressing(String film) {
        double kelvin = film.equals("uv-acrylate") ? 298.15 : 460;
        quantities.put("process.temperature", kelvin);

        complete(film);

        assertThat(problems).isEmpty();
        assertThat(quantities.get("film.viscosity"))
                .isCloseTo(
                        FilmLaws.of(library.get(MaterialKind.FILM, film))
                                .viscosity()
                                .pascalSeconds(kelvin),
                        withinPercentage(1e-9));
    }

    @Test
    void what_the_job_gives_stands() {
        quantities.put("film.viscosity", 5.0);
        quantities.put("film.modulus", 6.0);
        quantities.put("stamp.modulus", 7.0);
        quantities.put("process.temperature", 460.0);

        complete("pmma-75k");

        assertThat(quantities)
                .containsEntry("film.viscosity", 5.0)
                .containsEntry("film.modulus", 6.0)
                .containsEntry("stamp.modulus", 7.0)
                .containsEntry("release.stamp-energy", 0.015)
                .containsEntry("release.substrate-expansion", 2.6e-6)
                .containsEntry("film.set-temperature", 378.15);
    }

    /** A film of two measured viscosities, and a job that states a third: 4242.6 = sqrt(2e3 x 9e3), between its points. */
    @Test
    void a_viscosity_beside_a_table_is_refused_with_what_the_table_says() {
        tables.put(
                "film.viscosities",
                List.of(
                        Map.of("temperature", 473.15, "viscosity", 2e3),
                        Map.of("temperature", 453.15, "viscosity", 9e3)));
        quantities.put("process.temperature", 463.15);
        complete("pmma-75k");
        assertThat(problems).isEmpty();
        assertThat(quantities.getOrDefault("film.viscosity", 0.0)).isCloseTo(4242.64, withinPercentage(0.01));

        quantities.put("film.viscosity", 5e3);
        complete("pmma-75k");
        assertThat(problems).singleElement().satisfies(problem -> {
            assertThat(problem.code()).isEqualTo("film.viscosity-twice");
            assertThat(problem.line()).contains("film.viscosity", "5000.00 Pa s", "4242.64 Pa s at 190 degC");
        });
    }

    /** Ten times the molar mass, both above the critical one: 10^3.4 = 2511.88643 (checked by arithmetic). */
    @Test
    void another_molar_mass_scales_the_viscosity() {
        quantities.put("process.temperature", 460.0);
        complete("pmma-75k");
        double before = quantities.getOrDefault("film.viscosity", 0.0);
        quantities.remove("film.viscosity");
        quantities.put("film.molar-mass", 750.0);

        complete("pmma-75k");

        assertThat(quantities.getOrDefault("film.viscosity", 0.0) / before)
                .isCloseTo(2511.88643, withinPercentage(1e-6));
    }

    /**
     * Radius of gyration of 50 kg/mol by hand: 82 nm x sqrt(50/6900) = 6.98 nm (PMC5018825, table 1; its other chain, 126 nm at 16.2 Mg/mol, would say
     * 7.00 nm).
     */
    @ParameterizedTest
    @CsvSource({"6.5e-9, ps-50k, 0, 1", "7.1e-9, ps-50k, 0, 0", "7.1e-9, ps-50k, 200, 1", "3e-9, uv-acrylate, 0, 0"})
    void a_film_thinner_than_its_chains_is_refused_by_their_molar_mass(
            double metres, String film, double kilogramsPerMole, int expected) {
        quantities.put("film.thickness", metres);
        if (kilogramsPerMole > 0) {
            quantities.put("film.molar-mass", kilogramsPerMole);
        }
        complete(film);

        assertThat(problems).hasSize(expected).allSatisfy(problem -> {
            assertThat(problem.code()).isEqualTo("film.thinner-than-chains");
            assertThat(problem.line()).contains("film.thickness", "radius of gyration");
        });
    }

    @ParameterizedTest
    @CsvSource({"0, 0, 1", "0.04, 0, 1", "999, 0, 1", "1000, 0, 0", "0, 0.03, 0", "40e6, 0, 0"})
    void a_hold_without_pressure_is_refused_unless_menisci_pull(double pascals, double tension, int expected) {
        quantities.put("process.pressure", pascals);
        quantities.put("film.surface-tension", tension);
        assertThat(given(NamedMaterials.NONE).problems()).hasSize(expected).allSatisfy(problem -> {
            assertThat(problem.code()).isEqualTo("process.no-pressure");
            assertThat(problem.line()).contains("process.pressure", "mPa is a thousandth");
        });
    }

    @Test
    void stated_steps_that_never_press_are_refused() {
        words.put("process.kind", "hot-press");
        quantities.put("process.start-temperature", 298.15);
        for (double pascals : new double[] {0, 5e6}) {
            tables.put(
                    "process.steps",
                    List.of(
                            Map.of("time", 100.0, "temperature", 443.15, "pressure", pascals),
                            Map.of("time", 100.0, "temperature", 333.15, "pressure", 0.0)));
            assertThat(given(named("ps-50k")).problems())
                    .extracting(Problem::code)
                    .filteredOn("process.no-pressure"::equals)
                    .hasSize(pascals == 0 ? 1 : 0);
        }
    }

    @Test
    void a_resin_pressed_far_below_the_range_of_its_viscosity_is_refused() {
        quantities.put("process.temperature", 273.15 - 9);
        complete("uv-acrylate");
        assertThat(problems).isEmpty();

        quantities.put("process.temperature", 273.15 - 11);
        complete("uv-acrylate");
        assertThat(problems).singleElement().satisfies(problem -> {
            assertThat(problem.code()).isEqualTo("process.cold");
            assertThat(problem.line()).contains("-11 degC", "from 20 degC up");
        });
    }

    /** Twice the speed: thickness times 0.707106781 (Meyerhofer's scaling). */
    @Test
    void a_spun_thickness_follows_one_measured_film() {
        quantities.put("film.spin-speed", 6000 / 60.0);
        assertThatSpinLacksItsMeasuredFilm();
        quantities.put("film.spin-measured-speed", 3000 / 60.0);
        quantities.put("film.spin-measured-thickness", 300e-9);

        complete("pmma-75k");

        assertThat(quantities.get("film.thickness")).isCloseTo(300e-9 * 0.707106781, withinPercentage(1e-6));
    }

    private void assertThatSpinLacksItsMeasuredFilm() {
        assertThat(given(NamedMaterials.NONE).problems())
                .extracting(Problem::code)
                .containsExactly("film.spin-incomplete");
    }

    /** Hertz: E 5 MPa, nu 0.45, 1e4 N/m, R 50 mm at 10 mm/s: mean 496184.789 Pa, dwell 2.01537818 s (computed table). */
    @Test
    void a_roller_says_pressure_and_time_and_both_ways_at_once_contradict() {
        words.put("process.kind", "roller");
        quantities.putAll(Map.of(
                "process.temperature", 298.15,
                "process.roller-diameter", 0.1,
                "process.cover-modulus", 5e6,
                "process.cover-poisson", 0.45,
                "process.line-force", 1e4,
                "process.web-speed", 0.01,
                "process.exposure", 10.0,
                "stamp.transmission", 0.9));

        complete("uv-acrylate");

        assertThat(problems).isEmpty();
        // The table's roller runs on steel (E* 6.26941483 MPa); a rigid face makes 6.26959 MPa.
        assertThat(quantities.get("process.pressure")).isCloseTo(496184.789, withinPercentage(0.01));
        assertThat(quantities.get("process.hold")).isCloseTo(2.01537818, withinPercentage(0.01));

        quantities.put("process.lamp-delay", 1.0);
        quantities.put("process.lamp-distance", 0.1);
        complete("uv-acrylate");
        assertThat(problems)
                .extracting(Problem::place)
                .containsExactly("process.pressure", "process.hold", "process.lamp-delay");
    }

    @Test
    void a_film_that_would_be_solid_is_told_with_the_temperature_that_works() {
        quantities.put("process.temperature", 350.0);

        complete("pmma-75k");

        assertThat(problems)
                .singleElement()
                .satisfies(problem -> assertThat(problem.line()).contains("process.temperature", "76.9", "105 degC"));
    }

    @Test
    void what_follows_from_a_doubtful_value_is_doubtful_and_no_second_problem() {
        words.put("process.kind", "hot-press");
        quantities.put("process.pressure", 5e6);
        quantities.put("process.hold", 100.0);
        quantities.put("process.cooling-rate", 0.3);
        quantities.put("release.temperature", 333.15);

        JobCompletion.Completed lacking = given(named("pmma-75k"));
        assertThat(lacking.problems()).extracting(Problem::place).containsExactly("process.temperature");

        JobCompletion.Completed told = JobCompletion.complete(
                new ValueSet(quantities, words, tables, Set.of("process.temperature")), named("pmma-75k"));
        assertThat(told.problems()).isEmpty();
        assertThat(told.values().doubtful()).contains("process.temperature", "film.viscosity");
        assertThat(told.values().numbers()).doesNotContainKey("film.viscosity").containsKey("film.modulus");
    }

    @Test
    void a_missing_value_is_told_beside_a_doubtful_one() {
        words.put("process.kind", "hot-press");
        quantities.put("process.temperature", 460.0);
        quantities.put("process.pressure", 5e6);
        quantities.put("release.temperature", 333.15);

        JobCompletion.Completed told = JobCompletion.complete(
                new ValueSet(quantities, words, tables, Set.of("process.hold")), named("pmma-75k"));

        assertThat(told.problems()).extracting(Problem::place).containsExactly("process.cooling-rate");
    }

    @Test
    void a_material_that_is_not_known_leaves_open_all_that_it_might_have_answered() {
        quantities.put("process.temperature", 460.0);

        JobCompletion.Completed told = JobCompletion.complete(
                new ValueSet(quantities, words, tables, MaterialAnswers.answeredBy(MaterialKind.FILM)),
                NamedMaterials.NONE);

        assertThat(told.problems()).isEmpty();
        assertThat(told.values().doubtful())
                .contains("film.viscosity", "film.glass-temperature", "film.modulus", "film.set-temperature")
                .doesNotContain("stamp.modulus");
    }
}
