package org.evenstamp.engine.job;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Source;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class JobTest {
    private static final String TEXT = """
            layout: {file: layout.geojson}
            stamp: {depth: "150 nm"}
            film: {thickness: "200 nm", share: "0.3"}
            limits:
              film.left: {each: ">= 10 nm", spread: "<= 40 nm"}
            """;

    @TempDir
    Path directory;

    @BeforeEach
    void layouts() throws IOException {
        Files.writeString(directory.resolve("layout.geojson"), "{}");
        Files.writeString(directory.resolve("other.geojson"), "{}");
    }

    private Job job() throws IOException {
        return Job.read(Files.writeString(directory.resolve("job.yaml"), TEXT), SampleAnalysis.pipeline());
    }

    private Source at(int line, int column) {
        return new Source(directory.resolve("job.yaml").toString(), line, column);
    }

    private static List<String> problems(org.assertj.core.api.ThrowableAssert.ThrowingCallable call) {
        return catchThrowableOfType(InputException.class, call).problems().stream()
                .map(Problem::line)
                .toList();
    }

    @Test
    void a_job_with_another_value_leaves_the_first_as_it_is() throws IOException {
        Job job = job();

        Job thicker = job.with("film.thickness", "0.3 um");

        assertThat(thicker.settings().quantity("film.thickness")).isCloseTo(3e-7, withinPercentage(1e-12));
        assertThat(job.settings().quantity("film.thickness")).isCloseTo(2e-7, withinPercentage(1e-12));
        assertThat(thicker.settings().quantity("film.share")).isEqualTo(0.3);
        assertThat(thicker.limits()).isEqualTo(job.limits());
        assertThat(thicker.output()).isEqualTo(job.output());
        assertThat(thicker.with("film.thickness", "200 nm").settings()).isEqualTo(job.settings());
    }

    @Test
    void every_kind_of_value_can_be_set() throws IOException {
        Job other = job().with(Map.of(
                "layout.file",
                "other.geojson",
                "layout.outline",
                "{min: [\"-1 mm\", \"-2 mm\"], max: [\"1 mm\", \"2 mm\"]}",
                "film.kind",
                "liquid",
                "process.steps",
                "[{time: 1 s}, {time: 2 s, pressure: 3 MPa}]",
                "limits.film.left.each",
                ">= 5 nm",
                "limits.cavity.fraction",
                "{mean: \"<= 50 %\"}"));

        assertThat(other.layout().layers().get(0).file()).isEqualTo(directory.resolve("other.geojson"));
        assertThat(other.layout().outline()).isEqualTo(new MapOptions.Outline(-1e-3, -2e-3, 1e-3, 2e-3));
        assertThat(other.settings().choice("film.kind")).isEqualTo("liquid");
        assertThat(other.settings().table("process.steps"))
                .containsExactly(Map.of("time", 1.0, "pressure", 1e6), Map.of("time", 2.0, "pressure", 3e6));
        assertThat(other.limits())
                .containsExactly(
                        new Limit("film.left", Limit.Measure.EACH, Limit.Side.AT_LEAST, 5e-9, at(0, 0)),
                        new Limit("film.left", Limit.Measure.SPREAD, Limit.Side.AT_MOST, 4e-8, at(5, 41)),
                        new Limit("cavity.fraction", Limit.Measure.MEAN, Limit.Side.AT_MOST, 0.5, at(0, 0)));
    }

    @Test
    void a_number_in_si_is_kept_to_the_last_bit() throws IOException {
        double metres = Math.nextUp(1.234567890123e-7);
        double kelvin = Math.nextDown(411.1);

        Job other = job().with("film.thickness", metres).with("process.temperature", kelvin);

        assertThat(other.settings().quantity("film.thickness")).isEqualTo(metres);
        assertThat(other.settings().quantity("process.temperature")).isEqualTo(kelvin);
        assertThat(problems(() -> job().with("film.thickness", Double.NaN))).hasSize(1);
        assertThat(problems(() -> job().with("film.thickness", 1.0)))
                .singleElement()
                .asString()
                .contains("outside");
    }

    @Test
    void keys_limits_and_sections_can_be_left_out() throws IOException {
        assertThat(job().without("film.share").settings().quantity("film.share"))
                .isEqualTo(0.5);
        assertThat(job().without("limits.film.left.spread").limits()).hasSize(1);
        assertThat(job().with(Map.of(), Set.of("limits", "film")).plan().running())
                .isEmpty();
        assertThat(job().without("film.kind").content()).isEqualTo(job().content());
    }

    @Test
    void a_wrong_change_is_refused_as_in_a_file_and_names_its_key() throws IOException {
        Job job = job();
        String place = directory.resolve("job.yaml") + ": ";

        assertThat(problems(() -> job.with("film.thickness", "200")))
                .containsExactly(
                        place + "film.thickness needs a unit, is the bare number 200 (write \"200 nm\" if that is"
                                + " the unit meant)");
        assertThat(problems(() -> job.with("film.thikness", "1 nm")))
                .containsExactly(place + "there is no key film.thikness (did you mean film.thickness?)");
        assertThat(problems(() -> job.with("layout.file", "none.geojson")))
                .singleElement()
                .asString()
                .contains("there is no layout file");
        assertThat(problems(() -> job.with("process.steps", "[{time: 1 s}")))
                .singleElement()
                .asString()
                .startsWith(place + "process.steps")
                .contains("is not valid");
        assertThat(problems(() -> job.with(Map.of("film.share", "7", "stamp.depth", "1 s"))))
                .hasSize(2);
        assertThat(problems(() -> job.without("stamp.depth")))
                .singleElement()
                .asString()
                .contains("does not set stamp.depth");
    }

    @Test
    void a_change_reads_no_file_again() throws IOException {
        Files.writeString(
                directory.resolve("film.csv"), "x_mm,y_mm,thickness_nm\n-1,-1,200\n1,-1,210\n-1,1,220\n1,1,230\n");
        Job job = job().with(Map.of("film.thickness-map", "film.csv"), Set.of("film.thickness"));
        for (String file : List.of("film.csv", "job.yaml", "layout.geojson")) {
            Files.delete(directory.resolve(file));
        }

        Job other = job.with("stamp.depth", "90 nm");

        assertThat(other.film()).isNotNull();
        assertThat(other.depthMetres()).isCloseTo(9e-8, withinPercentage(1e-12));
    }

    @Test
    void a_job_of_some_analyses_has_no_limits() throws IOException {
        assertThat(job().only(Set.of("sample")).plan().running()).hasSize(1);
        assertThat(job().only(Set.of()).plan().running()).isEmpty();
        assertThat(job().only(Set.of()).limits()).isEmpty();
    }

    @Test
    void another_recipe_keeps_what_it_is_told_to_alone() throws IOException {
        Job other = job().withRecipe(Set.of("film.thickness"), Map.of("film.kind", "liquid"));

        assertThat(other.settings().quantity("film.thickness")).isCloseTo(2e-7, withinPercentage(1e-12));
        assertThat(other.settings().quantity("film.share")).isEqualTo(0.5);
        assertThat(other.settings().choice("film.kind")).isEqualTo("liquid");
        assertThat(other.limits()).isEmpty();
    }
}
