package org.evenstamp.geometry.measure;

/** Measures pictures of one size. Reuses its buffers; one a thread. */
public final class PictureMeasurer {
    /** Two neighbours lie between facing walls when the ways to their nearest walls part by 135 degrees or more. */
    private static final double FACING = -Math.sqrt(0.5);

    private final int columns;
    private final int rows;
    private final DistanceMap distances;
    private final TorsionSolver torsion;
    private final double[] path;
    private final double[] opposite;
    private final double[] u;
    private final double[] part;

    /** Creates a measurer for pictures of this many cells. */
    public PictureMeasurer(int columns, int rows) {
        this.columns = columns;
        this.rows = rows;
        int size = columns * rows;
        distances = new DistanceMap(columns, rows);
        torsion = new TorsionSolver(columns, rows);
        path = new double[size];
        opposite = new double[size];
        u = new double[size];
        part = new double[size];
    }

    /**
     * Measures the core of a picture; what lies around the core is there to be a true surrounding. Beyond the picture's rim
     * the layout goes on as a mirror image.
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
     * (raised cosine), so that it matters little where the rim cuts the pattern. Widths and the longest path are those of
     * the whole core.
     */
    public PictureMeasures sample(double[] land, int halo) {
        return measure(land, halo, halo, true);
    }

    private PictureMeasures measure(double[] land, int haloColumns, int haloRows, boolean tapered) {
        boolean anyCavity = distances.measure(land, path);
        double widest = 0;
        for (int i = 0; i < path.length; i++) {
            widest = Math.max(widest, path[i]);
        }
        boolean converged = true;
        if (anyCavity) {
            for (int i = 0; i < u.length; i++) {
                u[i] = path[i] * (widest - path[i] / 2);
            }
            torsion.solve(land, widest, u, part);
            converged = torsion.converged();
        }
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
                if (anyCavity && land[i] > 0.5) {
                    integral += share * part[i];
                    pathSum += share * path[i] * land[i];
                    pathMax = Math.max(pathMax, path[i]);
                }
            }
        }
        Gap protrusion = gaps(path, haloColumns, haloRows);
        if (protrusion.widest > 0 && Math.abs(protrusion.widest / 2 - pathMax) < 1) {
            // Between two cells: the ridge of the distance map, where there is one near its highest cell.
            pathMax = protrusion.widest / 2;
        }
        for (int i = 0; i < opposite.length; i++) {
            opposite[i] = 1 - land[i];
        }
        double cavity = distances.measure(opposite, path)
                ? gaps(path, haloColumns, haloRows).narrowest
                : Double.POSITIVE_INFINITY;
        return new PictureMeasures(
                cells, landCells, 12 * integral, pathSum, pathMax, protrusion.narrowest, cavity, converged);
    }

    private static double taper(int index, int length) {
        return 1 - Math.cos(2 * Math.PI * (index + 0.5) / length);
    }

    private record Gap(double narrowest, double widest) {}

    /**
     * Narrowest and widest place of the phase just measured: the ways from wall to wall through two neighbouring cells whose
     * nearest walls lie on opposite sides. Corners, where the walls meet at a right angle, are no narrow places.
     */
    private Gap gaps(double[] distance, int haloColumns, int haloRows) {
        double narrowest = Double.POSITIVE_INFINITY;
        double widest = 0;
        for (int row = haloRows; row < rows - haloRows; row++) {
            for (int column = haloColumns; column < columns - haloColumns; column++) {
                int i = row * columns + column;
                if (distance[i] == 0) {
                    continue;
                }
                if (column + 1 < columns - haloColumns && distance[i + 1] > 0) {
                    double gap = between(distance, i, i + 1, 1, 0);
                    if (gap > 0) {
                        narrowest = Math.min(narrowest, gap);
                        widest = Math.max(widest, gap);
                    }
                }
                if (row + 1 < rows - haloRows && distance[i + columns] > 0) {
                    double gap = between(distance, i, i + columns, 0, 1);
                    if (gap > 0) {
                        narrowest = Math.min(narrowest, gap);
                        widest = Math.max(widest, gap);
                    }
                }
            }
        }
        return new Gap(narrowest, widest);
    }

    /** Way from wall to wall through two neighbours, 0 where their walls do not face each other. */
    private double between(double[] distance, int i, int j, int stepX, int stepY) {
        int wallI = distances.nearest(i);
        int wallJ = distances.nearest(j);
        double ax = wallI % columns - i % columns;
        double ay = (double) (wallI / columns) - i / columns;
        double bx = wallJ % columns - j % columns;
        double by = (double) (wallJ / columns) - j / columns;
        double a = Math.hypot(ax, ay);
        double b = Math.hypot(bx, by);
        if (ax * bx + ay * by > FACING * a * b) {
            return 0;
        }
        // The step from one cell to the other, seen across the walls.
        double across = ((bx / b - ax / a) * stepX + (by / b - ay / a) * stepY) / 2;
        return distance[i] + distance[j] + Math.abs(across);
    }
}
