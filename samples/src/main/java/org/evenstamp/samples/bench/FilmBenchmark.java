package org.evenstamp.samples.bench;

import java.lang.management.ManagementFactory;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.concurrent.CompletableFuture;
import java.util.stream.IntStream;
import org.evenstamp.analysis.film.load.PressLoad;
import org.evenstamp.analysis.film.solve.FilmSolver;
import org.evenstamp.analysis.film.solve.RunReport;
import org.evenstamp.analysis.film.solve.SolverInput;
import org.evenstamp.analysis.film.solve.SolverOptions;
import org.evenstamp.analysis.film.stamp.Stamp;
import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;

/**
 * Times the film solve on a generated map: random blocks of cavities, a silicon plate, a thermal recipe of 300 s or a
 * liquid one of 60 s. Prints one JSON object with what a core can do, and one a run.
 *
 * <p>Arguments: tiles along a side, {@code thermal} or {@code liquid}, threads of a solve, repetitions, solves side by side, and
 * seconds after which the recipe ends, for a large map that is not to be waited for.
 */
public final class FilmBenchmark {
    private static final int STREAMED = 1 << 23; // 64 MB an array: more than a cache holds

    private static final long YARDSTICK_NANOS = 500_000_000;

    private FilmBenchmark() {}

    /** Runs the benchmark. */
    public static void main(String[] args) {
        int n = args.length > 0 ? Integer.parseInt(args[0]) : 64;
        boolean liquid = args.length > 1 && args[1].equals("liquid");
        int threads = args.length > 2 ? Integer.parseInt(args[2]) : 2;
        int repetitions = args.length > 3 ? Integer.parseInt(args[3]) : 1;
        int sideBySide = args.length > 4 ? Integer.parseInt(args[4]) : 1;
        PressLoad recipe = args.length > 5 ? recipe(liquid, Double.parseDouble(args[5])) : recipe(liquid);
        SolverInput model = model(n, recipe);
        // The library transforms powers of two alone.
        System.out.println(Yardstick.measure(Integer.highestOneBit(n), STREAMED, YARDSTICK_NANOS));
        var machine = ManagementFactory.getOperatingSystemMXBean();
        for (int run = 0; run < repetitions; run++) {
            long wall = System.nanoTime();
            long cpu = cpuNanos(machine);
            List<CompletableFuture<Solve>> solves = IntStream.range(0, sideBySide)
                    .mapToObj(solve -> CompletableFuture.supplyAsync(() -> solve(model, threads), FilmBenchmark::start))
                    .toList();
            Solve first = solves.stream().map(CompletableFuture::join).toList().get(0);
            RunReport report = first.report;
            System.out.printf(
                    Locale.ROOT,
                    "{\"tiles\": %d, \"recipe\": \"%s\", \"threads\": %d, \"side_by_side\": %d, \"wall_s\": %.2f,"
                            + " \"cpu_s\": %.2f, \"steps\": %d, \"rejections\": %d, \"newton\": %d, \"cg\": %d,"
                            + " \"mass_error\": %.1e, \"complete\": %b, \"bytes_per_tile\": %d, \"java\": \"%s\","
                            + " \"processors\": %d}%n",
                    n,
                    liquid ? "liquid" : "thermal",
                    threads,
                    sideBySide,
                    (System.nanoTime() - wall) * 1e-9,
                    (cpuNanos(machine) - cpu) * 1e-9,
                    report.steps(),
                    report.rejections(),
                    report.newtonSteps(),
                    report.cgIterations(),
                    report.massError(),
                    report.complete(),
                    first.bytes / ((long) n * n),
                    System.getProperty("java.version"),
                    machine.getAvailableProcessors());
        }
    }

    private record Solve(RunReport report, long bytes) {}

    private static void start(Runnable work) {
        new Thread(work, "solve").start();
    }

    private static Solve solve(SolverInput model, int threads) {
        try (ThreadTeam team = new ThreadTeam(threads)) {
            long before = allocatedBytes();
            FilmSolver solver = new FilmSolver(model, SolverOptions.STANDARD, team);
            long bytes = allocatedBytes() - before;
            return new Solve(
                    solver.run(new double[0], state -> {}, new Progress().stage("film", 0, "iterations")), bytes);
        }
    }

    private static long allocatedBytes() {
        return ManagementFactory.getThreadMXBean() instanceof com.sun.management.ThreadMXBean sun
                ? sun.getCurrentThreadAllocatedBytes()
                : 0;
    }

    static long cpuNanos(java.lang.management.OperatingSystemMXBean machine) {
        return machine instanceof com.sun.management.OperatingSystemMXBean sun ? sun.getProcessCpuTime() : 0;
    }

    static SolverInput model(int n, boolean liquid) {
        return model(n, recipe(liquid));
    }

    static PressLoad recipe(boolean liquid) {
        return recipe(liquid, liquid ? 60 : 300);
    }

    private static PressLoad recipe(boolean liquid, double seconds) {
        return liquid ? PressLoad.constant(1e-2, 1e5, seconds) : PressLoad.constant(1e4, 5e6, seconds);
    }

    static SolverInput model(int n, PressLoad recipe) {
        SplittableRandom random = new SplittableRandom(7);
        double[] fraction = new double[n * n];
        Arrays.fill(fraction, 0.1);
        for (int block = 0; block < 30; block++) {
            double x = random.nextDouble();
            double y = random.nextDouble();
            double width = 0.05 + 0.25 * random.nextDouble();
            double height = 0.05 + 0.25 * random.nextDouble();
            double share = 0.05 + 0.8 * random.nextDouble();
            for (int i = 0; i < fraction.length; i++) {
                double u = (i % n + 0.5) / n - x;
                int row = i / n;
                double v = (row + 0.5) / n - y;
                if (u > 0 && u < width && v > 0 && v < height) {
                    fraction[i] = share;
                }
            }
        }
        double[] volume = Arrays.stream(fraction).map(f -> f * 200e-9).toArray();
        double[] moment =
                Arrays.stream(fraction).map(f -> Math.pow(1 - f, 3) * 4e-10).toArray();
        return SolverInput.of(new TileGrid(0, 0, 10e-3 / n, n, n), 250e-9, recipe)
                .relief(volume, fraction, moment)
                .stamp(new Stamp.Plate(130e9, 0.28, 525e-6), Surround.PERIODIC)
                .build();
    }
}
