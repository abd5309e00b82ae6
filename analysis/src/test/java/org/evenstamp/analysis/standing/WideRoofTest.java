package org.evenstamp.analysis.standing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class WideRoofTest {
    /** Against the biharmonic equation on a grid, clamped all round, taken to the limit of a fine one by Richardson's rule. */
    @ParameterizedTest
    @CsvSource({"1, 16", "1.5, 16", "2, 12"})
    void the_clamped_rectangle_sinks_as_the_plate_equation_says(double aspect, int cells) {
        double coarse = middle(aspect, cells / 2);
        double fine = middle(aspect, cells);
        double limit = fine + (fine - coarse) / 3;
        assertThat(WideRoof.coefficient(aspect)).isCloseTo(limit, withinPercentage(2));
    }

    /** A long strip is a clamped beam: 1/384. */
    @ParameterizedTest
    @CsvSource({"3", "1000"})
    void a_long_one_is_a_clamped_beam(double aspect) {
        assertThat(WideRoof.coefficient(aspect)).isCloseTo(1.0 / 384, withinPercentage(1e-9));
    }

    /** Deflection in the middle of a plate of width 1 under unit load over D, on a grid of so many cells across. */
    private static double middle(double aspect, int cells) {
        int columns = cells - 1;
        int rows = (int) Math.round(aspect * cells) - 1;
        RealMatrix matrix = new Array2DRowRealMatrix(columns * rows, columns * rows);
        int[][] stencil = {
            {0, 0, 20},
            {1, 0, -8},
            {-1, 0, -8},
            {0, 1, -8},
            {0, -1, -8},
            {1, 1, 2},
            {1, -1, 2},
            {-1, 1, 2},
            {-1, -1, 2},
            {2, 0, 1},
            {-2, 0, 1},
            {0, 2, 1},
            {0, -2, 1}
        };
        for (int r = 0; r < rows; r++) {
            for (int c = 0; c < columns; c++) {
                for (int[] arm : stencil) {
                    int column = mirrored(c + arm[0], columns);
                    int row = mirrored(r + arm[1], rows);
                    if (column >= 0 && column < columns && row >= 0 && row < rows) {
                        matrix.addToEntry(r * columns + c, row * columns + column, arm[2]);
                    }
                }
            }
        }
        ArrayRealVector load = new ArrayRealVector(columns * rows, Math.pow(1.0 / cells, 4));
        return new LUDecomposition(matrix).getSolver().solve(load).getEntry(rows / 2 * columns + columns / 2);
    }

    /** Beyond a clamped rim the plate is its own mirror image; on the rim, -1 and the last, it does not move. */
    private static int mirrored(int place, int size) {
        return place < -1 ? -2 - place : place > size ? 2 * size - place : place;
    }
}
