package org.evenstamp.analysis.film.solve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.solve.AdjointCase.Body;
import org.evenstamp.analysis.film.solve.AdjointCase.Land;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class FlowSlopesTest {
    /** Flow is linear in the pressures while it keeps its directions: a sum of what it moves is the sum of its transpose. */
    @ParameterizedTest
    @EnumSource(Land.class)
    void the_transposed_flow_makes_the_same_product_as_the_flow(Land land) {
        for (long seed = 1; seed <= 20; seed++) {
            SolverInput input = new AdjointCase(seed, Body.RIGID, true, land).input();
            SplittableRandom random = new SplittableRandom(seed);
            int size = AdjointCase.SIZE;
            TileLaw law = new TileLaw(input);
            TileStates tiles = new TileStates(input, law);
            TileFlow flow = new TileFlow(input);
            GapMobility mobility = new GapMobility(input);
            tiles.start(new double[size]);
            for (int i = 0; i < size; i++) {
                tiles.state[i] = (byte) random.nextInt(3);
                tiles.film[i] = tiles.landGap[i] * random.nextDouble(0.9, 1);
            }
            double[] rate = new double[size];
            mobility.begin(1e-3, new StepViscosity(PressLoad.constant(0.05, 1, 1), size), tiles, rate, flow, 0, size);
            flow.begin(1e-3 / 0.6, mobility, tiles.full);
            double[] inflow = new double[AdjointCase.SIDE];
            double[] weight = random.doubles(size, -1, 1).toArray();
            double[] ofLand = random.doubles(size, -1, 1).toArray();
            for (int i = 0; i < size; i++) {
                ofLand[i] = tiles.state[i] == TileStates.LAW ? ofLand[i] : 0;
            }
            double[] at = random.doubles(size, 0, 1e5).toArray();
            FlowSlopes slopes = new FlowSlopes(input, flow, tiles);
            double before = moved(tiles, flow, at, weight, ofLand, inflow);
            slopes.take(weight, ofLand);
            double[] step = random.doubles(size, -1, 1).toArray();
            double[] there = new double[size];
            Arrays.setAll(there, i -> at[i] + step[i]);
            double told = 0;
            double scale = 0;
            for (int i = 0; i < size; i++) {
                double slope = slopes.byStamp[i] + (tiles.state[i] == TileStates.FULL ? slopes.byPressure[i] : 0);
                told += slope * step[i];
                scale += Math.abs(slope * step[i]);
            }
            double after = moved(tiles, flow, there, weight, ofLand, inflow);
            assertThat(after - before).isCloseTo(told, within(1e-9 * scale + 1e-9 * Math.abs(before)));
        }
    }

    private static double moved(
            TileStates tiles, TileFlow flow, double[] pressure, double[] weight, double[] ofLand, double[] inflow) {
        System.arraycopy(pressure, 0, tiles.q, 0, pressure.length);
        tiles.press(0, pressure.length);
        flow.connect(tiles.full, tiles.bearing, 0, AdjointCase.SIDE);
        flow.balance(tiles, inflow, 0, AdjointCase.SIDE);
        double sum = 0;
        for (int i = 0; i < pressure.length; i++) {
            sum += weight[i] * (tiles.newFilm[i] - tiles.film[i]) + ofLand[i] * tiles.aside[i];
        }
        return sum;
    }
}
