package org.evenstamp.analysis.standing;

import org.evenstamp.analysis.imprint.Relief;
import org.evenstamp.shared.grid.TileGrid;

/**
 * How far the roof of a cavity sinks that reaches over whole tiles: no wall stands in them, so the span is that from wall to wall, along rows
 * and columns of tiles, a tile with a wall counting with the share of it that is cavity. The map is taken to repeat itself.
 *
 * <p>The roof is a plate clamped at the walls, {@code α p b⁴/D} with {@code D = E* t³/12}, if nothing holds the stamp's back (Timoshenko and Woinowsky-Krieger, Theory of
 * Plates and Shells, table 35, from memory; a rectangle as long and wide as the two spans), and a body with a free face over the cavity, {@code p b/E*} (a single crack, as {@link
 * RoofSag}), b there no more than two thicknesses. Upper bound: all of the pressure on the back counts, film that holds the roof up is left out.
 */
final class WideRoof {
    /** Clamped plate under even pressure: deflection of its middle over {@code p b⁴/D}, by length over width from 1 in steps of 0.1. */
    private static final double[] CLAMPED = {
        0.00126, 0.00150, 0.00172, 0.00191, 0.00207, 0.00220, 0.00230, 0.00238, 0.00245, 0.00249, 0.00254
    };

    private static final double STRIP = 1.0 / 384;
    private static final double WHOLE = 1 - 1e-9;

    private final TileGrid grid;
    private final Relief relief;
    private final double planeModulus;
    private final double thickness;
    private final boolean plate;

    /**
     * Takes a stamp.
     *
     * @param planeModulus E* = E/(1-ν²), Pa
     * @param thickness of its elastic body, m
     * @param plate whether nothing rigid holds its back
     */
    WideRoof(TileGrid grid, Relief relief, double planeModulus, double thickness, boolean plate) {
        this.grid = grid;
        this.relief = relief;
        this.planeModulus = planeModulus;
        this.thickness = thickness;
        this.plate = plate;
    }

    /** Returns whether a tile is cavity all over. */
    boolean spans(int tile) {
        return relief.fraction(tile) >= WHOLE && relief.cavityVolume(tile) > 0;
    }

    /** Returns the sag at a pressure on the back, m; NaN where no wall stands along the tile's row and column. */
    double sag(int tile, double pascals) {
        double alongX = span(tile, true);
        double alongY = span(tile, false);
        double width = Math.min(alongX, alongY);
        if (!Double.isFinite(width)) {
            return Double.NaN;
        }
        double body = pascals * Math.min(width, 2 * thickness) / planeModulus;
        double stiffness = planeModulus * thickness * thickness * thickness / 12;
        double bent = coefficient(Math.max(alongX, alongY) / width) * pascals * Math.pow(width, 4) / stiffness;
        return plate ? body + bent : body;
    }

    /** Returns the deflection of a clamped rectangle's middle over {@code p b⁴/D}. */
    static double coefficient(double lengthOverWidth) {
        double place = (lengthOverWidth - 1) * 10;
        int before = (int) place;
        if (!(place < CLAMPED.length - 1)) {
            return lengthOverWidth > 2 ? STRIP : CLAMPED[CLAMPED.length - 1];
        }
        return CLAMPED[before] + (place - before) * (CLAMPED[before + 1] - CLAMPED[before]);
    }

    /** Returns the length of cavity around a tile along its row or column, m; infinite where that is cavity all over. */
    private double span(int tile, boolean row) {
        int size = row ? grid.columns() : grid.rows();
        int forth = reach(tile, row, 1, size);
        if (forth == size) {
            return Double.POSITIVE_INFINITY;
        }
        int back = reach(tile, row, -1, size);
        double ends = part(at(tile, row, forth + 1, size)) + part(at(tile, row, -back - 1, size));
        return (1 + forth + back + ends) * grid.pitchMetres();
    }

    private int reach(int tile, boolean row, int way, int size) {
        int reach = 0;
        while (reach < size && spans(at(tile, row, way * (reach + 1), size))) {
            reach++;
        }
        return reach;
    }

    private double part(int tile) {
        return Math.min(1, relief.fraction(tile));
    }

    private int at(int tile, boolean row, int away, int size) {
        int column = grid.column(tile);
        int line = grid.row(tile);
        return row
                ? grid.index(Math.floorMod(column + away, size), line)
                : grid.index(column, Math.floorMod(line + away, size));
    }
}
