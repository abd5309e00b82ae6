package org.evenstamp.analysis.numeric;

import java.util.Arrays;

/**
 * Preconditioned conjugate gradients for a symmetric positive definite operator under homogeneous linear constraints:
 * finds x with {@code Bᵀx = 0} and {@code Ax + Bλ = b} for some λ (Gould, Hribar and Nocedal, SIAM J. Sci. Comput. 23
 * (2001) 1376, quoted from memory).
 *
 * <p>The preconditioned residual is made to obey the constraints by the constraint preconditioner itself, {@code z = M⁻¹(r
 * - Bμ)}, so the iterates never leave the constraint space. Sums run over fixed blocks in a fixed order.
 *
 * <p>It refuses what it cannot solve: arrays of another length and a right side that is not finite before it starts, and an
 * operator or a preconditioner that turns out not to be positive on a direction it meets, or not finite there. What rounding
 * makes of a tiny positive number is no reason to refuse: then it ends and reports what it reached.
 */
public final class ProjectedCg {
    private static final int SUM_BLOCK = 1024;
    // Share of the largest curvature so far that rounding never makes negative.
    private static final double BEYOND_ROUNDING = 1e-3;

    /** A symmetric linear map on arrays. */
    @FunctionalInterface
    public interface Operator {
        /** Writes the image of {@code in}, which it does not change, to {@code out}. */
        void apply(double[] in, double[] out);
    }

    /** Called once an iteration, to count and to let the work be interrupted. */
    @FunctionalInterface
    public interface Watch {
        /** May throw to stop the work. */
        void iterated();
    }

    /**
     * What a solve did.
     *
     * @param iterations applications of the operator
     * @param reduction last over first residual in the norm of the preconditioner
     * @param converged whether the wanted reduction was reached within the budget
     */
    public record Report(int iterations, double reduction, boolean converged) {}

    private final int size;
    private final ThreadTeam team;
    private final double[] r;
    private final double[] z;
    private final double[] p;
    private final double[] ap;
    private final double[] partial;
    private double[][] images = {}; // of the constraints under the preconditioner
    private final int blocks;
    private double[] left = {};
    private double[] right = {};
    private double[] x = {};
    private double[][] columns = {};
    private double[] multiplier = {};
    private double alpha;
    private double beta;
    private final ThreadTeam.Task dotTask = this::dotBlocks;
    private final ThreadTeam.Task advanceTask = this::advanceBlocks;
    private final ThreadTeam.Task projectTask = this::projectBlocks;
    private final ThreadTeam.Task directionTask = this::directionBlocks;

    /** Sets up for vectors of the given length. */
    public ProjectedCg(int size, ThreadTeam team) {
        this.size = size;
        this.team = team;
        r = new double[size];
        z = new double[size];
        p = new double[size];
        ap = new double[size];
        blocks = (size + SUM_BLOCK - 1) / SUM_BLOCK;
        partial = new double[blocks];
    }

    /**
     * Solves.
     *
     * @param a the operator
     * @param m the preconditioner, symmetric positive definite
     * @param constraints the columns of B, linearly independent; may be none
     * @param b the right side
     * @param solution overwritten with x
     * @param reduction wanted reduction of the residual in the norm of the preconditioner, below 1
     * @param budget largest number of iterations
     * @param watch called once an iteration
     * @throws IllegalArgumentException when an array has another length than the vectors, or b is not finite
     * @throws ArithmeticException when operator or preconditioner are not positive or not finite on a direction met
     */
    public Report solve(
            Operator a,
            Operator m,
            double[][] constraints,
            double[] b,
            double[] solution,
            double reduction,
            int budget,
            Watch watch) {
        require(constraints, b, solution);
        SmallCholesky factor = factor(m, constraints);
        double[] amounts = new double[constraints.length];
        Arrays.fill(solution, 0);
        System.arraycopy(b, 0, r, 0, size);
        x = solution;
        double rz = precondition(m, constraints, factor, amounts);
        System.arraycopy(z, 0, p, 0, size);
        double first = rz;
        if (!(rz > 0)) {
            // Nothing is left under the constraints, or the preconditioner is at fault: without them it tells.
            m.apply(b, z);
            double free = dot(b, z);
            if (free != 0 || dot(b, b) != 0) {
                requirePositive("preconditioner", free, 0, 0);
                requirePositive("preconditioner", rz, free, 0);
            }
            return new Report(0, 0, true);
        }
        int iterations = 0;
        double goal = first * reduction * reduction;
        double size2 = rz; // of p, in the norm of the inverse preconditioner
        double most = 0; // largest curvature over it
        while (rz > goal && rz > 0 && iterations < budget) {
            a.apply(p, ap);
            double curvature = dot(p, ap);
            if (!(curvature > 0)) {
                requirePositive("operator", curvature, most * size2, iterations);
                break; // rounding: nothing is left to gain along p
            }
            most = Math.max(most, curvature / size2);
            alpha = rz / curvature;
            team.run(advanceTask, blocks);
            double next = precondition(m, constraints, factor, amounts);
            requirePositive("preconditioner", next, first, iterations);
            beta = next / rz;
            size2 = next + beta * beta * size2;
            rz = next;
            team.run(directionTask, blocks);
            iterations++;
            watch.iterated();
        }
        double reached = Math.sqrt(Math.max(0, rz) / first);
        return new Report(iterations, reached, Math.abs(rz) <= goal);
    }

    private void require(double[][] constraints, double[] b, double[] solution) {
        requireLength("the right side", b);
        requireLength("the solution", solution);
        for (double[] constraint : constraints) {
            requireLength("a constraint", constraint);
        }
        for (int i = 0; i < size; i++) {
            if (!Double.isFinite(b[i])) {
                throw new IllegalArgumentException("the right side is " + b[i] + " at " + i);
            }
        }
    }

    private void requireLength(String what, double[] values) {
        if (values.length != size) {
            throw new IllegalArgumentException(what + " has " + values.length + " values, not " + size);
        }
    }

    /**
     * Throws unless the product of a direction and its image is positive, or as little below as rounding takes it.
     *
     * @param scale what such products are elsewhere; 0 where none is known, then none may vanish
     */
    private static void requirePositive(String what, double product, double scale, int iterations) {
        if (!(product >= -BEYOND_ROUNDING * scale && (product != 0 || scale != 0))) {
            throw new ArithmeticException("the " + what + " is not positive: after " + iterations
                    + " iterations a direction times its image is " + product);
        }
    }

    /** Returns the factor of {@code Bᵀ M⁻¹ B}, and keeps the images of the constraints. */
    private SmallCholesky factor(Operator m, double[][] constraints) {
        int count = constraints.length;
        if (images.length < count) {
            images = new double[count][size];
        }
        double[] gram = new double[count * count];
        for (int j = 0; j < count; j++) {
            m.apply(constraints[j], images[j]);
        }
        for (int i = 0; i < count; i++) {
            for (int j = 0; j < count; j++) {
                gram[i * count + j] = dot(constraints[i], images[j]);
            }
        }
        return new SmallCholesky(gram, count);
    }

    /** Writes the preconditioned residual that obeys the constraints and returns its product with the residual. */
    private double precondition(Operator m, double[][] constraints, SmallCholesky factor, double[] amounts) {
        m.apply(r, z);
        for (int j = 0; j < constraints.length; j++) {
            amounts[j] = dot(constraints[j], z);
        }
        factor.solve(amounts);
        columns = constraints;
        multiplier = amounts;
        team.run(projectTask, blocks);
        return total();
    }

    /** Takes the constraints off z and r, and sums up their product. */
    private void projectBlocks(int from, int to, int member) {
        for (int block = from; block < to; block++) {
            int end = Math.min(size, (block + 1) * SUM_BLOCK);
            for (int j = 0; j < columns.length; j++) {
                double mu = multiplier[j];
                double[] image = images[j];
                double[] raw = columns[j];
                for (int i = block * SUM_BLOCK; i < end; i++) {
                    z[i] -= mu * image[i];
                    r[i] -= mu * raw[i]; // belongs to λ; taking it away keeps the residual small
                }
            }
            partial[block] = dot(r, z, block * SUM_BLOCK, end);
        }
    }

    private double dot(double[] u, double[] v) {
        left = u;
        right = v;
        team.run(dotTask, blocks);
        return total();
    }

    private void dotBlocks(int from, int to, int member) {
        for (int block = from; block < to; block++) {
            int first = block * SUM_BLOCK;
            partial[block] = dot(left, right, first, Math.min(size, first + SUM_BLOCK));
        }
    }

    /** Returns a sum of products in four parts, which a processor adds side by side. */
    private static double dot(double[] u, double[] v, int from, int to) {
        double sum0 = 0;
        double sum1 = 0;
        double sum2 = 0;
        double sum3 = 0;
        int i = from;
        for (; i + 3 < to; i += 4) {
            sum0 += u[i] * v[i];
            sum1 += u[i + 1] * v[i + 1];
            sum2 += u[i + 2] * v[i + 2];
            sum3 += u[i + 3] * v[i + 3];
        }
        for (; i < to; i++) {
            sum0 += u[i] * v[i];
        }
        return sum0 + sum1 + (sum2 + sum3);
    }

    private double total() {
        double sum = 0;
        for (double part : partial) {
            sum += part;
        }
        return sum;
    }

    private void advanceBlocks(int from, int to, int member) {
        int end = Math.min(size, to * SUM_BLOCK);
        for (int i = from * SUM_BLOCK; i < end; i++) {
            x[i] += alpha * p[i];
            r[i] -= alpha * ap[i];
        }
    }

    private void directionBlocks(int from, int to, int member) {
        int end = Math.min(size, to * SUM_BLOCK);
        for (int i = from * SUM_BLOCK; i < end; i++) {
            p[i] = z[i] + beta * p[i];
        }
    }
}
