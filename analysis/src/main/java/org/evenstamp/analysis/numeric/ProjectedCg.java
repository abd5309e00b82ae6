package org.evenstamp.analysis.numeric;

/**
 * Preconditioned conjugate gradients for a symmetric positive definite operator under homogeneous linear constraints:
 * finds x with {@code Bᵀx = 0} and {@code Ax + Bλ = b} for some λ (Gould, Hribar and Nocedal, SIAM J. Sci. Comput. 23
 * (2001) 1376, quoted from memory).
 *
 * <p>The preconditioned residual is made to obey the constraints by the constraint preconditioner itself, {@code z = M⁻¹(r
 * - Bμ)}, so the iterates never leave the constraint space. Sums run over fixed blocks in a fixed order.
 */
public final class ProjectedCg {
    private static final int SUM_BLOCK = 1024;

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
        int count = constraints.length;
        if (images.length < count) {
            images = new double[count][size];
        }
        double[][] mb = images;
        double[] gram = new double[count * count];
        double[] amounts = new double[count];
        for (int j = 0; j < count; j++) {
            m.apply(constraints[j], mb[j]);
        }
        for (int i = 0; i < count; i++) {
            for (int j = 0; j < count; j++) {
                gram[i * count + j] = dot(constraints[i], mb[j]);
            }
        }
        SmallCholesky factor = new SmallCholesky(gram, count);

        java.util.Arrays.fill(solution, 0);
        System.arraycopy(b, 0, r, 0, size);
        x = solution;
        double rz = precondition(m, constraints, factor, amounts);
        System.arraycopy(z, 0, p, 0, size);
        double first = rz;
        int iterations = 0;
        double goal = first * reduction * reduction;
        while (rz > goal && rz > 0 && iterations < budget) {
            a.apply(p, ap);
            double curvature = dot(p, ap);
            if (!(curvature > 0)) {
                break; // rounding: nothing is left to gain along p
            }
            alpha = rz / curvature;
            team.run(advanceTask, blocks);
            double next = precondition(m, constraints, factor, amounts);
            beta = next / rz;
            rz = next;
            team.run(directionTask, blocks);
            iterations++;
            watch.iterated();
        }
        double reached = first > 0 ? Math.sqrt(Math.max(0, rz) / first) : 0;
        return new Report(iterations, reached, rz <= goal || !(rz > 0));
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
