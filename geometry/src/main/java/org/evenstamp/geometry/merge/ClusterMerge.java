package org.evenstamp.geometry.merge;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.evenstamp.geometry.coverage.Layer;
import org.evenstamp.geometry.coverage.LayerRules;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.LineString;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.operation.overlayng.OverlayNG;
import org.locationtech.jts.operation.overlayng.OverlayNGRobust;

/** Merges polygons that meet, by the order of precedence of the package: land, then cavities from deep to shallow, then textures. */
final class ClusterMerge {
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
            case SEAM -> throw new IllegalStateException("a seam is no polygon");
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
            boolean standsInLand = rules.drawnAreCavities() && entry.getKey().kind() == Layer.Kind.LAND;
            if (!standsInLand) {
                regions.add(new Region(entry.getKey(), shape));
            }
        }
        for (int i = 0; i < regions.size(); i++) {
            for (int j = i + 1; j < regions.size(); j++) {
                findSeams(regions.get(i), regions.get(j));
            }
        }
    }

    private void findSeams(Region upper, Region lower) {
        if (upper.layer.kind() == Layer.Kind.TEXTURED || lower.layer.kind() == Layer.Kind.TEXTURED) {
            return; // the rim of a textured region is no wall and was not counted
        }
        Geometry common =
                OverlayNGRobust.overlay(upper.shape.getBoundary(), lower.shape.getBoundary(), OverlayNG.INTERSECTION);
        double depth = Math.min(upper.layer.depthMetres(), lower.layer.depthMetres());
        for (int n = 0; n < common.getNumGeometries(); n++) {
            if (common.getGeometryN(n) instanceof LineString line) {
                Coordinate[] points = line.getCoordinates();
                for (int i = 1; i < points.length; i++) {
                    seams.add(new MergedLayout.Seam(points[i - 1].x, points[i - 1].y, points[i].x, points[i].y, depth));
                }
            }
        }
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
        @Nullable
        Role role = switch (layer.kind()) {
            case LAND -> Role.PROTRUSION;
            case CAVITY -> Role.CAVITY;
            default -> null;
        };
        return new Traits(layer.kind() == Layer.Kind.LAND ? null : layer.depthMetres(), role, null, layer.texture());
    }
}
