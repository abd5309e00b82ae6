package org.evenstamp.geometry.measure;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Measures pictures of one size. Reuses its buffers; one a thread. */
public final class PictureMeasurer {
    /** Two neighbours lie between facing walls when the ways to their nearest walls part by 135 degrees or more. */
    private static final double FACING = -Math.sqrt(0.5);

    /** Land wider than this many cells to the nearest cavity is solved on half as many cells a side. */
    private static final double WIDE = 14;

    private final int columns;
    private final int rows;
    private final DistanceMap distances;
    /** Solvers on the picture itself, on 2 x 2 cells taken together, and so on as long as they come out even. */
    private final List<Level> levels = new ArrayList<>();

    private final boolean mirror;
    private final double[] path;
    private final double[] part;

    /** The picture with its cells taken together in squares. */
    private static final class Level {
        private final int columns;
        private final double[] land;
        private final double[] path;
        private final double[] part;
        private final TorsionSolver solver;

        Level(int columns, int rows, boolean mirror) {
            this.columns = columns;
            int size = columns * rows;
            land = new double[size];
            path = new double[size];
            part = new double[size];
            solver = new TorsionSolver(columns, rows, mirror);
        }
    }

    /**
     * Creates a measurer for pictures of this many cells.
     *
     * @param mirror whether the layout goes on beyond the pictures' rim as a mirror image, as in the cell of a lattice; else
     *     land ends there, so that only land closer to a cavity than the rim counts
     */
    public PictureMeasurer(int columns, int rows, boolean mirror) {
        this.columns = columns;
        this.rows = rows;
        this.mirror = mirror;
        int size = columns * rows;
        distances = new DistanceMap(columns, rows);
        path = new double[size];
        part = new double[size];
        int side = 1;
        do {
            levels.add(new Level(columns / side, rows / side, mirror));
            side *= 2;
        } while (columns % side == 0 && rows % side == 0);
    }

    /**
     * Measures the core of a picture; what lies around the core is there to be a true surrounding.
     *
     * @param land share of land in every cell, 0 to 1, row 0 first
     * @param haloColumns cells left and right that are not in the core
     * @param haloRows cells below and above that are not in the core
     * @return the measures, torsion and paths 0 where the picture has no cavity at all
     */
    public PictureMeasures measure(double[] land, int haloColumns, int haloRows) {
        return measure(land, haloColumns, haloRows, false);
    }

    /**
     * Measures the core as a sample of a pattern that goes on: cells count the less the nearer they are to the core's rim
     * (raised cosine), so that it matters little where the rim cuts the pattern. The longest path is that of the whole core.
     */
    public PictureMeasures sample(double[] land, int halo) {
        return measure(land, halo, halo, true);
    }

    private PictureMeasures measure(double[] land, int haloColumns, int haloRows, boolean tapered) {
        boolean anyCavity = distances.measure(land, path);
        boolean converged = !anyCavity || solve(land);
        double landCells = 0;
        double integral = 0;
        double pathSum = 0;
        double pathMax = 0;
        double cells = 0;
        for (int row = haloRows; row < rows - haloRows; row++) {
            for (int column = haloColumns; column < columns - haloColumns; column++) {
                int i = row * columns + column;
                double share = tapered
                        ? taper(column - haloColumns, columns - 2 * haloColumns)
                                * taper(row - haloRows, rows - 2 * haloRows)
                        : 1;
                cells += share;
                landCells += share * land[i];
                if (anyCavity) {
                    integral += share * part[i];
                    pathSum += share * path[i] * land[i];
                    pathMax = Math.max(pathMax, path[i]);
                }
            }
        }
        double widest = widest(path, haloColumns, haloRows);
        if (widest > 0 && Math.abs(widest / 2 - pathMax) < 1) {
            // Between two cells: the ridge of the distance map, where there is one near its highest cell.
            pathMax = widest / 2;
        }
        return new PictureMeasures(cells, landCells, 12 * integral, pathSum, pathMax, converged);
    }

    /** Fills {@link #part} with every cell's part of the integral of u; returns whether the solve converged. */
    private boolean solve(double[] land) {
        double widest = 0;
        for (double distance : path) {
            widest = Math.max(widest, distance);
        }
        if (widest == 0) {
            Arrays.fill(part, 0);
            return true;
        }
        if (!mirror) {
            widest = Math.min(widest, Math.min(columns, rows) / 2.0);
        }
        int depth = 0;
        int side = 1;
        while (depth + 1 < levels.size() && widest / side > WIDE) {
            depth++;
            side *= 2;
        }
        Level level = levels.get(depth);
        if (depth == 0) {
            level.solver.solve(land, path, widest, part);
            return level.solver.converged();
        }
        Arrays.fill(level.land, 0);
        Arrays.fill(level.path, 0);
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int coarse = row / side * level.columns + column / side;
                level.land[coarse] += land[row * columns + column] / (side * side);
                level.path[coarse] = Math.max(level.path[coarse], path[row * columns + column] / side);
            }
        }
        FineFeatures.open(level.land, level.columns);
        level.solver.solve(level.land, level.path, widest / side, level.part);
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                // A cell to the fourth is side^4 smaller here, and side^2 cells share the part.
                part[row * columns + column] = level.part[row / side * level.columns + column / side] * side * side;
            }
        }
        return level.solver.converged();
    }

    private static double taper(int index, int length) {
        return 1 - Math.cos(2 * Math.PI * (index + 0.5) / length);
    }

    /**
     * Widest place of the phase just measured, 0 for none: the ways from wall to wall through two neighbouring cells whose
     * nearest walls lie on opposite sides. Corners, where the walls meet at a right angle, do not count.
     */
    private double widest(double[] distance, int haloColumns, int haloRows) {
        double widest = 0;
        for (int row = haloRows; row < rows - haloRows; row++) {
            for (int column = haloColumns; column < columns - haloColumns; column++) {
                int i = row * columns + column;
                if (distance[i] == 0) {
                    continue;
                }
                if (column + 1 < columns - haloColumns && distance[i + 1] > 0) {
                    widest = Math.max(widest, between(distance, i, i + 1, 1, 0));
                }
                if (row + 1 < rows - haloRows && distance[i + columns] > 0) {
                    widest = Math.max(widest, between(distance, i, i + columns, 0, 1));
                }
            }
        }
        return widest;
    }

    /** Way from wall to wall through two neighbours, 0 where their walls do not face each other. */
    private double between(double[] distance, int i, int j, int stepX, int stepY) {
        int wallI = distances.nearest(i);
        int wallJ = distances.nearest(j);
        int ax = wallI % columns - i % columns;
        int ay = wallI / columns - i / columns;
        int bx = wallJ % columns - j % columns;
        int by = wallJ / columns - j / columns;
        double a = Math.sqrt(ax * ax + ay * ay);
        double b = Math.sqrt(bx * bx + by * by);
        if (ax * bx + ay * by > FACING * a * b) {
            return 0;
        }
        // The step from one cell to the other, seen across the walls.
        double across = ((bx / b - ax / a) * stepX + (by / b - ay / a) * stepY) / 2;
        return distance[i] + distance[j] + Math.abs(across);
    }
}
