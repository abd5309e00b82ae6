package org.evenstamp.engine.sensitivity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.evenstamp.analysis.film.LayerGoal.Measure;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.sensitivity.SensitivityAnswer.OfGoal;
import org.evenstamp.engine.sensitivity.SensitivityAnswer.Share;
import org.evenstamp.engine.sensitivity.SensitivityAnswer.Turned;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The film solve asked backwards, from polygons through the engine. */
class SensitivityTest {
    private static final Pipeline PIPELINE = new Pipeline(AnalysisFinder.find(List.of()));
    private static final String SOFT =
            "kind: bonded-layer, layer.modulus: \"1 GPa\", layer.poisson: \"0.4 1\", layer.thickness: \"100 um\"";

    @TempDir
    Path directory;

    /** Lines of 12 to 30 um on the left half of a map of 800 um, one pad on the right, deeper by its own word. */
    private Job job(String stamp, String film, String process, String limits) throws IOException {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < 10; i++) {
            text.append(polygon(40 * i + 5, 0, 40 * i + 17 + 2 * i, 800, ""));
        }
        text.append(polygon(480, 280, 680, 480, "\"depth\": \"200 nm\""));
        Files.writeString(directory.resolve("lines.geojson"), text);
        Path file = directory.resolve("job.yaml");
        Files.writeString(file, """
                layout:
                  file: lines.geojson
                  unit: um
                  drawn: cavities
                  outline: {min: ["0 um", "0 um"], max: ["800 um", "800 um"]}
                tiles: {side: "40 um", resolution: off}
                stamp: {depth: "150 nm", %s}
                film: {thickness: "300 nm", %s}
                process: {%s}
                limits: {%s}
                """.formatted(stamp, film, process, limits));
        return Job.read(file, PIPELINE);
    }

    private static String polygon(int left, int low, int right, int high, String properties) {
        return String.format(
                "{\"type\": \"Feature\", \"properties\": {%s}, \"geometry\": {\"type\": \"Polygon\", \"coordinates\":"
                        + " [[[%d, %d], [%d, %d], [%d, %d], [%d, %d], [%d, %d]]]}}%n",
                properties, left, low, right, low, right, high, left, high, left, low);
    }

    private static SensitivityAnswer ask(Job job) {
        return Sensitivity.of(job, true, RunOptions.STANDARD, new Progress());
    }

    private static OfGoal goal(SensitivityAnswer answer, Measure measure, String region) {
        return answer.goals().stream()
                .filter(one -> one.goal()
                                .layer()
                                .filter(layer -> layer.measure() == measure)
                                .isPresent()
                        && one.goal().region().equals(region))
                .findFirst()
                .orElseThrow();
    }

    private static double change(OfGoal goal, String key) {
        return goal.turns().stream()
                .filter(turn -> turn.key().equals(key))
                .mapToDouble(Turned::change)
                .findFirst()
                .orElse(0);
    }

    @Test
    void what_a_value_changes_agrees_with_solves_on_both_sides_of_it() throws IOException {
        SensitivityAnswer answer = ask(job(
                SOFT,
                "viscosity: \"1e4 Pa s\"",
                "pressure: \"5 MPa\", hold: \"200 s\"",
                "residual.final: {sigma3: \"<= 80 nm\"}, residual.final@features: {mean: \">= 100 nm\"}"));
        int checked = 0;
        for (OfGoal one : answer.goals()) {
            for (Turned turn : one.turns()) {
                // A tenth of a turn moves tiles over the ends of steps: for times that is more than first order.
                if (turn.checked().isPresent() && one.goal().unit().equals("nm")) {
                    checked++;
                    double difference = turn.checked().getAsDouble();
                    assertThat(turn.change())
                            .as("%s of %s", one.goal().name(), turn.key())
                            .isCloseTo(difference, within(0.02 * Math.abs(difference) + 1e-12));
                }
            }
        }
        assertThat(checked).isGreaterThan(6);
        assertThat(answer.goals().get(0).goal().limit()).isPresent();
        OfGoal filling = answer.goals().get(answer.goals().size() - 1);
        assertThat(filling.goal().unit()).isEqualTo("s");
        assertThat(filling.turns().get(0).checked()).isPresent();
        // Ten per cent more viscosity takes ten per cent more time, since nothing else in it has one.
        assertThat(change(filling, "film.viscosity"))
                .isCloseTo(Math.log(1.1) * filling.value(), within(0.01 * filling.value()));
        assertThat(change(filling, "process.hold")).isCloseTo(0, within(1e-3 * filling.value()));
    }

    @Test
    void the_mean_of_a_full_stamp_gains_what_is_coated_and_loses_what_the_cavities_take() throws IOException {
        SensitivityAnswer answer =
                ask(job(SOFT, "viscosity: \"1e3 Pa s\"", "pressure: \"5 MPa\", hold: \"1000 s\"", ""));
        OfGoal mean = goal(answer, Measure.MEAN, "");
        assertThat(answer.unfilledTiles()).isZero();
        assertThat(change(mean, "film.thickness")).isCloseTo(1e-9, within(1e-12));
        // Lines: 210 um of 800 um, 150 nm; the pad: 200 nm on a sixteenth. One per cent of their mean.
        double held = 210.0 / 800 * 150e-9 + 200e-9 / 16;
        assertThat(change(mean, "stamp.depth-scale")).isCloseTo(-0.01 * held, within(2e-12));
        // More film is worth the same everywhere; more cavities cost the depth that they would have.
        Field film = answer.results().fields().find("help.film.mean").orElseThrow();
        Field cavity = answer.results().fields().find("help.cavity.mean").orElseThrow();
        for (int i = 0; i < film.grid().size(); i++) {
            assertThat(film.at(i)).isCloseTo(1e-9, within(1e-11));
            assertThat(cavity.at(i)).isBetween(-0.01 * 201e-9, -0.01 * 149e-9);
        }
    }

    @Test
    void the_shares_of_a_spread_add_up_and_name_who_causes_it() throws IOException {
        SensitivityAnswer answer =
                ask(job(SOFT, "viscosity: \"1e3 Pa s\"", "pressure: \"5 MPa\", hold: \"1000 s\"", ""));
        List<Share> shares = goal(answer, Measure.SIGMA3, "").shares();
        assertThat(shares.stream().mapToDouble(Share::share).sum()).isCloseTo(1, within(1e-12));
        assertThat(shares.stream()
                        .filter(share -> share.areaShare() > 0)
                        .mapToDouble(Share::areaShare)
                        .sum())
                .isCloseTo(1, within(1e-12));
        // The pad stands out of its empty surroundings: most of a spread for its sixteenth of the area.
        Share pad = shares.stream()
                .filter(share -> share.what().contains("200 nm deep"))
                .findFirst()
                .orElseThrow();
        assertThat(pad.what()).contains("x 0.48", "y 0.28");
        assertThat(pad.share()).isGreaterThan(2 * pad.areaShare());
        assertThat(goal(answer, Measure.MEAN, "").shares()).isEmpty();
    }

    @Test
    void tiles_that_are_not_full_are_told_before_anything_else() throws IOException {
        SensitivityAnswer answer = ask(job(SOFT, "viscosity: \"1e7 Pa s\"", "pressure: \"5 MPa\", hold: \"1 s\"", ""));
        assertThat(answer.unfilledTiles()).isPositive();
    }

    @Test
    void a_limit_that_is_not_about_the_residual_layer_is_named_with_the_reason() throws IOException {
        SensitivityAnswer answer = ask(job(
                SOFT,
                "viscosity: \"1e3 Pa s\"",
                "pressure: \"5 MPa\", hold: \"1000 s\"",
                "fill.share: {each: \">= 0.99\"}"));
        assertThat(answer.left()).singleElement().satisfies(left -> {
            assertThat(left.subject()).isEqualTo("fill.share");
            assertThat(left.reason()).contains("residual layer");
        });
    }

    @Test
    void a_job_whose_way_back_is_not_known_is_refused_with_the_reason() throws IOException {
        Job thins = job(
                SOFT,
                "viscosity: \"1e3 Pa s\", thinning-stress: \"0.1 MPa\", thinning-exponent: \"0.5 1\"",
                "pressure: \"5 MPa\", hold: \"10 s\"",
                "");
        assertThatThrownBy(() -> ask(thins))
                .isInstanceOfSatisfying(
                        InputException.class,
                        e -> assertThat(e.problems()).singleElement().satisfies(problem -> {
                            assertThat(problem.code()).isEqualTo("sensitivity.no-way-back");
                            assertThat(problem.message()).contains("thins under shear");
                        }));
        Job bare = job(SOFT, "", "pressure: \"5 MPa\"", "");
        assertThatThrownBy(() -> ask(bare))
                .isInstanceOfSatisfying(
                        InputException.class,
                        e -> assertThat(e.problems())
                                .singleElement()
                                .satisfies(problem -> assertThat(problem.code()).isEqualTo("sensitivity.no-film")));
    }
}
