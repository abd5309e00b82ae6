package org.evenstamp.analysis.film.solve;

import java.util.Arrays;
import org.evenstamp.analysis.numeric.SmallCholesky;

/**
 * Height and tilt of the stamp: which of them it is free to take, and where the tiles that bear it put it.
 *
 * <p>Sums run row by row and then over the rows, so they do not depend on who sums which rows.
 */
final class RigidMotion {
    final double[][] shapes; // 1, and x and y over their largest value when the stamp may tilt; none when it is held

    private final int columns;
    private final int rows;
    private final int width; // numbers kept of each row
    private final double[] kept;
    private final double[] amount;
    private final double[] gram;
    private final double[] unbalanced;
    private double heaviest; // force that pressed or sucked so far, over a tile's area

    RigidMotion(SolverInput input) {
        columns = input.grid.columns();
        rows = input.grid.rows();
        int count = input.heldHeight != null ? 0 : input.freeTilt ? 3 : 1;
        shapes = new double[count][input.grid.size()];
        double halfX = Math.max(0.5, (columns - 1) / 2.0);
        double halfY = Math.max(0.5, (rows - 1) / 2.0);
        for (int a = 0; a < count; a++) {
            for (int i = 0; i < shapes[a].length; i++) {
                double x = input.grid.column(i) - (columns - 1) / 2.0;
                double y = input.grid.row(i) - (rows - 1) / 2.0;
                shapes[a][i] = a == 0 ? 1 : a == 1 ? x / halfX : y / halfY;
            }
        }
        amount = new double[count];
        gram = new double[count * count];
        unbalanced = new double[count];
        heaviest = Arrays.stream(input.capillaryPressure).map(Math::abs).sum();
        width = 2 * count + count * count + 1;
        kept = new double[rows * width];
    }

    /**
     * Sums up rows {@code from .. to - 1}.
     *
     * @param mismatch of the stamp without its height, in m
     * @param active tiles that bear the stamp
     * @param pressure on the stamp, in Pa
     * @param back pressure on its back, in Pa
     */
    void sum(double[] mismatch, boolean[] active, double[] pressure, double[] back, int from, int to) {
        int count = shapes.length;
        for (int row = from; row < to; row++) {
            int first = row * width;
            int begin = row * columns;
            int end = begin + columns;
            for (int a = 0; a < count; a++) {
                double[] shape = shapes[a];
                double force = 0;
                double moment = 0;
                for (int i = begin; i < end; i++) {
                    force += shape[i] * (pressure[i] - back[i]);
                    moment += active[i] ? shape[i] * mismatch[i] : 0;
                }
                kept[first + a] = force;
                kept[first + count + a] = moment;
                for (int b = 0; b < count; b++) {
                    double product = 0;
                    for (int i = begin; i < end; i++) {
                        product += active[i] ? shape[i] * shapes[b][i] : 0;
                    }
                    kept[first + (2 + a) * count + b] = product;
                }
            }
            double pressed = 0;
            for (int i = begin; i < end; i++) {
                pressed += Math.abs(back[i]);
            }
            kept[first + width - 1] = pressed;
        }
    }

    /** Puts the stamp where the mismatch of all rows vanishes on the mean. */
    void settle() {
        int count = shapes.length;
        Arrays.fill(amount, 0);
        Arrays.fill(unbalanced, 0);
        Arrays.fill(gram, 0);
        double applied = 0;
        for (int first = 0; first < kept.length; first += width) {
            for (int a = 0; a < count; a++) {
                unbalanced[a] += kept[first + a];
                amount[a] += kept[first + count + a];
            }
            for (int n = 0; n < gram.length; n++) {
                gram[n] += kept[first + 2 * count + n];
            }
            applied += kept[first + width - 1];
        }
        heaviest = Math.max(heaviest, applied);
        if (count > 0 && gram[0] > 0) {
            new SmallCholesky(gram, count).solve(amount);
        }
    }

    /** Returns the height of the undeformed stamp over a tile, above the one that is prescribed, in m. */
    double height(int i) {
        double height = 0;
        for (int a = 0; a < amount.length; a++) {
            height += amount[a] * shapes[a][i];
        }
        return height;
    }

    /** Returns the largest force or moment without a counterpart, over the largest force so far: applied, or that of menisci. */
    double forceError() {
        double largest = 0;
        for (double moment : unbalanced) {
            largest = Math.max(largest, Math.abs(moment));
        }
        return largest / Math.max(heaviest, 1e-300);
    }

    /** Returns how much of each shape, as pressures on the tiles that bear, balances the forces and moments, in Pa. */
    double[] balancing() {
        double[] sums = new double[unbalanced.length];
        for (int a = 0; a < sums.length; a++) {
            sums[a] = -unbalanced[a];
        }
        return amounts(sums);
    }

    /** Returns how much of each shape on the tiles that bear has these sums over the shapes. */
    double[] amounts(double[] sums) {
        double[] amounts = sums.clone();
        new SmallCholesky(gram, amounts.length).solve(amounts);
        return amounts;
    }
}
