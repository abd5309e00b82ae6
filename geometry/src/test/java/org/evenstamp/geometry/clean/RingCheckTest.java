package org.evenstamp.geometry.clean;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.locationtech.jts.algorithm.RayCrossingCounter;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.Location;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.io.ParseException;
import org.locationtech.jts.io.WKTReader;
import org.locationtech.jts.operation.polygonize.Polygonizer;
import org.locationtech.jts.operation.valid.IsValidOp;

/** The slow exact oracle is the validity test of JTS, which follows the OGC rules. */
class RingCheckTest {

    private final RingCheck check = new RingCheck();

    static PackedPolygon polygon(double[]... rings) {
        PackedPolygon polygon = new PackedPolygon();
        for (double[] ring : rings) {
            int n = polygon.vertices();
            polygon.ensureVertices(n + ring.length / 2);
            System.arraycopy(ring, 0, polygon.xy, 2 * n, ring.length);
            polygon.endRing(n + ring.length / 2);
        }
        return polygon;
    }

    static PackedPolygon polygon(String wkt) {
        try {
            Polygon jts = (Polygon) new WKTReader().read(wkt);
            List<double[]> rings = new ArrayList<>();
            rings.add(numbers(jts.getExteriorRing()));
            for (int i = 0; i < jts.getNumInteriorRing(); i++) {
                rings.add(numbers(jts.getInteriorRingN(i)));
            }
            return polygon(rings.toArray(double[][]::new));
        } catch (ParseException e) {
            throw new IllegalArgumentException(e);
        }
    }

    private static double[] numbers(Geometry ring) {
        double[] numbers = new double[2 * ring.getNumPoints() - 2];
        for (int i = 0; i < numbers.length / 2; i++) {
            numbers[2 * i] = ring.getCoordinates()[i].x;
            numbers[2 * i + 1] = ring.getCoordinates()[i].y;
        }
        return numbers;
    }

    private void agreesWithJts(PackedPolygon polygon) {
        boolean sound = check.check(polygon, 1e6) == null;
        Polygon jts = RingRepair.toJts(polygon);
        assertThat(sound).as(jts::toText).isEqualTo(new IsValidOp(jts).isValid());
    }

    /** Cases from the JTS validity suite (TestValid2, cases 3, 13 to 30) as recorded in its project; EPL-2.0 or EDL-1.0. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "POLYGON ((160 200, 260 40, 70 40, 160 200, 20 20, 310 20, 160 200))|false",
                "POLYGON ((110 140, 110 50, 60 50, 60 90, 160 190, 20 110, 20 20, 200 20, 110 140))|false",
                "POLYGON ((20 20, 20 100, 120 100, 140 20, 20 20))|true",
                "POLYGON ((20 20, 20 300, 280 300, 280 260, 220 260, 60 100, 60 60, 280 60, 280 20, 20 20))|true",
                "POLYGON ((20 20, 280 20, 280 140, 220 60, 140 140, 80 60, 20 140, 20 20))|true"
            })
    void judges_the_published_cases_as_published(String wkt, boolean sound) {
        assertThat(check.check(polygon(wkt), 1e6) == null).isEqualTo(sound);
        agreesWithJts(polygon(wkt));
    }

    /** Small whole numbers make touching, retraced and collinear edges common. */
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4})
    void agrees_with_jts_on_random_lattice_rings(int seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int sound = 0;
        for (int i = 0; i < 2000; i++) {
            PackedPolygon polygon = polygon(latticeRing(random, random.nextInt(3, 9), random.nextInt(2, 8)));
            agreesWithJts(polygon);
            sound += check.check(polygon, 1e6) == null ? 1 : 0;
        }
        assertThat(sound).isBetween(200, 1800);
    }

    private static double[] latticeRing(SplittableRandom random, int n, int side) {
        double[] ring = new double[2 * n];
        do {
            for (int k = 0; k < 2 * n; k++) {
                ring[k] = random.nextInt(side);
            }
        } while (repeats(ring));
        return ring;
    }

    private static boolean repeats(double[] ring) {
        for (int i = 0; i < ring.length; i += 2) {
            int next = (i + 2) % ring.length;
            if (ring[i] == ring[next] && ring[i + 1] == ring[next + 1]) {
                return true;
            }
        }
        return false;
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4})
    void agrees_with_jts_on_random_holes(int seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int sound = 0;
        for (int i = 0; i < 1000; i++) {
            List<double[]> rings = new ArrayList<>();
            rings.add(new double[] {0, 0, 12, 0, 12, random.nextInt(6, 13), random.nextInt(3, 9), 12, 0, 12});
            for (int hole = random.nextInt(1, 4); hole > 0; hole--) {
                double x = random.nextInt(-1, 12);
                double y = random.nextInt(-1, 12);
                double w = random.nextInt(1, 4);
                double h = random.nextInt(1, 4);
                rings.add(
                        random.nextBoolean()
                                ? new double[] {x, y, x + w, y, x + w, y + h, x, y + h}
                                : new double[] {x, y, x, y + h, x + w, y});
            }
            PackedPolygon polygon = polygon(rings.toArray(double[][]::new));
            agreesWithJts(polygon);
            sound += check.check(polygon, 1e6) == null ? 1 : 0;
        }
        assertThat(sound).isBetween(100, 900);
    }

    /** Rings with more than 64 edges are compared cell by cell: random walks of a comb's teeth, with and without a fault put in. */
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4, 5, 6})
    void agrees_with_jts_on_large_rings(int seed) {
        SplittableRandom random = new SplittableRandom(seed);
        for (int i = 0; i < 30; i++) {
            double[] ring = i % 2 == 0 ? comb(random, random.nextInt(40, 300)) : wheel(random, random.nextInt(70, 400));
            double turn = random.nextInt(3) == 0 ? random.nextDouble(6.28) : random.nextBoolean() ? Math.PI / 2 : 0;
            rotate(ring, turn);
            agreesWithJts(polygon(ring));
            if (random.nextBoolean()) {
                int k = 2 * random.nextInt(ring.length / 2);
                int from = 2 * random.nextInt(ring.length / 2);
                ring[k] = ring[from] + random.nextDouble(-1, 1);
                ring[k + 1] = ring[from + 1] + random.nextDouble(-1, 1);
                agreesWithJts(polygon(ring));
            }
        }
    }

    private static double[] comb(SplittableRandom random, int teeth) {
        double[] ring = new double[4 * teeth + 4];
        for (int tooth = 0; tooth < teeth; tooth++) {
            ring[4 * tooth] = tooth + random.nextDouble(0.4);
            ring[4 * tooth + 1] = 0;
            ring[4 * tooth + 2] = tooth + 0.5 + random.nextDouble(0.4);
            ring[4 * tooth + 3] = random.nextDouble(5, 5000);
        }
        ring[4 * teeth] = teeth;
        ring[4 * teeth + 1] = -1;
        ring[4 * teeth + 2] = -1;
        ring[4 * teeth + 3] = -1;
        return ring;
    }

    private static double[] wheel(SplittableRandom random, int n) {
        double[] ring = new double[2 * n];
        for (int i = 0; i < n; i++) {
            double r = random.nextDouble(1, 100);
            ring[2 * i] = r * Math.cos(2 * Math.PI * i / n);
            ring[2 * i + 1] = r * Math.sin(2 * Math.PI * i / n);
        }
        return ring;
    }

    private static void rotate(double[] ring, double angle) {
        for (int i = 0; i < ring.length; i += 2) {
            double x = ring[i];
            ring[i] = x * Math.cos(angle) - ring[i + 1] * Math.sin(angle);
            ring[i + 1] = x * Math.sin(angle) + ring[i + 1] * Math.cos(angle);
        }
    }

    /** Points on a line in doubles whose products round: only an exact test sees on which side they lie. */
    @Test
    void sees_contacts_smaller_than_rounding() {
        double up = Math.nextUp(0.5);
        double down = Math.nextDown(0.5);
        for (double y : new double[] {up, 0.5, down}) {
            // A notch that reaches down to, onto or through the edge from (0, 0) to (1, 1).
            agreesWithJts(polygon(new double[] {0, 0, 1, 1, 0.75, 3, 0.5, y, 0.25, 3}));
        }
        assertThat(check.check(polygon(new double[] {0, 0, 1, 1, 0.75, 3, 0.5, up, 0.25, 3}), 1e6))
                .isNull();
        assertThat(check.check(polygon(new double[] {0, 0, 1, 1, 0.75, 3, 0.5, 0.5, 0.25, 3}), 1e6))
                .isEqualTo(Defect.SELF_CROSSING);
    }

    @ParameterizedTest
    @MethodSource("manyHoles")
    void judges_many_holes(int holes, boolean overlap) {
        double[][] rings = new double[holes + 1][];
        rings[0] = new double[] {-1, -1, 3 * holes, -1, 3 * holes, 3, -1, 3};
        for (int i = 0; i < holes; i++) {
            double x = overlap && i == holes - 1 ? 0.5 : 3 * i;
            double inset = overlap && i == holes - 1 ? 0.25 : 0;
            rings[i + 1] =
                    new double[] {x + inset, inset, x + 1 - inset, inset, x + 1 - inset, 1 - inset, x + inset, 1 - inset
                    };
        }
        assertThat(check.check(polygon(rings), 1e6)).isEqualTo(overlap ? Defect.RINGS_OVERLAP : null);
    }

    static List<org.junit.jupiter.params.provider.Arguments> manyHoles() {
        List<org.junit.jupiter.params.provider.Arguments> cases = new ArrayList<>();
        for (int holes : new int[] {2, 15, 16, 40, 64, 65, 300}) {
            cases.add(org.junit.jupiter.params.provider.Arguments.of(holes, false));
            cases.add(org.junit.jupiter.params.provider.Arguments.of(holes, true));
        }
        return cases;
    }

    /** Repair gives sound pieces only; their area lies between what is drawn an odd number of times and all that is enclosed. */
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3})
    void repair_gives_sound_pieces(int seed) {
        SplittableRandom random = new SplittableRandom(seed);
        RingRepair repair = new RingRepair();
        int mended = 0;
        for (int i = 0; i < 300; i++) {
            PackedPolygon polygon = polygon(latticeRing(random, random.nextInt(4, 9), 6));
            if (check.check(polygon, 1e6) == null) {
                continue;
            }
            double[] area = new double[1];
            RingCheck pieces = new RingCheck();
            mended += repair.repair(polygon, piece -> {
                assertThat(pieces.check(piece, 1e6)).isNull();
                area[0] += Math.abs(piece.twiceSignedArea(0)) / 2;
                for (int hole = 1; hole < piece.rings; hole++) {
                    area[0] -= Math.abs(piece.twiceSignedArea(hole)) / 2;
                }
            });
            Geometry lines = RingRepair.toJts(polygon).getExteriorRing();
            Polygonizer polygonizer = new Polygonizer();
            polygonizer.add(lines.union()); // a union with nothing puts nodes where the line crosses itself
            double enclosed = 0;
            for (Object face : polygonizer.getPolygons()) {
                enclosed += ((Polygon) face).getArea();
            }
            assertThat(area[0]).isLessThanOrEqualTo(enclosed + 1e-9);
            assertThat(area[0]).isGreaterThanOrEqualTo(drawnOddly(lines) - 1e-9);
        }
        assertThat(mended).isGreaterThan(50);
    }

    /** Area of the faces of which a ray to the outside crosses the ring an odd number of times. */
    private static double drawnOddly(Geometry ring) {
        Polygonizer polygonizer = new Polygonizer();
        polygonizer.add(ring.union());
        double area = 0;
        for (Object face : polygonizer.getPolygons()) {
            Coordinate inside = ((Polygon) face).getInteriorPoint().getCoordinate();
            if (RayCrossingCounter.locatePointInRing(inside, ring.getCoordinates()) == Location.INTERIOR) {
                area += ((Polygon) face).getArea();
            }
        }
        return area;
    }

    @Test
    void names_what_is_wrong() {
        assertThat(check.check(new PackedPolygon(), 1)).isEqualTo(Defect.EMPTY);
        assertThat(check.check(polygon(new double[] {0, 0, 1, 0}), 1)).isEqualTo(Defect.FEW_VERTICES);
        assertThat(check.check(polygon(new double[] {0, 0, 1, 0, 0, 2}), 1)).isEqualTo(Defect.OUT_OF_RANGE);
        assertThat(check.check(polygon(new double[] {0, 0, 1, 0, 0, Double.NaN}), 1))
                .isEqualTo(Defect.NOT_FINITE);
        assertThat(polygon(new double[] {0, 0, 1, 0, 0, 1}).twiceSignedArea(0)).isEqualTo(1, within(0.0));
    }
}
