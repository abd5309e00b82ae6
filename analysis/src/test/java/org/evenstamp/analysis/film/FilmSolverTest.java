package org.evenstamp.analysis.film;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.assertj.core.data.Percentage;
import org.evenstamp.shared.grid.TileGrid;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class FilmSolverTest {
    private static double[] uniform(int size, double value) {
        double[] map = new double[size];
        Arrays.fill(map, value);
        return map;
    }

    @Test
    void aTileAloneSinksAsStefanSaysOverFourDecadesOfTime() {
        TileGrid grid = new TileGrid(0, 0, 1e-4, 1, 1);
        // Strip of 10 um, eta = 1e4 Pa s, 5 MPa, 200 nm: heights by Stefan's closed form (strip), evaluated.
        FilmModel model = FilmModel.of(grid, 200e-9, Recipe.constant(1e4, 5e6, 1000))
                .relief(uniform(1, 1e-6), uniform(1, 0.5), uniform(1, 1e-10))
                .build();
        FilmRun run = FilmRun.of(model, 0.1, 1, 10, 100);
        assertThat(run.at(1)[0]).isCloseTo(169.030851e-9, Percentage.withPercentage(1e-5));
        assertThat(run.at(10)[0]).isCloseTo(89.4427191e-9, Percentage.withPercentage(1e-5));
        assertThat(run.at(100)[0]).isCloseTo(31.2347524e-9, Percentage.withPercentage(1e-5));
        assertThat(run.at(1000)[0]).isCloseTo(9.98752339e-9, Percentage.withPercentage(1e-5));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.2, 0.5, 0.8})
    void whereNothingFlowsBetweenTilesTheVolumeBalanceIsTheEnd(double protrusions) {
        // h = h0 - (1 - f) d with h0 = 200 nm, d = 150 nm: 80, 125, 170 nm (volume balance).
        TileGrid grid = new TileGrid(0, 0, 1e-4, 4, 4);
        FilmModel model = FilmModel.of(grid, 200e-9, Recipe.constant(1e4, 5e6, 300))
                .relief(uniform(16, (1 - protrusions) * 150e-9), uniform(16, 1 - protrusions), uniform(16, 1e-12))
                .stamp(new Stamp.Plate(130e9, 0.28, 525e-6), Surround.PERIODIC)
                .build();
        FilmRun run = FilmRun.of(model);
        for (int i = 0; i < 16; i++) {
            assertThat(run.gap[i]).isCloseTo((50 + 150 * protrusions) * 1e-9, within(1e-14));
            assertThat(run.full[i]).isTrue();
        }
    }
}
