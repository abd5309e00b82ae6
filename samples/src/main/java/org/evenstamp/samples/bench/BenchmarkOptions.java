package org.evenstamp.samples.bench;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.evenstamp.samples.bench.BenchmarkMain.Benchmark;
import org.jspecify.annotations.Nullable;

/**
 * What a session of benchmarks is to do.
 *
 * @param polygons of the main layout
 * @param vertices each has on average
 * @param runs of every command
 * @param evenstamp command that starts the program
 * @param layouts folder for generated layouts
 * @param out file for the figures; null for standard output
 * @param large whether the layout of ten times the polygons is made too
 * @param benchmarks what to measure
 */
record BenchmarkOptions(
        long polygons,
        int vertices,
        int runs,
        List<String> evenstamp,
        Path layouts,
        @Nullable Path out,
        boolean large,
        List<Benchmark> benchmarks) {
    static final String USAGE =
            "usage: [--polygons N] [--vertices V] [--runs R] [--evenstamp LAUNCHER] [--layouts DIR] [--out FILE]"
                    + " [--large] [read|scale|array|coverage|start ...]";

    /** Checks the ranges. */
    BenchmarkOptions {
        if (polygons < 1 || vertices < 4 || runs < 1) {
            throw new IllegalArgumentException("a benchmark needs a polygon, four vertices and a run at least");
        }
        evenstamp = List.copyOf(evenstamp);
        benchmarks = List.copyOf(benchmarks);
    }

    /**
     * Reads a command line.
     *
     * @throws IllegalArgumentException when an option is unknown, lacks its value or has an impossible one
     */
    static BenchmarkOptions parse(String... args) {
        long polygons = 1_000_000;
        int vertices = 22;
        int runs = 5;
        String evenstamp = "cli/evenstamp";
        Path layouts = Path.of("samples/target/bench");
        Path out = null;
        boolean large = false;
        List<Benchmark> benchmarks = new ArrayList<>();
        List<String> words = new ArrayList<>(Arrays.asList(args));
        while (!words.isEmpty()) {
            String word = words.remove(0);
            switch (word) {
                case "--polygons" -> polygons = Long.parseLong(value(word, words));
                case "--vertices" -> vertices = Integer.parseInt(value(word, words));
                case "--runs" -> runs = Integer.parseInt(value(word, words));
                case "--evenstamp" -> evenstamp = value(word, words);
                case "--layouts" -> layouts = Path.of(value(word, words));
                case "--out" -> out = Path.of(value(word, words));
                case "--large" -> large = true;
                default -> benchmarks.add(Benchmark.valueOf(word.toUpperCase(Locale.ROOT)));
            }
        }
        if (benchmarks.isEmpty()) {
            benchmarks.addAll(List.of(Benchmark.values()));
        }
        return new BenchmarkOptions(polygons, vertices, runs, List.of(evenstamp), layouts, out, large, benchmarks);
    }

    private static String value(String option, List<String> rest) {
        if (rest.isEmpty()) {
            throw new IllegalArgumentException(option + " needs a value");
        }
        return rest.remove(0);
    }
}
