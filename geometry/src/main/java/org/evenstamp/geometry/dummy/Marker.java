package org.evenstamp.geometry.dummy;

import java.util.Arrays;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.tile.MapOptions;

/** Strikes out the sites that drawn polygons close to dummies. One a worker, all on the same maps. */
final class Marker implements PolygonSink {
    private final SiteMap[] maps;
    private final DummyRules rules;
    private final MapOptions.Drawn drawn;
    private final double featureSpacing;

    /** The polygon in steps. */
    private double[] xy = new double[256];
    /** Where rows meet a ring: the row, and the first column right of it. */
    private long[] crossings = new long[256];

    private int crossed;

    Marker(SiteMap[] maps, DummyRules rules, MapOptions.Drawn drawn) {
        this.maps = maps;
        this.rules = rules;
        this.drawn = drawn;
        featureSpacing = (double) Steps.up(rules.spacingMetres());
    }

    @Override
    public void accept(PackedPolygon polygon) {
        if (polygon.traits.role() == Role.REGION) {
            return;
        }
        Repeat repeat = polygon.traits.repeat();
        if (repeat == null) {
            mark(polygon, 0, 0);
            return;
        }
        for (int row = 0; row < repeat.rows(); row++) {
            for (int column = 0; column < repeat.columns(); column++) {
                mark(polygon, column * repeat.dxMetres(), row * repeat.dyMetres());
            }
        }
    }

    private void mark(PackedPolygon polygon, double dx, double dy) {
        int end = 2 * polygon.vertices();
        if (xy.length < end) {
            xy = new double[2 * end];
        }
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < end; i += 2) {
            xy[i] = Steps.of(polygon.xy[i] + dx);
            xy[i + 1] = Steps.of(polygon.xy[i + 1] + dy);
            low = Math.min(low, xy[i + 1]);
            high = Math.max(high, xy[i + 1]);
        }
        boolean keepout = polygon.traits.role() == Role.KEEPOUT;
        boolean likeDummies = likeDummies(polygon.traits);
        double spacing = keepout ? 0 : featureSpacing;
        for (SiteMap map : maps) {
            double reach = map.lattice.template.halfY + spacing;
            if (map.lattice.rowFrom(high + reach + 1) <= map.firstRow
                    || map.lattice.rowFrom(low - reach) >= map.endRow) {
                continue;
            }
            edges(polygon, map, spacing);
            inside(polygon, map, 0, polygon.rings, keepout || likeDummies);
            if (likeDummies && !keepout) {
                for (int hole = 1; hole < polygon.rings; hole++) {
                    inside(polygon, map, hole, hole + 1, false);
                }
            }
        }
    }

    /** Whether a dummy inside would be lost. */
    private boolean likeDummies(Traits traits) {
        boolean cavity = traits.role() == Role.CAVITY
                || (traits.role() != Role.PROTRUSION && drawn == MapOptions.Drawn.CAVITIES);
        return traits.texture() != null || cavity == (rules.sense() == MapOptions.Drawn.CAVITIES);
    }

    private void edges(PackedPolygon polygon, SiteMap map, double spacing) {
        for (int ring = 0; ring < polygon.rings; ring++) {
            int end = polygon.ringEnd[ring];
            int previous = end - 1;
            for (int i = polygon.ringStart(ring); i < end; i++) {
                map.blockNear(xy[2 * previous], xy[2 * previous + 1], xy[2 * i], xy[2 * i + 1], spacing);
                previous = i;
            }
        }
    }

    /** Blocks the sites inside an odd number of these rings, or marks them as being inside a pad. */
    private void inside(PackedPolygon polygon, SiteMap map, int fromRing, int endRing, boolean block) {
        crossed = 0;
        for (int ring = fromRing; ring < endRing; ring++) {
            int end = polygon.ringEnd[ring];
            int previous = end - 1;
            for (int i = polygon.ringStart(ring); i < end; i++) {
                cross(map, xy[2 * previous], xy[2 * previous + 1], xy[2 * i], xy[2 * i + 1]);
                previous = i;
            }
        }
        Arrays.sort(crossings, 0, crossed);
        for (int i = 0; i + 1 < crossed; i += 2) {
            int row = (int) (crossings[i] >> 32);
            if (block) {
                map.block(row, (int) crossings[i], (int) crossings[i + 1]);
            } else {
                map.pad(row, (int) crossings[i], (int) crossings[i + 1]);
            }
        }
    }

    private void cross(SiteMap map, double x0, double y0, double x1, double y1) {
        int from = Math.max(map.firstRow, map.lattice.rowFrom(Math.min(y0, y1)));
        int end = Math.min(map.endRow, map.lattice.rowFrom(Math.max(y0, y1)));
        double slope = (x1 - x0) / (y1 - y0);
        for (int row = from; row < end; row++) {
            if (crossed == crossings.length) {
                crossings = Arrays.copyOf(crossings, 2 * crossed);
            }
            double x = x0 + slope * (map.lattice.y(row) - y0);
            crossings[crossed++] = (long) row << 32 | map.lattice.columnFrom(row, x);
        }
    }
}
