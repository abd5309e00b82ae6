package org.evenstamp.samples.bench;

import com.fasterxml.jackson.core.json.PackageVersion;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.evenstamp.geometry.write.LayoutWriter;
import org.evenstamp.samples.generate.RandomLayout;
import org.locationtech.jts.JTSVersion;

/**
 * Runs the program on generated layouts beside its yardsticks, all in one session, and writes the figures as JSON.
 *
 * <pre>
 * [--polygons N] [--vertices V] [--runs R] [--evenstamp LAUNCHER] [--layouts DIR] [--out FILE] [--large] [BENCHMARK ...]
 * </pre>
 *
 * Without names all benchmarks run; see {@link Benchmark}. Layouts are kept in {@code --layouts} for the next session.
 */
public final class BenchmarkMain {
    /** What can be measured. */
    enum Benchmark {
        /** {@code measure} of one layout against going through the same file and doing nothing. */
        READ,
        /** {@code measure} at half the tile side, and of ten times as many polygons (with a heap of 1 GB when large). */
        SCALE,
        /** A layout stepped over a stamp as 10 x 10 dies against one of them. */
        ARRAY,
        /** Coverage against exact intersection of polygons and tiles. */
        COVERAGE,
        /** How soon {@code --help} answers, and the sample job. */
        START
    }

    private static final long SEED = 1;
    private static final double FIELD_METRES = 12e-3;
    private static final long DIE_POLYGONS = 55_000;
    private static final int COVERAGE_POLYGONS = 100_000;
    private static final int COVERAGE_TILES = 256;

    private final List<String> evenstamp;
    private final Path layouts;
    private final long polygons;
    private final int vertices;
    private final int runs;
    private final boolean large;
    private final Figures figures = new Figures();

    private BenchmarkMain(BenchmarkOptions options) throws IOException {
        evenstamp = options.evenstamp();
        layouts = options.layouts();
        polygons = options.polygons();
        vertices = options.vertices();
        runs = options.runs();
        large = options.large();
        Files.createDirectories(layouts);
    }

    /** Runs what the options name; ends with exit code 2 and the usage when it does not understand them. */
    public static void main(String[] args) throws IOException {
        BenchmarkOptions options;
        try {
            options = BenchmarkOptions.parse(args);
        } catch (IllegalArgumentException e) {
            System.err.println(e.getMessage());
            System.err.println(BenchmarkOptions.USAGE);
            System.exit(2);
            return;
        }
        Figures figures = run(options);
        if (options.out() == null) {
            figures.write(System.out);
        } else {
            try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(options.out()))) {
                figures.write(out);
            }
        }
    }

    /**
     * Runs benchmarks.
     *
     * @throws IOException when a layout cannot be written or a process cannot be started
     * @throws IllegalStateException when a process fails
     */
    static Figures run(BenchmarkOptions options) throws IOException {
        BenchmarkMain main = new BenchmarkMain(options);
        main.describe();
        for (Benchmark benchmark : options.benchmarks()) {
            switch (benchmark) {
                case READ -> main.read();
                case SCALE -> main.scale();
                case ARRAY -> main.array();
                case COVERAGE -> main.coverage();
                case START -> main.start();
            }
        }
        return main.figures;
    }

    private void describe() throws IOException {
        Runtime runtime = Runtime.getRuntime();
        figures.setting("processor", processor());
        figures.setting("processors", Integer.toString(runtime.availableProcessors()));
        figures.setting("system", System.getProperty("os.name") + " " + System.getProperty("os.arch"));
        figures.setting("java", System.getProperty("java.vm.name") + " " + Runtime.version());
        figures.setting("jackson", PackageVersion.VERSION.toString());
        figures.setting("jts", JTSVersion.CURRENT_VERSION.toString());
        figures.setting("polygons", Long.toString(polygons));
        figures.setting("vertices", Integer.toString(vertices));
        figures.setting("seed", Long.toString(SEED));
    }

    private static String processor() throws IOException {
        Path cpuinfo = Path.of("/proc/cpuinfo");
        if (Files.isReadable(cpuinfo)) {
            for (String line : Files.readAllLines(cpuinfo)) {
                if (line.startsWith("model name")) {
                    return line.substring(line.indexOf(':') + 1).strip();
                }
            }
        }
        return "unknown";
    }

    private void read() throws IOException {
        Path geojson = layout(polygons, "geojson");
        Path wkt = layout(polygons, "wkt");
        figures.setting("geojson_MB", Long.toString(Files.size(geojson) / 1_000_000));
        figures.setting("wkt_MB", Long.toString(Files.size(wkt) / 1_000_000));

        // In turns, so that whatever else the machine does falls on all of them alike.
        turns(
                new Command("scan geojson tokens", scan(ScanMain.Scan.TOKENS, geojson)),
                new Command("scan geojson numbers", scan(ScanMain.Scan.NUMBERS, geojson)),
                new Command("scan wkt bytes", scan(ScanMain.Scan.BYTES, wkt)),
                new Command("scan wkt lines", scan(ScanMain.Scan.LINES, wkt)),
                new Command("measure geojson", measure(geojson)),
                new Command("measure geojson, estimated", measure(geojson, "--structure", "estimated")),
                new Command("measure wkt", measure(wkt)),
                new Command("measure wkt, estimated", measure(wkt, "--structure", "estimated")));
        ratio("measure geojson", "scan geojson tokens", "<= 1.5");
        ratio("measure geojson, estimated", "scan geojson tokens", "<= 1.5");
        ratio("measure wkt", "scan wkt lines", "<= 3");
        ratio("measure wkt, estimated", "scan wkt lines", "<= 3");
        ratio("measure wkt, estimated", "scan wkt bytes", "for comparison");
    }

    private void scale() throws IOException {
        Path one = layout(large ? polygons : Math.max(1, polygons / 10), "geojson");
        Path ten = layout(large ? 10 * polygons : polygons, "geojson");
        Map<String, String> heap = Map.of("JAVA_TOOL_OPTIONS", "-Xmx1g");
        String[] side = {"--structure", "estimated", "--tile", "100 um"};
        String[] half = {"--structure", "estimated", "--tile", "50 um"};
        turns(
                new Command("tiles of 100 um", measure(one, side), heap),
                new Command("tiles of 50 um", measure(one, half), heap),
                new Command("ten times the polygons", measure(ten, side), heap));
        ratio("tiles of 50 um", "tiles of 100 um", "< 2");
        ratio("ten times the polygons", "tiles of 100 um", "<= 10");
    }

    private void array() throws IOException {
        Path die = layout(Math.min(DIE_POLYGONS, polygons), "geojson");
        turns(
                new Command("one die", job(die, "one-die", "")),
                new Command(
                        "10 x 10 dies",
                        job(die, "dies", ", array: {columns: 10, rows: 10, step: [\"12.5 mm\", \"12.5 mm\"]}")),
                new Command(
                        "10 x 10 dies, none alike",
                        job(
                                die,
                                "odd-dies",
                                ", array: {columns: 10, rows: 10, step: [\"12.5 mm\", \"12.5 mm\"]}",
                                "  side: \"997 um\"")));
        ratio("10 x 10 dies", "one die", "<= 2");
        ratio("10 x 10 dies, none alike", "one die", "for comparison");
    }

    /** A run of a job without analyses on a layout. */
    private List<String> job(Path layout, String name, String more, String... tiles) throws IOException {
        Path job = layouts.resolve(name + ".yaml");
        Files.writeString(
                job,
                "layout: {file: " + layout.getFileName() + ", unit: um" + more + "}\n"
                        + "tiles:\n  resolution: \"off\"\n" + String.join("\n", tiles) + "\n"
                        + "stamp: {depth: \"150 nm\"}\n");
        List<String> words = new ArrayList<>(evenstamp);
        words.addAll(
                List.of("run", job.toString(), "--no-report", "--out", results().toString(), "--replace"));
        return words;
    }

    private void coverage() {
        long count = Math.min(COVERAGE_POLYGONS, polygons);
        int tiles = count < COVERAGE_POLYGONS ? 16 : COVERAGE_TILES;
        new CoverageComparison(new RandomLayout(SEED, count, vertices, FIELD_METRES, FIELD_METRES), tiles, runs)
                .run(figures);
    }

    private void start() throws IOException {
        List<String> help = new ArrayList<>(evenstamp);
        help.add("--help");
        turns(new Command("--help", help));
        figures.against("--help, seconds", figures.wall("--help"), "< 0.5");
        Path job = Path.of("samples/water-sensor/job.yaml");
        if (!Files.exists(job)) {
            figures.setting("sample_job", "not run: no " + job + " below the working directory");
        } else {
            List<String> sample = new ArrayList<>(evenstamp);
            sample.addAll(List.of("run", job.toString(), "--out", results().toString(), "--replace"));
            turns(new Command("sample job", sample));
            figures.against("sample job, seconds", figures.wall("sample job"), "< 10 on two cores");
        }
    }

    private record Command(String name, List<String> words, Map<String, String> environment) {
        Command(String name, List<String> words) {
            this(name, words, Map.of());
        }
    }

    private void turns(Command... commands) throws IOException {
        List<List<ProcessRun>> taken = Stream.generate(() -> (List<ProcessRun>) new ArrayList<ProcessRun>())
                .limit(commands.length)
                .toList();
        try {
            for (int run = 0; run < runs; run++) {
                for (int i = 0; i < commands.length; i++) {
                    taken.get(i).add(ProcessRun.of(commands[i].words(), commands[i].environment()));
                }
            }
        } finally {
            delete(results());
        }
        for (int i = 0; i < commands.length; i++) {
            figures.timing(commands[i].name(), Figures.Timing.of(taken.get(i)));
        }
    }

    private void ratio(String slow, String fast, String aim) {
        figures.against(slow + " / " + fast, figures.wall(slow) / figures.wall(fast), aim);
    }

    private List<String> scan(ScanMain.Scan scan, Path file) {
        return List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                ScanMain.class.getName(),
                scan.name(),
                file.toString());
    }

    private List<String> measure(Path file, String... options) {
        List<String> words = new ArrayList<>(evenstamp);
        words.addAll(List.of("measure", file.toString(), "--unit", "um", "--depth", "150 nm"));
        words.addAll(List.of(options));
        return words;
    }

    private Path results() {
        return layouts.resolve("results");
    }

    /** Returns a layout of so many polygons, drawn now unless it is there from an earlier session. */
    private Path layout(long count, String ending) throws IOException {
        Path file = layouts.resolve("random-" + count + "x" + vertices + "-" + SEED + "." + ending);
        if (!Files.exists(file)) {
            Path unfinished = layouts.resolve("unfinished." + ending);
            try (LayoutWriter writer = LayoutWriter.create(unfinished)) {
                new RandomLayout(SEED, count, vertices, FIELD_METRES, FIELD_METRES).draw(writer);
            }
            Files.move(unfinished, file, StandardCopyOption.ATOMIC_MOVE);
        }
        return file;
    }

    private static void delete(Path folder) throws IOException {
        if (Files.exists(folder)) {
            try (Stream<Path> files = Files.walk(folder)) {
                for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
                    Files.delete(file);
                }
            }
        }
    }
}
