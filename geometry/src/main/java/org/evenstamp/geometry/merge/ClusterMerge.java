package org.evenstamp.geometry.merge;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.evenstamp.geometry.coverage.Layer;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.layout.Traits;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.LineString;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.noding.snap.SnappingNoder;
import org.locationtech.jts.operation.overlayng.OverlayNG;
import org.locationtech.jts.operation.overlayng.OverlayNGRobust;

/** Merges polygons that meet, by the order of precedence of the package: land, then cavities from deep to shallow, then textures. */
final class ClusterMerge {
    /** How far, of its coordinates, a point may lie off an edge that it was computed on. */
    private static final double ROUNDING = 1e-12;

    private final Map<Layer, List<Geometry>> members = new TreeMap<>(ClusterMerge::precedence);
    private final List<Region> regions = new ArrayList<>();
    private final List<MergedLayout.Seam> seams = new ArrayList<>();

    private record Region(Layer layer, Geometry shape) {}

    private static int precedence(Layer a, Layer b) {
        int kinds = Integer.compare(rank(a), rank(b));
        if (kinds != 0) {
            return kinds;
        }
        int depths = Double.compare(b.depthMetres(), a.depthMetres());
        return depths != 0 ? depths : Layer.ORDER.compare(a, b);
    }

    private static int rank(Layer layer) {
        return switch (layer.kind()) {
            case LAND -> 0;
            case CAVITY -> 1;
            case TEXTURED -> 2;
            case SEAM, JOINT -> throw new IllegalStateException("a stretch of edge is no polygon");
        };
    }

    void add(Layer layer, Polygon shape) {
        members.computeIfAbsent(layer, key -> new ArrayList<>()).add(shape);
    }

    void resolve(LayerRules rules) {
        Geometry claimed = null;
        for (Map.Entry<Layer, List<Geometry>> entry : members.entrySet()) {
            Geometry shape = OverlayNGRobust.union(entry.getValue());
            if (claimed != null) {
                shape = OverlayNGRobust.overlay(shape, claimed, OverlayNG.DIFFERENCE);
            }
            claimed = claimed == null ? shape : OverlayNGRobust.overlay(claimed, shape, OverlayNG.UNION);
            regions.add(new Region(entry.getKey(), shape));
        }
        for (int i = 0; i < regions.size(); i++) {
            for (int j = i + 1; j < regions.size(); j++) {
                findSeams(regions.get(i), regions.get(j), rules);
            }
        }
    }

    private void findSeams(Region upper, Region lower, LayerRules rules) {
        if (upper.layer.kind() == Layer.Kind.TEXTURED || lower.layer.kind() == Layer.Kind.TEXTURED) {
            return; // the rim of a textured region is no wall and was not counted
        }
        if (rules.standsInLand(upper.layer)) {
            return; // its edges are those of the cavities around it
        }
        Layer seam = upper.layer.sameRelief(lower.layer)
                ? new Layer(Layer.Kind.JOINT, Math.abs(upper.layer.depthMetres() - rules.baseDepthMetres()), null, null)
                : new Layer(
                        Layer.Kind.SEAM, Math.min(upper.layer.depthMetres(), lower.layer.depthMetres()), null, null);
        Geometry common = commonEdges(upper.shape.getBoundary(), lower.shape.getBoundary());
        for (int n = 0; n < common.getNumGeometries(); n++) {
            if (common.getGeometryN(n) instanceof LineString line) {
                Coordinate[] points = line.getCoordinates();
                for (int i = 1; i < points.length; i++) {
                    seams.add(new MergedLayout.Seam(points[i - 1].x, points[i - 1].y, points[i].x, points[i].y, seam));
                }
            }
        }
    }

    /**
     * Where one polygon was cut by the other, the ends of a common oblique edge lie off the other's by rounding: they must be
     * drawn to it.
     */
    private static Geometry commonEdges(Geometry a, Geometry b) {
        double far = Math.max(magnitude(a.getEnvelopeInternal()), magnitude(b.getEnvelopeInternal()));
        return OverlayNG.overlay(a, b, OverlayNG.INTERSECTION, new SnappingNoder(far * ROUNDING));
    }

    private static double magnitude(Envelope box) {
        return Math.max(
                Math.max(Math.abs(box.getMinX()), Math.abs(box.getMaxX())),
                Math.max(Math.abs(box.getMinY()), Math.abs(box.getMaxY())));
    }

    void addTo(PolygonStore store, List<MergedLayout.Seam> allSeams) {
        PackedPolygon packed = new PackedPolygon();
        for (Region region : regions) {
            packed.traits = traits(region.layer);
            for (int n = 0; n < region.shape.getNumGeometries(); n++) {
                if (region.shape.getGeometryN(n) instanceof Polygon polygon && !polygon.isEmpty()) {
                    Shapes.pack(polygon, packed);
                    store.add(packed);
                }
            }
        }
        allSeams.addAll(seams);
    }

    private static Traits traits(Layer layer) {
        return new Traits(
                layer.kind() == Layer.Kind.LAND ? null : layer.depthMetres(), layer.role(), null, layer.texture());
    }
}
