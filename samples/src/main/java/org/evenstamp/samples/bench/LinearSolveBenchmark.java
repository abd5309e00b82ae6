package org.evenstamp.samples.bench;

import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import org.evenstamp.analysis.numeric.ProjectedCg;
import org.evenstamp.analysis.numeric.SpectralFilter;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;
import org.openjdk.jmh.profile.GCProfiler;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.OptionsBuilder;

/**
 * The two kernels of the film solve, with what they allocate: one filter of a map, and one linear solve of a plate on
 * springs by ten or twenty conjugate-gradient iterations. What a solve allocates must not grow with its iterations.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
public class LinearSolveBenchmark {
    @Param({"128", "256"})
    int tiles;

    @Param({"1", "2"})
    int threads;

    private final double[][] uniform = new double[1][];
    private ThreadTeam team = new ThreadTeam(1);
    private SpectralFilter filter = new SpectralFilter(1, 1, team);
    private ProjectedCg solver = new ProjectedCg(1, team);
    private double[] symbol = {};
    private double[] springs = {};
    private double[] load = {};
    private double[] answer = {};
    private final ProjectedCg.Operator plate = this::plate;
    private final ProjectedCg.Operator nothing = LinearSolveBenchmark::copy;
    private final ProjectedCg.Watch unwatched = () -> {};

    /** For the harness. */
    public LinearSolveBenchmark() {}

    /** Draws springs of 0.5 to 1.5 and a load. */
    @Setup
    public void prepare() {
        int size = tiles * tiles;
        team = new ThreadTeam(threads);
        filter = new SpectralFilter(tiles, tiles, team);
        solver = new ProjectedCg(size, team);
        SplittableRandom random = new SplittableRandom(1);
        springs = random.doubles(size, 0.5, 1.5).toArray();
        load = random.doubles(size, -1, 1).toArray();
        answer = new double[size];
        symbol = new double[filter.symbolSize()];
        for (int k = 0; k < symbol.length; k++) {
            int kx = k / tiles;
            int ky = SpectralFilter.signed(k % tiles, tiles);
            symbol[k] = 1 / (1 + 1e-3 * ((double) kx * kx + (double) ky * ky));
        }
        uniform[0] = new double[size];
        java.util.Arrays.fill(uniform[0], 1);
    }

    /** Ends the threads. */
    @TearDown
    public void end() {
        team.close();
    }

    /** Filters a map once. */
    @Benchmark
    public double[] filter() {
        filter.apply(load, symbol, answer);
        return answer;
    }

    /** Solves with ten iterations. */
    @Benchmark
    public double[] tenIterations() {
        solver.solve(plate, nothing, uniform, load, answer, 1e-300, 10, unwatched);
        return answer;
    }

    /** Solves with twenty iterations. */
    @Benchmark
    public double[] twentyIterations() {
        solver.solve(plate, nothing, uniform, load, answer, 1e-300, 20, unwatched);
        return answer;
    }

    private void plate(double[] in, double[] out) {
        filter.apply(in, symbol, out);
        for (int i = 0; i < out.length; i++) {
            out[i] += springs[i] * in[i];
        }
    }

    private static void copy(double[] in, double[] out) {
        System.arraycopy(in, 0, out, 0, in.length);
    }

    /** Runs all of it with the allocation profile. */
    public static void main(String[] args) throws RunnerException {
        new Runner(new OptionsBuilder()
                        .include(LinearSolveBenchmark.class.getName())
                        .addProfiler(GCProfiler.class)
                        .build())
                .run();
    }
}
