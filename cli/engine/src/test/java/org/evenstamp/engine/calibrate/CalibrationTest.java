package org.evenstamp.engine.calibrate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.analysis.statistics.Distribution;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Fits to readings whose truth is known: a run of the same job with other values, and noise. */
class CalibrationTest {
    private static final Pipeline PIPELINE = new Pipeline(AnalysisFinder.find(List.of()));
    private static final RunOptions ONE = RunOptions.STANDARD.withThreads(1);

    @TempDir
    Path directory;

    /** Land of several widths, so that the layer tells viscosity and film apart. */
    @BeforeEach
    void layout() throws IOException {
        StringBuilder text = new StringBuilder();
        for (int x = 0; x < 800; x += 20) {
            int width = x < 300 ? 10 : x < 500 ? 5 : 0;
            if (width > 0) {
                text.append(String.format(
                        Locale.ROOT,
                        "{\"type\": \"Polygon\", \"coordinates\": [[[%d, 0], [%d, 0], [%d, 800], [%d, 800], [%d, 0]]]}%n",
                        x,
                        x + width,
                        x + width,
                        x,
                        x));
            }
        }
        Files.writeString(directory.resolve("lines.geojson"), text);
    }

    private Job job(String free) throws IOException {
        Path file = directory.resolve("job.yaml");
        Files.writeString(file, """
                layout:
                  file: lines.geojson
                  unit: um
                  drawn: cavities
                  outline: {min: ["0 um", "0 um"], max: ["800 um", "800 um"]}
                tiles: {side: "80 um"}
                stamp: {depth: "100 nm", modulus: "1 GPa", layer.modulus: "10 MPa", layer.thickness: "100 um"}
                film: {thickness: "250 nm", viscosity: "1e5 Pa s"}
                process: {pressure: "2 MPa", hold: "60 s"}
                calibrate:
                  free: %s
                """.formatted(free));
        return Job.read(file, PIPELINE);
    }

    /** The layer of a job by fine time steps: what is read off a wafer has no error of steps. */
    private static Field residual(Job asked) {
        Job job = asked.with("film.step-error", "0.02 %");
        return Simulation.analyse(job, Simulation.measure(job, ONE, new Progress()), ONE, new Progress())
                .fields()
                .find("residual.final")
                .orElseThrow();
    }

    /** Readings of a job, a place in every third tile, with noise. */
    private static Readings readings(Job truth, double deviationSi, long seed) {
        Field field = residual(truth);
        SplittableRandom random = new SplittableRandom(seed);
        List<Readings.Reading> readings = new ArrayList<>();
        for (int i = 0; i < field.grid().size(); i += 3) {
            double score = Distribution.StandardNormal.quantile(random.nextDouble(1e-9, 1 - 1e-9));
            readings.add(new Readings.Reading(
                    field.grid().centreXMetres(field.grid().column(i)),
                    field.grid().centreYMetres(field.grid().row(i)),
                    field.at(i) + deviationSi * score,
                    deviationSi,
                    i));
        }
        return new Readings("residual.final", readings);
    }

    private CalibrationResult fit(Job job, Readings readings) {
        return Calibration.fit(job, readings, FreeKeysReader.read(job), ONE, new Progress());
    }

    @Test
    void a_known_truth_is_found_within_its_errors() throws IOException {
        Job job = job("[{key: film.viscosity, factor: 3}, {key: film.thickness, deviation: 5 nm}]");
        Job truth = job.with(Map.of("film.viscosity", "1.6e5 Pa s", "film.thickness", "253 nm"));

        CalibrationResult found = fit(job, readings(truth, 0.5e-9, 7));

        CalibrationResult.Value viscosity = found.values().get(0);
        CalibrationResult.Value film = found.values().get(1);
        assertThat(Math.abs(Math.log(viscosity.si() / 1.6e5))).isLessThan(4 * viscosity.error());
        assertThat(Math.abs(film.si() - 253e-9)).isLessThan(4 * film.error());
        assertThat(found.untold()).isEmpty();
        assertThat(film.error()).isLessThan(1e-9);
        assertThat(found.probability()).isBetween(1e-4, 1 - 1e-4);
        assertThat(found.runs()).isLessThanOrEqualTo(15);
        assertThat(found.job().settings().quantity("film.thickness")).isCloseTo(film.si(), within(1e-15));
        assertThat(found.leftOutSi()).isBetween(0.2e-9, 1e-9);
    }

    /** 95 % intervals that are right miss the truth in 5 of 100 seeds, and in 0 to 5 of 25 but for one chance in a hundred. */
    @Test
    @Tag("slow")
    void intervals_hold_the_truth_as_often_as_they_say() throws IOException {
        // The press opens while tiles still fill: a layer that has nothing left to fill tells little of the viscosity.
        Job job = job("[{key: film.viscosity}]").with("process.hold", "8 s");
        Job truth = job.with("film.viscosity", "1.3e5 Pa s");
        int missed = 0;
        for (long seed = 1; seed <= 25; seed++) {
            CalibrationResult.Value found =
                    fit(job, readings(truth, 1e-9, seed)).values().get(0);
            if (Math.abs(Math.log(found.si() / 1.3e5)) > Distribution.StandardNormal.TWO_SIDED_95 * found.error()) {
                missed++;
            }
        }
        assertThat(missed).isLessThanOrEqualTo(5);
    }

    @Test
    void a_place_that_does_not_fit_is_seen() throws IOException {
        Job job = job("[{key: film.thickness}]");
        Readings right = readings(job, 0.5e-9, 3);
        List<Readings.Reading> spoilt = new ArrayList<>(right.readings());
        Readings.Reading one = spoilt.get(5);
        spoilt.set(5, new Readings.Reading(one.xMetres(), one.yMetres(), one.valueSi() + 10e-9, 0.5e-9, one.line()));

        CalibrationResult found = fit(job, new Readings("residual.final", spoilt));

        assertThat(found.places().get(5).studentised()).isGreaterThan(10);
        assertThat(found.probability()).isLessThan(1e-6);
    }

    @Test
    void keys_that_do_the_same_are_said_to_go_together() throws IOException {
        // The flow knows hold over viscosity alone.
        Job job = job("[{key: film.viscosity, factor: 3}, {key: process.hold, factor: 3}]");

        CalibrationResult found = fit(job, readings(job, 0.5e-9, 4));

        assertThat(found.untold()).hasSize(1);
        assertThat(found.untold().get(0).parts()).containsOnlyKeys("film.viscosity", "process.hold");
        // A longer hold does what a lower viscosity does.
        double viscosity = found.untold().get(0).parts().getOrDefault("film.viscosity", 0.0);
        double hold = found.untold().get(0).parts().getOrDefault("process.hold", 0.0);
        assertThat(viscosity * hold).isCloseTo(0.5, within(0.05));
    }

    @Test
    void further_places_lower_the_errors() throws IOException {
        Job job = job("[{key: film.viscosity, factor: 3}, {key: film.thickness, deviation: 5 nm}]");
        CalibrationResult found = fit(job, readings(job, 2e-9, 5));

        assertThat(found.next()).hasSize(5);
        assertThat(found.next().get(0).error(0))
                .isLessThanOrEqualTo(found.values().get(0).error());
        assertThat(found.next().get(4).error(0))
                .isLessThan(found.values().get(0).error());
        assertThat(found.next().get(4).error(1))
                .isLessThan(found.values().get(1).error());
    }

    @Test
    void a_place_beyond_the_stamp_is_refused_with_its_line() throws IOException {
        Job job = job("[{key: film.thickness}]");
        Readings beyond = new Readings(
                "residual.final",
                List.of(
                        new Readings.Reading(1e-3, 1e-4, 2e-7, 1e-9, 2),
                        new Readings.Reading(1e-4, 1e-4, 2e-7, 1e-9, 3)));

        assertThatThrownBy(() -> fit(job, beyond))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("line 2")
                .hasMessageContaining("beyond the stamp");
    }

    @Test
    void one_place_does_not_tell_three_keys() throws IOException {
        Job job = job("[{key: film.thickness}, {key: film.viscosity}, {key: process.pressure}]");
        Readings one = new Readings("residual.final", List.of(new Readings.Reading(1e-4, 1e-4, 2e-7, 1e-9, 2)));

        assertThatThrownBy(() -> fit(job, one))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("1 measurements and 0 priors do not determine 3 free values");
    }

    /** Readings with 5 nm of noise that say they have 1 nm: what is missing is 4.9 nm, and the errors must grow with it. */
    @Test
    void a_model_error_is_what_the_readings_differ_by_beyond_their_own() throws IOException {
        Job job = job("[{key: film.thickness}]");
        List<Readings.Reading> bold = new ArrayList<>();
        for (Readings.Reading one : readings(job, 5e-9, 11).readings()) {
            bold.add(new Readings.Reading(one.xMetres(), one.yMetres(), one.valueSi(), 1e-9, one.line()));
        }
        Readings readings = new Readings("residual.final", bold);

        CalibrationResult without = fit(job, readings);
        CalibrationResult with = fit(job.with("calibrate.model-error", "estimated"), readings);

        assertThat(without.modelErrorSi()).isZero();
        assertThat(without.probability()).isLessThan(1e-6);
        // 34 readings tell a deviation to a factor 1.25 or so.
        assertThat(with.modelErrorSi()).isBetween(3.3e-9, 6.7e-9);
        assertThat(with.chiSquare()).isCloseTo(with.freedom(), within(0.5));
        assertThat(with.values().get(0).error())
                .isBetween(
                        3 * without.values().get(0).error(),
                        8 * without.values().get(0).error());
    }

    @Test
    void readings_that_the_job_explains_need_no_model_error() throws IOException {
        Job job = job("[{key: film.thickness}]").with("calibrate.model-error", "estimated");
        Readings exact = readings(job, 1e-12, 3).withDeviations(new double[34]);
        double[] wide = new double[exact.readings().size()];
        java.util.Arrays.fill(wide, 1e-9);

        assertThat(fit(job, exact.withDeviations(wide)).modelErrorSi()).isZero();
    }

    @Test
    void a_fit_stays_within_its_bounds() throws IOException {
        Job job = job("[{key: film.thickness, least: 245 nm, most: 251 nm}]");
        Job truth = job.with("film.thickness", "255 nm");

        assertThat(fit(job, readings(truth, 0.5e-9, 2)).values().get(0).si()).isCloseTo(251e-9, within(1e-12));
    }

    @Test
    void places_to_measure_next_keep_out_and_apart() throws IOException {
        Job job = job("""
                [{key: film.viscosity, factor: 3}, {key: film.thickness, deviation: 5 nm}]
                  next: 4
                  keep-out:
                    - {min: [0 um, 0 um], max: [400 um, 800 um]}
                """);
        CalibrationResult found = fit(job, readings(job, 2e-9, 5));

        assertThat(found.next()).hasSize(4);
        assertThat(found.next()).allSatisfy(place -> assertThat(place.xMetres()).isGreaterThan(400e-6));
        for (CalibrationResult.NextPlace one : found.next()) {
            for (CalibrationResult.NextPlace other : found.next()) {
                assertThat(one == other
                                || Math.max(
                                                Math.abs(one.xMetres() - other.xMetres()),
                                                Math.abs(one.yMetres() - other.yMetres()))
                                        > 150e-6)
                        .isTrue(); // tiles of 80 um: not the same, and not side by side
            }
        }
    }

    @Test
    void a_keep_out_that_is_no_rectangle_is_one_problem() throws IOException {
        Job job = job("[{key: film.thickness}]\n  keep-out: [{min: [1 mm, 0 mm], max: [0 mm, 1 mm]}]");
        Readings one = new Readings("residual.final", List.of(new Readings.Reading(1e-4, 1e-4, 2e-7, 1e-9, 2)));

        assertThatThrownBy(() -> fit(job, one))
                .isInstanceOfSatisfying(
                        InputException.class, e -> assertThat(e.problems()).hasSize(1))
                .hasMessageContaining("calibrate.keep-out: min must lie to the left of and below max")
                .hasMessageContaining("job.yaml:12");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "[] | does not say what a fit may change",
                "[{key: film.thicknes}] | has no number film.thicknes",
                "[{key: film.viscosity, factor: 1}] | above 1",
                "[{key: film.thickness, deviation: 3 s}] | does not measure",
                "[{key: tiles.side}] | changes the tile map",
                "[{keys: film.viscosity}] | does not name a key",
                "[{key: film.thickness, least: 260 nm}] | must lie between least and most",
                "[{key: film.thickness, factor: 2, deviation: 1 nm}] | does not name a key",
                "[{key: sweep.samples}] | no number of the stamp, the film or the process"
            })
    void a_mistake_in_the_free_keys_is_one_problem(String free, String message) throws IOException {
        Job job = job(free);

        assertThatThrownBy(() -> FreeKeysReader.read(job))
                .isInstanceOfSatisfying(
                        InputException.class, e -> assertThat(e.problems()).hasSize(1))
                .hasMessageContaining(message);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "x_mm,y_mm,residual_nm~1,2,100~3,4,101 | ",
                "x_um,y_um,residual_nm,sigma_nm,who~1,2,100,1,7 | ",
                "x_um,y_um,step_nm~1,2,100 | ",
                "x_mm,y_mm~1,2 | residual_nm is missing",
                "x_mm,y_mm,residual_nm,sigma_nm~1,2,100,-1 | not above 0",
                "x_mm,y_mm,residual_nm~1,2,100~1,2,101 | stands on line 2 already",
                "x_mm,y_mm,residual~1,2,100 | has no unit"
            })
    void readings_are_read_with_all_their_problems(String text, String message) throws IOException {
        Path file = directory.resolve("readings.csv");
        Files.writeString(file, text.replace('~', '\n') + "\n");
        String problem = "";
        try {
            Readings readings = ReadingsFile.read(file, 2e-9);
            assertThat(readings.readings().get(0).valueSi()).isCloseTo(100e-9, within(1e-15));
        } catch (InputException e) {
            problem = String.valueOf(e.getMessage());
        }
        assertThat(problem).contains(message == null ? "" : message);
        assertThat(problem.isEmpty()).isEqualTo(message == null);
    }
}
