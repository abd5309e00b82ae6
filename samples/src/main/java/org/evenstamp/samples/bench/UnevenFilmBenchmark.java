package org.evenstamp.samples.bench;

import java.lang.management.ManagementFactory;
import java.util.Arrays;
import java.util.Locale;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.solve.FilmSolver;
import org.evenstamp.analysis.film.solve.RunReport;
import org.evenstamp.analysis.film.solve.SolverInput;
import org.evenstamp.analysis.film.solve.SolverOptions;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.progress.Progress;

/**
 * Times a film whose viscosity differs from tile to tile against one of a single viscosity, on the map of {@link FilmBenchmark}: the
 * left rim flows half as easily as the right one, the mean fluidity is alike. Prints one JSON object a pair.
 *
 * <p>Arguments: tiles along a side, {@code thermal} or {@code liquid}, threads, repetitions.
 */
public final class UnevenFilmBenchmark {
    private static final double LEFT = 2 / 3.0; // fluidity at the left rim over the mean

    private UnevenFilmBenchmark() {}

    /** Runs the benchmark. */
    public static void main(String[] args) {
        int n = args.length > 0 ? Integer.parseInt(args[0]) : 64;
        boolean liquid = args.length > 1 && args[1].equals("liquid");
        int threads = args.length > 2 ? Integer.parseInt(args[2]) : 2;
        int repetitions = args.length > 3 ? Integer.parseInt(args[3]) : 1;
        PressLoad even = FilmBenchmark.recipe(liquid);
        SolverInput alike = FilmBenchmark.model(n, even);
        SolverInput differing = FilmBenchmark.model(n, new Sloping(even, n));
        var machine = ManagementFactory.getOperatingSystemMXBean();
        for (int run = 0; run < repetitions; run++) {
            long begin = FilmBenchmark.cpuNanos(machine);
            RunReport one = solve(alike, threads);
            long middle = FilmBenchmark.cpuNanos(machine);
            RunReport many = solve(differing, threads);
            long end = FilmBenchmark.cpuNanos(machine);
            System.out.printf(
                    Locale.ROOT,
                    "{\"tiles\": %d, \"recipe\": \"%s\", \"threads\": %d, \"one_viscosity_cpu_s\": %.2f, \"ratio\": %.3f,"
                            + " \"steps\": [%d, %d], \"newton\": [%d, %d], \"cg\": [%d, %d]}%n",
                    n,
                    liquid ? "liquid" : "thermal",
                    threads,
                    (middle - begin) * 1e-9,
                    (end - middle) / (double) (middle - begin),
                    one.steps(),
                    many.steps(),
                    one.newtonSteps(),
                    many.newtonSteps(),
                    one.cgIterations(),
                    many.cgIterations());
        }
    }

    private static RunReport solve(SolverInput input, int threads) {
        try (ThreadTeam team = new ThreadTeam(threads)) {
            return new FilmSolver(input, SolverOptions.STANDARD, team)
                    .run(new double[0], state -> {}, new Progress().stage("film", 0, "iterations"));
        }
    }

    /** Another load on a film that flows more easily towards the right. */
    private record Sloping(PressLoad even, int columns) implements PressLoad {
        private double share(int column) {
            return LEFT + 2 * (1 - LEFT) * (column + 0.5) / columns;
        }

        @Override
        public double endSeconds() {
            return even.endSeconds();
        }

        @Override
        public double viscosityPascalSeconds(double seconds) {
            return even.viscosityPascalSeconds(seconds) / share(columns - 1);
        }

        @Override
        public boolean differsByTile() {
            return true;
        }

        @Override
        public void fluidity(double from, double to, double[] into) {
            even.fluidity(from, to, into);
            Arrays.setAll(into, i -> into[i] * share(i % columns));
        }

        @Override
        public void pressurePascal(double seconds, double[] into) {
            even.pressurePascal(seconds, into);
        }
    }
}
