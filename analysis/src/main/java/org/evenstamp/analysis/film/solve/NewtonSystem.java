package org.evenstamp.analysis.film.solve;

import java.util.Arrays;
import org.evenstamp.analysis.film.stamp.StampCompliance;
import org.evenstamp.analysis.numeric.ProjectedCg;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Stage;

/**
 * Newton's equation {@code (G + C + Δt L) δq + δz = r} of a time step, symmetric and positive definite, solved by conjugate
 * gradients on the pressures that keep the balance of forces.
 */
final class NewtonSystem {
    private final StampCompliance stamp;
    private final RigidMotion motion;
    private final TileStates tiles;
    private final TileFlow flow;
    private final ThreadTeam team;
    private final int columns;
    private final int rows;
    private final TilePreconditioner preconditioner;
    private final ProjectedCg cg;
    private final double[][] constraints; // the shapes of the rigid motion on active tiles
    private final double[] dq;
    private final double[] shift;
    private final double[] image;
    private int cgIterations;
    private int cgShortfalls;

    NewtonSystem(
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
        preconditioner = new TilePreconditioner(stamp, grid, team);
        cg = new ProjectedCg(grid.size(), team);
        constraints = new double[motion.shapes.length][grid.size()];
        dq = new double[grid.size()];
        shift = new double[grid.size()];
        image = new double[grid.size()];
    }

    /**
     * Solves the equation and moves the pressures of the tiles that bear.
     *
     * @param reduction wanted reduction of the residual in the norm of the preconditioner
     * @param budget largest number of iterations
     * @param stage counts the iterations
     * @throws ArithmeticException when the equation has no meaning
     */
    void advance(double reduction, int budget, Stage stage) {
        preconditioner.prepare(tiles.yield, flow, tiles.active);
        double[] balancing = motion.balancing();
        team.run((from, to, member) -> constrain(balancing, from * columns, to * columns), rows);
        double[] r = tiles.r;
        if (Arrays.stream(balancing).anyMatch(a -> a != 0)) {
            apply(shift, image);
            for (int i = 0; i < r.length; i++) {
                r[i] -= image[i];
            }
        }
        // A tile that stays though its film lets go of it may have no pressure that bears: then no step of this length
        // is found.
        if (!Arrays.stream(r).allMatch(Double::isFinite)) {
            throw new ArithmeticException("a mismatch that is no number");
        }
        ProjectedCg.Report report = cg.solve(
                this::apply, preconditioner::apply, constraints, r, dq, reduction, budget, () -> stage.advance(1));
        cgIterations += report.iterations();
        cgShortfalls += report.converged() ? 0 : 1;
        team.run((from, to, member) -> move(from * columns, to * columns), rows);
    }

    /**
     * Solves {@code (G + C + Δt L) x = b} up to the forces on the shapes of the rigid motion, for x with given sums over them.
     *
     * @param b the right side on the tiles that bear, 0 elsewhere; used up
     * @param sums wanted of x times each shape
     * @param x overwritten with the solution
     * @return the iterations it took
     */
    int solve(double[] b, double[] sums, double[] x, double reduction, int budget, Stage stage) {
        double[] amounts = motion.amounts(sums);
        constrain(amounts, 0, b.length);
        if (Arrays.stream(amounts).anyMatch(a -> a != 0)) {
            apply(shift, image);
            for (int i = 0; i < b.length; i++) {
                b[i] -= image[i];
            }
        }
        ProjectedCg.Report report = cg.solve(
                this::apply, preconditioner::apply, constraints, b, x, reduction, budget, () -> stage.advance(1));
        for (int i = 0; i < b.length; i++) {
            x[i] += shift[i];
        }
        cgIterations += report.iterations();
        cgShortfalls += report.converged() ? 0 : 1;
        return report.iterations();
    }

    /** Prepares for solves with the tiles' compliances and flows as they are now. */
    void prepare() {
        preconditioner.prepare(tiles.yield, flow, tiles.active);
    }

    /** Writes the rigid motion's shapes on the tiles that bear, and the pressures there that balance the forces. */
    private void constrain(double[] balancing, int from, int to) {
        for (int i = from; i < to; i++) {
            shift[i] = 0;
            for (int a = 0; a < constraints.length; a++) {
                constraints[a][i] = tiles.active[i] ? motion.shapes[a][i] : 0;
                shift[i] += balancing[a] * constraints[a][i];
            }
        }
    }

    void apply(double[] in, double[] out) {
        stamp.apply(in, out);
        team.run((from, to, member) -> addFilm(in, out, from, to), rows);
    }

    private void addFilm(double[] in, double[] out, int from, int to) {
        for (int row = from; row < to; row++) { // one by one: a row stays in the cache
            flow.addTo(out, in, row, row + 1);
            for (int i = row * columns; i < (row + 1) * columns; i++) {
                out[i] = tiles.active[i] ? out[i] + tiles.yield[i] * in[i] : 0;
            }
        }
    }

    private void move(int from, int to) {
        for (int i = from; i < to; i++) {
            if (tiles.active[i]) {
                tiles.advance(i, dq[i] + shift[i]);
            }
        }
    }

    /** Returns whether the stamp's height is free, so that a force has to be balanced. */
    boolean isBalanced() {
        return constraints.length > 0;
    }

    /** Returns the conjugate-gradient iterations so far. */
    int cgIterations() {
        return cgIterations;
    }

    /** Returns how many solves ended at their budget so far. */
    int cgShortfalls() {
        return cgShortfalls;
    }
}
