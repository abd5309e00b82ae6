package org.evenstamp.geometry.dummy;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;

/** Small stamps for tests of dummies: 200 um square about the origin, 8 x 8 tiles of 25 um. */
final class Stamps {
    static final double UM = 1e-6;
    static final double HALF = 100 * UM;
    static final MapOptions.Outline OUTLINE = new MapOptions.Outline(-HALF, -HALF, HALF, HALF);
    static final TileGrid GRID = new TileGrid(-HALF, -HALF, 25 * UM, 8, 8);
    static final MapOptions.Drawn CAVITIES = MapOptions.Drawn.CAVITIES;
    static final MapOptions.Drawn PROTRUSIONS = MapOptions.Drawn.PROTRUSIONS;

    private Stamps() {}

    /** Squares of 2 um in an upright lattice, 1 um from each other and 1.5 um from all else. */
    static DummyRules rules() {
        return rules(DummyShape.square(2 * UM), null, DummyRules.Arrangement.SQUARE);
    }

    static DummyRules rules(DummyShape shape, @Nullable DummyShape small, DummyRules.Arrangement arrangement) {
        return new DummyRules(shape, small, arrangement, UM, 1.5 * UM, 3 * UM, CAVITIES, false, false);
    }

    static DummyRules symmetric(DummyRules rules) {
        return new DummyRules(
                rules.shape(),
                rules.small(),
                rules.arrangement(),
                rules.gapMetres(),
                rules.spacingMetres(),
                rules.rimMetres(),
                rules.sense(),
                rules.insidePads(),
                true);
    }

    static DummyRules insidePads(DummyRules rules, MapOptions.Drawn sense) {
        return new DummyRules(
                rules.shape(),
                rules.small(),
                rules.arrangement(),
                rules.gapMetres(),
                rules.spacingMetres(),
                rules.rimMetres(),
                sense,
                true,
                rules.symmetric());
    }

    static Traits role(Role role) {
        return new Traits(null, role, null, null);
    }

    /** Features of all roles that do not overlap, some with holes, some in arrays, some off the grid of 0.1 nm. */
    static List<PackedPolygon> layout(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int perSide = random.nextInt(2, 9);
        List<PackedPolygon> polygons = new ArrayList<>();
        for (PackedPolygon star : Polygons.stars(seed, perSide, 2 * HALF)) {
            PackedPolygon moved = Polygons.mapped(star, 1, 0, -HALF, 0, 1, -HALF);
            moved.traits = switch (random.nextInt(6)) {
                case 0 -> role(Role.PROTRUSION);
                case 1 -> role(Role.KEEPOUT);
                case 2 -> role(Role.CAVITY);
                default -> Traits.NONE;
            };
            if (random.nextInt(3) > 0) {
                polygons.add(moved);
            }
        }
        double x = random.nextInt(-90, 60) * UM;
        double y = random.nextInt(-90, 60) * UM;
        polygons.add(Polygons.with(
                Polygons.of(Polygons.rectangle(x, y, x + 3 * UM, y + 2 * UM)),
                new Traits(null, null, new Repeat(3, 2, 9.5 * UM, -7 * UM), null)));
        return polygons;
    }

    static FreeSites survey(DummyRules rules, List<PackedPolygon> layout) {
        return new DummyPlacer(rules, CAVITIES, OUTLINE, GRID).survey(Polygons.store(layout), 1, new Progress());
    }

    /** As much as fits. */
    static List<PackedPolygon> fill(FreeSites sites) {
        return place(sites, sites.capacitySquareMetres());
    }

    static List<PackedPolygon> place(FreeSites sites, double[] asked) {
        List<PackedPolygon> dummies = new ArrayList<>();
        sites.place(asked, dummy -> dummies.add(Polygons.mapped(dummy, 1, 0, 0, 0, 1, 0)), new Progress());
        return dummies;
    }

    static double[] everywhere(double area) {
        double[] areas = new double[GRID.size()];
        Arrays.fill(areas, area);
        return areas;
    }
}
