package org.evenstamp.analysis.film;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameters;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A process in the words of a job, through the provider of the film analysis. */
class ProcessJobTest {
    private static final double ZERO = 273.15;

    private final FilmProvider provider = new FilmProvider();

    private Parameters job(String kind, Consumer<Parameters.Builder> changes) {
        Parameters.Builder builder = Parameters.builder()
                .quantity("film.thickness", 250e-9)
                .quantity("film.viscosity", 1e4)
                .quantity("process.pressure", 5e6)
                .quantity("process.hold", 60)
                .choice("stamp.kind", "rigid")
                .choice("process.kind", kind);
        changes.accept(builder);
        return builder.defaults(provider.description().parameters()).build();
    }

    private static void melt(Parameters.Builder b) {
        b.quantity("film.glass-temperature", 105 + ZERO)
                .quantity("film.decomposition-temperature", 260 + ZERO)
                .quantity("film.wlf-c1", 17.44)
                .quantity("film.wlf-c2", 51.6)
                .quantity("film.wlf-reference", 105 + ZERO);
    }

    private static void hot(Parameters.Builder b) {
        melt(b);
        b.quantity("process.temperature", 170 + ZERO)
                .quantity("process.cooling-rate", 0.5)
                .quantity("release.temperature", 60 + ZERO);
    }

    private static void uv(Parameters.Builder b) {
        b.quantity("film.viscosity", 0.01)
                .quantity("process.pressure", 1e5)
                .quantity("process.hold", 5)
                .quantity("process.temperature", 25 + ZERO)
                .quantity("process.irradiance", 500)
                .quantity("film.dose", 5000)
                .quantity("film.cure-shrinkage", 0.04);
    }

    private static void roller(Parameters.Builder b) {
        b.quantity("film.viscosity", 0.01)
                .quantity("process.temperature", 25 + ZERO)
                .quantity("process.roller-diameter", 0.2)
                .quantity("process.cover-modulus", 20e6)
                .quantity("process.line-force", 1e4)
                .quantity("process.web-speed", 0.01)
                .quantity("process.exposure", 10)
                .quantity("process.web-tension", 500);
    }

    private AnalysisResult run(Parameters job) {
        return run(job, 0);
    }

    /** Left half with more cavity than the right one, by twice the given share. */
    private AnalysisResult run(Parameters job, double contrast) {
        TileGrid grid = new TileGrid(0, 0, 200e-6, 6, 4);
        double[] fraction = new double[grid.size()];
        double[] volume = new double[grid.size()];
        double[] moment = new double[grid.size()];
        for (int i = 0; i < grid.size(); i++) {
            fraction[i] = 0.45 + (grid.column(i) < 3 ? contrast : -contrast);
            volume[i] = fraction[i] * 150e-9;
            moment[i] = 1e-10;
        }
        FieldSet fields = FieldSet.empty(grid)
                .with(List.of(
                        Field.of(TileFields.CAVITY_FRACTION, grid, fraction),
                        Field.of(TileFields.CAVITY_VOLUME, grid, volume),
                        Field.of(TileFields.SQUEEZE_MOMENT, grid, moment)));
        return provider.create(job).run(new AnalysisContext(grid, fields, 1, new Progress()));
    }

    private static double figure(AnalysisResult result, String id) {
        return result.figures().stream()
                .filter(f -> f.id().equals(id))
                .mapToDouble(Figure::valueSi)
                .findFirst()
                .orElseThrow();
    }

    private static double[] field(AnalysisResult result, String id) {
        return result.fields().stream()
                .filter(f -> f.name().id().equals(id))
                .findFirst()
                .orElseThrow()
                .toArray();
    }

    private static Curve curve(AnalysisResult result, String id) {
        return result.curves().stream()
                .filter(c -> c.id().equals(id))
                .findFirst()
                .orElseThrow();
    }

    private List<Problem> refused(Parameters job) {
        try {
            provider.create(job);
        } catch (InputException e) {
            return e.problems();
        }
        throw new AssertionError("it was taken");
    }

    @Test
    void a_hot_press_fills_and_sets_at_its_glass_temperature_on_cooling() {
        AnalysisResult result = run(job("hot-press", ProcessJobTest::hot));

        assertThat(figure(result, "filled")).isEqualTo(1);
        // 25 to 170 degC at 0.5 K/s, 1 s of ramp, 60 s of hold, then 65 K at 0.5 K/s.
        assertThat(figure(result, "process.flow-end")).isCloseTo(290 + 1 + 60 + 130, within(1e-6));
        assertThat(figure(result, "end")).isEqualTo(figure(result, "process.flow-end"));
        assertThat(figure(result, "process.set-temperature")).isCloseTo(105 + ZERO, within(1e-6));
        assertThat(figure(result, "process.viscosity-least")).isCloseTo(1e4, withinPercentage(1e-6));
        Curve process = curve(result, "process");
        assertThat(process.columns().get(3).at(process.columns().get(3).length() - 1))
                .as("the viscosity has climbed while it cooled under pressure")
                .isGreaterThan(1e8);
        assertThat(curve(result, "viscosity").columns().get(1).at(0)).isGreaterThan(1e12);
    }

    @Test
    void stated_steps_are_the_same_hot_press() {
        AnalysisResult kind = run(job("hot-press", ProcessJobTest::hot));
        AnalysisResult steps = run(job("hot-press", b -> {
            melt(b);
            b.quantity("process.temperature", 170 + ZERO);
            b.table(
                    "process.steps",
                    List.of(step(290, 170, 0), step(1, 170, 5), step(60, 170, 5), step(220, 60, 5), step(1, 60, 0)));
        }));
        assertThat(field(steps, "residual.final")).containsExactly(field(kind, "residual.final"), within(1e-15));
    }

    /** By hand: 8 K at the edge of six columns are 6.667 K at the middle of the last; the first sets while the press is hotter by as much, in proportion to the heat. */
    @Test
    void a_press_that_is_hotter_at_one_edge_squeezes_further_there_and_sets_later() {
        AnalysisResult even = run(job("hot-press", ProcessJobTest::hot));
        AnalysisResult tilted = run(job("hot-press", b -> {
            hot(b);
            b.quantity("process.uneven-temperature-x", 8);
        }));

        // hottest place of all, the right edge: 25 + 153/145 (T - 25) = 105 degC, so T = 100.8170 degC of the middle.
        assertThat(figure(tilted, "end")).isCloseTo(290 + 1 + 60 + 2 * (170 - 100.8170), within(1e-3));
        double[] time = field(tilted, "fill.time");
        assertThat(time[0] - 290).as("after the heating").isGreaterThan(1.2 * (time[5] - 290));
        double[] middle = field(even, "fill.time");
        assertThat(time[0]).isGreaterThan(middle[0]);
        assertThat(time[5]).isLessThan(middle[5]);
    }

    @Test
    void a_press_that_is_not_uneven_is_the_same_to_the_last_bit_and_one_nearly_even_is_close() {
        AnalysisResult even = run(job("hot-press", ProcessJobTest::hot));
        AnalysisResult nearly = run(job("hot-press", b -> {
            hot(b);
            b.quantity("process.uneven-temperature-y", 1e-6);
        }));
        assertThat(field(nearly, "residual.final")).containsExactly(field(even, "residual.final"), within(2e-10));
    }

    @Test
    void a_press_that_leaves_one_edge_solid_is_refused() {
        assertThatThrownBy(() -> run(job("hot-press", b -> {
                    hot(b);
                    b.quantity("process.uneven-temperature-x", 70);
                })))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("the film never flows: it gets no warmer than 100 degC");
    }

    /**
     * By hand: the law through 90 % at 5000 J/m² has E0 = 2171.47 J/m², so 20 % of the double bonds have reacted after 484.550 J/m². The middle gets 500 W/m², the middles of the
     * outer columns of six 60 % less or more at an unevenness of 72 %: they gel 2.42275 s and 0.605688 s after the lamp, which goes on after 6 s.
     */
    @Test
    void a_place_that_gets_less_light_flows_for_longer() {
        AnalysisResult even = run(job("uv-press", b -> gelling(b).quantity("process.lamp-uneven-x", 0)));
        AnalysisResult uneven = run(job("uv-press", b -> gelling(b).quantity("process.lamp-uneven-x", 0.72)));

        assertThat(figure(even, "end")).isEqualTo(6);
        assertThat(figure(uneven, "end")).isCloseTo(6 + 2.42275, within(1e-5));
        assertThat(figure(uneven, "process.flow-end")).isEqualTo(figure(uneven, "end"));
        double[] layer = field(uneven, "residual.final");
        double[] before = field(even, "residual.final");
        for (int i = 0; i < layer.length; i++) {
            assertThat(layer[i]).as("tile %d goes on sinking", i).isLessThan(before[i]);
        }
    }

    @Test
    void an_uneven_lamp_of_a_film_without_a_gel_point_is_the_even_one() {
        AnalysisResult even = run(job("uv-press", ProcessJobTest::uv));
        AnalysisResult uneven = run(job("uv-press", b -> {
            uv(b);
            b.quantity("process.lamp-uneven-x", 0.72);
        }));
        assertThat(field(uneven, "residual.final")).isEqualTo(field(even, "residual.final"));
    }

    private static Parameters.Builder gelling(Parameters.Builder b) {
        uv(b);
        return b.quantity("film.viscosity", 2000)
                .quantity("film.cure-conversion", 0.9)
                .quantity("film.gel-conversion", 0.2);
    }

    private static Map<String, Double> step(double seconds, double celsius, double megapascals) {
        return Map.of("time", seconds, "temperature", celsius + ZERO, "pressure", megapascals * 1e6);
    }

    @Test
    void a_cured_film_is_thinner_by_its_shrinkage_and_a_dried_one_by_its_solvent() {
        double[] uv = field(run(job("uv-press", ProcessJobTest::uv)), "residual.final");
        double mean = Arrays.stream(uv).average().orElseThrow();
        assertThat(mean).isCloseTo(0.96 * (250 - 0.45 * 150) * 1e-9, withinPercentage(0.01));

        AnalysisResult dried = run(job("solvent-press", b -> {
            melt(b);
            b.quantity("film.solvent-glass-temperature", 150)
                    .quantity("process.temperature", 25 + ZERO)
                    .quantity("process.solvent-share", 0.4)
                    .quantity("process.swell-time", 10)
                    .quantity("process.dry-time", 20);
        }));
        assertThat(figure(dried, "filled")).isEqualTo(1);
        assertThat(Arrays.stream(field(dried, "residual.final")).average().orElseThrow())
                .isCloseTo(0.6 * (250 / 0.6 - 0.45 * 150) * 1e-9, withinPercentage(0.01));
        assertThat(figure(dried, "process.shrinkage")).isCloseTo(0.4, within(1e-12));
    }

    @Test
    void a_rolled_film_fills_in_the_nip_and_a_web_too_fast_is_told_the_speed_that_works() {
        AnalysisResult slow = run(job("roller", ProcessJobTest::roller));
        assertThat(figure(slow, "filled.once")).isEqualTo(1);

        AnalysisResult fast = run(job("roller", b -> {
            roller(b);
            b.quantity("process.web-speed", 10).quantity("film.viscosity", 1000).quantity("process.web-tension", 0);
        }));
        assertThat(figure(fast, "filled")).isLessThan(1);
        assertThat(fast.warnings())
                .filteredOn(warning -> warning.code().equals("process.roller-too-fast"))
                .extracting(Finding.Warning::message)
                .singleElement()
                .asString()
                .containsPattern("run the web at no more than [0-9.]+ m/s");
    }

    @Test
    void a_nip_passes_over_a_foil_and_a_rigid_back_is_told_to_spread_its_force() {
        AnalysisResult rigid = run(job("roller", ProcessJobTest::roller));
        AnalysisResult foil = run(job("roller", b -> {
            roller(b);
            b.choice("stamp.kind", "plate").quantity("stamp.modulus", 3e9).quantity("stamp.thickness", 5e-5);
            b.quantity("process.web-speed", 0.05);
        }));
        assertThat(rigid.warnings()).extracting(Finding.Warning::code).contains("film.roller-rigid-back");
        assertThat(foil.warnings()).extracting(Finding.Warning::code).doesNotContain("film.roller-rigid-back");
        // The map is 1.2 mm long, the lamp 1 s away, the web wrapped: the solve goes on until it is lit.
        double dwell = figure(foil, "process.nip-dwell");
        assertThat(figure(foil, "end")).isCloseTo(dwell + 1.2e-3 / 0.05 + 1, within(1e-9));
        double[] fill = field(foil, "fill.time");
        assertThat(figure(foil, "process.nip-fill"))
                .isGreaterThanOrEqualTo(fill[5] - 5 * 200e-6 / 0.05)
                .isLessThan(dwell);
        assertThat(fill[4]).isGreaterThan(fill[1]);
        double[] peak = field(foil, "pressure.peak");
        assertThat(peak[2]).isCloseTo(figure(foil, "process.pressure-peak"), withinPercentage(3));
    }

    @Test
    void a_lamp_in_the_nip_is_refused_with_how_far_the_nip_reaches() {
        List<Problem> problems = refused(job("roller", b -> {
            roller(b);
            b.quantity("process.lamp-distance", 1e-4);
        }));
        assertThat(problems).singleElement().satisfies(problem -> {
            assertThat(problem.line()).contains("process.lamp-distance");
            assertThat(problem.message()).contains("0.1000 mm from the middle of the nip", "would set in the nip");
            assertThat(problem.fix()).contains("give more than ");
        });
    }

    @Test
    void the_way_to_the_lamp_is_a_time_at_the_speed_of_the_web() {
        AnalysisResult near = run(job("roller", b -> {
            roller(b);
            b.quantity("process.lamp-distance", 0.05);
        }));
        AnalysisResult far = run(job("roller", b -> {
            roller(b);
            b.quantity("process.lamp-distance", 0.06);
        }));
        double speed = job("roller", ProcessJobTest::roller).quantity("process.web-speed");
        assertThat(figure(far, "end") - figure(near, "end")).isCloseTo(0.01 / speed, within(1e-9));
        double half = figure(near, "process.nip-dwell") * speed / 2;
        assertThat(figure(near, "end")).isCloseTo((1.2e-3 + 2 * half + 0.05 - half) / speed, within(1e-9));
    }

    @Test
    void an_uneven_press_leaves_less_under_its_heavier_edge() {
        AnalysisResult result = run(job(
                "hold",
                b -> b.choice("stamp.kind", "plate")
                        .choice("stamp.surround", "isolated")
                        .quantity("stamp.thickness", 1e-5)
                        .quantity("process.hold", 2)
                        .quantity("process.uneven-x", 0.5)));
        double[] peak = field(result, "pressure.peak");
        assertThat(peak[5]).isGreaterThan(1.5 * peak[0]);
    }

    @Test
    void shear_beyond_the_critical_stress_is_told() {
        AnalysisResult result = run(job("hot-press", b -> {
            hot(b);
            b.quantity("film.thinning-stress", 1.48e5);
        }));
        assertThat(result.warnings()).extracting(Finding.Warning::code).contains("film.thinning");
    }

    @Test
    void a_film_that_thins_fills_sooner_and_needs_no_warning() {
        AnalysisResult rest = run(job("hot-press", ProcessJobTest::hot));
        AnalysisResult thinning = run(job("hot-press", b -> {
            hot(b);
            b.quantity("film.thinning-stress", 1.48e5).quantity("film.thinning-exponent", 0.21);
        }));
        assertThat(thinning.warnings()).extracting(Finding.Warning::code).doesNotContain("film.thinning");
        double[] later = field(rest, "fill.time");
        double[] sooner = field(thinning, "fill.time");
        for (int i = 0; i < later.length; i++) {
            assertThat(sooner[i]).isLessThanOrEqualTo(later[i]);
        }
        // Most of the time is the heating, so the rates tell more.
        assertThat(Arrays.stream(field(thinning, "fill.rate")).sum())
                .isGreaterThan(1.1 * Arrays.stream(field(rest, "fill.rate")).sum());
    }

    @ParameterizedTest
    @CsvSource({
        "90, 60, 0.5, 'does not flow at 90 degC', 'more than 105 degC'",
        "300, 60, 0.5, 'reaches 300 degC', 'below 260 degC'",
        "170, 120, 0.5, 'still liquid at the end, at 120 degC', 'below 105 degC'",
        "170, 180, 0.5, 'releases at 180 degC', 'release at less than it presses at'"
    })
    void a_temperature_that_cannot_be_is_refused_with_its_number_and_the_range(
            double press, double release, double cooling, String number, String range) {
        List<Problem> problems = refused(job("hot-press", b -> {
            hot(b);
            b.quantity("process.temperature", press + ZERO)
                    .quantity("release.temperature", release + ZERO)
                    .quantity("process.cooling-rate", cooling);
        }));
        assertThat(problems).anySatisfy(problem -> assertThat(problem.line()).contains(number, range));
    }

    @Test
    void steps_without_length_and_below_absolute_zero_are_refused_at_once() {
        List<Problem> problems = refused(job("hot-press", b -> {
            melt(b);
            b.table("process.steps", List.of(step(0, 170, 0), step(60, 170, 5), step(60, -280, 5)));
        }));
        assertThat(problems).extracting(Problem::code).contains("process.step-length", "process.temperature");
        assertThat(problems).anySatisfy(problem -> assertThat(problem.line()).contains("0 s", "more than 0 s"));
        assertThat(problems).anySatisfy(problem -> assertThat(problem.line()).contains("-6.85", "-273.15 degC"));
    }

    @Test
    void a_table_that_is_not_monotone_is_refused_with_its_row() {
        List<Problem> problems = refused(job("hot-press", b -> {
            hot(b);
            b.table("film.viscosities", List.of(point(150, 1e5), point(170, 1e4), point(190, 2e4)));
        }));
        assertThat(problems)
                .singleElement()
                .satisfies(problem -> assertThat(problem.line()).contains("row 3", "20000", "190 degC", "must fall"));
    }

    private static Map<String, Double> point(double celsius, double pascalSeconds) {
        return Map.of("temperature", celsius + ZERO, "viscosity", pascalSeconds);
    }

    @Test
    void everything_a_kind_lacks_is_told_at_once() {
        assertThat(refused(job("roller", b -> {})))
                .extracting(Problem::place)
                .containsExactlyInAnyOrder(
                        "process.temperature",
                        "process.roller-diameter",
                        "process.cover-modulus",
                        "process.line-force",
                        "process.web-speed",
                        "process.exposure");
    }

    @Test
    void too_short_an_exposure_is_refused_with_the_time_that_works() {
        assertThatThrownBy(() -> provider.create(job("uv-press", b -> {
                    uv(b);
                    b.quantity("process.exposure", 4);
                })))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("at least 10.0000 s");
    }

    /** The history may cost at most half as many steps more than the same viscosity and pressure held as long. */
    @Test
    void a_history_takes_few_more_steps_than_a_constant_load() {
        AnalysisResult history = run(
                job("hot-press", b -> {
                    hot(b);
                    b.choice("stamp.kind", "bonded-layer")
                            .quantity("stamp.layer.modulus", 1e9)
                            .quantity("stamp.layer.poisson", 0.4)
                            .quantity("stamp.layer.thickness", 1e-4);
                }),
                0.05);
        AnalysisResult constant = run(
                job(
                        "hold",
                        b -> b.choice("stamp.kind", "bonded-layer")
                                .quantity("stamp.layer.modulus", 1e9)
                                .quantity("stamp.layer.poisson", 0.4)
                                .quantity("stamp.layer.thickness", 1e-4)
                                .quantity("process.hold", figure(history, "end"))),
                0.05);
        assertThat(figure(history, "newton")).isLessThanOrEqualTo(1.5 * figure(constant, "newton"));
    }
}
