package org.evenstamp.samples.generate;

import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.geometry.layout.PolygonSink;

/**
 * Star-shaped polygons, one in each cell of a lattice, placed and shaped at random within it: simple rings, none touching
 * another. Lower left corner of the field at (0, 0).
 *
 * @param seed two different seeds give two different layouts
 * @param polygons how many, at least 1
 * @param vertices how many each has on average, 4 to 1000; a polygon has between half (but no less than 3) and one and a
 *     half times as many
 * @param widthMetres extent of the field along x, positive
 * @param heightMetres extent of the field along y, positive
 */
public record RandomLayout(long seed, long polygons, int vertices, double widthMetres, double heightMetres) {
    private static final int DIRECTIONS = 1 << 14;
    private static final int MOST_VERTICES = 1000; // so that each still has some directions to choose from
    private static final double[] DIRECTION_X = new double[DIRECTIONS];
    private static final double[] DIRECTION_Y = new double[DIRECTIONS];

    static {
        for (int i = 0; i < DIRECTIONS; i++) {
            DIRECTION_X[i] = StrictMath.cos(2 * Math.PI * i / DIRECTIONS);
            DIRECTION_Y[i] = StrictMath.sin(2 * Math.PI * i / DIRECTIONS);
        }
    }

    /** Checks the ranges. */
    public RandomLayout {
        if (polygons < 1 || vertices < 4 || vertices > MOST_VERTICES) {
            throw new IllegalArgumentException("a random layout needs 1 polygon or more of 4 to " + MOST_VERTICES
                    + " vertices, was " + polygons + " of " + vertices);
        }
        if (!(widthMetres > 0)
                || !(heightMetres > 0)
                || Double.isInfinite(widthMetres)
                || Double.isInfinite(heightMetres)) {
            throw new IllegalArgumentException(
                    "a random layout needs a field, was " + widthMetres + " m x " + heightMetres + " m");
        }
    }

    /** Hands every polygon to the sink, row by row from below. */
    public void draw(PolygonSink sink) {
        Dice dice = new Dice(seed);
        long columns = Math.max(1, Math.round(Math.sqrt(polygons * widthMetres / heightMetres)));
        long rows = (polygons + columns - 1) / columns;
        double stepX = widthMetres / columns;
        double stepY = heightMetres / rows;
        double cell = Math.min(stepX, stepY);
        PackedPolygon polygon = new PackedPolygon();
        for (long i = 0; i < polygons; i++) {
            // Reach plus shift stay below 0.48 of a cell, so that neighbours keep their distance.
            double reach = cell * dice.between(0.2, 0.42);
            double slack = 0.48 * cell - reach;
            long column = i % columns;
            long row = i / columns;
            double x = (column + 0.5) * stepX + dice.between(-slack, slack);
            double y = (row + 0.5) * stepY + dice.between(-slack, slack);
            star(polygon, dice, x, y, reach);
            sink.accept(polygon);
        }
    }

    private void star(PackedPolygon polygon, Dice dice, double x, double y, double reach) {
        int spread = Math.min(vertices / 2, vertices - 3);
        int corners = vertices - spread + dice.below(2 * spread + 1);
        polygon.clear();
        polygon.ensureVertices(corners);
        int sector = DIRECTIONS / corners;
        for (int k = 0; k < corners; k++) {
            // One corner in the first three quarters of its sector: directions ascend and no two corners fall together.
            int direction = (int) ((long) k * DIRECTIONS / corners) + dice.below(Math.max(1, 3 * sector / 4));
            double radius = reach * dice.between(0.5, 1);
            polygon.xy[2 * k] = x + radius * DIRECTION_X[direction];
            polygon.xy[2 * k + 1] = y + radius * DIRECTION_Y[direction];
        }
        polygon.endRing(corners);
    }
}
