package org.evenstamp.analysis.film.load;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.analysis.numeric.Slab;
import org.evenstamp.analysis.process.Drying;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.SolventPress;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.spi.Parameters;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A film of 45 % solvent under land of three widths, at 25 degC: hold until 40 s, then drying. */
class DryingPlacesTest {
    private static final double KELVIN = 298.15;
    private static final double SWOLLEN = 0.45;
    private static final double START = 40;
    private static final double[] REACH = {10e-6, 30e-6, 100e-6};
    private static final double DIFFUSIVITY = 1e-11;

    private static final Parameters JOB = Parameters.builder()
            .quantity("film.thickness", 250e-9)
            .quantity("film.viscosity", 1e4)
            .quantity("film.glass-temperature", 373.15)
            .quantity("film.wlf-reference", 373.15)
            .quantity("film.wlf-c1", 13)
            .quantity("film.wlf-c2", 50)
            .quantity("film.solvent-glass-temperature", 160)
            .quantity("process.temperature", KELVIN)
            .quantity("process.solvent-share", SWOLLEN)
            .choice("process.kind", "solvent-press")
            .choice("process.dries-through", "land-edges")
            .defaults(FilmParameters.all())
            .quantity("film.uneven-x", 0)
            .quantity("film.uneven-y", 0)
            .quantity("film.uneven-radial", 0)
            .build();

    private final FilmLaw film = FilmParameters.law(JOB, KELVIN, SWOLLEN);

    private PlaceByPlace.Lived lived(double drySeconds, double diffusivity) {
        SolventPress press = new SolventPress(KELVIN, 2e6, SWOLLEN, 10, 1, 29, drySeconds);
        TileGrid grid = new TileGrid(0, 0, 1e-4, 3, 1);
        FieldSet fields = FieldSet.empty(grid).with(List.of(Field.of(TileFields.FLOW_PATH_MAX, grid, REACH)));
        ProcessHistory even = press.history(film);
        return DryingPlaces.of(JOB, press, new Drying(diffusivity, true), even).over(fields);
    }

    /** Share at which Fox's rule puts the glass temperature at that of the press. */
    private static double setShare() {
        return (1 / KELVIN - 1 / 373.15) / (1 / 160.0 - 1 / 373.15);
    }

    @Test
    void each_tile_sets_when_its_mean_share_is_down_to_that_of_the_glass() {
        PressLoad load = lived(1e5, DIFFUSIVITY).load();
        double[] now = new double[3];
        for (int i = 0; i < 3; i++) {
            // J. Crank's series for a strip, both edges dry: the mean share over that at first.
            double sets = START + Slab.whenMean(setShare() / SWOLLEN) * REACH[i] * REACH[i] / DIFFUSIVITY;
            load.fluidity(sets * (1 - 1e-6), sets * (1 - 1e-6), now);
            assertThat(now[i]).as("tile %d just before", i).isPositive();
            load.fluidity(sets * (1 + 1e-6), sets * (1 + 1e-6), now);
            assertThat(now[i]).as("tile %d just after", i).isZero();
            if (i == 2) {
                assertThat(load.endSeconds()).isCloseTo(sets, withinPercentage(1e-6));
            }
        }
    }

    /** The oracle sums the law's fluidity over short pieces of time, evenly in the root of the time of drying. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void whatever_the_steps_a_tile_flows_the_integral_of_its_own_fluidity(long seed) {
        PressLoad load = lived(1e5, DIFFUSIVITY).load();
        SplittableRandom random = new SplittableRandom(seed);
        double[] sum = new double[3];
        double[] now = new double[3];
        double time = START;
        while (time < load.endSeconds()) {
            double next = Math.min(load.endSeconds(), time + random.nextDouble(1e-3, 1) * (0.1 + (time - START)));
            load.fluidity(time, next, now);
            for (int i = 0; i < 3; i++) {
                sum[i] += now[i] * (next - time);
            }
            time = next;
        }
        for (int i = 0; i < 3; i++) {
            double tauSet = Slab.whenMean(setShare() / SWOLLEN);
            double exact = 0;
            int pieces = 20000;
            for (int n = 0; n < pieces; n++) {
                double root = (n + 0.5) / pieces;
                double share = SWOLLEN * Slab.mean(tauSet * root * root);
                exact += 2 * root * tauSet / pieces / film.at(KELVIN, share).pascalSeconds();
            }
            assertThat(sum[i]).isCloseTo(exact * REACH[i] * REACH[i] / DIFFUSIVITY, withinPercentage(0.01));
        }
    }

    @Test
    void until_the_drying_all_tiles_flow_alike_and_with_the_diffusion_of_a_gas_they_set_as_it_begins() {
        PressLoad load = lived(1e5, DIFFUSIVITY).load();
        double[] now = new double[3];
        load.fluidity(20, START, now);
        double wet = 1 / film.at(KELVIN, SWOLLEN).pascalSeconds();
        assertThat(now).containsExactly(new double[] {wet, wet, wet}, within(1e-12 * wet));

        PressLoad fast = lived(1e5, 1e-3).load();
        assertThat(fast.endSeconds()).isCloseTo(START, within(1e-3));
    }

    @Test
    void a_film_that_stays_soft_is_followed_until_the_drying_ends() {
        PlaceByPlace.Lived lived = lived(100, DIFFUSIVITY);
        assertThat(lived.load().endSeconds()).isCloseTo(START + 100, within(1e-9));
        assertThat(lived.history().flowEndSeconds()).isCloseTo(START + 100, within(1e-9));
        double[] now = new double[3];
        lived.load().fluidity(START + 99, START + 100, now);
        assertThat(now[0]).isZero();
        assertThat(now[2]).isPositive();
    }
}
