package org.evenstamp.samples.bench;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.lang.management.MemoryType;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Locale;
import java.util.stream.IntStream;
import org.evenstamp.geometry.dummy.DummyPlacer;
import org.evenstamp.geometry.dummy.DummyRules;
import org.evenstamp.geometry.dummy.DummyShape;
import org.evenstamp.geometry.dummy.FreeSites;
import org.evenstamp.geometry.dummy.Placement;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.geometry.write.LayoutWriter;
import org.evenstamp.samples.generate.RandomLayout;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;

/**
 * Times finding free sites beside the features of a generated layout, and placing and writing dummies there: squares of 2 um
 * every 4 um on tiles of 100 um with one feature for every two. Prints one JSON object a run.
 *
 * <p>Arguments: dummies, threads, repetitions, the file, whose ending chooses format and compression, and tiles along a side.
 */
public final class DummyBenchmark {
    private static final double TILE_METRES = 100e-6;
    private static final int VERTICES = 22;
    private static final double SIDE_METRES = 2e-6;
    private static final double GAP_METRES = 2e-6;

    private DummyBenchmark() {}

    /** Runs the benchmark. */
    public static void main(String[] args) throws IOException {
        long dummies = args.length > 0 ? Long.parseLong(args[0]) : 1_000_000;
        int threads = args.length > 1 ? Integer.parseInt(args[1]) : 2;
        int repetitions = args.length > 2 ? Integer.parseInt(args[2]) : 1;
        Path file = Path.of(args.length > 3 ? args[3] : "dummies.geojson");
        int tiles = args.length > 4 ? Integer.parseInt(args[4]) : 200;
        for (int run = 0; run < repetitions; run++) {
            System.out.println(run(dummies, threads, file, tiles));
        }
    }

    /**
     * Runs it once.
     *
     * @return the figures as a JSON object
     * @throws IOException when the file cannot be written
     */
    static String run(long dummies, int threads, Path file, int tiles) throws IOException {
        double side = tiles * TILE_METRES;
        PolygonStore layout = new PolygonStore();
        new RandomLayout(1, Math.max(1, (long) tiles * tiles / 2), VERTICES, side, side).draw(layout::add);
        TileGrid grid = new TileGrid(0, 0, TILE_METRES, tiles, tiles);
        DummyRules rules = new DummyRules(
                DummyShape.square(SIDE_METRES),
                null,
                DummyRules.Arrangement.SQUARE,
                GAP_METRES,
                SIDE_METRES,
                0,
                MapOptions.Drawn.CAVITIES,
                false,
                false);
        Progress progress = new Progress();

        long cpu = cpuNanos();
        long start = System.nanoTime();
        FreeSites sites = new DummyPlacer(
                        rules, MapOptions.Drawn.CAVITIES, new MapOptions.Outline(0, 0, side, side), grid)
                .survey(layout, threads, progress);
        long surveyed = System.nanoTime();
        double[] asked = new double[grid.size()];
        Arrays.fill(asked, SIDE_METRES * SIDE_METRES * dummies / grid.size());
        Placement placement;
        try (LayoutWriter writer = LayoutWriter.create(file)) {
            placement = sites.place(asked, writer, progress);
        }
        long written = System.nanoTime();
        return String.format(
                Locale.ROOT,
                "{\"dummies\": %d, \"sites\": %d, \"tiles\": %d, \"features\": %d, \"threads\": %d, \"survey_s\": %.2f,"
                        + " \"place_and_write_s\": %.2f, \"cpu_s\": %.2f, \"file_MB\": %.1f, \"peak_heap_MB\": %d, \"short_tiles\": %d}",
                placement.dummies(),
                sites.count(),
                grid.size(),
                layout.size(),
                threads,
                (surveyed - start) * 1e-9,
                (written - surveyed) * 1e-9,
                (cpuNanos() - cpu) * 1e-9,
                Files.size(file) * 1e-6,
                peakHeapBytes() >> 20,
                IntStream.range(0, grid.size()).filter(placement::isShort).count());
    }

    private static long cpuNanos() {
        return ManagementFactory.getOperatingSystemMXBean() instanceof com.sun.management.OperatingSystemMXBean sun
                ? sun.getProcessCpuTime()
                : 0;
    }

    private static long peakHeapBytes() {
        return ManagementFactory.getMemoryPoolMXBeans().stream()
                .filter(pool -> pool.getType() == MemoryType.HEAP)
                .mapToLong(pool -> pool.getPeakUsage().getUsed())
                .sum();
    }
}
