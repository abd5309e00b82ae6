package org.evenstamp.samples.bench;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.samples.generate.RandomLayout;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.geom.prep.PreparedGeometry;
import org.locationtech.jts.geom.prep.PreparedGeometryFactory;
import org.locationtech.jts.operation.overlayng.OverlayNG;
import org.locationtech.jts.operation.overlayng.OverlayNGRobust;

/**
 * Covered area of every tile of a square grid, by edge sums and by JTS intersections of each polygon with each tile that its
 * envelope reaches. Both on one thread, from polygons already in memory in the form that suits each, after a warm-up.
 */
final class CoverageComparison {
    private static final String OURS = "coverage by edge sums";
    private static final String THEIRS = "coverage by intersections";

    private final GeometryFactory factory = new GeometryFactory();
    private final int tiles;
    private final double pitch;
    private final int runs;
    private final List<PackedPolygon> packed = new ArrayList<>();
    private final List<Polygon> polygons = new ArrayList<>();

    /**
     * Prepares a comparison.
     *
     * @param layout polygons without holes, on a square field
     * @param tiles along each side
     * @param runs of either method
     */
    CoverageComparison(RandomLayout layout, int tiles, int runs) {
        this.tiles = tiles;
        this.pitch = layout.widthMetres() / tiles;
        this.runs = runs;
        layout.draw(polygon -> {
            int vertices = polygon.vertices();
            PackedPolygon copy = new PackedPolygon();
            copy.xy = Arrays.copyOf(polygon.xy, 2 * vertices);
            copy.endRing(vertices);
            packed.add(copy);
            Coordinate[] ring = new Coordinate[vertices + 1];
            for (int i = 0; i <= vertices; i++) {
                ring[i] = new Coordinate(polygon.xy[2 * (i % vertices)], polygon.xy[2 * (i % vertices) + 1]);
            }
            polygons.add(factory.createPolygon(ring));
        });
    }

    /** Times both and compares what they found. */
    void run(Figures figures) {
        int few = Math.max(1, packed.size() / 10);
        for (int i = 0; i < 5; i++) {
            edgeSums(few);
        }
        intersections(few);
        double[] ours = time(figures, OURS, () -> edgeSums(packed.size()));
        double[] theirs = time(figures, THEIRS, () -> intersections(packed.size()));
        double difference = 0;
        for (int i = 0; i < ours.length; i++) {
            difference = Math.max(difference, Math.abs(ours[i] - theirs[i]));
        }
        figures.setting("coverage_polygons", Integer.toString(packed.size()));
        figures.setting("coverage_tiles", tiles + " x " + tiles);
        figures.against("largest difference, tile areas", difference, "<= 1e-9");
        figures.against("intersections / edge sums", figures.wall(THEIRS) / figures.wall(OURS), ">= 20");
    }

    private double[] time(Figures figures, String name, Supplier<double[]> method) {
        ThreadMXBean threads = ManagementFactory.getThreadMXBean();
        List<ProcessRun> taken = new ArrayList<>();
        double[] coverage = {};
        for (int run = 0; run < runs; run++) {
            long cpu = threads.getCurrentThreadCpuTime();
            long start = System.nanoTime();
            coverage = method.get();
            double wall = (System.nanoTime() - start) * 1e-9;
            taken.add(new ProcessRun(wall, (threads.getCurrentThreadCpuTime() - cpu) * 1e-9, OptionalDouble.empty()));
        }
        figures.timing(name, Figures.Timing.of(taken));
        return coverage;
    }

    private double[] edgeSums(int count) {
        CoverageSums sums = new CoverageSums(tiles, tiles, 0, 0, pitch);
        for (int i = 0; i < count; i++) {
            sums.add(packed.get(i));
        }
        return sums.coverage();
    }

    private double[] intersections(int count) {
        double[] coverage = new double[tiles * tiles];
        double tileArea = pitch * pitch;
        for (int i = 0; i < count; i++) {
            Polygon polygon = polygons.get(i);
            Envelope envelope = polygon.getEnvelopeInternal();
            int column0 = tile(envelope.getMinX());
            int column1 = tile(envelope.getMaxX());
            int row0 = tile(envelope.getMinY());
            int row1 = tile(envelope.getMaxY());
            if (column0 == column1 && row0 == row1) {
                coverage[row0 * tiles + column0] += polygon.getArea() / tileArea;
                continue;
            }
            PreparedGeometry prepared = PreparedGeometryFactory.prepare(polygon);
            for (int row = row0; row <= row1; row++) {
                for (int column = column0; column <= column1; column++) {
                    Geometry tile = factory.toGeometry(
                            new Envelope(column * pitch, (column + 1) * pitch, row * pitch, (row + 1) * pitch));
                    if (!prepared.intersects(tile)) {
                        continue;
                    }
                    double area = prepared.covers(tile)
                            ? tileArea
                            : OverlayNGRobust.overlay(polygon, tile, OverlayNG.INTERSECTION)
                                    .getArea();
                    coverage[row * tiles + column] += area / tileArea;
                }
            }
        }
        return coverage;
    }

    private int tile(double metres) {
        return Math.max(0, Math.min(tiles - 1, (int) Math.floor(metres / pitch)));
    }
}
