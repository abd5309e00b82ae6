package org.evenstamp.geometry.dummy;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.locationtech.jts.algorithm.locate.SimplePointInAreaLocator;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.Location;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.geom.util.AffineTransformation;
import org.locationtech.jts.index.strtree.STRtree;
import org.locationtech.jts.operation.distance.DistanceOp;

/**
 * Placed dummies against distances measured by JTS, every dummy with every feature: none may be too near, and no site may be
 * left out that is far enough from everything.
 */
class RuleCleanTest {
    private static final GeometryFactory FACTORY = new GeometryFactory();
    /** Rounding of coordinates in metres: a thousandth of the grid of layout files. */
    private static final double TOLERANCE = 1e-13;

    enum Kind {
        SQUARES,
        DISCS,
        LINES,
        CROSSES,
        TWO_SQUARES,
        TWO_DISCS;

        DummyShape shape() {
            return switch (this) {
                case SQUARES -> DummyShape.square(2e-6);
                case DISCS -> DummyShape.disc(2.5e-6);
                case LINES -> DummyShape.line(5e-6, 0.8e-6);
                case CROSSES -> DummyShape.cross(3e-6, 1e-6);
                case TWO_SQUARES -> DummyShape.square(3e-6);
                case TWO_DISCS -> DummyShape.disc(4e-6);
            };
        }

        DummyShape small() {
            return this == TWO_SQUARES ? DummyShape.square(1.2e-6) : DummyShape.disc(1.5e-6);
        }

        DummyRules.Arrangement arrangement() {
            return switch (this) {
                case SQUARES, TWO_DISCS -> DummyRules.Arrangement.SQUARE;
                case DISCS, CROSSES -> DummyRules.Arrangement.HEXAGONAL;
                case LINES, TWO_SQUARES -> DummyRules.Arrangement.STAGGERED;
            };
        }

        DummyRules rules() {
            boolean two = this == TWO_SQUARES || this == TWO_DISCS;
            return Stamps.rules(shape(), two ? small() : null, arrangement());
        }
    }

    @ParameterizedTest
    @EnumSource(Kind.class)
    void free_sites_are_those_far_enough_from_every_feature(Kind kind) {
        for (long seed = 0; seed < 12; seed++) {
            // The first kind of dummy alone: whether a second one is free depends on the first.
            DummyRules alone = Stamps.rules(kind.shape(), null, kind.arrangement());
            DummyRules first = switch ((int) seed % 3) {
                case 0 -> alone;
                case 1 -> Stamps.insidePads(alone, Stamps.CAVITIES);
                default -> Stamps.insidePads(alone, Stamps.PROTRUSIONS);
            };
            List<PackedPolygon> layout = Stamps.layout(seed);
            List<Geometry> features = standing(layout);
            List<String> expected = new ArrayList<>();
            for (PackedPolygon dummy : everySite(first)) {
                if (mayStand(dummy, layout, features, first)) {
                    expected.add(spelt(dummy));
                }
            }
            List<String> found = Stamps.fill(Stamps.survey(first, layout)).stream()
                    .map(RuleCleanTest::spelt)
                    .toList();
            assertThat(found).as("%s, seed %d", kind, seed).containsExactlyInAnyOrderElementsOf(expected);
        }
    }

    @ParameterizedTest
    @EnumSource(names = {"TWO_SQUARES", "TWO_DISCS"})
    void second_dummies_take_every_site_that_is_far_enough_from_features_and_first_ones(Kind kind) {
        for (long seed = 0; seed < 6; seed++) {
            List<PackedPolygon> layout = Stamps.layout(seed);
            DummyRules second = Stamps.rules(kind.small(), null, kind.arrangement());
            List<Geometry> firsts =
                    Stamps.fill(Stamps.survey(Stamps.rules(kind.shape(), null, kind.arrangement()), layout)).stream()
                            .<Geometry>map(Polygons::jts)
                            .toList();
            List<String> expected = new ArrayList<>();
            for (PackedPolygon dummy : Stamps.fill(Stamps.survey(second, layout))) {
                Polygon shape = Polygons.jts(dummy);
                Coordinate middle = shape.getEnvelopeInternal().centre();
                boolean free = firsts.stream().allMatch(first -> {
                    if (kind.shape().kind() == DummyShape.Kind.DISC) {
                        double centres =
                                middle.distance(first.getEnvelopeInternal().centre());
                        double radii =
                                (kind.shape().widthMetres() + kind.small().widthMetres()) / 2;
                        return centres - radii >= second.gapMetres() - TOLERANCE;
                    }
                    return first.getEnvelopeInternal().distance(shape.getEnvelopeInternal())
                            >= second.gapMetres() - TOLERANCE;
                });
                if (free) {
                    expected.add(spelt(dummy));
                }
            }
            List<String> found = Stamps.fill(Stamps.survey(kind.rules(), layout)).stream()
                    .filter(dummy -> isSecond(dummy, kind))
                    .map(RuleCleanTest::spelt)
                    .toList();
            assertThat(found).isNotEmpty().containsExactlyInAnyOrderElementsOf(expected);
        }
    }

    private static boolean isSecond(PackedPolygon dummy, Kind kind) {
        double[] box = new double[4];
        dummy.box(box);
        return box[2] - box[0] < (kind.shape().widthMetres() + kind.small().widthMetres()) / 2;
    }

    /** Cavities on bare land, or protrusions in a cavity that covers the stamp and reaches beyond. */
    private static List<PackedPolygon> everySite(DummyRules rules) {
        double far = 2 * Stamps.HALF;
        List<PackedPolygon> bare = rules.sense() == Stamps.CAVITIES
                ? List.of()
                : List.of(Polygons.of(Polygons.rectangle(-far, -far, far, far)));
        return Stamps.fill(Stamps.survey(rules, bare));
    }

    private static String spelt(PackedPolygon dummy) {
        return Math.round(dummy.xy[0] * 1e10) + " " + Math.round(dummy.xy[1] * 1e10);
    }

    /** All features of a layout, copies of arrays one by one. */
    private static List<Geometry> standing(List<PackedPolygon> layout) {
        List<Geometry> features = new ArrayList<>();
        for (PackedPolygon polygon : layout) {
            Repeat repeat = polygon.traits.repeat();
            List<Geometry> copies = new ArrayList<>();
            for (int i = 0; i < (repeat == null ? 1 : repeat.count()); i++) {
                double dx = repeat == null ? 0 : (i % repeat.columns()) * repeat.dxMetres();
                double dy = repeat == null ? 0 : Math.floorDiv(i, repeat.columns()) * repeat.dyMetres();
                copies.add(AffineTransformation.translationInstance(dx, dy).transform(Polygons.jts(polygon)));
            }
            features.add(FACTORY.buildGeometry(copies));
        }
        return features;
    }

    private static boolean mayStand(
            PackedPolygon dummy, List<PackedPolygon> layout, List<Geometry> features, DummyRules rules) {
        Polygon shape = Polygons.jts(dummy);
        Coordinate middle = shape.getEnvelopeInternal().centre();
        boolean pad = false;
        for (int i = 0; i < layout.size(); i++) {
            Geometry feature = features.get(i);
            Traits traits = layout.get(i).traits;
            double spacing = traits.role() == Role.KEEPOUT ? 0 : rules.spacingMetres();
            Envelope reach = new Envelope(middle);
            reach.expandBy(
                    rules.shape().widthMetres() / 2 + spacing + TOLERANCE,
                    rules.shape().heightMetres() / 2 + spacing + TOLERANCE);
            if (!reach.intersects(feature.getEnvelopeInternal())) {
                continue; // as if measured: boxes further apart than the spacing
            }
            double distance = distance(shape, feature.getBoundary(), rules);
            if (distance < spacing - TOLERANCE || distance <= 0) {
                return false;
            }
            boolean inside = SimplePointInAreaLocator.locate(middle, feature) == Location.INTERIOR;
            boolean cavity = traits.role() != Role.PROTRUSION;
            boolean alike = cavity == (rules.sense() == Stamps.CAVITIES);
            if (inside && (traits.role() == Role.KEEPOUT || alike)) {
                return false;
            }
            pad |= inside;
            pad |= alike && traits.role() != Role.KEEPOUT && inHole(middle, feature);
        }
        return rules.sense() == Stamps.CAVITIES ? rules.insidePads() || !pad : pad;
    }

    private static double distance(Polygon shape, Geometry edges, DummyRules rules) {
        if (rules.shape().kind() != DummyShape.Kind.DISC) {
            return DistanceOp.distance(shape, edges);
        }
        Geometry middle = FACTORY.createPoint(shape.getEnvelopeInternal().centre());
        return DistanceOp.distance(middle, edges) - rules.shape().widthMetres() / 2;
    }

    private static boolean inHole(Coordinate middle, Geometry feature) {
        for (int n = 0; n < feature.getNumGeometries(); n++) {
            Polygon polygon = (Polygon) feature.getGeometryN(n);
            for (int hole = 0; hole < polygon.getNumInteriorRing(); hole++) {
                Geometry inner = FACTORY.createPolygon(polygon.getInteriorRingN(hole));
                if (SimplePointInAreaLocator.locate(middle, inner) == Location.INTERIOR) {
                    return true;
                }
            }
        }
        return false;
    }

    @ParameterizedTest
    @EnumSource(Kind.class)
    void nothing_that_is_placed_breaks_a_rule(Kind kind) {
        for (long seed = 100; seed < 115; seed++) {
            assertThat(broken(kind, seed)).as("%s, seed %d", kind, seed).isEmpty();
        }
    }

    @ParameterizedTest
    @EnumSource(Kind.class)
    @Tag("slow") // 1200 layouts in all
    void nothing_that_is_placed_breaks_a_rule_on_a_thousand_layouts(Kind kind) {
        for (long seed = 1000; seed < 1200; seed++) {
            assertThat(broken(kind, seed)).as("%s, seed %d", kind, seed).isEmpty();
        }
    }

    /** Places dummies on a random layout and returns every rule that one of them breaks. */
    private static List<String> broken(Kind kind, long seed) {
        DummyRules rules = kind.rules();
        List<PackedPolygon> layout = Stamps.layout(seed);
        FreeSites sites = Stamps.survey(rules, layout);
        double[] asked = sites.capacitySquareMetres();
        double share = new SplittableRandom(seed).nextDouble(0.2, 1);
        for (int i = 0; i < asked.length; i++) {
            asked[i] *= share;
        }
        List<Polygon> dummies =
                Stamps.place(sites, asked).stream().map(Polygons::jts).toList();
        assertThat(dummies).isNotEmpty();
        List<Geometry> features = standing(layout);
        STRtree near = new STRtree();
        dummies.forEach(dummy -> near.insert(dummy.getEnvelopeInternal(), dummy));
        List<String> broken = new ArrayList<>();
        for (Polygon dummy : dummies) {
            Envelope box = dummy.getEnvelopeInternal();
            if (!clearOfTheRim(box, rules)) {
                broken.add("rim: " + dummy);
            }
            if (!withinOneTile(box)) {
                broken.add("tile: " + dummy);
            }
            for (int f = 0; f < features.size(); f++) {
                double least = layout.get(f).traits.role() == Role.KEEPOUT ? 0 : rules.spacingMetres();
                // Boxes further apart than the least distance say it all.
                if (box.distance(features.get(f).getEnvelopeInternal()) <= least) {
                    double distance = DistanceOp.distance(dummy, features.get(f));
                    if (distance == 0 || distance < least - TOLERANCE) {
                        broken.add("spacing " + distance + ": " + dummy);
                    }
                }
            }
            Envelope around = new Envelope(box);
            around.expandBy(rules.gapMetres());
            for (Object other : near.query(around)) {
                if (other != dummy && DistanceOp.distance(dummy, (Polygon) other) < rules.gapMetres() - TOLERANCE) {
                    broken.add("gap: " + dummy + " " + other);
                }
            }
        }
        return broken;
    }

    private static boolean clearOfTheRim(Envelope box, DummyRules rules) {
        double most = Stamps.HALF - rules.rimMetres() + TOLERANCE;
        return new Envelope(-most, most, -most, most).covers(box);
    }

    private static boolean withinOneTile(Envelope box) {
        double x = (box.getMinX() + Stamps.HALF + TOLERANCE) / Stamps.GRID.pitchMetres();
        double y = (box.getMinY() + Stamps.HALF + TOLERANCE) / Stamps.GRID.pitchMetres();
        double farX = (box.getMaxX() + Stamps.HALF - TOLERANCE) / Stamps.GRID.pitchMetres();
        double farY = (box.getMaxY() + Stamps.HALF - TOLERANCE) / Stamps.GRID.pitchMetres();
        return Math.floor(x) == Math.floor(farX) && Math.floor(y) == Math.floor(farY);
    }

    @ParameterizedTest
    @CsvSource({"0, true", "0.0001, false", "-0.0001, true"})
    void a_distance_of_just_the_spacing_is_enough(double more, boolean fits) {
        DummyRules rules = Stamps.rules();
        // The dummy nearest to the middle, and a wall right of it.
        PackedPolygon dummy = everySite(rules).stream()
                .min(Comparator.comparingDouble(each -> Math.hypot(each.xy[0], each.xy[1])))
                .orElseThrow();
        double x = dummy.xy[2] + rules.spacingMetres() - more * 1e-6;
        PackedPolygon wall = Polygons.of(Polygons.rectangle(x, -60e-6, x + 30e-6, 60e-6));
        boolean found = Stamps.fill(Stamps.survey(rules, List.of(wall))).stream()
                .anyMatch(each -> spelt(each).equals(spelt(dummy)));
        assertThat(found).isEqualTo(fits);
    }
}
