package org.evenstamp.geometry.draw;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonStore;
import org.evenstamp.geometry.layout.Repeat;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Traits;
import org.evenstamp.shared.progress.Progress;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class SketchTest {
    private final PolygonStore store = new PolygonStore();
    private int ordinal;

    private void square(double x, double side, Traits traits) {
        ring(traits, x, 0, x + side, 0, x + side, side, x, side);
    }

    private void ring(Traits traits, double... xy) {
        PackedPolygon polygon = new PackedPolygon();
        polygon.ensureVertices(xy.length / 2);
        System.arraycopy(xy, 0, polygon.xy, 0, xy.length);
        polygon.endRing(xy.length / 2);
        polygon.traits = traits;
        polygon.ordinal = ordinal++;
        store.add(polygon);
    }

    private static Traits traits(@Nullable Role role, @Nullable Repeat repeat) {
        return new Traits(null, role, repeat, null);
    }

    private Sketch sketch(int polygons, int vertices, int threads) {
        return Sketch.of(store, true, new Sketch.Budget(polygons, vertices), threads, new Progress());
    }

    @Test
    void a_small_layout_is_drawn_as_it_is() {
        square(0, 1, Traits.NONE);
        square(3, 2, traits(Role.PROTRUSION, null));
        square(8, 1, traits(Role.KEEPOUT, null));
        square(10, 1, traits(null, new Repeat(3, 1, 2, 0)));

        Sketch sketch = sketch(10, 100, 2);

        assertThat(sketch.polygons())
                .extracting(Sketch.Outline::look)
                .containsExactly(
                        Sketch.Style.CAVITY, Sketch.Style.PROTRUSION, Sketch.Style.KEEPOUT, Sketch.Style.CAVITY);
        assertThat(sketch.polygons().get(1).rings().get(0)).containsExactly(3, 0, 5, 0, 5, 2, 3, 2);
        assertThat(sketch.shown()).isEqualTo(6);
        assertThat(sketch.total()).isEqualTo(6);
        assertThat(sketch.toleranceMetres()).isZero();
    }

    @Test
    void of_too_many_polygons_the_largest_stay() {
        for (int i = 0; i < 1000; i++) {
            square(2 * i, i % 10 == 0 ? 1 : 0.5, Traits.NONE);
        }

        Sketch sketch = sketch(100, 1000, 1);

        assertThat(sketch.polygons())
                .hasSize(100)
                .allSatisfy(polygon -> assertThat(
                                polygon.rings().get(0)[2] - polygon.rings().get(0)[0])
                        .isEqualTo(1));
        assertThat(sketch.shown()).isEqualTo(100);
        assertThat(sketch.total()).isEqualTo(1000);
    }

    @Test
    void equal_polygons_are_thinned_evenly() {
        for (int i = 0; i < 20_000; i++) {
            square(2 * i, 1, Traits.NONE);
        }

        Sketch sketch = sketch(2000, 100_000, 2);

        long inFirstHalf = sketch.polygons().stream()
                .filter(polygon -> polygon.rings().get(0)[0] < 20_000)
                .count();
        // Binomial with n = 2000, p = 1/2: five standard deviations are 112.
        assertThat(inFirstHalf).isBetween(888L, 1112L);
    }

    @Test
    void threads_do_not_change_the_sketch() {
        for (int i = 0; i < 20_000; i++) {
            square(2 * i, 1 + i % 3, Traits.NONE);
        }

        List<double[]> one = firstRings(sketch(1000, 100_000, 1));
        List<double[]> three = firstRings(sketch(1000, 100_000, 3));

        assertThat(Arrays.deepToString(three.toArray())).isEqualTo(Arrays.deepToString(one.toArray()));
    }

    private static List<double[]> firstRings(Sketch sketch) {
        return sketch.polygons().stream().map(polygon -> polygon.rings().get(0)).toList();
    }

    @Test
    void an_array_too_large_to_draw_is_a_rectangle() {
        square(0, 1, traits(null, new Repeat(1000, 1000, 2, -2)));

        Sketch sketch = sketch(1000, 100_000, 1);

        assertThat(sketch.arraysAsBoxes()).isEqualTo(1);
        assertThat(sketch.polygons().get(0).look()).isEqualTo(Sketch.Style.ARRAY);
        assertThat(sketch.polygons().get(0).rings().get(0)).containsExactly(0, -1998, 1999, -1998, 1999, 1, 0, 1);
        assertThat(sketch.total()).isEqualTo(1_000_000);
        assertThat(sketch.shown()).isZero();
    }

    @Test
    void rings_of_too_many_vertices_stay_within_the_tolerance() {
        int n = 10_000;
        double[] circle = new double[2 * n];
        for (int i = 0; i < n; i++) {
            circle[2 * i] = Math.cos(2 * Math.PI * i / n);
            circle[2 * i + 1] = Math.sin(2 * Math.PI * i / n);
        }
        ring(Traits.NONE, circle);

        Sketch sketch = sketch(10, 500, 1);

        double[] ring = sketch.polygons().get(0).rings().get(0);
        assertThat(ring.length / 2).isBetween(20, 500);
        assertThat(sketch.toleranceMetres()).isPositive().isLessThan(0.01);
        for (int i = 0; i < ring.length; i += 2) {
            int next = (i + 2) % ring.length;
            double middle = Math.hypot((ring[i] + ring[next]) / 2, (ring[i + 1] + ring[next + 1]) / 2);
            assertThat(1 - middle).isBetween(-1e-12, sketch.toleranceMetres());
        }
    }
}
