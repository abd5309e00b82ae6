package org.evenstamp.analysis.film;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.ServiceLoader;
import java.util.function.Consumer;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.spi.Snapshot;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FilmProviderTest {
    private final FilmProvider provider = new FilmProvider();

    private Parameters job(Consumer<Parameters.Builder> changes) {
        Parameters.Builder builder = Parameters.builder()
                .quantity("film.thickness", 250e-9)
                .quantity("film.viscosity", 1e4)
                .quantity("process.pressure", 5e6)
                .quantity("process.hold", 60);
        changes.accept(builder);
        return builder.defaults(provider.description().parameters()).build();
    }

    private static AnalysisContext context(int columns, int rows, double fill, Progress progress) {
        TileGrid grid = new TileGrid(0, 0, 200e-6, columns, rows);
        double[] fraction = new double[grid.size()];
        double[] volume = new double[grid.size()];
        double[] moment = new double[grid.size()];
        for (int i = 0; i < grid.size(); i++) {
            fraction[i] = grid.column(i) < columns / 2 ? fill : fill / 2;
            volume[i] = fraction[i] * 150e-9;
            moment[i] = Math.pow(1 - fraction[i], 3) * 1e-10;
        }
        FieldSet fields = FieldSet.empty(grid)
                .with(List.of(
                        Field.of(TileFields.CAVITY_FRACTION, grid, fraction),
                        Field.of(TileFields.CAVITY_VOLUME, grid, volume),
                        Field.of(TileFields.SQUEEZE_MOMENT, grid, moment)));
        return new AnalysisContext(grid, fields, 1, progress);
    }

    private AnalysisResult run(Parameters job, int columns, int rows, double fill) {
        AnalysisResult result = provider.create(job).run(context(columns, rows, fill, new Progress()));
        assertThat(result.fields().stream().map(Field::name))
                .containsExactlyElementsOf(provider.description().gives());
        return result;
    }

    private static double figure(AnalysisResult result, String id) {
        return result.figures().stream()
                .filter(f -> f.id().equals(id))
                .mapToDouble(Figure::valueSi)
                .findFirst()
                .orElseThrow();
    }

    private static String message(AnalysisResult result, String code) {
        return result.warnings().stream()
                .filter(warning -> warning.code().equals(code))
                .map(Finding.Warning::message)
                .findFirst()
                .orElse("");
    }

    /**
     * 40 mPa typed for 40 MPa. By hand: a moment of 42.1875 um² over 250 nm, of which 212.5 nm stay, needs 42.1875e-12/2 (1/212.5² - 1/250²)
     * nm^-2 = 129.6, and gets 0.04 Pa x 60 s / 1e4 Pa s = 2.4e-4.
     */
    @Test
    void a_pressure_in_the_wrong_unit_is_called_too_little_pressing_and_by_which_factor() {
        AnalysisResult result = run(job(b -> b.quantity("process.pressure", 0.04)), 4, 2, 0.5);
        assertThat(message(result, "film.unfilled-time")).contains("8 unfilled tiles", "5.401e+05 times");
        assertThat(figure(result, "never.filled")).isEqualTo(8);
    }

    @Test
    void film_that_the_cavities_outdo_is_called_too_short() {
        AnalysisResult result =
                run(job(b -> b.quantity("film.thickness", 60e-9).quantity("process.hold", 6000)), 4, 2, 0.5);
        assertThat(message(result, "film.unfilled-short")).contains("4 unfilled tiles", "75.00 nm for 60.00 nm");
        assertThat(codes(result)).doesNotContain("film.unfilled-time");
    }

    /** A silicon wafer cannot follow cavities that differ by 37.5 nm over 400 um at 5 MPa; a softer body does. */
    @Test
    void a_stamp_that_bridges_cavities_is_called_too_stiff_and_told_the_pressure() {
        AnalysisResult stiff = run(job(b -> b.quantity("process.hold", 100)), 4, 2, 0.5);
        assertThat(message(stiff, "film.unfilled-stiff")).contains("4 unfilled tiles", "MPa would bend it down");
        AnalysisResult soft = run(job(b -> b.quantity("process.hold", 100).quantity("stamp.modulus", 1e9)), 4, 2, 0.5);
        assertThat(codes(soft)).doesNotContain("film.unfilled-stiff", "film.unfilled-time", "film.unfilled-short");
        assertThat(figure(soft, "never.filled")).isZero();
    }

    @Test
    void the_time_of_most_is_that_at_which_all_but_a_thousandth_of_the_cavities_volume_is_met() {
        AnalysisContext uneven = context(40, 30, 0.5, new Progress());
        AnalysisResult result = provider.create(
                        job(b -> b.quantity("process.hold", 100).quantity("stamp.modulus", 1e9)))
                .run(uneven);
        Field volume = uneven.fields().get(TileFields.CAVITY_VOLUME);
        Field time = result.fields().stream()
                .filter(field -> field.name().equals(ImprintFields.FILL_TIME))
                .findFirst()
                .orElseThrow();
        double most = figure(result, "fill.most");
        double all = 0;
        double until = 0;
        double before = 0;
        for (int i = 0; i < uneven.grid().size(); i++) {
            all += volume.at(i);
            until += time.known(i) && time.at(i) <= most ? volume.at(i) : 0;
            before += time.known(i) && time.at(i) < most ? volume.at(i) : 0;
        }
        assertThat(until / all).isGreaterThanOrEqualTo(0.999);
        assertThat(before / all).isLessThan(0.999);

        AnalysisResult stiff = run(job(b -> b.quantity("process.hold", 100)), 4, 2, 0.5);
        assertThat(stiff.figures()).extracting(Figure::id).doesNotContain("fill.most");
    }

    /** By hand: 5 MPa on 8 tiles of 200 um: 1.6 N; 525 um of 130 GPa store (5e6)² x 3.2e-7 x 525e-6/(2 x 130e9) = 1.6154e-8 J. */
    @Test
    void force_and_energy_of_the_press_are_figures_of_every_run() {
        AnalysisResult result = run(job(b -> {}), 4, 2, 0.5);
        assertThat(figure(result, "force")).isCloseTo(1.6, within(1e-9));
        assertThat(figure(result, "energy")).isCloseTo(1.6154e-8, within(1e-12));
    }

    @Test
    void a_stamp_pressed_outside_the_range_of_its_numbers_is_warned_of() {
        Consumer<Parameters.Builder> polymer =
                b -> b.quantity("stamp.valid-from", 293.15).quantity("stamp.valid-to", 298.15);
        AnalysisResult hot = run(job(polymer.andThen(b -> b.quantity("process.temperature", 447.15))), 4, 2, 0.5);
        assertThat(message(hot, "film.stamp-range")).contains("20 degC to 25 degC", "pressed at 174 degC");
        AnalysisResult cool = run(job(polymer.andThen(b -> b.quantity("process.temperature", 297.15))), 4, 2, 0.5);
        assertThat(codes(cool)).doesNotContain("film.stamp-range");
    }

    private double fillTime(Parameters job, double cavityWidth) {
        TileGrid grid = new TileGrid(0, 0, 200e-6, 4, 4);
        AnalysisContext even = context(8, 4, 0.5, new Progress());
        FieldSet fields = FieldSet.empty(grid)
                .with(List.of(
                        uniform(grid, TileFields.CAVITY_FRACTION, 0.5),
                        uniform(grid, TileFields.CAVITY_VOLUME, 75e-9),
                        uniform(grid, TileFields.SQUEEZE_MOMENT, 1e-11),
                        uniform(grid, TileFields.CAVITY_WIDTH_MIN, cavityWidth)));
        AnalysisResult result = provider.create(job).run(new AnalysisContext(grid, fields, 1, even.progress()));
        return result.fields().stream()
                .filter(field -> field.name().equals(ImprintFields.FILL_TIME))
                .findFirst()
                .orElseThrow()
                .at(5);
    }

    private static Field uniform(TileGrid grid, FieldName name, double value) {
        double[] values = new double[grid.size()];
        Arrays.fill(values, value);
        return Field.of(name, grid, values);
    }

    /**
     * Laplace, 30 mN/m at 30 deg: a slot of 100 nm draws with 519615 Pa; film bridged from the substrate to a roof 360 nm above it with 144338 Pa.
     * The film pulls at the stamp under the land alone, half the area here, so a press with half as much more pressure fills in the same time (to the
     * time steps of a liquid, 5 %).
     */
    @ParameterizedTest
    @CsvSource({"250e-9, 100e-9, 519615.242", "285e-9, 50e-6, 144337.567"})
    void menisci_press_as_much_as_laplace_says(double film, double width, double pascals) {
        Consumer<Parameters.Builder> liquid = b -> b.quantity("film.thickness", film)
                .quantity("stamp.modulus", 130e9)
                .choice("stamp.kind", "rigid")
                .quantity("film.viscosity", 1);
        double drawn = fillTime(
                job(liquid.andThen(b -> b.quantity("film.surface-tension", 0.03)
                        .quantity("film.contact-angle", Math.PI / 6)
                        .quantity("process.pressure", 1e5))),
                width);
        double pressed = fillTime(job(liquid.andThen(b -> b.quantity("process.pressure", 1e5 + pascals / 2))), width);
        double alone = fillTime(job(liquid.andThen(b -> b.quantity("process.pressure", 1e5))), width);
        assertThat(drawn / pressed).isCloseTo(1, within(0.05));
        assertThat(alone / drawn).isGreaterThan(1.5);
    }

    /** Rowland and others, ACS Nano 2 (2008) 419, abstract: bulk flow down to 10 nm. */
    @Test
    void films_are_called_too_thin_for_bulk_flow_below_ten_nanometres_and_not_above() {
        double cavities = 75e-9;
        for (double left : new double[] {8e-9, 12e-9, 60e-9}) {
            AnalysisResult result = run(
                    job(b -> b.quantity("film.thickness", cavities + left)
                            .choice("stamp.kind", "half-space")
                            .quantity("stamp.modulus", 1e6)
                            .quantity("process.pressure", 1e5)
                            .quantity("film.viscosity", 1)),
                    2,
                    1,
                    0.5);
            assertThat(codes(result).contains("film.thin")).as("%s m", left).isEqualTo(left < 10e-9);
        }
    }

    /** By hand: 250 nm of film over 75 and 37.5 nm of cavities leave 175 and 212.5 nm under a flexible stamp; curing by 4 % leaves 36 nm between. */
    @Test
    void the_range_under_a_flexible_stamp_is_that_of_the_film_left_after_curing() {
        assertThat(figure(run(job(b -> {}), 4, 2, 0.5), "flexible.range")).isCloseTo(37.5e-9, within(1e-15));
        assertThat(figure(run(job(b -> b.quantity("film.cure-shrinkage", 0.04)), 4, 2, 0.5), "flexible.range"))
                .isCloseTo(36e-9, within(1e-15));
        assertThat(figure(run(job(b -> b.quantity("film.thickness", 50e-9)), 4, 2, 0.5), "flexible.range"))
                .isCloseTo(12.5e-9, within(1e-15));
    }

    private static List<String> codes(AnalysisResult result) {
        return result.warnings().stream().map(Finding.Warning::code).toList();
    }

    @Test
    void the_service_loader_finds_it() {
        assertThat(ServiceLoader.load(AnalysisProvider.class).stream().map(ServiceLoader.Provider::type))
                .anyMatch(FilmProvider.class::equals);
    }

    @Test
    void a_plate_lies_between_the_rigid_and_the_flexible_limit() {
        AnalysisResult result = run(job(b -> b.quantity("film.thickness", 350e-9)), 24, 20, 0.8);
        assertThat(figure(result, "conformity")).isBetween(0.01, 0.99);
        assertThat(figure(result, "residual.mean")).isGreaterThanOrEqualTo(figure(result, "rigid.residual") - 1e-12);
        assertThat(figure(result, "mass.error")).isLessThan(1e-8);
        assertThat(codes(result)).containsExactly("film.unfilled-stiff");
    }

    @Test
    void a_map_of_the_film_is_kept_in_layer_and_cavities() {
        AnalysisContext even = context(12, 10, 0.8, new Progress());
        double[] coated = new double[120];
        double sum = 0;
        for (int i = 0; i < coated.length; i++) {
            coated[i] = 280e-9
                    + 2e-9 * (even.grid().column(i) % 3)
                    - 1e-9 * even.grid().row(i);
            sum += coated[i];
        }
        double mean = sum / coated.length;
        AnalysisContext mapped = new AnalysisContext(
                even.grid(),
                even.fields().with(List.of(Field.of(TileFields.FILM_COATED, even.grid(), coated))),
                1,
                new Progress());

        AnalysisResult result =
                provider.create(job(b -> b.quantity("film.thickness", mean))).run(mapped);

        double[] volume = even.fields().get(TileFields.CAVITY_VOLUME).toArray();
        double[] residual = result.fields().get(0).toArray();
        double[] share = result.fields().get(1).toArray();
        double kept = 0;
        for (int i = 0; i < coated.length; i++) {
            kept += (residual[i] + share[i] * volume[i]) / coated.length;
        }
        assertThat(kept).isCloseTo(mean, within(1e-6 * mean));
        double held = Arrays.stream(volume).average().orElseThrow();
        assertThat(figure(result, "rigid.residual")).isCloseTo(mean - held, within(1e-15));
        double[] flexible = new double[coated.length];
        Arrays.setAll(flexible, i -> coated[i] - volume[i]);
        assertThat(figure(result, "flexible.range"))
                .isCloseTo(
                        Arrays.stream(flexible).max().orElseThrow()
                                - Arrays.stream(flexible).min().orElseThrow(),
                        within(1e-15));
        assertThat(codes(result)).doesNotContain("film.incomplete", "film.mass");
    }

    @Test
    void snapshots_are_taken_at_the_asked_times() {
        AnalysisResult result = run(
                job(b -> b.table("process.snapshots", List.of(Map.of("time", 1.0), Map.of("time", 10.0)))), 8, 8, 0.5);
        var curve = result.curves().stream()
                .filter(c -> c.id().equals("snapshots"))
                .findFirst()
                .orElseThrow();
        assertThat(curve.columns()).hasSize(3);
        assertThat(curve.columns().get(2).at(50))
                .isLessThan(curve.columns().get(1).at(50));
        List<Snapshot> residual = course(result, "residual.final");
        assertThat(residual).extracting(Snapshot::seconds).containsExactly(1.0, 10.0, 60.0);
        double[] atTen = residual.get(1).field().sorted();
        assertThat(curve.columns().get(2).at(0)).isEqualTo(atTen[0]);
        assertThat(curve.columns().get(2).at(100)).isEqualTo(atTen[atTen.length - 1]);
    }

    @Test
    void a_snapshot_is_the_field_that_a_run_to_that_time_gives() {
        AnalysisResult whole = run(
                job(b -> b.table("process.snapshots", List.of(Map.of("time", 7.0), Map.of("time", 99.0)))), 8, 6, 0.5);
        AnalysisResult until = run(job(b -> b.quantity("process.hold", 7)), 8, 6, 0.5);

        for (int f = 0; f < 2; f++) {
            Field last = until.fields().get(f);
            Snapshot kept = course(whole, last.name().id()).get(0);
            assertThat(kept.seconds()).isEqualTo(7);
            double size = Arrays.stream(last.toArray()).max().orElseThrow();
            // the time steps of both runs differ a little
            assertThat(kept.field().toArray()).containsExactly(last.toArray(), within(2e-3 * size));
        }
        assertThat(codes(whole)).contains("film.snapshots-late");
    }

    @Test
    void without_asked_times_a_few_states_show_the_way_of_the_film_and_the_last_one_is_the_field() {
        Parameters job = job(b -> {});
        AnalysisResult result = run(job, 12, 10, 0.8);

        for (int f = 0; f < 2; f++) {
            Field last = result.fields().get(f);
            List<Snapshot> course = course(result, last.name().id());
            assertThat(course).hasSizeBetween(6, 13);
            assertThat(course.get(0).seconds()).isZero();
            assertThat(course.get(course.size() - 1).field()).isSameAs(last);
        }
        assertThat(course(result, "residual.final").get(0).field().toArray()).containsOnly(250e-9);
        assertThat(result.curves()).noneMatch(curve -> curve.id().equals("snapshots"));
    }

    private static List<Snapshot> course(AnalysisResult result, String field) {
        return result.snapshots().stream()
                .filter(one -> one.field().name().id().equals(field))
                .toList();
    }

    @ParameterizedTest
    @CsvSource({
        "film.thickness, 30e-9, film.starved",
        "process.pressure, 0, film.no-pressure",
        "film.thickness, 200e-9, film.deep-cavity",
        "process.gas-pressure, 1e5, film.gas-stays"
    })
    void whatAUserShouldKnowIsAWarning(String parameter, double value, String code) {
        assertThat(codes(run(job(b -> b.quantity(parameter, value)), 6, 6, 0.8)))
                .contains(code);
    }

    /** 99 % are in after 1.78 squares of half the width over the diffusivity (Crank): years at 1e-6 um²/s, nothing at 1e9. */
    @Test
    void gas_that_dissolves_slower_than_the_solve_lets_it_is_told() {
        Consumer<Parameters.Builder> gas =
                b -> b.quantity("process.gas-pressure", 1e5).quantity("film.gas-solubility", 0.1);
        assertThat(codes(run(job(gas), 6, 6, 0.5))).contains("film.gas-at-once");
        assertThat(codes(run(job(gas.andThen(b -> b.quantity("film.gas-diffusivity", 1e-18))), 6, 6, 0.5)))
                .contains("film.gas-slow");
        assertThat(codes(run(job(gas.andThen(b -> b.quantity("film.gas-diffusivity", 1e-3))), 6, 6, 0.5)))
                .doesNotContain("film.gas-slow", "film.gas-at-once");
    }

    @Test
    void no_cavity_and_nothing_but_cavity_are_answered_with_a_warning() {
        assertThat(codes(run(job(b -> {}), 6, 5, 0))).contains("film.no-cavity");
        TileGrid grid = new TileGrid(0, 0, 1e-4, 4, 3);
        double[] one = new double[12];
        Arrays.fill(one, 1);
        double[] deep = new double[12];
        Arrays.fill(deep, 100e-9);
        FieldSet fields = FieldSet.empty(grid)
                .with(List.of(
                        Field.of(TileFields.CAVITY_FRACTION, grid, one),
                        Field.of(TileFields.CAVITY_VOLUME, grid, deep),
                        Field.of(TileFields.SQUEEZE_MOMENT, grid, new double[12])));
        AnalysisResult result = provider.create(job(b -> {})).run(new AnalysisContext(grid, fields, 1, new Progress()));
        assertThat(codes(result)).contains("film.all-cavity");
        assertThat(result.fields().get(0).at(0)).isCloseTo(150e-9, within(1e-13));
    }

    @ParameterizedTest
    @CsvSource({"1,1", "1,9", "9,1", "2,2", "3,2", "7,11"})
    void everyShapeOfMapIsAnswered(int columns, int rows) {
        for (String surround : List.of("periodic", "isolated")) {
            AnalysisResult result = run(job(b -> b.choice("stamp.surround", surround)), columns, rows, 0.6);
            double[] left = result.fields().get(0).toArray();
            double[] share = result.fields().get(1).toArray();
            double film = 0;
            for (int i = 0; i < left.length; i++) {
                assertThat(left[i]).isBetween(0.0, 250e-9);
                double volume = (i % columns < columns / 2 ? 0.6 : 0.3) * 150e-9;
                film += (left[i] + share[i] * volume) / left.length;
            }
            assertThat(film).isCloseTo(250e-9, within(0.5e-9));
            assertThat(figure(result, "mass.error")).isLessThan(1e-8);
        }
    }

    @ParameterizedTest
    @CsvSource({"1e12, 5e6", "1e-3, 1e5", "1e4, 1e9", "1e-5, 1e9", "1e13, 1"})
    void extremeRecipesAreAnswered(double viscosity, double pressure) {
        AnalysisResult result = run(
                job(b -> b.quantity("film.viscosity", viscosity).quantity("process.pressure", pressure)), 8, 8, 0.7);
        assertThat(codes(result)).doesNotContain("film.incomplete");
        assertThat(figure(result, "mass.error")).isLessThan(1e-8);
        // what a whole hold of 60 s can do: p t / eta against some hundred for the moment of these tiles
        double pressing = pressure * 60 / viscosity;
        if (pressing < 1) {
            assertThat(figure(result, "filled.once")).isZero();
            assertThat(figure(result, "residual.mean")).isCloseTo(250e-9, within(1e-9));
        } else {
            assertThat(figure(result, "filled.once")).isPositive();
            assertThat(figure(result, "residual.mean")).isLessThan(200e-9);
        }
    }

    @Test
    void pressures_beyond_what_a_linear_stamp_bears_are_a_warning() {
        assertThat(codes(run(
                        job(b -> b.choice("stamp.kind", "half-space")
                                .quantity("stamp.modulus", 1e6)
                                .quantity("process.pressure", 1e6)),
                        6,
                        6,
                        0.5)))
                .contains("film.stamp-strain");
    }

    @Test
    void a_layer_without_its_numbers_is_refused_with_all_that_is_missing() {
        assertThatThrownBy(() -> provider.create(job(b -> b.choice("stamp.kind", "bonded-layer"))))
                .isInstanceOfSatisfying(
                        InputException.class, e -> assertThat(e.problems()).hasSize(3));
    }

    @Test
    void a_particle_outside_the_map_is_refused() {
        Parameters job = job(b -> b.table("process.particles", List.of(Map.of("x", 1.0, "y", 0.0, "height", 1e-6))));
        assertThatThrownBy(() -> run(job, 6, 6, 0.5))
                .isInstanceOf(InputException.class)
                .hasMessageContaining("outside");
    }

    @Test
    void a_run_that_is_cancelled_stops() {
        Progress progress = new Progress();
        AnalysisContext context = context(32, 32, 0.5, progress);
        progress.cancel();
        assertThatThrownBy(() -> provider.create(job(b -> {})).run(context)).isInstanceOf(CancelledException.class);
    }
}
