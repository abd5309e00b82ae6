package org.evenstamp.engine.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.analysis.film.FilmProvider;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.pipeline.AnalysisFinder;
import org.evenstamp.analysis.pipeline.Pipeline;
import org.evenstamp.engine.job.Job;
import org.evenstamp.engine.result.Results;
import org.evenstamp.engine.run.RunOptions;
import org.evenstamp.engine.run.Simulation;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Recipes, films and depths, from polygons through the engine. */
class ProposalsTest {
    private static final Pipeline PIPELINE = new Pipeline(AnalysisFinder.find(List.of()));

    @TempDir
    Path directory;

    /** Lines of 20 um on the left half of a map of 400 um, the outer two 300 nm deep by their own word. */
    private Job job(String stamp, String film, String process) throws IOException {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < 5; i++) {
            int x = 40 * i + 10;
            text.append(String.format(
                    "{\"type\": \"Feature\", \"properties\": {%s}, \"geometry\": {\"type\": \"Polygon\", \"coordinates\":"
                            + " [[[%d, 0], [%d, 0], [%d, 400], [%d, 400], [%d, 0]]]}}%n",
                    i % 4 == 0 ? "\"depth\": \"300 nm\"" : "", x, x + 20, x + 20, x, x));
        }
        Files.writeString(directory.resolve("lines.geojson"), text);
        Path file = directory.resolve("job.yaml");
        Files.writeString(file, """
                layout:
                  file: lines.geojson
                  unit: um
                  drawn: cavities
                  outline: {min: ["0 um", "0 um"], max: ["400 um", "400 um"]}
                tiles: {side: "40 um", resolution: off}
                stamp: {depth: "150 nm", %s}
                film: {thickness: "350 nm", %s}
                process: {pressure: "5 MPa", %s}
                """.formatted(stamp, film, process));
        return Job.read(file, PIPELINE);
    }

    private Results run(Job job) {
        return Simulation.run(job, RunOptions.STANDARD, new Progress());
    }

    private static double[] values(Results results, FieldName name) {
        return results.fields().find(name.id()).orElseThrow().toArray();
    }

    private RecipeProposal recipes(String stamp, String film) throws IOException {
        return RecipeDesign.of(job(stamp, film, "hold: \"1 s\""), RunOptions.STANDARD, new Progress());
    }

    @Test
    void a_recipe_has_every_tile_full_when_the_film_sets_or_says_that_it_does_not_suit() throws IOException {
        RecipeProposal soft = recipes(
                "kind: bonded-layer, layer.modulus: \"2 GPa\", layer.poisson: \"0.4 1\","
                        + " layer.thickness: \"100 um\"",
                "material: ps-50k");
        for (RecipeProposal.Solved one : soft.recipes()) {
            Field share = one.field(ImprintFields.FILL_SHARE.id());
            for (int i = 0; i < share.grid().size(); i++) {
                if (share.known(i)) {
                    assertThat(share.at(i)).as("%s", one.recipe()).isGreaterThanOrEqualTo(Unfilled.FULL_SHARE);
                }
            }
            assertThat(String.join(" ", one.recipe().reasons())).doesNotContain("does not suit");
        }
        // no stamp at all bends here: the deep lines stay open under the even layer around them
        RecipeProposal rigid = recipes("kind: rigid", "material: ps-50k");
        RecipeProposal.Solved hot = rigid.recipes().get(0);
        assertThat(hot.unfilled().isPresent())
                .isEqualTo(String.join(" ", hot.recipe().reasons())
                        .contains("this kind of press does not suit this stamp"));
    }

    @Test
    void a_proposal_of_hours_advises_shorter_chains_and_says_which() throws IOException {
        RecipeProposal.Solved hot =
                recipes("kind: rigid", "material: pmma-950k").recipes().get(0);
        assertThat(hot.recipe().reasons())
                .anySatisfy(reason -> assertThat(reason).contains("shorter chains serve better", "kg/mol"));
        RecipeProposal.Solved fluid =
                recipes("kind: rigid", "material: ps-50k").recipes().get(0);
        assertThat(String.join(" ", fluid.recipe().reasons())).doesNotContain("shorter chains");
    }

    @Test
    void a_scale_of_depths_is_that_of_drawn_ones_too() throws IOException {
        Results once = run(job("depth-scale: \"1 1\"", "viscosity: \"1e3 Pa s\"", "hold: \"1 s\""));
        Results more = run(job("depth-scale: \"1.2 1\"", "viscosity: \"1e3 Pa s\"", "hold: \"1 s\""));
        for (FieldName name : List.of(
                TileFields.CAVITY_VOLUME,
                TileFields.WALL_AREA,
                TileFields.CAVITY_DEPTH_MIN,
                TileFields.CAVITY_DEPTH_MAX)) {
            double[] before = values(once, name);
            double[] after = values(more, name);
            for (int i = 0; i < before.length; i++) {
                if (before[i] > 0) {
                    assertThat(after[i] / before[i]).as(name.id()).isCloseTo(1.2, within(1e-12));
                }
            }
        }
        // by hand: half of the first tile 300 nm deep, its film 350 nm
        assertThat(values(once, TileFields.CAVITY_VOLUME)[0]).isCloseTo(150e-9, within(1e-15));
        assertThat(values(more, ImprintFields.RESIDUAL_LOCAL)[0]).isCloseTo(350e-9 - 180e-9, within(1e-12));
    }

    /** The film that the solve has shared out between residual layer and scaled cavities is all that was coated. */
    @Test
    void the_solve_fills_the_scaled_depths_and_regions_stay() throws IOException {
        Results once = run(job("depth-scale: \"1 1\"", "viscosity: \"1e3 Pa s\"", "hold: \"1 s\""));
        Results more = run(job("depth-scale: \"1.2 1\"", "viscosity: \"1e3 Pa s\"", "hold: \"1 s\""));
        double[] layer = values(more, ImprintFields.RESIDUAL_FINAL);
        double[] volume = values(more, TileFields.CAVITY_VOLUME);
        double[] share = values(more, ImprintFields.FILL_SHARE);
        double film = 0;
        for (int i = 0; i < layer.length; i++) {
            film += (layer[i] + (volume[i] > 0 ? share[i] * volume[i] : 0)) / layer.length;
        }
        assertThat(film)
                .isCloseTo(350e-9, withinPercentage(0.1)); // the film's own compressibility takes 5 MPa over 3 GPa
        assertThat(more.fields().regions()).extracting(NamedRegion::name).isNotEmpty();
        assertThat(more.fields().regions())
                .extracting(NamedRegion::name)
                .isEqualTo(
                        once.fields().regions().stream().map(NamedRegion::name).toList());
    }

    /** By hand: 5 MPa on 400 um x 400 um are 0.8 N. */
    @Test
    void the_force_of_the_press_can_be_limited() throws IOException {
        Results results = run(job("", "viscosity: \"1e3 Pa s\"", """
                hold: "1 s"}
                limits: {film.force: {value: ["<= 0.79 N", "<= 0.81 N", ">= 1e-3 kN"]}, film.force.line: {value: "<= 1 N/mm"}"""));

        assertThat(results.limits()).hasSize(4);
        assertThat(results.broken())
                .extracting(broken -> broken.limit().boundSi())
                .containsExactly(0.79, 1.0);
        assertThat(results.broken().get(0).foundSi()).isCloseTo(0.8, within(1e-12));
        assertThat(results.unit(results.limits().get(0)).symbol()).isEqualTo("N");
        assertThat(results.warnings())
                .extracting(Finding.Warning::message)
                .contains("the limit on film.force.line was not checked: this run has no such figure");
    }

    @Test
    void a_figure_has_one_value_and_no_other_measure() {
        assertThatThrownBy(() -> job("", "viscosity: \"1e3 Pa s\"", """
                hold: "1 s"}
                limits: {film.force: {each: "<= 0.79 N"}, film.enrgy: {value: "<= 1 J"}"""))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("limits.film.force has no measure \"each\"")
                .hasMessageContaining("it is one of value")
                .hasMessageContaining("did you mean film.energy?");
    }

    /** Two wafers alike yield twice as far as one, as one of half the modulus does (E* alone stands in the compliance). */
    @Test
    void a_wafer_on_a_soft_chuck_doubles_what_the_stamp_yields() throws IOException {
        String film = "viscosity: \"1e3 Pa s\"";
        double[] chuck =
                values(run(job("kind: plate", film, "hold: \"1 s\", chuck: soft")), ImprintFields.RESIDUAL_FINAL);
        double[] half = values(
                run(job("kind: plate, modulus: \"65 GPa\"", film, "hold: \"1 s\"")), ImprintFields.RESIDUAL_FINAL);
        double[] flat = values(run(job("kind: plate", film, "hold: \"1 s\"")), ImprintFields.RESIDUAL_FINAL);
        double most = 0;
        for (int i = 0; i < half.length; i++) {
            assertThat(chuck[i]).isCloseTo(half[i], withinPercentage(1e-6));
            most = Math.max(most, Math.abs(chuck[i] - flat[i]));
        }
        assertThat(most).isGreaterThan(1e-10);
    }

    @Test
    void a_film_whose_cavities_stay_open_misses_its_target_and_says_by_how_much() throws IOException {
        Job job = job("kind: rigid", "viscosity: \"1e7 Pa s\", target-residual: \"200 nm\"", "hold: \"1 s\"");
        FilmProposal missed = FilmDesign.of(job, true, RunOptions.STANDARD, new Progress());
        assertThat(missed.reached().unfilled()).isPresent();
        double[] gap =
                values(run(job.with("film.thickness", missed.thicknessMetres() + " m")), ImprintFields.RESIDUAL_FINAL);
        assertThat(missed.reached().residualMetres())
                .isGreaterThan(missed.targetMetres())
                .isCloseTo(java.util.Arrays.stream(gap).average().orElseThrow(), within(1e-15));
        FilmProposal met = FilmDesign.of(
                job("kind: rigid", "viscosity: \"1 Pa s\", target-residual: \"200 nm\"", "hold: \"100 s\""),
                true,
                RunOptions.STANDARD,
                new Progress());
        assertThat(met.reached().unfilled()).isEmpty();
        assertThat(met.reached().residualMetres()).isCloseTo(200e-9, within(1e-10));
    }

    @Test
    void a_wedge_on_a_map_that_repeats_is_called_a_saw_tooth() throws IOException {
        String film = "viscosity: \"1e3 Pa s\"";
        assertThat(warnings(run(job("wedge-x: \"100 urad\"", film, "hold: \"1 s\""))))
                .anySatisfy(message -> assertThat(message).contains("saw-tooth", "jumps by 40.00 nm"));
        assertThat(warnings(run(job("wedge-x: \"100 urad\", surround: isolated", film, "hold: \"1 s\""))))
                .noneSatisfy(message -> assertThat(message).contains("saw-tooth"));
    }

    private static List<String> warnings(Results results) {
        String film = new FilmProvider().description().id();
        return results.warnings().stream()
                .filter(warning -> warning.origin().equals(film))
                .map(warning -> warning.message())
                .toList();
    }
}
