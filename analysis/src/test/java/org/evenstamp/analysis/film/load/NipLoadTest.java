package org.evenstamp.analysis.film.load;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.evenstamp.analysis.film.record.FilmHistory;
import org.evenstamp.analysis.film.record.FilmSnapshots;
import org.evenstamp.analysis.film.solve.FilmRun;
import org.evenstamp.analysis.film.solve.FilmSolver;
import org.evenstamp.analysis.film.solve.SolverInput;
import org.evenstamp.analysis.film.solve.SolverOptions;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.analysis.process.LineContact;
import org.evenstamp.analysis.process.NipPass;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.Roller;
import org.evenstamp.analysis.process.StefanSqueeze;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.Newtonian;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.analysis.rheology.Wlf;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** A nip on its way over a map under a foil so thin that every tile bears what presses on it. */
class NipLoadTest {
    private static final double PITCH = 100e-6;
    private static final double FILM = 250e-9;
    private static final double MOMENT = 1e-7;
    private static final FilmLaw RESIN = FilmLaw.of(new Newtonian(1, 0, new TemperatureRange(280, 320)));
    private static final Stamp FOIL = new Stamp.Plate(1e9, 0.4, 1e-5);

    private static Roller roller(double halfWidth, double wrapPascals) {
        double radius = 0.05;
        double force = 5000;
        double modulus = 4 * force * radius / (Math.PI * halfWidth * halfWidth);
        return new Roller(
                new LineContact(force, radius, modulus), 0.05, 298, wrapPascals, new Roller.Setting.Exposure(0.01, 1));
    }

    private static NipLoad load(Roller roller, TileGrid grid, int pieces) {
        NipPass pass = roller.pass(grid.columns() * grid.pitchMetres());
        return new NipLoad(pass, grid, roller.history(RESIN), pieces);
    }

    private static SolverInput input(TileGrid grid, double volume, PressLoad load) {
        return input(grid, FOIL, volume, load);
    }

    private static SolverInput input(TileGrid grid, Stamp foil, double volume, PressLoad load) {
        double[] all = new double[grid.size()];
        double[] share = new double[grid.size()];
        double[] moment = new double[grid.size()];
        Arrays.fill(all, volume);
        Arrays.fill(share, 0.5);
        Arrays.fill(moment, MOMENT);
        return SolverInput.of(grid, FILM, load)
                .relief(all, share, moment)
                .stamp(foil, Surround.PERIODIC)
                .build();
    }

    /** Stefan's law at the centre of each tile, at every piece of the pass; the tile bears the mean over its width. */
    @ParameterizedTest(name = "half width {0} um, {1} pieces")
    @CsvSource({
        "20, 8, 1e-5, 1",
        "20, 16, 1e-5, 1",
        "200, 16, 1e-5, 2e-2",
        "1000, 4, 1e-5, 2e-3",
        "1000, 16, 1e-5, 2e-3"
    })
    void everyTileSinksAsOnePlaceDoes(double halfWidth, int pieces, double inTheEnd, double onTheWay) {
        TileGrid grid = new TileGrid(0, 0, PITCH, 40, 1);
        Roller roller = roller(halfWidth * 1e-6, 0);
        NipLoad load = load(roller, grid, pieces);
        FilmRun run = FilmRun.of(input(grid, 1e-6, load));
        assertThat(run.report.complete()).isTrue();

        ProcessHistory place = roller.history(RESIN);
        StefanSqueeze sink = new StefanSqueeze(place, MOMENT, FILM);
        double sunk = sink.thicknessMetres(place.durationSeconds());
        assertThat(sunk).isLessThan(0.95 * FILM);
        NipPass pass = roller.pass(grid.columns() * PITCH);
        for (int i = 0; i < grid.columns(); i++) {
            assertThat(run.gap[i]).as("tile %d in the end", i).isCloseTo(sunk, withinPercentage(100 * inTheEnd));
            for (double time : load.breaks()) {
                double since = time - pass.entrySeconds((i + 0.5) * PITCH);
                double wanted = since < 1e-9 ? FILM : sink.thicknessMetres(Math.min(since, place.durationSeconds()));
                assertThat(Math.min(FILM, run.at(time)[i]))
                        .as("tile %d at %s s", i, time)
                        .isCloseTo(wanted, within(onTheWay * (FILM - sunk) + inTheEnd * FILM));
            }
        }
    }

    /** Two columns of cavities far from each other in land without any, whose tiles count as full from the start. */
    @ParameterizedTest(name = "half width {0} um")
    @ValueSource(doubles = {20, 200, 1000})
    void a_tile_fills_later_than_another_by_the_way_of_the_nip_between_them(double halfWidth) {
        TileGrid grid = new TileGrid(0, 0, PITCH, 60, 1);
        Roller roller = roller(halfWidth * 1e-6, 0);
        NipLoad load = load(roller, grid, 16);
        double[] volume = new double[grid.size()];
        double[] share = new double[grid.size()];
        double[] moment = new double[grid.size()];
        for (int i : new int[] {20, 40}) {
            volume[i] = 10e-9;
            share[i] = 0.5;
            moment[i] = MOMENT;
        }
        SolverInput input = SolverInput.of(grid, FILM, load)
                .relief(volume, share, moment)
                .stamp(FOIL, Surround.PERIODIC)
                .closedSeam()
                .build();
        FilmHistory history = new FilmHistory(input, FilmSnapshots.along(0, FILM), OptionalDouble.empty());
        try (ThreadTeam team = new ThreadTeam(1)) {
            new FilmSolver(input, SolverOptions.STANDARD, team)
                    .run(new double[0], history, new Progress().stage("film", 0, "iterations"));
        }
        double[] fill = history.fillTime();
        double entry = roller.pass(1).entrySeconds(20 * PITCH);
        assertThat(fill[20]).isBetween(entry, entry + (2e-6 * halfWidth + PITCH) / 0.05);
        assertThat(fill[40] - fill[20]).isCloseTo(20 * PITCH / 0.05, within(load.breaks()[1] / 2));
    }

    /**
     * The map is 0.8 mm long; under a nip of 100 mm all tiles have the pressure of one place: they end
     * as if pressed all at once, to 0.5 % of the range.
     */
    @Test
    void a_nip_much_wider_than_the_map_presses_all_of_it_at_once() {
        TileGrid grid = new TileGrid(0, 0, PITCH, 8, 6);
        double[] off = new double[3];
        double range = 0;
        for (int n = 0; n < off.length; n++) {
            Roller roller = roller(new double[] {0.1e-3, 1e-3, 50e-3}[n], 2e3);
            double[] moving = run(grid, load(roller, grid, 16));
            ProcessHistory place = roller.history(RESIN);
            double[] atOnce = run(grid, new ProcessLoad(place, place.flowEndSeconds()));
            for (int i = 0; i < grid.size(); i++) {
                off[n] = Math.max(off[n], Math.abs(moving[i] - atOnce[i]));
                range = Math.max(range, Math.abs(atOnce[i] - atOnce[0]));
            }
        }
        assertThat(off[0]).isGreaterThan(10 * off[1]);
        assertThat(off[1]).isGreaterThan(off[2]);
        assertThat(off[2]).isLessThan(0.005 * range);
    }

    private static double[] run(TileGrid grid, PressLoad load) {
        double[] volume = new double[grid.size()];
        double[] share = new double[grid.size()];
        double[] moment = new double[grid.size()];
        Arrays.setAll(share, i -> 0.3 + 0.05 * ((3 * grid.column(i) + grid.row(i)) % 8));
        Arrays.setAll(volume, i -> share[i] * 150e-9);
        Arrays.fill(moment, 4e-9);
        SolverInput input = SolverInput.of(grid, FILM, load)
                .relief(volume, share, moment)
                .stamp(FOIL, Surround.ISOLATED)
                .freeTilt()
                .build();
        return FilmRun.of(input, SolverOptions.STANDARD.withTimeControl(1.1, 1e-3), 1).gap;
    }

    @ParameterizedTest(name = "half width {0} um")
    @ValueSource(doubles = {3, 30, 300, 3000})
    void the_tiles_bear_the_line_force_in_at_least_sixteen_pieces(double halfWidth) {
        TileGrid grid = new TileGrid(0, 0, PITCH, 100, 2);
        Roller roller = roller(halfWidth * 1e-6, 0);
        NipLoad load = load(roller, grid, 16);
        double[] pressure = new double[grid.size()];
        int[] pieces = new int[grid.columns()];
        double end = roller.pass(grid.columns() * PITCH).seconds();
        double[] impulse = new double[grid.size()];
        double[] cuts = load.breaks();
        for (int n = 1; n < cuts.length && cuts[n] <= end; n++) {
            load.pressurePascal(cuts[n], pressure);
            boolean inside = cuts[n - 1] * 0.05 > 2e-6 * halfWidth && cuts[n] * 0.05 < grid.columns() * PITCH;
            if (inside) {
                assertThat(Arrays.stream(pressure).sum() / grid.rows() * PITCH).isCloseTo(5000, withinPercentage(1e-6));
            }
            for (int i = 0; i < grid.size(); i++) {
                impulse[i] += pressure[i] * (cuts[n] - cuts[n - 1]);
                pieces[grid.column(i)] += grid.row(i) == 0 && pressure[i] > 0 ? 1 : 0;
            }
        }
        for (int i = 0; i < grid.size(); i++) {
            assertThat(pieces[grid.column(i)]).as("pieces of tile %d", i).isGreaterThanOrEqualTo(16);
            assertThat(impulse[i]).as("tile %d", i).isCloseTo(5000 / 0.05, withinPercentage(1e-6));
        }
    }

    @Test
    void a_narrow_nip_gets_over_a_long_map() {
        TileGrid grid = new TileGrid(0, 0, PITCH, 150, 1);
        NipLoad load = load(roller(5e-6, 0), grid, 16);
        assertThat(load.breaks().length).isGreaterThan(SolverOptions.STANDARD.stepBudget());
        FilmRun run = FilmRun.of(input(grid, new Stamp.Plate(1e9, 0.4, 5e-5), 1e-6, load));
        assertThat(run.report.complete()).isTrue();
        assertThat(run.gap[100]).isLessThan(0.95 * FILM).isCloseTo(run.gap[50], withinPercentage(0.01));
    }

    @Test
    void behind_the_nip_the_wrapped_web_presses_and_ahead_nothing_does() {
        TileGrid grid = new TileGrid(0, 0, PITCH, 40, 1);
        NipLoad load = load(roller(200e-6, 7e3), grid, 16);
        double[] pressure = new double[grid.size()];
        load.pressurePascal(20 * PITCH / 0.05, pressure);
        assertThat(pressure[25]).isZero();
        assertThat(pressure[10]).isEqualTo(7e3);
        assertThat(pressure[17]).isGreaterThan(1e6);
        load.pressurePascal(load.endSeconds(), pressure);
        assertThat(pressure).containsOnly(7e3);
    }

    /** However the time is cut, steps add up to the time that a film of one viscosity flows, in each column from its own start. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5})
    void every_column_flows_as_long_since_the_nip_came_whatever_the_steps(long seed) {
        TileGrid grid = new TileGrid(0, 0, PITCH, 40, 1);
        Roller roller = roller(200e-6, 7e3);
        NipLoad load = load(roller, grid, 16);
        double flowing = roller.history(RESIN).flowEndSeconds();
        SplittableRandom random = new SplittableRandom(seed);
        double[] fluidity = new double[grid.size()];
        double[] sum = new double[grid.size()];
        double[] last = new double[grid.size()];
        double time = 0;
        while (time < load.endSeconds()) {
            double next = Math.min(load.endSeconds(), time + Math.pow(10, random.nextDouble(-6, -2)));
            load.fluidity(time, next, fluidity);
            for (int i = 0; i < fluidity.length; i++) {
                sum[i] += fluidity[i] * (next - time);
                last[i] = fluidity[i] > 0 ? next : last[i];
            }
            if (time > 0) {
                assertThat(load.viscosityPascalSeconds(time)).isCloseTo(1, withinPercentage(1e-9));
            }
            time = next;
        }
        double advance = PITCH / 0.05;
        for (int i = 0; i < sum.length; i++) {
            // On the mean over the tile, the film ahead of the nip being liquid from time 0 on.
            assertThat(sum[i]).as("column %d", i).isCloseTo((i + 0.5) * advance + flowing, withinPercentage(1e-6));
            assertThat(last[i]).as("column %d", i).isGreaterThanOrEqualTo((i + 1) * advance + flowing - 1e-9);
        }
        load.fluidity(load.endSeconds() - 0.9 * advance, load.endSeconds() - 0.8 * advance, fluidity);
        for (int i = 0; i < fluidity.length; i++) {
            assertThat(fluidity[i]).as("column %d", i).isEqualTo(i < 38 ? 0 : i == 38 ? fluidity[38] : fluidity[39]);
        }
        assertThat(fluidity[39]).isBetween(0.8, 0.9);
    }

    /** A melt that stiffens by decades under the wrapped web, each place since it left the nip: Stefan's law by quadrature. */
    @Test
    void a_melt_that_cools_behind_the_nip_sinks_in_every_tile_as_one_place_does() {
        TileGrid grid = new TileGrid(0, 0, PITCH, 40, 1);
        FilmLaw melt = FilmLaw.of(new Wlf(1e8, 373, 13.7, 50, 373, new TemperatureRange(373, 473)));
        double radius = 0.05;
        LineContact contact = new LineContact(5000, radius, 4 * 5000 * radius / (Math.PI * 400e-6 * 400e-6));
        Roller roller = new Roller(contact, 0.005, 433, 3e6, new Roller.Setting.Cooling(1, 360));
        NipLoad load = new NipLoad(roller.pass(grid.columns() * PITCH), grid, roller.history(melt));
        FilmRun run = FilmRun.of(input(grid, 1e-6, load));
        assertThat(run.report.complete()).isTrue();
        ProcessHistory place = roller.history(melt);
        StefanSqueeze sink = new StefanSqueeze(place, MOMENT, FILM);
        double inNip = sink.thicknessMetres(roller.dwellSeconds());
        double sunk = sink.thicknessMetres(place.flowEndSeconds());
        assertThat(inNip).isLessThan(0.95 * FILM);
        assertThat(sunk).isLessThan(0.98 * inNip); // cooling takes part
        for (int i = 0; i < grid.columns(); i++) {
            assertThat(run.gap[i]).as("tile %d", i).isCloseTo(sunk, within(1e-3 * (FILM - sunk)));
        }
    }

    /** One viscosity for all and the same pressure: until the first column is lit that is the same. */
    @Test
    void until_something_sets_the_map_is_solved_as_with_one_viscosity() {
        TileGrid grid = new TileGrid(0, 0, PITCH, 12, 6);
        NipLoad local = load(roller(0.3e-3, 2e3), grid, 16);
        double first = 0.0006 / 0.05 + 0.01;
        FilmRun apart = FilmRun.of(patterned(grid, local), first);
        FilmRun together = FilmRun.of(patterned(grid, new AllAtOnce(local, 1)), first);
        assertThat(apart.at(first)).isEqualTo(together.at(first));
        assertThat(apart.gap).isNotEqualTo(together.gap);
    }

    /** The faster the web, the less it matters that the first place sets before the last. */
    @Test
    void a_fast_web_sets_as_if_all_of_the_map_set_at_a_time() {
        TileGrid grid = new TileGrid(0, 0, PITCH, 12, 6);
        double[] off = new double[3];
        for (int n = 0; n < off.length; n++) {
            double speed = 0.05 * Math.pow(10, n);
            double force = 5000 * Math.pow(10, n); // the same impulse
            LineContact contact = new LineContact(force, 0.05, 4 * force * 0.05 / (Math.PI * 0.3e-3 * 0.3e-3));
            Roller roller = new Roller(contact, speed, 298, 2e3, new Roller.Setting.Exposure(0.02, 1));
            NipLoad local = load(roller, grid, 16);
            double[] apart = FilmRun.of(patterned(grid, local)).gap;
            double[] together = FilmRun.of(patterned(grid, new AllAtOnce(local, 1))).gap;
            for (int i = 0; i < apart.length; i++) {
                off[n] = Math.max(off[n], Math.abs(apart[i] - together[i]));
            }
        }
        assertThat(off[0]).isGreaterThan(3 * off[1]);
        assertThat(off[1]).isGreaterThan(3 * off[2]);
        assertThat(off[2]).isBetween(0.0, 1e-10);
    }

    private static SolverInput patterned(TileGrid grid, PressLoad load) {
        double[] volume = new double[grid.size()];
        double[] share = new double[grid.size()];
        double[] moment = new double[grid.size()];
        Arrays.setAll(share, i -> 0.3 + 0.05 * ((3 * grid.column(i) + grid.row(i)) % 8));
        Arrays.setAll(volume, i -> share[i] * 150e-9);
        Arrays.fill(moment, 4e-8);
        return SolverInput.of(grid, FILM, load)
                .relief(volume, share, moment)
                .stamp(FOIL, Surround.PERIODIC)
                .closedSeam()
                .build();
    }

    /** The same passing pressure on a film of one viscosity until the end. */
    private record AllAtOnce(PressLoad passing, double viscosity) implements PressLoad {
        @Override
        public double endSeconds() {
            return passing.endSeconds();
        }

        @Override
        public double viscosityPascalSeconds(double seconds) {
            return viscosity;
        }

        @Override
        public void pressurePascal(double seconds, double[] into) {
            passing.pressurePascal(seconds, into);
        }

        @Override
        public double[] breaks() {
            return passing.breaks();
        }
    }

    /** Two tiles of a periodic map have two faces in common; with a closed seam they have one. */
    @Test
    void no_film_passes_a_closed_seam() {
        double[] volume = {5e-9, 5e-9};
        double[] share = {0.5, 0.5};
        double[] moved = new double[2];
        for (int n = 0; n < 2; n++) {
            PressLoad right = new PressLoad.Scaled(PressLoad.constant(1, 1e6, 2e-2), new double[] {0, 1});
            SolverInput.Builder builder = SolverInput.of(new TileGrid(0, 0, PITCH, 2, 1), FILM, right)
                    .relief(volume, share, new double[2])
                    .stamp(FOIL, Surround.PERIODIC);
            FilmRun run = FilmRun.of((n == 1 ? builder.closedSeam() : builder).build());
            moved[n] = run.gap[0] + run.filled[0] - FILM;
        }
        assertThat(moved[0]).isBetween(1e-10, 1e-8);
        assertThat(moved[1]).isCloseTo(moved[0] / 2, withinPercentage(2));
    }
}
