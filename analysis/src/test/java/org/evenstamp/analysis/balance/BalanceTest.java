package org.evenstamp.analysis.balance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.analysis.imprint.FilmShape;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Menisci;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisResult;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class BalanceTest {
    private static final double NM = 1e-9;
    private static final double UM = 1e-6;

    /**
     * Conservation of volume, {@code hf = h0 - (1 - f) hr} with protrusion fraction f and relief hr: 200 nm of film under
     * 150 nm of relief.
     */
    @ParameterizedTest
    @CsvSource({"0.2, 80", "0.5, 125", "0.8, 170"})
    void residual_layer_is_what_the_cavities_leave_of_the_film(double protrusionFraction, double residualNm) {
        AnalysisResult result = run(200 * NM, row(1, 1 - protrusionFraction, 150 * NM, 1));

        assertThat(at(result, ImprintFields.RESIDUAL_LOCAL, 0)).isCloseTo(residualNm * NM, within(1e-6 * NM));
        assertThat(at(result, ImprintFields.FILL_SHARE_LOCAL, 0)).isEqualTo(1);
        assertThat(at(result, BalanceFields.STARVED_SHARE, 0)).isZero();
    }

    /** The same closed form: neighbouring fields of f = 0.2 and 0.8 differ by 90 nm and move 45 nm to be even. */
    @Test
    void surplus_evens_out_the_residual_layer() {
        TileGrid grid = new TileGrid(0, 0, 100 * UM, 2, 1);
        AnalysisResult result = run(200 * NM, fields(grid, new double[] {0.8, 0.2}, 150 * NM, 1));

        assertThat(at(result, ImprintFields.RESIDUAL_LOCAL, 1) - at(result, ImprintFields.RESIDUAL_LOCAL, 0))
                .isCloseTo(90 * NM, within(1e-6 * NM));
        assertThat(at(result, BalanceFields.VOLUME_SURPLUS, 0)).isCloseTo(-45 * NM, within(1e-6 * NM));
        assertThat(at(result, BalanceFields.VOLUME_SURPLUS, 1)).isCloseTo(45 * NM, within(1e-6 * NM));
        assertThat(at(result, BalanceFields.TRANSPORT_DISTANCE, 1)).isCloseTo(100 * UM, within(1e-9 * UM));
        assertThat(field(result, BalanceFields.TRANSPORT_DISTANCE).known(0)).isFalse();
    }

    /** Cavities of 300 nm x 0.8 = 240 nm under 200 nm of film fill by 200/240. */
    @Test
    void film_that_is_too_thin_starves_the_cavities() {
        AnalysisResult result = run(200 * NM, row(1, 0.8, 300 * NM, 1));

        assertThat(at(result, ImprintFields.RESIDUAL_LOCAL, 0)).isZero();
        assertThat(at(result, ImprintFields.FILL_SHARE_LOCAL, 0)).isCloseTo(5.0 / 6, within(1e-12));
        assertThat(at(result, BalanceFields.STARVED_SHARE, 0)).isCloseTo(1.0 / 6, within(1e-12));
        assertThat(field(result, ImprintFields.FILL_TIME_FREE).known(0)).isFalse();
        assertThat(figure(result, "tiles.starved")).isEqualTo(1);
        assertThat(figure(result, "film.thickness.least")).isCloseTo(240 * NM, within(1e-6 * NM));
        assertThat(codes(result)).contains("balance.starved");
    }

    /**
     * Stefan's law for parallel plates that sink from 200 to 100 nm, viscosity 1e4 Pa s, mean pressure 5 MPa. Strip:
     * {@code t = eta s^2/(2 p) (1/hf^2 - 1/h0^2)}, disc: {@code 3 eta R^2/(4 p) (...)} (closed forms of Reynolds' equation);
     * square and rectangle 1:2: the same with Saint-Venant's torsion constant, 3 J/(L W^3) = 0.421731045 and 0.686045031
     * (torsion series of the handbooks). T is the moment over the shape's own area.
     */
    @ParameterizedTest(name = "{0}")
    @CsvSource({
        "strip 10 um,           100,          7.50000",
        "square 10 x 10 um,      42.1731045,  3.16298284",
        "rectangle 10 x 20 um,   68.6045031,  5.14533774",
        "disc of radius 5 um,    37.5,        2.81250"
    })
    void a_tile_fills_alone_in_stefans_time(String shape, double momentSquareMicrometres, double seconds) {
        // half the area is cavity of 200 nm: v = 100 nm; the moment is the pad's, spread over the tile
        AnalysisResult result = run(200 * NM, row(1, 0.5, 200 * NM, momentSquareMicrometres));

        assertThat(at(result, ImprintFields.FILL_TIME_FREE, 0)).as(shape).isCloseTo(seconds, within(1e-6 * seconds));
    }

    /** Strip of 10 um from 200 nm: {@code h(t) = (1/h0^2 + 2 p t/(eta s^2))^(-1/2)}, closed form, inverted. */
    @ParameterizedTest
    @CsvSource({"1, 169.030851", "10, 89.4427191", "100, 31.2347524", "1000, 9.98752339"})
    void the_film_under_a_strip_is_as_thin_as_stefan_says_when_it_fills(double seconds, double leftNm) {
        AnalysisResult result = run(200 * NM, row(1, 0.5, 2 * (200 - leftNm) * NM, 100));

        assertThat(at(result, ImprintFields.FILL_TIME_FREE, 0)).isCloseTo(seconds, within(1e-6 * seconds));
    }

    @Test
    void without_pressure_nothing_has_a_fill_time() {
        TileGrid grid = new TileGrid(0, 0, 100 * UM, 2, 1);
        AnalysisResult result = new Balance(200 * NM, new FilmShape(0, 0, 0), 1, 1, 1e4, 0, Menisci.NONE)
                .run(context(fields(grid, new double[] {0, 0.5}, 150 * NM, 100)));

        assertThat(field(result, ImprintFields.FILL_TIME_FREE).knownCount()).isZero();
        assertThat(codes(result)).contains("balance.no-pressure");
    }

    /**
     * Laplace: slots of 1 um with a film of 30 mN/m that wets pull with 2 x 0.03 / 1e-6 = 60 kPa below half the tile, so the land is
     * pressed with 30 kPa more. At 30 kPa of the press that is half of Stefan's time.
     */
    @Test
    void a_meniscus_pulls_the_stamp_down_and_a_tile_fills_sooner() {
        FieldSet half = row(1, 0.5, 2000 * NM, 100);
        FieldSet slots = half.with(List.of(Field.of(TileFields.CAVITY_WIDTH_MIN, half.grid(), new double[] {1 * UM})));
        Balance dry = new Balance(1200 * NM, new FilmShape(0, 0, 0), 1, 1, 0.05, 30e3, Menisci.NONE);
        Balance wet = new Balance(1200 * NM, new FilmShape(0, 0, 0), 1, 1, 0.05, 30e3, new Menisci(0.03, 0, 0, 0));

        double alone = at(dry.run(context(slots)), ImprintFields.FILL_TIME_FREE, 0);
        assertThat(at(wet.run(context(slots)), ImprintFields.FILL_TIME_FREE, 0))
                .isCloseTo(alone / 2, within(1e-9 * alone));
        assertThat(at(wet.run(context(half)), ImprintFields.FILL_TIME_FREE, 0)).isEqualTo(alone);
    }

    @Test
    void a_stamp_without_cavity_has_nothing_to_fill_and_says_so() {
        AnalysisResult result = run(200 * NM, row(3, 0, 150 * NM, 0));

        assertThat(field(result, ImprintFields.FILL_SHARE_LOCAL).knownCount()).isZero();
        assertThat(field(result, ImprintFields.FILL_TIME_FREE).knownCount()).isZero();
        assertThat(codes(result)).containsExactly("balance.no-cavity");
    }

    @Test
    void a_stamp_that_is_all_cavity_says_so() {
        assertThat(codes(run(500 * NM, row(3, 1, 150 * NM, 0)))).containsExactly("balance.all-cavity");
    }

    /**
     * The film should be at least about twice as thick as the cavities are deep: Y. Hirai et al., J. Vac. Sci. Technol. B
     * 22 (2004) 3288-3293.
     */
    @Test
    void warns_where_the_film_is_thinner_than_twice_the_depth() {
        TileGrid grid = new TileGrid(0, 0, 100 * UM, 3, 1);
        double[] fraction = {0.5, 0.5, 0.5};
        FieldSet fields = FieldSet.empty(grid)
                .with(List.of(
                        Field.of(TileFields.CAVITY_FRACTION, grid, fraction),
                        Field.of(TileFields.CAVITY_VOLUME, grid, new double[] {49 * NM, 60 * NM, 51 * NM}),
                        Field.of(TileFields.SQUEEZE_MOMENT, grid, new double[3])));

        AnalysisResult result = run(200 * NM, fields);

        assertThat(result.warnings()).singleElement().satisfies(warning -> {
            assertThat(warning.code()).isEqualTo("balance.film-below-depth");
            assertThat(warning.message()).contains("2 of 3 tiles");
            assertThat(warning.place()).isEqualTo(Place.Tile.of(grid, 1));
        });
    }

    /** Lubrication theory wants protrusions at least about three films wide: common practice, no source. */
    @Test
    void warns_where_the_widest_protrusion_is_narrow_for_lubrication() {
        TileGrid grid = new TileGrid(0, 0, 100 * UM, 2, 1);
        FieldSet fields = fields(grid, new double[] {0.5, 0.5}, 50 * NM, 1)
                .with(List.of(Field.of(TileFields.FLOW_PATH_MAX, grid, new double[] {310 * NM, 290 * NM})));

        AnalysisResult result = run(200 * NM, fields);

        assertThat(result.warnings()).singleElement().satisfies(warning -> {
            assertThat(warning.code()).isEqualTo("balance.narrow-protrusions");
            assertThat(warning.place()).isEqualTo(Place.Tile.of(grid, 1));
        });
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void film_is_neither_made_nor_lost(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        TileGrid grid = new TileGrid(0, 0, 50 * UM, 1 + random.nextInt(20), 1 + random.nextInt(20));
        double[] fraction = random.doubles(grid.size()).toArray();
        double film = random.nextDouble(50, 300) * NM;
        AnalysisResult result = run(film, fields(grid, fraction, 200 * NM, 100));

        double surplus = 0;
        for (int i = 0; i < grid.size(); i++) {
            double filled = at(result, ImprintFields.FILL_SHARE_LOCAL, i) * fraction[i] * 200 * NM;
            assertThat(at(result, ImprintFields.RESIDUAL_LOCAL, i) + filled).isCloseTo(film, within(1e-12 * film));
            assertThat(at(result, ImprintFields.FILL_SHARE_LOCAL, i) + at(result, BalanceFields.STARVED_SHARE, i))
                    .isCloseTo(1, within(1e-15));
            surplus += at(result, BalanceFields.VOLUME_SURPLUS, i);
        }
        assertThat(surplus).isCloseTo(0, within(1e-9 * film));
        double[] residual = field(result, ImprintFields.RESIDUAL_LOCAL).toArray();
        assertThat(figure(result, "residual.mean"))
                .isCloseTo(Arrays.stream(residual).average().orElseThrow(), within(1e-12 * film));
        assertThat(figure(result, "film.there"))
                .isCloseTo(film * grid.size() * grid.tileAreaSquareMetres(), within(1e-12 * film));
    }

    /** Conservation of volume by hand: 300 and 200 nm over cavities of 120 and 30 nm leave 180 and 170 nm, 175 nm if even. */
    @Test
    void every_tile_has_its_own_film_where_the_job_gives_a_map() {
        TileGrid grid = new TileGrid(0, 0, 100 * UM, 2, 1);
        FieldSet fields = fields(grid, new double[] {0.8, 0.2}, 150 * NM, 100)
                .with(List.of(Field.of(TileFields.FILM_COATED, grid, new double[] {300 * NM, 200 * NM})));
        AnalysisResult result = run(250 * NM, fields);

        assertThat(at(result, ImprintFields.RESIDUAL_LOCAL, 0)).isCloseTo(180 * NM, within(1e-6 * NM));
        assertThat(at(result, ImprintFields.RESIDUAL_LOCAL, 1)).isCloseTo(170 * NM, within(1e-6 * NM));
        assertThat(at(result, BalanceFields.VOLUME_SURPLUS, 0)).isCloseTo(5 * NM, within(1e-6 * NM));
        assertThat(at(result, BalanceFields.VOLUME_SURPLUS, 1)).isCloseTo(-5 * NM, within(1e-6 * NM));
        AnalysisResult thin = run(200 * NM, row(1, 0.2, 150 * NM, 100));
        assertThat(at(result, ImprintFields.FILL_TIME_FREE, 1)).isEqualTo(at(thin, ImprintFields.FILL_TIME_FREE, 0));
        assertThat(figure(result, "film.there")).isCloseTo(250 * NM * 2e-8, within(1e-25));
    }

    /**
     * By hand: 180 nm with 40 % of solvent are pressed at 300 nm; 120 nm go into the cavities, 180 nm stay, and dry to 108 nm. Cavities
     * of 240 nm fill, which the dry film could not do.
     */
    @Test
    void a_swollen_film_fills_as_it_is_pressed_and_dries_afterwards() {
        Balance balance = new Balance(180 * NM, new FilmShape(0, 0, 0), 1 / 0.6, 0.6, 1e4, 5e6, Menisci.NONE);
        AnalysisResult result = balance.run(context(row(1, 0.4, 300 * NM, 100)));
        assertThat(at(result, ImprintFields.RESIDUAL_LOCAL, 0)).isCloseTo(108 * NM, within(1e-6 * NM));
        assertThat(at(result, ImprintFields.FILL_TIME_FREE, 0))
                .isEqualTo(at(run(300 * NM, row(1, 0.4, 300 * NM, 100)), ImprintFields.FILL_TIME_FREE, 0));
        AnalysisResult deep = balance.run(context(row(1, 0.8, 300 * NM, 100)));
        assertThat(at(deep, ImprintFields.FILL_SHARE_LOCAL, 0)).isEqualTo(1);
        assertThat(figure(deep, "film.thickness.least")).isCloseTo(144 * NM, within(1e-6 * NM));
    }

    /** A map of one thickness is that thickness, to the last bit of every field. */
    @Test
    void an_even_map_of_the_film_changes_nothing() {
        TileGrid grid = new TileGrid(0, 0, 50 * UM, 9, 7);
        FieldSet fields = fields(grid, new SplittableRandom(4).doubles(63).toArray(), 200 * NM, 100);
        double[] even = new double[63];
        Arrays.fill(even, 210 * NM);
        AnalysisResult plain = run(210 * NM, fields);
        AnalysisResult mapped = run(210 * NM, fields.with(List.of(Field.of(TileFields.FILM_COATED, grid, even))));

        for (FieldName name : BalanceFields.all()) {
            assertThat(field(mapped, name).toArray())
                    .as(name.id())
                    .containsExactly(field(plain, name).toArray());
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void more_film_never_fills_less_or_later(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        TileGrid grid = new TileGrid(0, 0, 50 * UM, 12, 7);
        FieldSet fields = fields(grid, random.doubles(grid.size()).toArray(), 200 * NM, 100);
        AnalysisResult thin = run(120 * NM, fields);
        AnalysisResult thick = run(220 * NM, fields);

        for (int i = 0; i < grid.size(); i++) {
            assertThat(at(thick, ImprintFields.FILL_SHARE_LOCAL, i))
                    .isGreaterThanOrEqualTo(at(thin, ImprintFields.FILL_SHARE_LOCAL, i));
            if (field(thin, ImprintFields.FILL_TIME_FREE).known(i)) {
                assertThat(at(thick, ImprintFields.FILL_TIME_FREE, i))
                        .isLessThanOrEqualTo(at(thin, ImprintFields.FILL_TIME_FREE, i));
            }
        }
    }

    private static AnalysisResult run(double filmMetres, FieldSet fields) {
        return new Balance(filmMetres, new FilmShape(0, 0, 0), 1, 1, 1e4, 5e6, Menisci.NONE).run(context(fields));
    }

    private static AnalysisContext context(FieldSet fields) {
        return new AnalysisContext(fields.grid(), fields, 1, new Progress());
    }

    private static FieldSet row(int columns, double fraction, double depthMetres, double momentSquareMicrometres) {
        double[] fractions = new double[columns];
        Arrays.fill(fractions, fraction);
        return fields(new TileGrid(0, 0, 100 * UM, columns, 1), fractions, depthMetres, momentSquareMicrometres);
    }

    private static FieldSet fields(
            TileGrid grid, double[] fraction, double depthMetres, double momentSquareMicrometres) {
        double[] moment = new double[grid.size()];
        Arrays.fill(moment, momentSquareMicrometres * UM * UM);
        return FieldSet.empty(grid)
                .with(List.of(
                        Field.of(TileFields.CAVITY_FRACTION, grid, fraction),
                        Field.of(
                                TileFields.CAVITY_VOLUME,
                                grid,
                                Arrays.stream(fraction)
                                        .map(phi -> phi * depthMetres)
                                        .toArray()),
                        Field.of(TileFields.SQUEEZE_MOMENT, grid, moment)));
    }

    private static Field field(AnalysisResult result, FieldName name) {
        return result.fields().stream()
                .filter(field -> field.name().equals(name))
                .findFirst()
                .orElseThrow();
    }

    private static double at(AnalysisResult result, FieldName name, int index) {
        return field(result, name).at(index);
    }

    private static double figure(AnalysisResult result, String id) {
        return result.figures().stream()
                .filter(figure -> figure.id().equals(id))
                .findFirst()
                .orElseThrow()
                .valueSi();
    }

    private static List<String> codes(AnalysisResult result) {
        return result.warnings().stream().map(Finding.Warning::code).toList();
    }
}
