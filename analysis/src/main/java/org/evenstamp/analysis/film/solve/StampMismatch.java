package org.evenstamp.analysis.film.solve;

import org.evenstamp.analysis.film.stamp.StampCompliance;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.grid.TileGrid;

/**
 * How far film and stamp are from agreeing: from the pressures on the stamp and the states of the tiles to film, gaps, the
 * stamp's shape and height, and the difference between the gaps of film and stamp.
 *
 * <p>Sums and maxima are taken row by row and then over the rows, so they do not depend on who works on which rows.
 */
final class StampMismatch {
    private final StampCompliance stamp;
    private final RigidMotion motion;
    private final TileStates tiles;
    private final TileFlow flow;
    private final ThreadTeam team;
    private final int columns;
    private final int rows;
    private final double[] back; // what the pressure on the back bends
    private final double[] largest; // mismatch in each row
    private final double[] inflow; // over the rim, in each row
    private double[] applied = {};
    private double prescribed;
    private double metres;
    private double edgeInflow;

    StampMismatch(
            StampCompliance stamp,
            RigidMotion motion,
            TileStates tiles,
            TileFlow flow,
            TileGrid grid,
            ThreadTeam team) {
        this.stamp = stamp;
        this.motion = motion;
        this.tiles = tiles;
        this.flow = flow;
        this.team = team;
        columns = grid.columns();
        rows = grid.rows();
        back = new double[grid.size()];
        largest = new double[rows];
        inflow = new double[rows];
    }

    /**
     * Begins a time step.
     *
     * @param pressureOnBack of each tile at the step's end, Pa
     * @param prescribedHeight of the undeformed stamp where it is held at one, m; 0 where its force is given
     */
    void begin(double[] pressureOnBack, double prescribedHeight) {
        applied = pressureOnBack;
        prescribed = prescribedHeight;
        stamp.applyBack(applied, back);
    }

    /** Brings {@link TileStates} from its pressures and states to film, gaps and mismatch. */
    void evaluate() {
        stamp.apply(tiles.q, tiles.bend);
        team.run((from, to, member) -> addBack(from * columns, to * columns), rows);
        evaluateBent();
    }

    /** Does so where no pressure on the stamp has changed since, so that it is bent as it was. */
    void evaluateBent() {
        team.run((from, to, member) -> tiles.press(from * columns, to * columns), rows);
        team.run((from, to, member) -> compare(from, to), rows);
        motion.settle();
        team.run((from, to, member) -> lower(from, to), rows);
        metres = 0;
        edgeInflow = 0;
        for (int row = 0; row < rows; row++) {
            metres = Math.max(metres, largest[row]);
            edgeInflow += inflow[row];
        }
    }

    private void addBack(int from, int to) {
        for (int i = from; i < to; i++) {
            tiles.bend[i] += back[i];
        }
    }

    private void compare(int from, int to) {
        flow.connect(tiles.full, tiles.bearing, from, to);
        flow.balance(tiles, inflow, from, to);
        tiles.compare(from * columns, to * columns);
        motion.sum(tiles.r, tiles.active, tiles.q, applied, from, to);
    }

    /** Takes the height of the stamp off the mismatch; under a stamp that is clear the gap is what it leaves. */
    private void lower(int from, int to) {
        for (int row = from; row < to; row++) {
            largest[row] = 0;
            for (int i = row * columns; i < (row + 1) * columns; i++) {
                double body = prescribed + motion.height(i);
                if (tiles.active[i]) {
                    tiles.r[i] -= body;
                    largest[row] = Math.max(largest[row], Math.abs(tiles.r[i]));
                } else {
                    tiles.newGap[i] = body + tiles.bend[i] + tiles.wedge[i];
                }
            }
        }
    }

    /** Returns the largest mismatch of a tile, m. */
    double metres() {
        return metres;
    }

    /** Returns the largest force or moment without a counterpart, over the largest force so far. */
    double forceError() {
        return motion.forceError();
    }

    /** Returns the film that came in over the rim during the step, as a sum over tiles of thickness, m. */
    double edgeInflow() {
        return edgeInflow;
    }
}
