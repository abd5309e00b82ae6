package org.evenstamp.samples.job;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.Outcome;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.analysis.pipeline.Skipped;
import org.evenstamp.engine.job.Job;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.kit.SampleFields;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What the analyses after filling make of jobs that lack numbers or hold impossible ones. */
class AfterFillingInputTest {
    private static final String JOB = """
            layout:
              file: lines.wkt
              unit: um
              drawn: cavities
              outline: {min: ["0 um", "0 um"], max: ["300 um", "300 um"]}
            tiles: {side: "100 um"}
            stamp:
              depth: "150 nm"
              strength: "100 MPa"
              expansion: "2.6e-6 1/K"
              coating: none
            film:
              thickness: "250 nm"
              viscosity: "3e3 Pa s"
              modulus: "3 GPa"
              poisson: "0.35 1"
              strength: "72 MPa"
              surface-energy: "37.5 mJ/m^2"
              expansion: "70e-6 1/K"
              set-temperature: "105 degC"
              plateau-modulus: "0.3 MPa"
              shelf-viscosity: "1e13 Pa s"
            process:
              pressure: "5 MPa"
              hold: "100 s"
              shelf-time: "1 d"
              shelf-loss: "1 %"
            release:
              temperature: "60 degC"
              stamp-energy: "15 mJ/m^2"
              friction: "0.2 1"
              substrate-expansion: "2.6e-6 1/K"
            etch:
              vertical-rate: "2 nm/s"
              lateral-rate: "0.1 nm/s"
            """;

    @TempDir
    Path folder;

    /** Reads the job with a line changed. */
    private Job read(String line, String instead) throws IOException {
        assertThat(JOB).contains(line);
        Files.writeString(folder.resolve("lines.wkt"), "POLYGON ((10 10, 20 10, 20 20, 10 20, 10 10))\n");
        Path file = Files.writeString(folder.resolve("job.yaml"), JOB.replace(line, instead));
        return Job.read(file, new Pipeline(AnalysisFinder.find(List.of())));
    }

    /** Runs what is left of the job on a map of 3 x 3 tiles. */
    private Outcome run(String line, String instead) throws IOException {
        FieldSet map = SampleFields.of(new TileGrid(0, 0, 1e-4, 3, 3), fractions(), 150e-9, 10e-6);
        return read(line, instead).plan().run(map, 1, new Progress());
    }

    private static double[] fractions() {
        return new double[] {0.1, 0.2, 0.3, 0.2, 0.3, 0.4, 0.3, 0.4, 0.5};
    }

    private static List<String> ran(Outcome outcome) {
        return outcome.results().stream().map(answer -> answer.analysis().id()).toList();
    }

    /** Analyses of another kind of press are none that people are told of. */
    private static List<Skipped> told(Outcome outcome) {
        return outcome.skipped().stream().filter(Skipped::isTold).toList();
    }

    @Test
    void a_complete_job_runs_every_analysis() throws IOException {
        Outcome outcome = run("coating: none", "coating: release");

        assertThat(told(outcome)).isEmpty();
        assertThat(ran(outcome)).contains("stress", "release", "standing", "slump", "stamp", "etch");
    }

    @ParameterizedTest
    @CsvSource({
        "'  strength: \"72 MPa\"\n', film.strength, release stress",
        "'  strength: \"100 MPa\"\n', stamp.strength, stamp",
        "'  lateral-rate: \"0.1 nm/s\"\n', etch.lateral-rate, etch",
        "'  shelf-viscosity: \"1e13 Pa s\"\n', film.shelf-viscosity, slump",
    })
    void an_analysis_that_lacks_a_number_names_it_and_the_rest_runs(String line, String number, String skipped)
            throws IOException {
        Outcome outcome = run(line, "");

        assertThat(told(outcome))
                .extracting(one -> one.analysis().id())
                .containsExactlyInAnyOrder(skipped.split(" ", -1));
        assertThat(told(outcome)).allSatisfy(one -> assertThat(one.reason()).contains(number));
        assertThat(ran(outcome)).contains("film", "standing");
    }

    @ParameterizedTest
    @CsvSource({
        "'vertical-rate: \"2 nm/s\"', 'vertical-rate: \"-2 nm/s\"', etch.vertical-rate",
        "'vertical-rate: \"2 nm/s\"', 'vertical-rate: \"0 nm/s\"', etch.vertical-rate",
        "'lateral-rate: \"0.1 nm/s\"', 'lateral-rate: \"-0.1 nm/s\"', etch.lateral-rate",
        "'shelf-time: \"1 d\"', 'shelf-time: \"-1 d\"', process.shelf-time",
        "'friction: \"0.2 1\"', 'friction: \"-0.2 1\"', release.friction",
        "'strength: \"72 MPa\"', 'strength: \"0 MPa\"', film.strength",
        "'coating: none', 'slip-length: \"20 nm\"', stamp.slip-length",
    })
    void a_number_that_cannot_be_is_refused_by_name(String line, String instead, String parameter) {
        assertThatThrownBy(() -> read(line, instead))
                .isInstanceOf(InputException.class)
                .hasMessageContaining(parameter);
    }

    @Test
    void a_lateral_rate_that_eats_the_features_is_told() throws IOException {
        Outcome outcome = run("lateral-rate: \"0.1 nm/s\"", "lateral-rate: \"500 nm/s\"");

        assertThat(outcome.warnings())
                .extracting(Finding.Warning::code)
                .contains("etch.no-window", "etch.features-gone");
    }
}
