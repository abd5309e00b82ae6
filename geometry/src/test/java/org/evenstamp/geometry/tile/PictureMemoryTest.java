package org.evenstamp.geometry.tile;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.atomic.AtomicInteger;
import org.evenstamp.geometry.coverage.CoverageSums;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.measure.PictureMeasures;
import org.junit.jupiter.api.Test;

class PictureMemoryTest {
    private static final int CELLS = 24;

    private final PictureMemory memory = new PictureMemory();
    private final AtomicInteger measured = new AtomicInteger();

    @Test
    void squares_that_lie_alike_in_two_tiles_are_measured_once() {
        PictureMeasures here = measure(picture(0, 1), 16);
        PictureMeasures there = measure(picture(5.76e-3, 1), 16);

        assertThat(measured).hasValue(1);
        assertThat(there).isSameAs(here);
    }

    @Test
    void another_picture_and_another_core_are_measured_by_themselves() {
        measure(picture(0, 1), 16);
        measure(picture(0, 1 + 1e-4), 16);
        measure(picture(0, 1), 12);
        measure(picture(0, 1), -16);

        assertThat(measured).hasValue(4);
    }

    /** Draws nine squares at some place of a stamp, seen in cells of 2 um. */
    private static double[] picture(double place, double size) {
        CoverageSums sheet = new CoverageSums(CELLS, CELLS, place, place, 2e-6);
        for (int n = 0; n < 9; n++) {
            double x = place + (1.3 + 16 * (n % 3)) * 1e-6;
            double y = place + (0.7 + 16 * (n / 3)) * 1e-6;
            double side = 7.1e-6 * size;
            double[] corners = {x, y, x + side, y, x + side, y + side, x, y + side};
            PackedPolygon square = new PackedPolygon();
            System.arraycopy(corners, 0, square.xy, 0, corners.length);
            square.endRing(4);
            sheet.add(square);
        }
        double[] land = sheet.coverage();
        for (int i = 0; i < land.length; i++) {
            land[i] = PictureMemory.rounded(1 - land[i]);
        }
        return land;
    }

    private PictureMeasures measure(double[] land, int core) {
        return memory.of(land, core, () -> {
            int number = measured.incrementAndGet();
            return new PictureMeasures(number, 1, 1, 1, 1, true);
        });
    }
}
