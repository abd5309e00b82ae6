package org.evenstamp.samples.bench;

import java.lang.management.ManagementFactory;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.evenstamp.analysis.film.solve.FilmAdjoint;
import org.evenstamp.analysis.film.solve.FilmSolver;
import org.evenstamp.analysis.film.solve.FilmTape;
import org.evenstamp.analysis.film.solve.SolverInput;
import org.evenstamp.analysis.film.solve.SolverOptions;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.progress.Stage;

/**
 * Times the way back through a film solve against the way there, on the map of {@link FilmBenchmark}: for one goal and for three
 * that go together. Prints one JSON object a run.
 *
 * <p>Arguments: tiles along a side, {@code thermal} or {@code liquid}, threads, repetitions.
 */
public final class AdjointBenchmark {
    private static final double REDUCTION = 1e-4;

    private AdjointBenchmark() {}

    /** Runs the benchmark. */
    public static void main(String[] args) {
        int n = args.length > 0 ? Integer.parseInt(args[0]) : 64;
        boolean liquid = args.length > 1 && args[1].equals("liquid");
        int threads = args.length > 2 ? Integer.parseInt(args[2]) : 2;
        int repetitions = args.length > 3 ? Integer.parseInt(args[3]) : 1;
        SolverInput model = FilmBenchmark.model(n, liquid);
        for (int run = 0; run < repetitions; run++) {
            try (ThreadTeam team = new ThreadTeam(threads);
                    Stage stage = new Progress().stage("film", 0, "iterations")) {
                FilmTape tape = new FilmTape();
                long begin = clock(threads);
                int iterations = new FilmSolver(model, SolverOptions.STANDARD, team)
                        .recordOn(tape)
                        .run(new double[0], state -> {}, stage)
                        .cgIterations();
                double there = (clock(threads) - begin) * 1e-9;
                long before = stage.done();
                double one = back(model, tape, goals(tape.lastResidual(), 1), team, threads, stage);
                long iterationsBack = stage.done() - before;
                double three = back(model, tape, goals(tape.lastResidual(), 3), team, threads, stage);
                System.out.printf(
                        Locale.ROOT,
                        "{\"tiles\": %d, \"recipe\": \"%s\", \"threads\": %d, \"there_s\": %.2f, \"back_s\": %.2f,"
                                + " \"ratio\": %.2f, \"ratio_of_a_further_goal\": %.2f, \"steps\": %d, \"tape_mb\": %.0f,"
                                + " \"cg_there\": %d, \"cg_back\": %d}%n",
                        n,
                        liquid ? "liquid" : "thermal",
                        threads,
                        there,
                        one,
                        one / there,
                        (three - one) / 2 / there,
                        tape.length(),
                        tape.bytes() * 1e-6,
                        iterations,
                        iterationsBack);
            }
        }
    }

    /** With one thread its own time, which other programs do not spoil; else that on the wall, in ns. */
    private static long clock(int threads) {
        return threads == 1 ? ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime() : System.nanoTime();
    }

    private static double back(
            SolverInput model, FilmTape tape, List<double[]> goals, ThreadTeam team, int threads, Stage stage) {
        long begin = clock(threads);
        new FilmAdjoint(model, tape, REDUCTION, team).back(goals, List.of(), stage);
        return (clock(threads) - begin) * 1e-9;
    }

    /** Spreads over the whole map, its left and its right half: their derivatives up to a factor. */
    private static List<double[]> goals(double[] residual, int count) {
        int side = (int) Math.round(Math.sqrt(residual.length));
        List<double[]> goals = new ArrayList<>();
        for (int g = 0; g < count; g++) {
            int half = g;
            double mean = Arrays.stream(residual).average().orElseThrow();
            double[] goal = new double[residual.length];
            for (int i = 0; i < goal.length; i++) {
                boolean left = i % side < side / 2;
                goal[i] = half == 0 || half == 1 == left ? residual[i] - mean : 0;
            }
            goals.add(goal);
        }
        return goals;
    }
}
