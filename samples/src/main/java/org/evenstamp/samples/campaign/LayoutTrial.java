package org.evenstamp.samples.campaign;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.read.LayoutFile;
import org.evenstamp.geometry.read.ReadOptions;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.geometry.tile.TileMap;
import org.evenstamp.geometry.tile.TileMapper;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.Progress;
import org.evenstamp.shared.spi.Figure;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LinearRing;
import org.locationtech.jts.operation.overlayng.OverlayNG;
import org.locationtech.jts.operation.overlayng.OverlayNGRobust;

/**
 * Changed layouts, read and, some of them, measured. Where every feature is a plain cavity, the area covered on the stamp is
 * compared with that of the union which JTS makes of the polygons that were read.
 */
final class LayoutTrial implements Trial {
    private static final double UM = 1e-6;
    private static final int MOST_COMPARED = 2000;
    /** Relative to the tiles, of which less is taken for rounding, and to coordinates whose rounding both ways of computing see. */
    private static final double TOLERANCE = 1e-9;

    private static final GeometryFactory FACTORY = new GeometryFactory();

    private final int measureOneIn;

    /** A trial that measures one in so many layouts. */
    LayoutTrial(int measureOneIn) {
        this.measureOneIn = measureOneIn;
    }

    /** Keeps plain polygons, copies of arrays included. */
    private static final class Kept implements PolygonSink {
        private final List<Geometry> shapes = new ArrayList<>();
        private final Envelope all = new Envelope();
        private boolean plain = true;

        /** Returns a side for so many tiles along the box around everything but copies; null where that is narrower than a tile. */
        @Nullable
        Double tileSide(int tiles) {
            double longer = Math.max(all.getWidth(), all.getHeight());
            double shorter = Math.min(all.getWidth(), all.getHeight());
            return shorter < longer / tiles ? null : longer / tiles;
        }

        @Override
        public void accept(PackedPolygon polygon) {
            for (int vertex = 0; vertex < polygon.ringEnd[polygon.rings - 1]; vertex++) {
                all.expandToInclude(polygon.xy[2 * vertex], polygon.xy[2 * vertex + 1]);
            }
            Traits traits = polygon.traits;
            Repeat repeat = traits.repeat() == null ? new Repeat(1, 1, 0, 0) : traits.repeat();
            plain &= traits.depthMetres() == null && traits.role() == null && traits.texture() == null;
            plain &= shapes.size() + repeat.count() <= MOST_COMPARED;
            for (int copy = 0; plain && copy < repeat.count(); copy++) {
                int column = copy % repeat.columns();
                int row = copy / repeat.columns();
                shapes.add(shape(polygon, column * repeat.dxMetres(), row * repeat.dyMetres()));
            }
        }

        private static Geometry shape(PackedPolygon polygon, double dx, double dy) {
            LinearRing[] rings = new LinearRing[polygon.rings];
            for (int ring = 0; ring < polygon.rings; ring++) {
                int start = polygon.ringStart(ring);
                int count = polygon.ringEnd[ring] - start;
                Coordinate[] points = new Coordinate[count + 1];
                for (int i = 0; i <= count; i++) {
                    int vertex = start + i % count;
                    points[i] = new Coordinate(polygon.xy[2 * vertex] + dx, polygon.xy[2 * vertex + 1] + dy);
                }
                rings[ring] = FACTORY.createLinearRing(points);
            }
            LinearRing[] holes = java.util.Arrays.copyOfRange(rings, 1, rings.length);
            return FACTORY.createPolygon(rings[0], holes);
        }
    }

    @Override
    public Verdict run(SplittableRandom random, Path directory, Progress progress) throws IOException {
        byte[] text = Drawing.text(random);
        Mutator mutator = new Mutator(random, Drawing.WORDS);
        boolean mutatePacked = random.nextInt(4) == 0;
        byte[] bytes = Drawing.packed(random, mutatePacked ? text : mutator.mutate(text));
        Path file = Files.write(directory.resolve("layout"), mutatePacked ? mutator.mutate(bytes) : bytes);
        ReadOptions.Policy policy = random.nextInt(2) == 0 ? ReadOptions.Policy.SKIP : ReadOptions.Policy.REPAIR;
        boolean measures = random.nextInt(measureOneIn) == 0;
        try {
            LayoutFile layout =
                    LayoutFile.open(file, new ReadOptions(null, random.nextInt(20) == 0 ? 1.0 : UM, policy));
            Kept kept = layout.forEach(Kept::new, 1, "reading", progress).get(0);
            // A few tiles are enough, and on many most of the time goes into flow paths, which nothing here compares.
            Double side = random.nextInt(50) == 0 ? null : kept.tileSide(random.nextInt(1, 5));
            return measures ? measured(layout, kept, side, progress) : Verdict.of(End.TAKEN);
        } catch (InputException e) {
            return Tool.told(e);
        }
    }

    private static Verdict measured(LayoutFile layout, Kept kept, @Nullable Double sideMetres, Progress progress) {
        MapOptions options = new MapOptions(
                MapOptions.Drawn.CAVITIES,
                1e-7,
                null,
                sideMetres,
                MapOptions.Structure.ESTIMATED,
                MapOptions.Around.CLOSED,
                1);
        TileMap map = new TileMapper(options).map(layout, progress);
        for (var field : map.fields().all()) {
            for (double value : field.toArray()) {
                if (!Double.isFinite(value)) {
                    return Verdict.found(field.name().id() + " is not finite");
                }
            }
        }
        if (!kept.plain
                || map.warnings().stream().anyMatch(warning -> warning.code().startsWith("overlaps"))) {
            return Verdict.of(End.TAKEN);
        }
        Envelope box = new Envelope();
        kept.shapes.forEach(shape -> box.expandToInclude(shape.getEnvelopeInternal()));
        double expected = union(kept.shapes, box, map.outline());
        double stamp = map.outline().areaSquareMetres();
        double found = map.figures().stream()
                .filter(figure -> figure.id().equals("cavity.area"))
                .mapToDouble(Figure::valueSi)
                .sum();
        double reach = Math.max(
                Math.max(Math.abs(box.getMaxX()), Math.abs(box.getMinX())),
                Math.max(Math.abs(box.getMaxY()), Math.abs(box.getMinY())));
        double rounding = 1e-15 * reach * (box.getWidth() + box.getHeight()) * Math.max(1, kept.shapes.size());
        TileGrid grid = map.fields().grid();
        double tiles = grid.size() * grid.tileAreaSquareMetres();
        boolean right = Math.abs(found - expected) <= TOLERANCE * tiles + rounding;
        return right
                ? Verdict.of(End.TAKEN_AND_COMPARED)
                : Verdict.found("area " + found + " m^2, by JTS " + expected + " m^2 of " + stamp + " m^2");
    }

    /** Returns the area that shapes cover on a stamp. Where nothing lies outside nothing is cut, as a cut along the rim is what JTS may lose pieces by. */
    private static double union(List<Geometry> shapes, Envelope box, MapOptions.Outline rim) {
        Geometry union = OverlayNGRobust.union(shapes);
        double rounding = 1e-12 * Math.max(box.getWidth(), box.getHeight());
        Envelope stamp = new Envelope(rim.minX(), rim.maxX(), rim.minY(), rim.maxY());
        Envelope wider = stamp.copy();
        wider.expandBy(rounding);
        return wider.contains(box)
                ? union.getArea()
                : OverlayNGRobust.overlay(union, FACTORY.toGeometry(stamp), OverlayNG.INTERSECTION)
                        .getArea();
    }
}
