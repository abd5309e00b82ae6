package org.evenstamp.geometry.fill;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.geometry.Polygons;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
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
        SQUARES(DummyRules.Arrangement.SQUARE, DummyShape.square(2e-6), null),
        DISCS(DummyRules.Arrangement.HEXAGONAL, DummyShape.disc(2.5e-6), null),
        LINES(DummyRules.Arrangement.STAGGERED, DummyShape.line(5e-6, 0.8e-6), null),
        CROSSES(DummyRules.Arrangement.HEXAGONAL, DummyShape.cross(3e-6, 1e-6), null),
        TWO_SQUARES(DummyRules.Arrangement.STAGGERED, DummyShape.square(3e-6), DummyShape.square(1.2e-6)),
        TWO_DISCS(DummyRules.Arrangement.SQUARE, DummyShape.disc(4e-6), DummyShape.disc(1.5e-6));

        private final DummyRules.Arrangement arrangement;
        private final DummyShape shape;
        private final DummyShape small;

        Kind(DummyRules.Arrangement arrangement, DummyShape shape, DummyShape small) {
            this.arrangement = arrangement;
            this.shape = shape;
            this.small = small;
        }

        DummyRules rules() {
            return Stamps.rules(shape, small, arrangement);
        }
    }

    @ParameterizedTest
    @EnumSource(Kind.class)
    void free_sites_are_those_far_enough_from_every_feature(Kind kind) {
        for (long seed = 0; seed < 12; seed++) {
            DummyRules rules = kind.rules();
            if (seed % 3 == 1) {
                rules = Stamps.insidePads(rules, Stamps.CAVITIES);
            } else if (seed % 3 == 2) {
                rules = Stamps.insidePads(rules, Stamps.PROTRUSIONS);
            }
            List<PackedPolygon> layout = Stamps.layout(seed);
            // The first kind of dummy alone: whether a second one is free depends on the first.
            DummyRules first = Stamps.insidePads(Stamps.rules(rules.shape(), null, rules.arrangement()), rules.sense());
            first = rules.insidePads() ? first : Stamps.rules(rules.shape(), null, rules.arrangement());
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
            Envelope reach = new Envelope(shape.getEnvelopeInternal());
            reach.expandBy(spacing + TOLERANCE);
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
        for (long seed = 100; seed < 140; seed++) {
            DummyRules rules = kind.rules();
            List<PackedPolygon> layout = Stamps.layout(seed);
            SplittableRandom random = new SplittableRandom(seed);
            FreeSites sites = Stamps.survey(rules, layout);
            double[] asked = sites.capacitySquareMetres();
            double share = random.nextDouble(0.2, 1);
            for (int i = 0; i < asked.length; i++) {
                asked[i] *= share;
            }
            List<PackedPolygon> dummies = Stamps.place(sites, asked);
            assertThat(dummies).isNotEmpty();
            List<Geometry> features = standing(layout);
            List<Polygon> shapes = dummies.stream().map(Polygons::jts).toList();
            for (int i = 0; i < shapes.size(); i++) {
                Envelope box = shapes.get(i).getEnvelopeInternal();
                clearOfTheRim(box, rules);
                withinOneTile(box);
                for (int f = 0; f < features.size(); f++) {
                    boolean keepout = layout.get(f).traits.role() == Role.KEEPOUT;
                    double least = keepout ? 0 : rules.spacingMetres();
                    if (box.distance(features.get(f).getEnvelopeInternal()) > least) {
                        continue;
                    }
                    double distance = DistanceOp.distance(shapes.get(i), features.get(f));
                    assertThat(distance).isGreaterThan(0).isGreaterThanOrEqualTo(least - TOLERANCE);
                }
                for (int j = 0; j < i; j++) {
                    Envelope other = shapes.get(j).getEnvelopeInternal();
                    if (box.distance(other) < rules.gapMetres()) {
                        assertThat(DistanceOp.distance(shapes.get(i), shapes.get(j)))
                                .isGreaterThanOrEqualTo(rules.gapMetres() - TOLERANCE);
                    }
                }
            }
        }
    }

    private static void clearOfTheRim(Envelope box, DummyRules rules) {
        double most = Stamps.HALF - rules.rimMetres() + TOLERANCE;
        assertThat(box.getMinX()).isGreaterThanOrEqualTo(-most);
        assertThat(box.getMinY()).isGreaterThanOrEqualTo(-most);
        assertThat(box.getMaxX()).isLessThanOrEqualTo(most);
        assertThat(box.getMaxY()).isLessThanOrEqualTo(most);
    }

    private static void withinOneTile(Envelope box) {
        double pitch = Stamps.GRID.pitchMetres();
        assertThat(Math.floor((box.getMinX() + Stamps.HALF + TOLERANCE) / pitch))
                .isEqualTo(Math.floor((box.getMaxX() + Stamps.HALF - TOLERANCE) / pitch));
        assertThat(Math.floor((box.getMinY() + Stamps.HALF + TOLERANCE) / pitch))
                .isEqualTo(Math.floor((box.getMaxY() + Stamps.HALF - TOLERANCE) / pitch));
    }

    @ParameterizedTest
    @CsvSource({"0, true", "0.0001, false", "-0.0001, true"})
    void a_distance_of_just_the_spacing_is_enough(double more, boolean fits) {
        DummyRules rules = Stamps.rules();
        // The dummy nearest to the middle, and a wall right of it.
        PackedPolygon dummy = everySite(rules).stream()
                .min(java.util.Comparator.comparingDouble(each -> Math.hypot(each.xy[0], each.xy[1])))
                .orElseThrow();
        double x = dummy.xy[2] + rules.spacingMetres() - more * 1e-6;
        PackedPolygon wall = Polygons.of(Polygons.rectangle(x, -60e-6, x + 30e-6, 60e-6));
        boolean found = Stamps.fill(Stamps.survey(rules, List.of(wall))).stream()
                .anyMatch(each -> spelt(each).equals(spelt(dummy)));
        assertThat(found).isEqualTo(fits);
    }
}
