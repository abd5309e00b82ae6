package org.evenstamp.geometry.merge;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.TreeSet;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.layout.Pose;
import org.evenstamp.geometry.layout.RegionLabel;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.shared.problem.Problems;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.geom.util.AffineTransformation;
import org.locationtech.jts.operation.overlayng.OverlayNG;
import org.locationtech.jts.operation.overlayng.OverlayNGRobust;

/** A region of the stamp that is drawn in the layout: all polygons of one name, as one shape. */
public final class DrawnRegion {
    private static final long MOST_COPIES = 100_000;

    private final String name;
    private final @Nullable Double weight;
    private final Geometry shape;

    private DrawnRegion(String name, @Nullable Double weight, Geometry shape) {
        this.name = name;
        this.weight = weight;
        this.shape = shape;
    }

    /** Polygons of one name. */
    private static final class Members {
        private final List<Geometry> shapes = new ArrayList<>();
        private final TreeSet<Double> weights = new TreeSet<>();
        private long copies;
    }

    /**
     * Puts polygons of the role {@code region} together, name by name.
     *
     * @param drawn the polygons; the order of stores does not matter
     * @param poses how each copy of the layout lies
     * @return the regions by name
     * @throws org.evenstamp.shared.problem.InputException when polygons of one name have several weights, or are arrays of too
     *     many copies
     */
    public static Map<String, DrawnRegion> of(List<PolygonStore> drawn, List<Pose> poses) {
        Map<String, Members> byName = new TreeMap<>();
        PackedPolygon polygon = new PackedPolygon();
        for (PolygonStore store : drawn) {
            for (int number = 0; number < store.size(); number++) {
                store.get(number, polygon);
                RegionLabel label = Objects.requireNonNull(polygon.traits.region());
                Members members = byName.computeIfAbsent(label.name(), name -> new Members());
                if (label.weight() != null) {
                    members.weights.add(label.weight());
                }
                for (Pose pose : poses) {
                    add(polygon, pose, members);
                }
            }
        }
        Problems problems = new Problems();
        Map<String, DrawnRegion> regions = new TreeMap<>();
        byName.forEach((name, members) -> {
            if (members.copies > MOST_COPIES) {
                problems.add(
                        "region.too-many-copies",
                        "layout",
                        "the region " + name + " has " + members.copies + " copies, at most " + MOST_COPIES
                                + " are put together",
                        "draw one polygon around them");
            } else if (members.weights.size() > 1) {
                problems.add(
                        "region.weights",
                        "layout",
                        "polygons of the region " + name + " have different weights: " + members.weights,
                        "give them one weight, or another name");
            } else {
                regions.put(
                        name,
                        new DrawnRegion(
                                name,
                                members.weights.isEmpty() ? null : members.weights.first(),
                                OverlayNGRobust.union(members.shapes)));
            }
        });
        problems.throwIfAny();
        return regions;
    }

    private static void add(PackedPolygon polygon, Pose pose, Members members) {
        Repeat repeat = pose.apply(polygon.traits.repeat());
        members.copies += repeat == null ? 1 : repeat.count();
        if (members.copies > MOST_COPIES) {
            return;
        }
        PackedPolygon posed = new PackedPolygon();
        posed.xy = polygon.xy.clone();
        posed.ringEnd = polygon.ringEnd;
        posed.rings = polygon.rings;
        pose.apply(posed.xy, posed.vertices());
        Polygon shape = Shapes.polygon(posed);
        int columns = repeat == null ? 1 : repeat.columns();
        int rows = repeat == null ? 1 : repeat.rows();
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                members.shapes.add(
                        repeat == null
                                ? shape
                                : AffineTransformation.translationInstance(
                                                column * repeat.dxMetres(), row * repeat.dyMetres())
                                        .transform(shape));
            }
        }
    }

    /** Returns its name. */
    public String name() {
        return name;
    }

    /** Returns the weight that its polygons say; null where they say none. */
    public @Nullable Double weight() {
        return weight;
    }

    /** Returns its area in square metres. */
    public double areaSquareMetres() {
        return shape.getArea();
    }

    /** Returns the polygons of that part of it which lies in a rectangle; they do not overlap. */
    public List<PackedPolygon> within(double minX, double minY, double maxX, double maxY) {
        Geometry inside = OverlayNGRobust.overlay(
                shape, Shapes.FACTORY.toGeometry(new Envelope(minX, maxX, minY, maxY)), OverlayNG.INTERSECTION);
        List<PackedPolygon> polygons = new ArrayList<>();
        for (int i = 0; i < inside.getNumGeometries(); i++) {
            if (inside.getGeometryN(i) instanceof Polygon polygon && !polygon.isEmpty()) {
                PackedPolygon packed = new PackedPolygon();
                Shapes.pack(polygon, packed);
                polygons.add(packed);
            }
        }
        return polygons;
    }
}
