package org.evenstamp.analysis.film.solve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.OptionalDouble;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.record.FilmHistory;
import org.evenstamp.analysis.film.record.FilmSnapshots;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * A rigid stamp, free to tilt or held, on protrusions much finer than a tile: each tile bears {@code η T (-ḣ)/h³} (Stefan 1874)
 * from where the stamp touches its film. With the balance of force and moment that is an ordinary differential equation of the
 * stamp's height and slope, integrated here by Runge and Kutta's method of fourth order.
 */
class RigidStampTest {
    private static final int COLUMNS = 12;
    private static final double SIDE = 1e-4;
    private static final double ETA = 1e4;
    private static final double MOMENT = 25e-12;
    private static final double FILM = 250e-9;
    private static final double PRESSURE = 2e6;

    private static double place(int column) {
        return (column - (COLUMNS - 1) / 2.0) * SIDE;
    }

    /** Speeds of height and slope, from force and moment over the tiles in touch. */
    private static double[] speeds(double height, double slope, double right, boolean held) {
        double a = 0;
        double b = 0;
        double c = 0;
        double force = 0;
        double moment = 0;
        for (int i = 0; i < COLUMNS; i++) {
            double x = place(i);
            double h = height + slope * x;
            double pressed = PRESSURE * (1 + right * x / (COLUMNS * SIDE / 2));
            force += pressed;
            moment += pressed * x;
            if (h <= FILM) {
                double resistance = ETA * MOMENT / (h * h * h);
                a += resistance;
                b += resistance * x;
                c += resistance * x * x;
            }
        }
        if (held) {
            return new double[] {-force / a, 0};
        }
        double det = a * c - b * b;
        return new double[] {-(c * force - b * moment) / det, -(a * moment - b * force) / det};
    }

    /**
     * The gaps of a row of tiles after a time. A free stamp that touches with one side alone tips over at once, before any film
     * has moved: nothing holds its other side.
     */
    private static double[] gaps(double wedge, double right, boolean held, double seconds) {
        double slope = held ? wedge : 0;
        double height = FILM + Math.abs(slope) * place(COLUMNS - 1);
        double time = 0;
        while (time < seconds) {
            double[] k = speeds(height, slope, right, held);
            double fastest = Math.abs(k[0]) + Math.abs(k[1]) * COLUMNS * SIDE;
            double dt = Math.min(seconds - time, 2e-4 * height / fastest);
            double[] k2 = speeds(height + dt / 2 * k[0], slope + dt / 2 * k[1], right, held);
            double[] k3 = speeds(height + dt / 2 * k2[0], slope + dt / 2 * k2[1], right, held);
            double[] k4 = speeds(height + dt * k3[0], slope + dt * k3[1], right, held);
            height += dt / 6 * (k[0] + 2 * k2[0] + 2 * k3[0] + k4[0]);
            slope += dt / 6 * (k[1] + 2 * k2[1] + 2 * k3[1] + k4[1]);
            time += dt;
        }
        double[] h = new double[COLUMNS];
        for (int i = 0; i < COLUMNS; i++) {
            h[i] = height + slope * place(i);
        }
        return h;
    }

    @ParameterizedTest(name = "a wedge of {0} m/m under a pressure {1} higher at the right edge, held {2}, after {3} s")
    @CsvSource({
        "0, 0.3, false, 2",
        "0, 0.3, false, 0.5",
        "0, 0.6, false, 1",
        "2e-4, 0, false, 0.5",
        "1e-4, 0.3, false, 1",
        "2e-4, 0, true, 0.02",
        "2e-4, 0, true, 0.5",
        "1e-4, 0.3, true, 1"
    })
    void a_rigid_stamp_comes_down_and_tilts_as_force_and_moment_say(
            double wedge, double right, boolean held, double seconds) {
        TileGrid grid = new TileGrid(0, 0, SIDE, COLUMNS, 4);
        double[] volume = new double[grid.size()];
        double[] fraction = new double[grid.size()];
        double[] moment = new double[grid.size()];
        Arrays.fill(volume, 240e-9);
        Arrays.fill(fraction, 0.5);
        Arrays.fill(moment, MOMENT);
        PressLoad load = new PressLoad() {
            @Override
            public double endSeconds() {
                return seconds;
            }

            @Override
            public double viscosityPascalSeconds(double time) {
                return ETA;
            }

            @Override
            public void pressurePascal(double time, double[] into) {
                for (int i = 0; i < into.length; i++) {
                    into[i] = PRESSURE * (1 + right * place(grid.column(i)) / (COLUMNS * SIDE / 2));
                }
            }
        };
        SolverInput.Builder builder = SolverInput.of(grid, FILM, load)
                .relief(volume, fraction, moment)
                .stamp(new Stamp.Rigid(), Surround.ISOLATED)
                .wedge(wedge, 0);
        FilmRun run = FilmRun.of((held ? builder : builder.freeTilt()).build());
        double[] expected = gaps(wedge, right, held, seconds);
        for (int i = 0; i < grid.size(); i++) {
            double h = expected[grid.column(i)]; // of the film, where the stamp stands clear
            assertThat(run.gap[i]).as("gap of tile " + i).isCloseTo(h, within(0.005 * h));
        }
    }

    /** Menisci at -pc under half of the area add pc/2 to the pressure; Stefan's law to the brim of 60 nm of cavity. */
    @ParameterizedTest(name = "{0} Pa of pressure, {1} Pa of the menisci, {2} Pa s")
    @CsvSource({"0, 2e5, 0.01", "1e5, 2e5, 0.01", "1e5, 2e5, 10", "2e6, 1e5, 1e4", "1e5, -1e5, 10"})
    void a_plate_fills_when_pressure_and_menisci_have_pressed_it_to_the_brim(
            double pressure, double menisci, double viscosity) {
        TileGrid grid = new TileGrid(0, 0, SIDE, 2, 2);
        double[] volume = new double[4];
        double[] fraction = new double[4];
        double[] moment = new double[4];
        double[] capillary = new double[4];
        Arrays.fill(volume, 60e-9);
        Arrays.fill(fraction, 0.5);
        Arrays.fill(moment, MOMENT);
        Arrays.fill(capillary, menisci);
        double left = FILM - 60e-9;
        double seconds = viscosity * MOMENT / (2 * (pressure + menisci / 2)) * (1 / (left * left) - 1 / (FILM * FILM));
        for (double hold : new double[] {1.5, 20, 3000}) {
            SolverInput input = SolverInput.of(grid, FILM, PressLoad.constant(viscosity, pressure, hold * seconds))
                    .relief(volume, fraction, moment)
                    .capillaryPressure(capillary)
                    .build();
            FilmHistory history = new FilmHistory(input, FilmSnapshots.at(new double[0]), OptionalDouble.empty());
            try (ThreadTeam team = new ThreadTeam(1)) {
                new FilmSolver(input, SolverOptions.STANDARD, team)
                        .run(new double[0], history, new Progress().stage("film", 0, ""));
            }
            for (double filled : history.fillTime()) {
                assertThat(filled).as("hold of " + hold).isCloseTo(seconds, within(0.005 * seconds));
            }
        }
    }
}
