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
    final double edgePressure;
    final boolean openX;
    final boolean openY;
    final FaceConductances east; // to the neighbour, m/Pa
    final FaceConductances north;
    private final boolean linked;
    final double[] eastInner; // of what flows between pressures that are unknown on both sides
    final double[] northInner;
    final double[] edge;

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
        east = new FaceConductances(input, false);
        north = new FaceConductances(input, true);
        linked = east.linked();
        eastInner = new double[size];
        northInner = new double[size];
        edge = new double[size];
    }

    /** Sets the conductances for a step on all rows. */
    void begin(double timeOverViscosity, GapMobility mobility, boolean[] full) {
        begin(timeOverViscosity, mobility, full, 0, rows);
    }

    /**
     * Sets the conductances for a step on the rows {@code from .. to - 1}.
     *
     * @param timeOverViscosity {@code Δt/(12 η)}
     * @param full tiles that are full when the step begins
     */
    void begin(double timeOverViscosity, GapMobility mobility, boolean[] full, int from, int to) {
        double factor = timeOverViscosity / grid.tileAreaSquareMetres();
        for (int row = from; row < to; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                east.set(i, right(i, column), factor, mobility, full, blocked);
                north.set(i, up(i, row, column), factor, mobility, full, blocked);
                edge[i] = 0;
                if (!Double.isNaN(edgePressure) && !blocked[i]) {
                    int sidesX = !openX ? 0 : (column == 0 ? 1 : 0) + (column == columns - 1 ? 1 : 0);
                    int sidesY = !openY ? 0 : (row == 0 ? 1 : 0) + (row == rows - 1 ? 1 : 0);
                    edge[i] = 2 * factor * (sidesX * mobility.cubedX[i] + sidesY * mobility.cubedY[i]);
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

    /** Takes the tiles that are full now, and those with film under land that bears, on the rows {@code from .. to - 1}. */
    void connect(boolean[] full, boolean[] bearing, int from, int to) {
        for (int row = from; row < to; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                int right = cyclicRight(i, column);
                int left = cyclicLeft(i, column);
                int up = cyclicUp(i, row);
                int down = cyclicDown(i, row);
                eastInner[i] = full[i] && full[right] ? east.open[i] : 0;
                northInner[i] = full[i] && full[up] ? north.open[i] : 0;
                diagonal[i] = full[i] ? east.open[i] + east.open[left] + north.open[i] + north.open[down] + edge[i] : 0;
                if (linked) {
                    eastInner[i] += inner(east, i, right, full, bearing);
                    northInner[i] += inner(north, i, up, full, bearing);
                    diagonal[i] += own(east, i, i, right, full, bearing)
                            + own(east, left, i, left, full, bearing)
                            + own(north, i, i, up, full, bearing)
                            + own(north, down, i, down, full, bearing);
                }
            }
        }
    }

    /** Conductance over a face between two unknown pressures, of land and of walls. */
    private static double inner(FaceConductances faces, int i, int next, boolean[] full, boolean[] bearing) {
        double between = bearing[i] && bearing[next] ? faces.land[i] : 0;
        double wall = faces.wall[i];
        if (wall > 0 && bearing[i] && full[next]) {
            between += wall;
        } else if (wall < 0 && bearing[next] && full[i]) {
            between -= wall;
        }
        return between;
    }

    /** What a face adds to the diagonal of a tile on one of its sides. */
    private static double own(
            FaceConductances faces, int face, int tile, int other, boolean[] full, boolean[] bearing) {
        double between = bearing[tile] && bearing[other] ? faces.land[face] : 0;
        double wall = face == tile ? faces.wall[face] : -faces.wall[face]; // positive from the tile
        if (wall > 0) {
            between += bearing[tile] ? wall : 0;
        } else if (wall < 0 && bearing[other] && full[tile]) {
            between -= wall;
        }
        return between;
    }

    /**
     * Writes the film after the step, and what of its change came and went under land, on the rows {@code from .. to - 1}.
     *
     * @param inflow overwritten with what came in over the rim in each row, as a sum over tiles of thickness
     */
    void balance(TileStates tiles, double[] inflow, int from, int to) {
        double[] pressure = tiles.pressure;
        boolean[] full = tiles.full;
        for (int row = from; row < to; row++) {
            inflow[row] = 0;
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                int left = cyclicLeft(i, column);
                int down = cyclicDown(i, row);
                int right = cyclicRight(i, column);
                int up = cyclicUp(i, row);
                double moved = edge[i] == 0 ? 0 : edge[i] * (edgePressure - pressure[i]);
                inflow[row] += moved;
                tiles.newFilm[i] = tiles.film[i]
                        - across(east.open[i], i, right, pressure, full)
                        + across(east.open[left], left, i, pressure, full)
                        - across(north.open[i], i, up, pressure, full)
                        + across(north.open[down], down, i, pressure, full)
                        + moved;
                if (linked) {
                    double byLand = -overLand(east, i, right, tiles)
                            + overLand(east, left, i, tiles)
                            - overLand(north, i, up, tiles)
                            + overLand(north, down, i, tiles);
                    double out = Math.max(0, throughWall(east, i, right, tiles))
                            + Math.max(0, -throughWall(east, left, i, tiles))
                            + Math.max(0, throughWall(north, i, up, tiles))
                            + Math.max(0, -throughWall(north, down, i, tiles));
                    double all = -throughWall(east, i, right, tiles)
                            + throughWall(east, left, i, tiles)
                            - throughWall(north, i, up, tiles)
                            + throughWall(north, down, i, tiles);
                    tiles.newFilm[i] += byLand + all;
                    tiles.aside[i] = byLand - out;
                }
            }
        }
    }

    private static double overLand(FaceConductances faces, int i, int next, TileStates tiles) {
        return tiles.bearing[i] && tiles.bearing[next] ? faces.land[i] * (tiles.q[i] - tiles.q[next]) : 0;
    }

    private static double throughWall(FaceConductances faces, int i, int next, TileStates tiles) {
        double wall = faces.wall[i];
        if (wall > 0) {
            return tiles.bearing[i] ? wall * (tiles.q[i] - tiles.pressure[next]) : 0;
        }
        return wall < 0 && tiles.bearing[next] ? wall * (tiles.q[next] - tiles.pressure[i]) : 0;
    }

    // Neighbours on the map laid end to end; where it does not repeat itself the conductance of that face is zero.

    int cyclicRight(int i, int column) {
        return column + 1 < columns ? i + 1 : i + 1 - columns;
    }

    private int cyclicLeft(int i, int column) {
        return column > 0 ? i - 1 : i + columns - 1;
    }

    int cyclicUp(int i, int row) {
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
    void tell(TileStates tiles, double dt, double[] flux, double[] inflow) {
        double scale = grid.pitchMetres() / dt / 2;
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int i = row * columns + column;
                int left = cyclicLeft(i, column);
                int down = cyclicDown(i, row);
                double toRight = through(east, i, cyclicRight(i, column), tiles);
                double fromLeft = through(east, left, i, tiles);
                double toAbove = through(north, i, cyclicUp(i, row), tiles);
                double fromBelow = through(north, down, i, tiles);
                double overRim = edge[i] == 0 ? 0 : edge[i] * (edgePressure - tiles.pressure[i]);
                flux[i] = Math.hypot(toRight + fromLeft, toAbove + fromBelow) * scale;
                inflow[i] = Math.max(0, -toRight)
                        + Math.max(0, fromLeft)
                        + Math.max(0, -toAbove)
                        + Math.max(0, fromBelow)
                        + Math.max(0, overRim);
            }
        }
    }

    private double through(FaceConductances faces, int i, int next, TileStates tiles) {
        double open = across(faces.open[i], i, next, tiles.pressure, tiles.full);
        return linked ? open + overLand(faces, i, next, tiles) + throughWall(faces, i, next, tiles) : open;
    }

    private static double across(double conductance, int from, int to, double[] pressure, boolean[] full) {
        return full[from] || full[to] ? conductance * (pressure[from] - pressure[to]) : 0;
    }
}
