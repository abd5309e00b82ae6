package org.evenstamp.analysis.film.solve;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.field.LandLinks;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A thin liquid that strong menisci draw out from under wide land: the land's tiles touch film, are drained, and let go of it again. */
class LettingGoTest {
    private static final int SIDE = 12;
    private static final int SIZE = SIDE * SIDE;

    @ParameterizedTest
    @ValueSource(longs = {1, 7, 10, 13, 20})
    void a_liquid_between_wide_land_and_fine_features_is_solved_to_its_end_and_never_sucked_from_full_cavities(
            long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] fraction = new double[SIZE];
        double[] volume = new double[SIZE];
        double[] moment = new double[SIZE];
        double[] edges = new double[SIZE];
        double[] pull = new double[SIZE];
        double[] sag = new double[SIZE];
        for (int i = 0; i < SIZE; i++) {
            boolean fine = random.nextDouble() < 0.3;
            fraction[i] = fine ? random.nextDouble(0.4, 0.6) : random.nextDouble(0, 0.6);
            volume[i] = fraction[i] * 230e-9;
            moment[i] = fine ? 2e-14 : 2e-8 * random.nextDouble(0.01, 1);
            edges[i] = fine ? fraction[i] / 200e-9 : fraction[i] / 50e-6;
            pull[i] = fine ? 3e5 : 2e5 * random.nextDouble(0.1, 1);
            sag[i] = fine ? 0 : 2.6e-14 * random.nextDouble();
        }
        double[] own = random.doubles(SIZE, 0.6, 1).toArray();
        double[] cavityRight = random.doubles(SIZE, 0, 0.5).toArray();
        double[] cavityUp = random.doubles(SIZE, 0, 0.5).toArray();
        LandLinks links = new LandLinks(
                own,
                Arrays.stream(cavityRight).map(c -> 1 - c).toArray(),
                Arrays.stream(cavityUp).map(c -> 1 - c).toArray(),
                walls(random),
                walls(random),
                cavityRight,
                cavityUp,
                fraction,
                volume,
                edges,
                moment);
        SolverInput input = SolverInput.of(
                        new TileGrid(0, 0, 4e-4, SIDE, SIDE), 250e-9, PressLoad.constant(0.01, 1e5, 5))
                .relief(volume, fraction, moment)
                .edges(edges)
                .sag(sag)
                .links(links)
                .capillaryPressure(pull)
                .stamp(new Stamp.BondedLayer(1e9, 0.4, 100e-6), Surround.PERIODIC)
                .build();
        try (ThreadTeam team = new ThreadTeam(1);
                Stage stage = new Progress().stage("film", 0, "")) {
            RunReport report = new FilmSolver(input, SolverOptions.STANDARD, team)
                    .run(new double[0], state -> checkMenisci(state, volume, pull), stage);
            assertThat(report.complete()).isTrue();
            // 2.7 to 3.0 a step; 4.2 to 4.8 where tiles go to and fro until Newton's budget ends.
            assertThat(report.newtonSteps()).isLessThan(4 * report.steps());
        }
    }

    /** Cavities empty before the stamp pulls at their film more strongly than their menisci do. */
    private static void checkMenisci(FilmState state, double[] volume, double[] pull) {
        for (int i = 0; i < SIZE; i++) {
            if (state.full()[i] && volume[i] > 0) {
                assertThat(state.pressure()[i]).as("tile %s", i).isGreaterThan(-1.001 * pull[i]);
            }
        }
    }

    private static double[] walls(SplittableRandom random) {
        return random.doubles(SIZE, -2, 2).map(w -> Math.abs(w) > 0.5 ? 0 : w).toArray();
    }
}
