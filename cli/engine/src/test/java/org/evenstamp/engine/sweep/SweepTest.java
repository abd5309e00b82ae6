package org.evenstamp.engine.sweep;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.Job;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class SweepTest {
    private static final Pipeline PIPELINE = new Pipeline(AnalysisFinder.find(List.of()));

    @TempDir
    Path directory;

    /** Ten lines of 10 um, 30 um apart, on a periodic stamp: by the balance, the layer is the film less 37.5 nm. */
    @BeforeEach
    void layout() throws IOException {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < 10; i++) {
            int x = 40 * i + 15;
            text.append(String.format(
                    "{\"type\": \"Polygon\", \"coordinates\": [[[%d, 0], [%d, 0], [%d, 400], [%d, 400], [%d, 0]]]}%n",
                    x, x + 10, x + 10, x, x));
        }
        Files.writeString(directory.resolve("lines.geojson"), text);
    }

    private Job job(String sweep) throws IOException {
        Path file = directory.resolve("job.yaml");
        Files.writeString(file, """
                layout:
                  file: lines.geojson
                  unit: um
                  drawn: cavities
                  outline: {min: ["0 um", "0 um"], max: ["400 um", "400 um"]}
                tiles: {side: "40 um"}
                stamp: {depth: "150 nm"}
                film: {thickness: "250 nm", viscosity: "1e4 Pa s"}
                process: {pressure: "5 MPa", hold: "20 s"}
                limits:
                  residual.local: {each: ">= 210 nm"}
                """ + sweep);
        return Job.read(file, PIPELINE);
    }

    private SweepSummary run(SweepPlan plan, String store, int threads) {
        try (SweepStore kept = SweepStore.open(directory.resolve(store), "test")) {
            Sweep.run(plan, kept, threads, new Progress());
            return SweepSummary.of(plan, kept.points());
        }
    }

    private static List<Problem> problems(Job job) {
        try {
            SweepReader.read(job);
            return List.of();
        } catch (InputException e) {
            return e.problems();
        }
    }

    @Test
    void a_grid_runs_every_combination() throws IOException {
        SweepPlan plan = SweepReader.read(job("""
                sweep:
                  design: grid
                  vary:
                    - {key: film.thickness, values: ["240 nm", "250 nm"]}
                    - {key: process.pressure, from: "2 MPa", to: "8 MPa", steps: 3}
                """));
        SweepSummary found = run(plan, "grid", 2);

        assertThat(plan.size()).isEqualTo(6);
        assertThat(plan.changes(1))
                .containsEntry("film.thickness", "240 nm")
                .containsEntry("process.pressure", "5 MPa");
        // By the balance 240 nm of film leave 202.5 nm, which is less than the limit, and 250 nm leave 212.5 nm.
        assertThat(found.points().stream().map(SweepPoint::withinLimits))
                .containsExactly(false, false, false, true, true, true);
        assertThat(found.points().get(0).limits().get(0).getAsDouble()).isCloseTo(202.5e-9, within(1e-12));
        ProcessWindow window = ProcessWindow.of(plan, found.points()).get(0);
        assertThat(window.openShare()).isEqualTo(0.5);
        assertThat(window.closing().get(0)).containsExactly(0);
        assertThat(window.closing().get(1)).isEmpty();
    }

    /** The layer is the film less 37.5 nm, so with a normal film the chance of less than 210 nm has a closed form. */
    @Test
    void the_chance_of_a_normal_film_is_that_of_the_tables() throws IOException {
        SweepPlan plan = SweepReader.read(job("""
                sweep:
                  samples: 256
                  vary:
                    - {key: film.thickness, mean: "250 nm", deviation: "2.5 nm"}
                """));
        SweepSummary found = run(plan, "chance", 2);

        // 210 nm is one deviation below the mean of 212.5 nm: 15.8655 % (standard normal table).
        assertThat(found.broken().orElseThrow().share()).isCloseTo(0.158655, within(2.0 / 256));
        SweepSummary.OneLimit limit = found.limits().get(0);
        assertThat(limit.broken().least()).isLessThan(0.158655);
        assertThat(limit.broken().most()).isGreaterThan(0.158655);
        assertThat(limit.median()).isCloseTo(212.5e-9, within(0.1e-9));
        assertThat(limit.low()).isCloseTo((212.5 - 1.644854 * 2.5) * 1e-9, within(0.2e-9));
    }

    @Test
    void the_same_points_for_any_number_of_threads() throws IOException {
        SweepPlan plan = SweepReader.read(job("""
                sweep:
                  samples: 8
                  keep: [residual.final]
                  vary:
                    - {key: film.viscosity, median: 1e4 Pa s, factor: 3}
                    - {key: film.thickness, mean: "250 nm", deviation: "5 nm"}
                """));

        assertThat(run(plan, "one", 1)).isEqualTo(run(plan, "two", 3));
    }

    @Test
    void a_stopped_sweep_goes_on_where_it_was_and_a_torn_line_runs_again() throws IOException {
        Job job = job("""
                sweep:
                  samples: 6
                  keep: [residual.local]
                  vary:
                    - {key: film.thickness, from: "240 nm", to: "260 nm"}
                """);
        SweepPlan plan = SweepReader.read(job);
        SweepSummary whole = run(plan, "whole", 1);
        run(plan, "torn", 1);
        Path journal = directory.resolve("torn").resolve(SweepStore.JOURNAL);
        byte[] bytes = Files.readAllBytes(journal);
        Files.write(journal, java.util.Arrays.copyOf(bytes, bytes.length - 30));
        try (SweepStore store = SweepStore.open(directory.resolve("torn"), "test")) {
            assertThat(store.points()).hasSize(5);
        }

        assertThat(run(plan, "torn", 1)).isEqualTo(whole);
        assertThat(Files.readString(journal, StandardCharsets.UTF_8).lines()).hasSize(7);
    }

    @Test
    void more_samples_add_only_the_new_ones() throws IOException {
        String sweep = """
                sweep:
                  samples: %d
                  vary:
                    - {key: film.thickness, from: "240 nm", to: "260 nm"}
                """;
        run(SweepReader.read(job(sweep.formatted(4))), "more", 1);
        SweepPlan larger = SweepReader.read(job(sweep.formatted(8)));
        try (SweepStore store = SweepStore.open(directory.resolve("more"), "test")) {
            assertThat(store.points()).hasSize(4);
        }

        assertThat(run(larger, "more", 1)).isEqualTo(run(larger, "fresh", 1));
    }

    @Test
    void a_store_of_another_sweep_is_not_touched() throws IOException {
        run(SweepReader.read(job("sweep: {samples: 1, vary: [{key: film.thickness, values: [250 nm]}]}\n")), "own", 1);

        assertThatThrownBy(() -> SweepStore.open(directory.resolve("own"), "other"))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("another job");
    }

    @Test
    void a_store_in_use_is_refused() {
        try (SweepStore first = SweepStore.open(directory.resolve("busy"), "test")) {
            assertThat(first.points()).isEmpty();
            assertThatThrownBy(() -> SweepStore.open(directory.resolve("busy"), "test"))
                    .isInstanceOf(InputException.class)
                    .hasMessageContaining("another process");
        }
    }

    @Test
    void a_point_that_cannot_be_is_a_row_with_its_reason() throws IOException {
        SweepPlan plan = SweepReader.read(job("""
                sweep:
                  design: grid
                  vary:
                    - {key: film.thickness, values: ["250 nm", "260 nm", "0 nm"]}
                """));
        SweepSummary found = run(plan, "failed", 2);

        assertThat(found.failed()).isEqualTo(1);
        assertThat(found.points().get(2).failure()).contains("film.thickness");
        assertThat(found.points().get(1).finished()).isTrue();
    }

    @Test
    void a_cancelled_sweep_keeps_what_has_ended() throws IOException {
        SweepPlan plan = SweepReader.read(job("""
                sweep:
                  samples: 100000
                  vary:
                    - {key: film.thickness, from: "240 nm", to: "260 nm"}
                """));
        Progress progress = new Progress();
        try (SweepStore store = SweepStore.open(directory.resolve("cancelled"), "test")) {
            Thread stop = new Thread(() -> {
                while (store.points().size() < 2) {
                    Thread.onSpinWait();
                }
                progress.cancel();
            });
            stop.start();

            assertThatThrownBy(() -> Sweep.run(plan, store, 2, progress)).isInstanceOf(CancelledException.class);
            assertThat(store.points()).hasSizeGreaterThanOrEqualTo(2);
        }
    }

    @Test
    void maps_hold_mean_quantiles_and_chances_of_each_tile() throws IOException {
        Job job = job("""
                sweep:
                  design: grid
                  keep: [residual.local]
                  vary:
                    - {key: film.thickness, values: ["240 nm", "250 nm", "260 nm", "270 nm"]}
                """);
        SweepPlan plan = SweepReader.read(job);
        try (SweepStore store = SweepStore.open(directory.resolve("maps"), "test")) {
            Sweep.run(plan, store, 2, new Progress());
            var tiles = org.evenstamp.engine.run.Simulation.measure(
                    job, org.evenstamp.engine.run.RunOptions.STANDARD, new Progress());
            var maps =
                    SweepMaps.of(plan, store, List.of(job.fieldName("residual.local")), tiles.grid(), new Progress());

            assertThat(maps.find("residual.local.mean").orElseThrow().at(17)).isCloseTo(217.5e-9, within(1e-12));
            assertThat(maps.find("residual.local.p50").orElseThrow().at(17)).isCloseTo(217.5e-9, within(1e-12));
            assertThat(maps.find("residual.local.out").orElseThrow().at(17)).isEqualTo(0.25);
            // Of 202.5, 212.5, 222.5 and 232.5 the squares about the mean are 225, 25, 25, 225.
            assertThat(maps.find("residual.local.deviation").orElseThrow().at(17))
                    .isCloseTo(Math.sqrt(125) * 1e-9, within(1e-12));
        }
    }

    /** By the balance the layer falls with the film alone: all of its variance is the film's. */
    @Test
    void indices_find_what_matters() throws IOException {
        SweepPlan plan = SweepReader.read(job("""
                sweep:
                  design: indices
                  samples: 64
                  vary:
                    - {key: film.thickness, from: "240 nm", to: "260 nm"}
                    - {key: film.viscosity, median: 1e4 Pa s, factor: 3}
                """));
        SweepSummary found = run(plan, "indices", 2);
        var indices = found.limits().get(0).indices().orElseThrow();

        assertThat(plan.size()).isEqualTo(4 * 64);
        assertThat(indices.total().get(0).value()).isCloseTo(1, within(0.05));
        assertThat(indices.total().get(1).value()).isCloseTo(0, within(1e-9));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{samples: 3} | does not say what varies",
                "{vary: [{key: film.thicknes, values: [1 nm]}]} | there is no key film.thicknes",
                "{vary: [{key: film.thickness, from: 260 nm, to: 240 nm}]} | reversed",
                "{vary: [{key: film.thickness, from: 240 nm}]} | it takes key and one of",
                "{vary: [{key: film.thickness, mean: 250 nm, deviation: 3 s}]} | does not measure",
                "{vary: [{key: film.viscosity, median: 1e4 Pa s, factor: 0.5}]} | above 1",
                "{vary: [{key: film.thickness, values: []}]} | has no values",
                "{vary: [{key: film.thickness, values: [240 nm]}, {key: film.thickness, values: [1 nm]}]} | varies twice",
                "{keep: [residual.fnal], vary: [{key: film.thickness, values: [240 nm]}]} | no field",
                "{keep: [residual.final], vary: [{key: tiles.side, values: [40 um, 80 um]}]} | same tiles",
            })
    void a_mistake_is_one_problem_with_its_line(String sweep, String message) throws IOException {
        List<Problem> found = problems(job("sweep: " + sweep + "\n"));

        assertThat(found).hasSize(1);
        assertThat(found.get(0).line()).contains(message);
        assertThat(found.get(0).place()).containsPattern("job\\.yaml(:11)?");
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.99, -0.99})
    void numbers_that_go_together_do(double correlation) throws IOException {
        SweepPlan plan = SweepReader.read(job("""
                sweep:
                  samples: 64
                  correlate: [{keys: [film.thickness, film.viscosity], by: %s}]
                  vary:
                    - {key: film.thickness, mean: "250 nm", deviation: "5 nm"}
                    - {key: film.viscosity, median: 1e4 Pa s, factor: 3}
                """.formatted(correlation)));
        int together = 0;
        for (int i = 0; i < 64; i++) {
            double film = Double.parseDouble(
                    plan.changes(i).getOrDefault("film.thickness", "").replace(" nm", ""));
            double viscosity = Double.parseDouble(
                    plan.changes(i).getOrDefault("film.viscosity", "").replace(" Pa s", ""));
            together += (film > 250) == (viscosity > 1e4) ? 1 : 0;
        }
        // Of normal scores with this correlation 95.5 % have the same sign: 1/2 + asin(0.99)/pi.
        assertThat(correlation > 0 ? together : 64 - together).isBetween(57, 64);
    }

    private Job hotJob(String sweep) throws IOException {
        Path file = directory.resolve("hot.yaml");
        Files.writeString(file, """
                layout: {file: lines.geojson, unit: um, drawn: cavities, outline: {min: [0 um, 0 um], max: [400 um, 400 um]}}
                tiles: {side: "40 um"}
                stamp: {depth: "150 nm"}
                film: {thickness: "250 nm", material: ps-50k}
                process: {temperature: "190 degC", pressure: "5 MPa", hold: "20 s"}
                """ + sweep);
        return Job.read(file, PIPELINE);
    }

    /** The library states 37.71 Pa s, 13 to 110 Pa s: a factor sqrt(110/13) either way. */
    @Test
    void a_material_brings_its_own_spread_at_the_temperature_of_the_point() throws IOException {
        SweepPlan plan = SweepReader.read(hotJob("""
                sweep:
                  samples: 32
                  vary:
                    - {key: film.viscosity}
                    - {key: process.temperature, values: [180 degC, 200 degC]}
                    - {key: film.modulus}
                """));

        assertThat(plan.axes().get(0))
                .isInstanceOfSatisfying(
                        SweepAxis.Times.class,
                        times -> assertThat(times.factor()).isCloseTo(Math.sqrt(110.0 / 13), within(1e-12)));
        double least = Double.POSITIVE_INFINITY;
        double most = 0;
        for (int i = 0; i < 32; i++) {
            var changes = plan.changes(i);
            double melt = plan.job()
                    .with("process.temperature", changes.getOrDefault("process.temperature", ""))
                    .settings()
                    .quantity("film.viscosity");
            double factor = plan.variant(i).settings().quantity("film.viscosity") / melt;
            least = Math.min(least, factor);
            most = Math.max(most, factor);
            assertThat(plan.variant(i).settings().quantity("film.modulus")).isBetween(2.28e9, 3.28e9);
        }
        // 1/64 and 63/64 quantiles of a factor that holds 95 %: 2.154 deviations either way.
        double end = Math.pow(110.0 / 13, 0.5 * 2.154 / 1.96);
        assertThat(most).isBetween(end / 1.3, end * 1.6);
        assertThat(1 / least).isBetween(end / 1.3, end * 1.6);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "film.thickness | no material of the job states this, or the job sets it itself",
                "film.bulk-modulus | states 3 GPa and no spread"
            })
    void a_key_without_a_distribution_needs_a_stated_spread(String key, String message) throws IOException {
        List<Problem> found = problems(hotJob("sweep: {vary: [{key: " + key + "}]}\n"));

        assertThat(found).hasSize(1);
        assertThat(found.get(0).line()).contains(message);
    }

    /** The layer is the film less 37.5 nm and 210 nm are asked for, so 250 nm of film may fall to 247.5 nm. */
    @Test
    void the_present_recipe_may_drift_as_far_as_its_limits_hold() throws IOException {
        SweepPlan plan = SweepReader.read(job("""
                sweep:
                  design: grid
                  vary:
                    - {key: film.thickness, from: "240 nm", to: "260 nm", steps: 5}
                    - {key: process.pressure, from: "4 MPa", to: "6 MPa", steps: 2}
                    - {key: process.hold, values: ["10 s", "20 s"]}
                """));
        List<ProcessWindow> windows =
                ProcessWindow.of(plan, run(plan, "drift", 2).points());

        assertThat(windows).extracting(ProcessWindow::slice).containsExactly("process.hold 10 s", "process.hold 20 s");
        assertThat(windows.get(0).drifts()).isEmpty();
        assertThat(windows.get(1).drifts())
                .containsExactly(
                        new ProcessWindow.Drift("film.thickness", false, "247.5 nm", false),
                        new ProcessWindow.Drift("film.thickness", true, "260 nm", true),
                        new ProcessWindow.Drift("process.pressure", false, "4 MPa", true),
                        new ProcessWindow.Drift("process.pressure", true, "6 MPa", true));
        assertThat(windows.get(1).marginAt(2, 0.5).orElseThrow()).isCloseTo(2.5 / 210, within(1e-9));
    }

    /** With 245 nm and a deviation of 2.5 nm the chance is 84 % that the layer is below 210 nm: 247.5 nm of film. */
    @Test
    void a_sweep_that_knows_enough_stops() throws IOException {
        SweepPlan plan = SweepReader.read(job("""
                sweep:
                  samples: 1000
                  until: "25 %"
                  vary:
                    - {key: film.thickness, mean: "245 nm", deviation: "2.5 nm"}
                """));
        int[] sizes = new int[2];
        for (int threads = 1; threads <= 2; threads++) {
            try (SweepStore store = SweepStore.open(directory.resolve("until" + threads), "test")) {
                SweepPlan ran = Sweep.run(plan, store, threads, new Progress());
                sizes[threads - 1] = ran.size();
                SweepSummary found = SweepSummary.of(ran, store.points());
                var broken = found.broken().orElseThrow();
                assertThat(broken.most() - broken.least()).isLessThanOrEqualTo(0.25);
                assertThat(broken.share()).isCloseTo(0.8413, within(0.03));
                assertThat(found.convergence()).hasSizeGreaterThanOrEqualTo(2);
                assertThat(found.convergence().get(0).points()).isEqualTo(16);
                assertThat(store.points()).hasSize(ran.size());
            }
        }
        // A Clopper-Pearson interval of about 27 in 32 is 26 % wide, of 54 in 64 18 % (beta quantiles).
        assertThat(sizes).containsExactly(64, 64);
    }

    @Test
    void a_limit_may_be_broken_as_often_as_it_allows() throws IOException {
        String sweep = """
                  fill.share.local: {each: ">= 0.5", chance: "<= 1 %"}
                sweep:
                  samples: 64
                  vary:
                    - {key: film.thickness, mean: "250 nm", deviation: "2.5 nm"}
                """;
        SweepSummary strict = run(SweepReader.read(job(sweep)), "chance-own", 2);
        assertThat(strict.demands()).hasSize(2);
        assertThat(strict.demands().get(0).allowed()).isEqualTo(0.01);
        assertThat(strict.demands().get(0).holds()).isTrue();
        assertThat(strict.demands().get(0).decided()).isFalse(); // 64 samples cannot tell 1 %
        assertThat(strict.demands().get(1).holds()).isFalse(); // 16 % are below 210 nm, and nothing allows that
        assertThat(strict.holds()).isFalse();

        Job allowing = job(sweep).with("sweep.chance", "20 %");
        assertThat(run(SweepReader.read(allowing), "chance-all", 2).holds()).isTrue();
    }

    @ParameterizedTest
    @ValueSource(strings = {"1 %", ">= 1 %", "<= 1 nm", "<= 100 %", "<= -1 %", "[1]"})
    void a_chance_that_is_none_is_one_problem_with_its_line(String chance) {
        assertThatThrownBy(() -> job("  fill.share.local: {each: \">= 0.5\", chance: \"" + chance + "\"}\n"))
                .isInstanceOfSatisfying(InputException.class, e -> {
                    assertThat(e.problems()).hasSize(1);
                    assertThat(e.problems().get(0).place()).contains("job.yaml:12");
                })
                .hasMessageContaining("is not a chance that a sweep may find");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{design: latin, until: 5 %, vary: [{key: film.thickness, values: [240 nm]}]} | no part that could be enough",
                "{correlate: [{keys: [film.thickness, film.viscosity], by: 1.2}], vary: [{key: film.thickness, mean: 250 nm,"
                        + " deviation: 2 nm}, {key: film.viscosity, factor: 2}]} | correlation between -1 and 1",
                "{correlate: [{keys: [film.thickness, film.viscosity], by: 0.9}, {keys: [film.thickness, process.hold], by:"
                        + " 0.9}, {keys: [film.viscosity, process.hold], by: -0.9}], vary: [{key: film.thickness, mean: 250"
                        + " nm, deviation: 2 nm}, {key: film.viscosity, factor: 2}, {key: process.hold, factor: 2}]} | weaken",
                "{vary: [{key: film.thickness, from: 250 nm, to: 250 nm}]} | empty or reversed",
                "{vary: [{key: film.thickness, mean: 250 nm, deviation: -1 nm}]} | must be above 0",
                "{vary: [{key: stamp.kind, factor: 2}]} | no such number",
                "{samples: 1000000, design: indices, vary: [{key: film.thickness, factor: 2}]} | more than 1000000"
            })
    void what_cannot_be_swept_is_one_problem(String sweep, String message) throws IOException {
        List<Problem> found = problems(job("sweep: " + sweep + "\n"));

        assertThat(found).hasSize(1);
        assertThat(found.get(0).line()).contains(message);
        assertThat(found.get(0).place()).contains("job.yaml");
    }

    @Test
    void a_sweep_of_which_every_run_fails_says_so_and_finds_no_chance() throws IOException {
        SweepPlan plan = SweepReader.read(job("""
                sweep:
                  vary:
                    - {key: film.thickness, mean: "250 nm", deviation: "1 nm"}
                    - {key: process.pressure, from: "5 MPa", to: "6 MPa"}
                """).with("sweep.samples", "4"));
        try (SweepStore store = SweepStore.open(directory.resolve("all-fail"), "test")) {
            for (int i = 0; i < 4; i++) {
                store.add(SweepPoint.failed(i, "no film"), List.of());
            }
            SweepSummary found = SweepSummary.of(plan, store.points());

            assertThat(found.failed()).isEqualTo(4);
            assertThat(found.broken()).isEmpty();
            assertThat(found.limits()).isEmpty();
            assertThat(found.holds()).isFalse();
        }
    }

    /** A kill leaves a journal that ends anywhere, and fields of which the last may be torn or have no line yet. */
    @ParameterizedTest
    @ValueSource(doubles = {0, 0.02, 0.3, 0.5, 0.77, 0.95, 0.999, 1})
    void a_sweep_killed_anywhere_goes_on_to_the_same_numbers(double written) throws IOException {
        Job job = job("""
                sweep:
                  samples: 5
                  keep: [residual.local, residual.final]
                  vary:
                    - {key: film.thickness, from: "240 nm", to: "260 nm"}
                """);
        SweepPlan plan = SweepReader.read(job);
        SweepSummary whole = run(plan, "unharmed", 1);
        run(plan, "killed", 1);
        Path journal = directory.resolve("killed").resolve(SweepStore.JOURNAL);
        byte[] bytes = Files.readAllBytes(journal);
        Files.write(journal, java.util.Arrays.copyOf(bytes, (int) (written * bytes.length)));
        Path fields = directory.resolve("killed").resolve(SweepStore.FIELDS);
        Files.write(fields, new byte[13], java.nio.file.StandardOpenOption.APPEND);

        assertThat(run(plan, "killed", 2)).isEqualTo(whole);
        assertThat(maps(plan, "killed")).isEqualTo(maps(plan, "unharmed"));
    }

    private List<List<Double>> maps(SweepPlan plan, String name) {
        try (SweepStore store = SweepStore.open(directory.resolve(name), "test")) {
            var names = plan.kept().stream().map(plan.job()::fieldName).toList();
            return SweepMaps.of(plan, store, names, store.grid().orElseThrow(), new Progress()).all().stream()
                    .map(map -> java.util.Arrays.stream(map.toArray()).boxed().toList())
                    .toList();
        }
    }
}
