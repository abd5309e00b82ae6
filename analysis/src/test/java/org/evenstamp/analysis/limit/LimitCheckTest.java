package org.evenstamp.analysis.limit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Source;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LimitCheckTest {
    private static final TileGrid GRID = new TileGrid(0, 0, 0x1p-12, 2, 2);
    private static final FieldName NAME = FieldName.of("residual.local", "nm", "residual layer");

    @Test
    void the_worst_tile_and_the_number_of_tiles_are_reported() {
        Limit limit = limit(Limit.Measure.EACH, Limit.Side.AT_MOST, 2.5);

        assertThat(LimitCheck.check(List.of(limit), fields(1, 4, 2, 3)))
                .containsExactly(
                        new Finding.LimitBroken(limit, 4, 2, new Place.Tile(1, 0, 1.5 * 0x1p-12, 0.5 * 0x1p-12)));
    }

    @Test
    void a_lower_bound_looks_at_the_smallest() {
        Limit limit = limit(Limit.Measure.EACH, Limit.Side.AT_LEAST, 2);

        assertThat(LimitCheck.check(List.of(limit), fields(3, 4, 1, 2)))
                .containsExactly(new Finding.LimitBroken(limit, 1, 1, Place.Tile.of(GRID, 2)));
    }

    @Test
    void a_value_at_the_bound_keeps_the_limit() {
        assertThat(LimitCheck.check(
                        List.of(
                                limit(Limit.Measure.EACH, Limit.Side.AT_MOST, 4),
                                limit(Limit.Measure.EACH, Limit.Side.AT_LEAST, 1)),
                        fields(1, 2, 3, 4)))
                .isEmpty();
    }

    /** Of 1, 2, 3, 4 by hand: mean 2.5, spread 3, population variance 1.25. */
    @ParameterizedTest
    @CsvSource({"MEAN, 2.5", "SPREAD, 3", "SIGMA3, 3.354101966"})
    void limits_on_the_whole_stamp_compare_its_number(Limit.Measure measure, double value) {
        Limit broken = limit(measure, Limit.Side.AT_MOST, value * 0.999);
        Limit kept = limit(measure, Limit.Side.AT_MOST, value * 1.001);

        assertThat(LimitCheck.check(List.of(broken, kept), fields(1, 2, 3, 4)))
                .singleElement()
                .isInstanceOfSatisfying(Finding.LimitBroken.class, finding -> {
                    assertThat(finding.limit()).isEqualTo(broken);
                    assertThat(finding.foundSi()).isCloseTo(value, within(1e-8));
                    assertThat(finding.place()).isEqualTo(new Place.WholeStamp());
                });
    }

    @Test
    void tiles_without_cavity_are_not_missed_where_a_field_has_no_value() {
        Limit limit = limit(Limit.Measure.EACH, Limit.Side.AT_LEAST, 1);
        Field cavities = Field.of(TileFields.CAVITY_FRACTION, GRID, new double[] {0, 0.5, 0, 0.5});

        assertThat(LimitCheck.check(
                        List.of(limit), fields(Double.NaN, 4, Double.NaN, 2).with(List.of(cavities))))
                .isEmpty();
        assertThat(LimitCheck.check(
                        List.of(limit), fields(Double.NaN, Double.NaN, 3, 2).with(List.of(cavities))))
                .singleElement()
                .isInstanceOfSatisfying(
                        Finding.Warning.class,
                        warning -> assertThat(warning.message()).contains("1 of 4 tiles"));
    }

    @Test
    void tiles_without_a_value_break_nothing_but_are_counted() {
        List<Finding> findings = LimitCheck.check(
                List.of(limit(Limit.Measure.EACH, Limit.Side.AT_LEAST, 2.5)), fields(Double.NaN, 4, Double.NaN, 2));

        assertThat(findings).hasSize(2);
        assertThat(findings.get(0))
                .isInstanceOfSatisfying(
                        Finding.Warning.class,
                        warning -> assertThat(warning.message()).contains("2 of 4 tiles"));
        assertThat(findings.get(1))
                .isInstanceOfSatisfying(
                        Finding.LimitBroken.class,
                        broken -> assertThat(broken.tiles()).isEqualTo(1));
    }

    @Test
    void a_field_without_any_value_is_not_called_good() {
        assertThat(LimitCheck.check(
                        List.of(limit(Limit.Measure.SPREAD, Limit.Side.AT_MOST, 1)),
                        fields(Double.NaN, Double.NaN, Double.NaN, Double.NaN)))
                .singleElement()
                .isInstanceOf(Finding.Warning.class);
    }

    @Test
    void every_unknown_field_is_named() {
        List<Limit> limits = List.of(
                new Limit("no.such", Limit.Measure.EACH, Limit.Side.AT_MOST, 1),
                new Limit("nor.this", Limit.Measure.EACH, Limit.Side.AT_MOST, 1));

        InputException thrown =
                catchThrowableOfType(InputException.class, () -> LimitCheck.check(limits, fields(1, 2, 3, 4)));

        assertThat(thrown.problems()).extracting(Problem::code).containsOnly("limit.unknown-field");
        assertThat(thrown).hasMessageContaining("no.such").hasMessageContaining("nor.this");
        assertThatThrownBy(() -> LimitCheck.check(limits, fields(1, 2, 3, 4)))
                .as("what there is")
                .hasMessageContaining("residual.local");
    }

    /**
     * Of 1, 2, 3 with the shares 1/4, 1, 3/4 by hand: mean 4.5/2, spread 2, variance (25/64 + 4/64 + 27/64)/2; the 4 lies
     * elsewhere.
     */
    @ParameterizedTest
    @CsvSource({"EACH, 3", "MEAN, 2.25", "SPREAD, 2", "SIGMA3, 1.984313483"})
    void limits_on_a_region_look_at_its_tiles_and_count_each_by_its_share(Limit.Measure measure, double value) {
        FieldSet fields =
                fields(1, 4, 2, 3).withRegions(List.of(new NamedRegion("optics", 1, new double[] {0.25, 0, 1, 0.75})));
        Limit broken = new Limit(NAME.id(), "optics", measure, Limit.Side.AT_MOST, value * 0.999, Source.NOWHERE);
        Limit kept = new Limit(NAME.id(), "optics", measure, Limit.Side.AT_MOST, value * 1.001, Source.NOWHERE);

        assertThat(LimitCheck.check(List.of(broken, kept), fields))
                .singleElement()
                .isInstanceOfSatisfying(Finding.LimitBroken.class, finding -> {
                    assertThat(finding.limit()).isEqualTo(broken);
                    assertThat(finding.foundSi()).isCloseTo(value, within(1e-8));
                    assertThat(finding.tiles()).isEqualTo(1);
                });
        assertThat(LimitCheck.found(broken, fields).getAsDouble()).isCloseTo(value, within(1e-8));
    }

    @Test
    void every_limit_on_a_region_that_there_is_none_of_is_named_with_its_place() {
        Limit one =
                new Limit(NAME.id(), "optic", Limit.Measure.MEAN, Limit.Side.AT_MOST, 1, new Source("job.yaml", 7, 3));
        Limit two =
                new Limit(NAME.id(), "rim", Limit.Measure.EACH, Limit.Side.AT_MOST, 1, new Source("job.yaml", 8, 3));
        FieldSet fields = fields(1, 4, 2, 3).withRegions(List.of(new NamedRegion("optics", 1, new double[4])));

        InputException thrown =
                catchThrowableOfType(InputException.class, () -> LimitCheck.check(List.of(one, two), fields));

        assertThat(thrown.problems()).extracting(Problem::code).containsOnly("limit.unknown-region");
        assertThat(thrown.problems())
                .extracting(problem -> problem.source().line())
                .containsExactly(7L, 8L);
        assertThat(thrown.problems().get(0).fix()).contains("optics");
    }

    private static Limit limit(Limit.Measure measure, Limit.Side side, double bound) {
        return new Limit(NAME.id(), measure, side, bound);
    }

    private static FieldSet fields(double... values) {
        return FieldSet.empty(GRID).with(List.of(Field.of(NAME, GRID, values)));
    }
}
