package org.evenstamp.analysis.limit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.Source;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.Index;
import org.evenstamp.shared.spi.Remedy;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class RankingTest {
    private static final TileGrid GRID = new TileGrid(0, 0, 1e-4, 4, 3);
    private static final FieldName TEAR = FieldName.of("tear", "1", "tear index");
    private static final FieldName RUB = FieldName.of("rub", "MPa", "friction");
    private static final FieldName STICK = FieldName.of("stick", "MPa", "adhesion");
    private static final FieldName LAYER = FieldName.of("layer", "nm", "residual layer");
    private static final AnalysisDescription RELEASE = new AnalysisDescription(
            "release",
            "x",
            List.of(),
            List.of(),
            List.of(),
            List.of(TEAR, RUB, STICK, LAYER),
            List.of(new Index(TEAR, List.of(new Remedy(RUB, "rub less"), new Remedy(STICK, "stick less")))),
            List.of(new Remedy(LAYER, "more film")));

    private static Field field(FieldName name, double... values) {
        return Field.of(name, GRID, values);
    }

    private static Field flat(FieldName name, double value) {
        double[] values = new double[GRID.size()];
        Arrays.fill(values, value);
        return Field.of(name, GRID, values);
    }

    private static FieldSet fields(Field... fields) {
        return FieldSet.empty(GRID).with(List.of(fields));
    }

    private static Limit each(FieldName field, Limit.Side side, double bound) {
        return new Limit(field.id(), Limit.Measure.EACH, side, bound);
    }

    @Test
    void a_limit_on_a_region_ranks_its_tiles_alone_and_every_place_names_the_region_it_lies_in() {
        double[] right = {0, 0, 1, 1, /**/ 0, 0, 1, 1, /**/ 0, 0, 1, 1};
        FieldSet fields = fields(field(LAYER, 9, 1, 1, 1, /**/ 1, 1, 3, 1, /**/ 1, 1, 1, 1))
                .withRegions(List.of(new NamedRegion("right", 1, right)));
        Limit whole = each(LAYER, Limit.Side.AT_MOST, 2);
        Limit part = new Limit(LAYER.id(), "right", Limit.Measure.EACH, Limit.Side.AT_MOST, 2, Source.NOWHERE);

        Ranking ranking = Ranking.of(List.of(), List.of(whole, part), fields);

        assertThat(ranking.worst())
                .extracting(RankedPlace::limit, RankedPlace::foundSi, RankedPlace::region)
                .containsExactly(tuple(whole, 9.0, ""), tuple(whole, 3.0, "right"), tuple(part, 3.0, "right"));
    }

    @Test
    void tiles_that_touch_are_one_place_named_by_the_worst() {
        Field tear = field(TEAR, 2, 0, 0, 5, /**/ 0, 3, 0, 6, /**/ 0, 0, Double.NaN, 0);

        Ranking ranking = Ranking.of(List.of(RELEASE), List.of(), fields(tear, flat(RUB, 1), flat(STICK, 2)));

        assertThat(ranking.places()).isEqualTo(2);
        assertThat(ranking.worst())
                .containsExactly(
                        new RankedPlace(
                                each(TEAR, Limit.Side.AT_MOST, 1),
                                6,
                                6,
                                "stick",
                                "stick less",
                                2,
                                Place.Tile.of(GRID, 7)),
                        new RankedPlace(
                                each(TEAR, Limit.Side.AT_MOST, 1),
                                3,
                                3,
                                "stick",
                                "stick less",
                                2,
                                Place.Tile.of(GRID, 5)));
    }

    @Test
    void neighbours_of_another_cause_are_another_place() {
        Field tear = field(TEAR, 2, 2, 4, 0, /**/ 0, 0, 0, 0, /**/ 0, 0, 0, 0);
        Field rub = field(RUB, 9, 9, 1, 0, /**/ 0, 0, 0, 0, /**/ 0, 0, 0, 0);

        Ranking ranking = Ranking.of(List.of(RELEASE), List.of(), fields(tear, rub, flat(STICK, 2)));

        assertThat(ranking.worst()).extracting(RankedPlace::term).containsExactly("stick", "rub");
        assertThat(ranking.worst()).extracting(RankedPlace::help).containsExactly("stick less", "rub less");
        assertThat(ranking.worst()).extracting(RankedPlace::tiles).containsExactly(1, 2);
    }

    @Test
    void where_all_is_well_the_nearest_to_the_limit_is_told() {
        Field tear = field(TEAR, 0.2, 0.2, 0.9, 0.9, /**/ 0, 0, 0, 0, /**/ 0, 0, 0, 0);

        Ranking ranking = Ranking.of(List.of(RELEASE), List.of(), fields(tear, flat(RUB, 1), flat(STICK, 0)));

        assertThat(ranking.places()).isEqualTo(1);
        assertThat(ranking.worst().get(0).worst()).isEqualTo(Place.Tile.of(GRID, 2));
        assertThat(ranking.worst().get(0).tiles()).isEqualTo(1);
    }

    @Test
    void limits_of_the_job_are_ranked_beside_the_indices() {
        Field layer = field(LAYER, 30, 10, 30, 30, /**/ 30, 30, 30, 30, /**/ 30, 30, 30, 0);
        Field tear = flat(TEAR, 1.5);

        Ranking ranking = Ranking.of(
                List.of(RELEASE),
                List.of(
                        each(LAYER, Limit.Side.AT_LEAST, 20),
                        each(LAYER, Limit.Side.AT_MOST, 60),
                        each(TEAR, Limit.Side.AT_MOST, 2),
                        new Limit(LAYER.id(), Limit.Measure.SPREAD, Limit.Side.AT_MOST, 1)),
                fields(layer, tear, flat(RUB, 1), flat(STICK, 0)));

        assertThat(ranking.worst()).extracting(RankedPlace::ratio).containsExactly(Ranking.MOST_RATIO, 2.0, 0.75, 0.5);
        assertThat(ranking.worst())
                .extracting(place -> place.limit().fieldId())
                .containsExactly("layer", "layer", "tear", "layer");
        assertThat(ranking.worst().get(0).help()).isEqualTo("more film");
    }

    @Test
    void ratios_stay_finite_and_agree_with_the_limit_check_for_bounds_of_any_sign() {
        for (double bound : new double[] {-2, 0, 2}) {
            for (Limit.Side side : Limit.Side.values()) {
                for (double value : new double[] {-3, -1, 0, 1, 3}) {
                    Limit limit = each(LAYER, side, bound);
                    FieldSet fields = fields(flat(LAYER, value));
                    boolean broken = !LimitCheck.check(List.of(limit), fields).isEmpty();
                    List<RankedPlace> worst =
                            Ranking.of(List.of(), List.of(limit), fields).worst();
                    double ratio = worst.isEmpty() ? 0 : worst.get(0).ratio();
                    assertThat(ratio > 1).as("%s, %s", limit, value).isEqualTo(broken);
                    assertThat(ratio).isBetween(0.0, Ranking.MOST_RATIO);
                }
            }
        }
    }

    @Test
    void a_value_at_the_bound_keeps_it() {
        Ranking ranking =
                Ranking.of(List.of(), List.of(each(LAYER, Limit.Side.AT_LEAST, 0.3)), fields(flat(LAYER, 0.1 + 0.2)));
        assertThat(ranking.worst()).hasSize(1);
        assertThat(ranking.worst().get(0).ratio()).isCloseTo(1, within(1e-12));
        assertThat(ranking.worst().get(0).tiles()).isEqualTo(1);
    }

    @Test
    void only_the_first_places_of_a_limit_are_listed_but_all_are_counted() {
        TileGrid wide = new TileGrid(0, 0, 1e-4, 101, 1);
        double[] values = new double[101];
        for (int i = 0; i < 101; i += 2) {
            values[i] = 2 + i;
        }
        Ranking ranking = Ranking.of(
                List.of(),
                List.of(each(LAYER, Limit.Side.AT_MOST, 1)),
                FieldSet.empty(wide).with(List.of(Field.of(LAYER, wide, values))));
        assertThat(ranking.places()).isEqualTo(51);
        assertThat(ranking.worst()).hasSize(Ranking.MOST_OF_A_LIMIT);
        assertThat(ranking.worst().get(0).worst().column()).isEqualTo(100);
    }

    /** Against labels that spread from tile to tile until nothing changes. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5})
    void the_places_are_those_of_a_slow_search(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        TileGrid grid = new TileGrid(0, 0, 1e-4, 17, 13);
        double[] values = new double[grid.size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = random.nextInt(10) == 0 ? Double.NaN : random.nextDouble(1.6);
        }
        int[] label = new int[grid.size()];
        for (int i = 0; i < label.length; i++) {
            label[i] = values[i] > 1 ? i + 1 : 0;
        }
        for (boolean changed = true; changed; ) {
            changed = false;
            for (int i = 0; i < label.length; i++) {
                for (int j = 0; j < label.length; j++) {
                    boolean touch =
                            Math.abs(grid.column(i) - grid.column(j)) <= 1 && Math.abs(grid.row(i) - grid.row(j)) <= 1;
                    if (touch && label[i] > 0 && label[j] > label[i]) {
                        label[j] = label[i];
                        changed = true;
                    }
                }
            }
        }
        List<Integer> sizes = new ArrayList<>();
        for (int name = 1; name <= label.length; name++) {
            int wanted = name;
            int tiles = (int) Arrays.stream(label).filter(l -> l == wanted).count();
            if (tiles > 0) {
                sizes.add(tiles);
            }
        }
        Ranking ranking = Ranking.of(
                List.of(),
                List.of(each(LAYER, Limit.Side.AT_MOST, 1)),
                FieldSet.empty(grid).with(List.of(Field.of(LAYER, grid, values))));
        assertThat(ranking.places()).isEqualTo(sizes.size());
        if (sizes.size() <= Ranking.MOST_OF_A_LIMIT) {
            assertThat(ranking.worst()).extracting(RankedPlace::tiles).containsExactlyInAnyOrderElementsOf(sizes);
        }
    }
}
