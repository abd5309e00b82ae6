package org.evenstamp.analysis.film.solve;

import org.evenstamp.analysis.film.stamp.Surround;
import org.evenstamp.shared.grid.TileGrid;

/**
 * The film's flow between tiles over one time step: {@code Δt L}, {@code L = -∇·M∇} on the full tiles, in finite volumes.
 *
 * <p>Between two full tiles the mobility is the harmonic mean. A tile that is not full takes film at its meniscus'
 * pressure, which acts at the common face, or behind it by the share of the tile that is filled. What leaves a tile arrives in another, so film is
 * conserved to rounding.
 */
final class TileFlow {
    final boolean[] blocked; // a particle's tile passes no film
    final double[] diagonal;

    private final TileGrid grid;
    private final int columns;
    private final int rows;
    private final boolean wraps;
    private final boolean wrapsX;
    private final double edgePressure;
    private final boolean openX;
    private final boolean openY;
    private final double[] east; // conductance times Δt to the neighbour, m/Pa
    private final double[] north;
    final double[] eastInner; // the same where both tiles are full
    final double[] northInner;
    private final double[] edge;

    TileFlow(SolverInput input) {
        grid = input.grid;
        wraps = input.surround == Surround.PERIODIC;
        wrapsX = wraps && !input.closedSeam;
        edgePressure = wraps ? Double.NaN : input.edgePressure;
        openX = input.openX;
        openY = input.openY;
        columns = grid.columns();
        rows = grid.rows();
        int size = grid.size();
        blocked = new boolean[size];
        diagonal = new double[size];
        east = new double[size];
        north = new double[size];
        eastInner = new double[size];
        northInner = new double[size];
        edge = new double[size];
    }

    /**
     * Sets the conductances for a step. They stay as they are while tiles fill and empty within it: so what a tile takes
     * in does not jump when it fills, and the step has one solution.
     *
     * @param timeOverViscosity {@code Δt/(12 η)}
     * @param cubedX mean cubed gaps along x
     * @param cubedY mean cubed gaps along y
     * @param full tiles that are full when the step begins
     * @param share filled share of the cavities then: the meniscus stands that far behind the face
     */
    void begin(double timeOverViscosity, double[] cubedX, double[] cubedY, boolean[] full, double[] share) {
        double factor = timeOverViscosity / grid.tileAreaSquareMetres();
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                int right = right(i, column);
                int up = up(i, row, column);
                east[i] = right < 0 ? 0 : factor * face(i, right, full, share, cubedX);
                north[i] = up < 0 ? 0 : factor * face(i, up, full, share, cubedY);
                edge[i] = 0;
                if (!Double.isNaN(edgePressure) && !blocked[i]) {
                    int sidesX = !openX ? 0 : (column == 0 ? 1 : 0) + (column == columns - 1 ? 1 : 0);
                    int sidesY = !openY ? 0 : (row == 0 ? 1 : 0) + (row == rows - 1 ? 1 : 0);
                    edge[i] = 2 * factor * (sidesX * cubedX[i] + sidesY * cubedY[i]);
                }
            }
        }
    }

    private int right(int i, int column) {
        return column + 1 < columns ? i + 1 : wrapsX && columns > 1 ? i + 1 - columns : -1;
    }

    private int up(int i, int row, int column) {
        return row + 1 < rows ? i + columns : wraps && rows > 1 ? column : -1;
    }

    private double face(int i, int j, boolean[] full, double[] share, double[] cubed) {
        if (blocked[i] || blocked[j]) {
            return 0;
        }
        if (full[i] == full[j]) {
            return 2 * cubed[i] * cubed[j] / (cubed[i] + cubed[j]);
        }
        int from = full[i] ? i : j;
        int to = full[i] ? j : i;
        return 1 / (0.5 / cubed[from] + share[to] / cubed[to]);
    }

    /** Returns how steeply a pressure changes about a tile, in Pa/m: along each axis towards the side where it does more. */
    double slope(double[] pressure, int i) {
        int column = i % columns;
        int row = i / columns;
        double here = pressure[i];
        double x = Math.max(
                fall(here, pressure[cyclicLeft(i, column)], wrapsX || column > 0, openX),
                fall(here, pressure[cyclicRight(i, column)], wrapsX || column + 1 < columns, openX));
        double y = Math.max(
                fall(here, pressure[cyclicDown(i, row)], wraps || row > 0, openY),
                fall(here, pressure[cyclicUp(i, row)], wraps || row + 1 < rows, openY));
        return Math.hypot(x, y) / grid.pitchMetres();
    }

    /** Returns the change of pressure over a pitch towards a neighbour, or towards the face of a tile at the rim. */
    private double fall(double here, double neighbour, boolean hasNeighbour, boolean open) {
        if (hasNeighbour) {
            return Math.abs(here - neighbour);
        }
        return open && !Double.isNaN(edgePressure) ? 2 * Math.abs(here - edgePressure) : 0;
    }

    /** Takes the tiles that are full now, on the rows {@code from .. to - 1}. */
    void connect(boolean[] full, int from, int to) {
        for (int row = from; row < to; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                eastInner[i] = full[i] && full[cyclicRight(i, column)] ? east[i] : 0;
                northInner[i] = full[i] && full[cyclicUp(i, row)] ? north[i] : 0;
                diagonal[i] = full[i]
                        ? east[i] + east[cyclicLeft(i, column)] + north[i] + north[cyclicDown(i, row)] + edge[i]
                        : 0;
            }
        }
    }

    /**
     * Writes the film after the step, on the rows {@code from .. to - 1}.
     *
     * @param inflow overwritten with what came in over the rim in each row, as a sum over tiles of thickness
     */
    void balance(
            double[] pressure, boolean[] full, double[] before, double[] after, double[] inflow, int from, int to) {
        for (int row = from; row < to; row++) {
            inflow[row] = 0;
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                int left = cyclicLeft(i, column);
                int down = cyclicDown(i, row);
                double moved = edge[i] == 0 ? 0 : edge[i] * (edgePressure - pressure[i]);
                inflow[row] += moved;
                after[i] = before[i]
                        - across(east[i], i, cyclicRight(i, column), pressure, full)
                        + across(east[left], left, i, pressure, full)
                        - across(north[i], i, cyclicUp(i, row), pressure, full)
                        + across(north[down], down, i, pressure, full)
                        + moved;
            }
        }
    }

    // Neighbours on the map laid end to end; where it does not repeat itself the conductance of that face is zero.

    private int cyclicRight(int i, int column) {
        return column + 1 < columns ? i + 1 : i + 1 - columns;
    }

    private int cyclicLeft(int i, int column) {
        return column > 0 ? i - 1 : i + columns - 1;
    }

    private int cyclicUp(int i, int row) {
        return row + 1 < rows ? i + columns : i - (rows - 1) * columns;
    }

    private int cyclicDown(int i, int row) {
        return row > 0 ? i - columns : i + (rows - 1) * columns;
    }

    /** Adds {@code Δt L in} to {@code out} on the rows {@code from .. to - 1}. */
    void addTo(double[] out, double[] in, int from, int to) {
        for (int row = from; row < to; row++) {
            int below = row > 0 ? -columns : (rows - 1) * columns;
            int above = row + 1 < rows ? columns : -(rows - 1) * columns;
            int first = row * columns;
            int last = first + columns - 1;
            addTo(out, in, first, last, columns > 1 ? first + 1 : first, first + below, first + above);
            for (int i = first + 1; i < last; i++) {
                addTo(out, in, i, i - 1, i + 1, i + below, i + above);
            }
            if (columns > 1) {
                addTo(out, in, last, last - 1, first, last + below, last + above);
            }
        }
    }

    private void addTo(double[] out, double[] in, int i, int left, int right, int down, int up) {
        out[i] += diagonal[i] * in[i]
                - eastInner[i] * in[right]
                - eastInner[left] * in[left]
                - northInner[i] * in[up]
                - northInner[down] * in[down];
    }

    /**
     * Tells what flowed during the step.
     *
     * @param flux overwritten with the magnitude of the flow through each tile, in m²/s: the mean of its opposite faces
     * @param inflow overwritten with the film that came in over a tile's faces, as thickness, in m: what left again counts
     */
    void tell(double[] pressure, boolean[] full, double dt, double[] flux, double[] inflow) {
        double scale = grid.pitchMetres() / dt / 2;
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                int left = cyclicLeft(i, column);
                int down = cyclicDown(i, row);
                double toRight = across(east[i], i, cyclicRight(i, column), pressure, full);
                double fromLeft = across(east[left], left, i, pressure, full);
                double toAbove = across(north[i], i, cyclicUp(i, row), pressure, full);
                double fromBelow = across(north[down], down, i, pressure, full);
                double overRim = edge[i] == 0 ? 0 : edge[i] * (edgePressure - pressure[i]);
                flux[i] = Math.hypot(toRight + fromLeft, toAbove + fromBelow) * scale;
                inflow[i] = Math.max(0, -toRight)
                        + Math.max(0, fromLeft)
                        + Math.max(0, -toAbove)
                        + Math.max(0, fromBelow)
                        + Math.max(0, overRim);
            }
        }
    }

    private static double across(double conductance, int from, int to, double[] pressure, boolean[] full) {
        return full[from] || full[to] ? conductance * (pressure[from] - pressure[to]) : 0;
    }
}
