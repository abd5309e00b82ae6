package org.evenstamp.analysis.etch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.SplittableRandom;
import java.util.function.IntToDoubleFunction;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.evenstamp.analysis.imprint.ImprintFields;
import org.evenstamp.analysis.imprint.Trial;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class NarrowOpeningTest {
    /** Cut walls of the exact solution; halving it changes the answers by less than 2e-5. */
    private static final int CUTS = 200;

    /** Of molecules that walls throw back at random: what meets ring or strip i goes on to j, or out. */
    private static double through(RealMatrix toWall, double[] in, double[] out, double direct) {
        int n = in.length;
        RealMatrix stay = new Array2DRowRealMatrix(n, n);
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                stay.setEntry(i, j, (i == j ? 1 : 0) - toWall.getEntry(i, j));
            }
        }
        double[] leaves = new LUDecomposition(stay)
                .getSolver()
                .solve(new ArrayRealVector(out))
                .toArray();
        double sum = direct;
        for (int i = 0; i < n; i++) {
            sum += in[i] * leaves[i];
        }
        return sum;
    }

    /** Exact for a slot, its distance 1: view factors by crossed strings (Hottel), by symmetry one wall stands for both. */
    private static double slot(double length) {
        double step = length / CUTS;
        RealMatrix wall = new Array2DRowRealMatrix(CUTS, CUTS);
        double[] in = new double[CUTS];
        double[] out = new double[CUTS];
        for (int i = 0; i < CUTS; i++) {
            double a = i * step;
            for (int j = 0; j < CUTS; j++) {
                double far = (j - i) * step;
                wall.setEntry(
                        i,
                        j,
                        (Math.hypot(far + step, 1) + Math.hypot(far - step, 1) - 2 * Math.hypot(far, 1)) / (2 * step));
            }
            in[i] = step + Math.hypot(a, 1) - Math.hypot(a + step, 1); // both walls
            double b = length - a - step;
            out[i] = (step + Math.hypot(b, 1) - Math.hypot(b + step, 1)) / (2 * step);
        }
        return through(wall, in, out, Math.hypot(length, 1) - length);
    }

    /** View factor of coaxial discs of radius 1. */
    private static double discs(double apart) {
        double square = apart * apart;
        return (2 + square - Math.sqrt(square * (square + 4))) / 2;
    }

    /** Exact for a round tube of radius 1. */
    private static double tube(double length) {
        double step = length / CUTS;
        IntToDoubleFunction disc = cuts -> discs(Math.abs(cuts) * step);
        RealMatrix wall = new Array2DRowRealMatrix(CUTS, CUTS);
        double[] in = new double[CUTS];
        double[] out = new double[CUTS];
        for (int i = 0; i < CUTS; i++) {
            for (int j = 0; j < CUTS; j++) {
                int far = j - i;
                wall.setEntry(
                        i,
                        j,
                        far == 0
                                ? 1 - 2 * (1 - disc.applyAsDouble(1)) / (2 * step)
                                : (disc.applyAsDouble(far - 1)
                                                + disc.applyAsDouble(far + 1)
                                                - 2 * disc.applyAsDouble(far))
                                        / (2 * step));
            }
            in[i] = disc.applyAsDouble(i) - disc.applyAsDouble(i + 1);
            out[i] = (disc.applyAsDouble(CUTS - i - 1) - disc.applyAsDouble(CUTS - i)) / (2 * step);
        }
        return through(wall, in, out, disc.applyAsDouble(CUTS));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.01, 0.04, 0.06, 0.2, 1, 2, 5, 10})
    void what_passes_slots_and_tubes_is_that_of_the_exact_solution(double ratio) {
        assertThat(NarrowOpening.throughSlot(ratio)).isCloseTo(slot(ratio), withinPercentage(0.15));
        assertThat(NarrowOpening.throughTube(ratio)).isCloseTo(tube(ratio), withinPercentage(0.05));
    }

    /** Length over radius 1, 2, 4, 10: R.J. Cole, Rarefied Gas Dynamics 51 (1977) 261 (from memory). */
    @ParameterizedTest
    @CsvSource({"1, 0.6720", "2, 0.5142", "4, 0.3566", "10, 0.1909"})
    void what_passes_tubes_is_that_of_published_tables(double ratio, double passes) {
        assertThat(NarrowOpening.throughTube(ratio)).isCloseTo(passes, within(1e-4));
    }

    /** Balance of the flux: in at the top 1, at the bottom j; what leaves is (1 - K) + K (1 - S) j, what stays S j. */
    @ParameterizedTest
    @CsvSource({"0.1, 1", "0.3, 1", "1, 2", "0.5, 0.3"})
    void what_enters_leaves_again_or_reacts(double reaction, double ratio) {
        double pass = NarrowOpening.throughSlot(ratio);
        double bottom = new NarrowOpening(reaction, 2, 80e-9, ratio * 80e-9).slowing();

        assertThat((1 - pass) + pass * (1 - reaction) * bottom + reaction * bottom)
                .isCloseTo(1, within(1e-12));
        assertThat(new NarrowOpening(reaction, 4, 80e-9, ratio * 80e-9).slowing())
                .isLessThan(bottom);
        assertThat(new NarrowOpening(0, 2, 80e-9, ratio * 80e-9).slowing()).isEqualTo(1);
    }

    /** Steps of a ten thousandth: bottom and tops go down side by side. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void clear_and_too_low_come_when_small_steps_say_so(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double depth = random.nextDouble(20, 300);
        NarrowOpening opening = new NarrowOpening(
                random.nextDouble(0.05, 1), random.nextDouble(2, 4), random.nextDouble(30, 200), depth);
        double layer = random.nextDouble(10, 100);
        double rate = 2;
        double step = layer / rate / 10_000;
        double bottom = 0;
        double seconds = 0;
        while (bottom < layer) {
            double before = rate * opening.slowing(depth + bottom - rate * seconds) * step;
            double middle = rate * opening.slowing(depth + bottom + before / 2 - rate * (seconds + step / 2)) * step;
            bottom += middle;
            seconds += step;
        }
        seconds -= (bottom - layer) / (rate * opening.slowing(depth + bottom - rate * seconds));
        assertThat(opening.clearSeconds(layer, rate)).isCloseTo(seconds, withinPercentage(1e-3));
        double lost = rate * seconds - layer;
        assertThat(opening.seconds(lost, rate)).isCloseTo(seconds, withinPercentage(1e-2));
    }

    /**
     * By hand: slots 100 nm wide and deep let 0.6844 pass; with a reaction probability of 0.3 the bottom goes at 0.6844/(0.6844 + 0.3 - 0.2053) = 0.8785 of
     * the open rate of 2 nm/s. A layer of 0.1 nm takes 0.05692 s instead of 0.05 s.
     */
    @Test
    void a_narrow_opening_clears_later_and_its_features_lose_more() {
        Trial trial = new Trial(new EtchProvider(), 2, 1)
                .lines(0, 100e-9, 100e-9, 100e-9)
                .lines(1, 100e-9, 10e-6, 100e-9)
                .tile(0, ImprintFields.RESIDUAL_LOCAL, 0.1e-9)
                .tile(1, ImprintFields.RESIDUAL_LOCAL, 0.1e-9)
                .given("etch.vertical-rate", "2 nm/s")
                .given("etch.lateral-rate", "0.1 nm/s")
                .given("etch.reaction-probability", "0.3 1");
        Trial.Answer answer = trial.run();

        assertThat(answer.figure("opening.slowest")).isCloseTo(0.8785, within(1e-4));
        assertThat(answer.at(EtchProvider.CLEAR, 0)).isCloseTo(0.05692, within(1e-5));
        assertThat(answer.at(EtchProvider.CLEAR, 1)).isCloseTo(0.05, withinPercentage(0.3));
        // the tops go on at 2 nm/s for as long
        assertThat(answer.at(EtchProvider.LEFT, 0)).isCloseTo(100e-9 - (2e-9 * 0.05692 - 0.1e-9), within(1e-14));
    }
}
