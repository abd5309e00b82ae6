package org.evenstamp.geometry.dummy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;

import java.util.List;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;

class DummyRulesTest {
    private static final double UM = Stamps.UM;

    private static DummyRules rules(double size, double gap, double spacing, double rim) {
        return new DummyRules(
                DummyShape.square(size * UM),
                null,
                DummyRules.Arrangement.SQUARE,
                gap * UM,
                spacing * UM,
                rim * UM,
                Stamps.CAVITIES,
                false,
                false);
    }

    private static List<Problem> problems(DummyRules rules) {
        Problems problems = new Problems();
        rules.check(Stamps.CAVITIES, Stamps.OUTLINE, Stamps.GRID, problems);
        return problems.all();
    }

    @Test
    void sound_rules_have_no_problem() {
        assertThat(problems(rules(2, 1, 0, 0))).isEmpty();
        assertThat(problems(rules(25, 1, 0, 0))).isEmpty();
        assertThat(problems(rules(2, 1, 1, 99))).isEmpty();
    }

    @Test
    void all_problems_come_at_once_each_with_the_nearest_that_can_be() {
        assertThat(problems(rules(2, -1, -2, -3)))
                .extracting(Problem::place, Problem::fix)
                .containsExactly(
                        tuple("dummy.gap", "the least is 0.0001 um"),
                        tuple("dummy.spacing", "the least is 0"),
                        tuple("dummy.rim", "the least is 0"));
        assertThat(problems(rules(30, 1, 1, 90)))
                .extracting(Problem::line)
                .containsExactly(
                        "dummy.size: a dummy 30 um long does not fit into a tile of 25 um (dummies of at most 25 um, or tiles"
                                + " of at least 30 um)",
                        "dummy.rim: a distance to the rim of 90 um leaves no room for a dummy on a stamp of 200 um x 200 um"
                                + " (at most 85 um)");
    }

    @Test
    void more_sites_than_can_be_gone_through_are_refused() {
        assertThat(problems(rules(0.001, 0.001, 1, 1)))
                .extracting(Problem::line)
                .containsExactly(
                        "dummy.size: the stamp has 1.00e+10 sites for dummies this small and near (at most 4e+09: size"
                                + " and gap together 0.00316228 um or more)");
    }

    @Test
    void shapes_that_are_none_are_refused() {
        assertThat(problems(Stamps.rules(
                        DummyShape.cross(3 * UM, 4 * UM), DummyShape.square(0), DummyRules.Arrangement.SQUARE)))
                .extracting(Problem::code)
                .containsExactly("dummy.arm", "dummy.size");
        assertThat(problems(Stamps.rules(
                        DummyShape.square(3 * UM), DummyShape.square(3 * UM), DummyRules.Arrangement.SQUARE)))
                .extracting(Problem::code)
                .containsExactly("dummy.small-size");
        assertThat(problems(rules(Double.NaN, 1, 1, 1))).hasSize(1);
    }

    @Test
    void dummies_of_the_drawn_sense_of_the_ground_need_pads() {
        DummyRules raised = new DummyRules(
                DummyShape.square(2 * UM),
                null,
                DummyRules.Arrangement.SQUARE,
                UM,
                UM,
                0,
                Stamps.PROTRUSIONS,
                false,
                false);
        assertThat(problems(raised)).extracting(Problem::code).containsExactly("dummy.sense");
        assertThat(problems(Stamps.insidePads(raised, Stamps.PROTRUSIONS))).isEmpty();
    }

    @Test
    void tiles_that_no_mirror_maps_onto_tiles_are_refused_where_symmetry_is_asked() {
        DummyRules symmetric = Stamps.symmetric(rules(2, 1, 1, 1));
        assertThat(problems(symmetric)).isEmpty();
        Problems problems = new Problems();
        symmetric.check(
                Stamps.CAVITIES, Stamps.OUTLINE, new TileGrid(-Stamps.HALF, -Stamps.HALF, 30 * UM, 7, 7), problems);
        assertThat(problems.all())
                .singleElement()
                .satisfies(problem -> assertThat(problem.fix()).contains("28.5714 um"));
        Problems between = new Problems();
        symmetric.check(
                Stamps.CAVITIES,
                new MapOptions.Outline(0, 0, 25.0001 * UM, 25.0001 * UM),
                new TileGrid(0, 0, 25.0001 * UM, 1, 1),
                between);
        assertThat(between.all()).extracting(Problem::code).containsExactly("dummy.symmetric");
    }

    @Test
    void a_placer_takes_no_contradictory_rules() {
        assertThatThrownBy(() -> new DummyPlacer(rules(30, -1, 1, 1), Stamps.CAVITIES, Stamps.OUTLINE, Stamps.GRID))
                .isInstanceOf(InputException.class);
    }

    @Test
    void a_spacing_that_leaves_nothing_is_answered_with_one_that_does() {
        // Land 40 um wide between two cavities, a border of tiles in its middle: the dummies beside the border, every 3
        // um, end
        // 4 um from it.
        PackedPolygon left = Polygons.of(Polygons.rectangle(-100 * UM, -100 * UM, -20 * UM, 100 * UM));
        PackedPolygon right = Polygons.of(Polygons.rectangle(20 * UM, -100 * UM, 100 * UM, 100 * UM));
        DummyPlacer placer = new DummyPlacer(rules(2, 1, 30, 0), Stamps.CAVITIES, Stamps.OUTLINE, Stamps.GRID);
        assertThatThrownBy(() -> placer.surveyForSome(Polygons.store(List.of(left, right)), 1, new Progress()))
                .isInstanceOfSatisfying(
                        InputException.class,
                        e -> assertThat(e.problems())
                                .singleElement()
                                .satisfies(
                                        problem -> assertThat(problem.fix()).matches("at most 16\\.00 um leaves .*")));
    }

    @Test
    void where_no_spacing_helps_the_answer_says_so() {
        PackedPolygon all = Polygons.of(Polygons.rectangle(-Stamps.HALF, -Stamps.HALF, Stamps.HALF, Stamps.HALF));
        DummyPlacer placer = new DummyPlacer(rules(2, 1, 3, 0), Stamps.CAVITIES, Stamps.OUTLINE, Stamps.GRID);
        assertThatThrownBy(() -> placer.surveyForSome(Polygons.store(List.of(all)), 1, new Progress()))
                .isInstanceOfSatisfying(
                        InputException.class,
                        e -> assertThat(e.problems()).extracting(Problem::place).containsExactly("dummy.size"));
    }
}
