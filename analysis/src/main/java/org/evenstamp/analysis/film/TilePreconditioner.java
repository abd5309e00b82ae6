package org.evenstamp.analysis.film;

import java.util.Arrays;
import org.evenstamp.analysis.numeric.SpectralFilter;
import org.evenstamp.analysis.numeric.Team;
import org.evenstamp.shared.grid.TileGrid;

/**
 * An approximate inverse of {@code G + D + Δt L}: a Fourier solve with mean coefficients where a tile yields less than the
 * stamp, the tile's own compliance where it yields more, {@code W F⁻¹[1/(Ĝ + g0 + Δt M k²)] F W + (1 - W²)/D}.
 */
final class TilePreconditioner {
    // Up to this multiple of the stamp's mean compliance a tile is left to the Fourier solve; fewest iterations in
    // trials.
    private static final double SMOOTH = 3;

    private final int size;
    private final Team team;
    private final SpectralFilter filter;
    private final double[] compliance;
    private final double[] laplace;
    private final double meanCompliance;
    private final double[] inverse;
    private final double[] weight;
    private final double[] local;
    private final double[] sample = new double[1024];
    private double[] in = {};
    private double[] out = {};
    private double[] yield = {};
    private double[] flow = {};
    private boolean[] active = {};
    private double least;
    private double perLaplace;
    private double typical;
    private final Team.Task invert = this::invert;
    private final Team.Task split = this::split;
    private final Team.Task before = this::weigh;
    private final Team.Task after = this::combine;
    private final double[] work;

    TilePreconditioner(StampCompliance stamp, TileGrid grid, Team team) {
        size = grid.size();
        this.team = team;
        filter = new SpectralFilter(grid.columns(), grid.rows(), team);
        compliance = stamp.tileSymbol();
        int half = grid.columns() / 2 + 1;
        int rows = grid.rows();
        laplace = new double[compliance.length];
        double mean = 0;
        double count = 0;
        for (int kx = 0; kx < half; kx++) {
            double sx = Math.sin(Math.PI * kx / grid.columns());
            double twice = kx == 0 || 2 * kx == grid.columns() ? 1 : 2;
            for (int ky = 0; ky < rows; ky++) {
                double sy = Math.sin(Math.PI * ky / rows);
                laplace[kx * rows + ky] = 4 * (sx * sx + sy * sy);
                mean += twice * compliance[kx * rows + ky];
                count += twice;
            }
        }
        meanCompliance = mean / count;
        inverse = new double[compliance.length];
        weight = new double[size];
        local = new double[size];
        work = new double[size];
    }

    /**
     * Prepares for a Newton step.
     *
     * @param yield a tile's own compliance C, in m/Pa
     * @param flow diagonal of Δt L, in m/Pa, zero where no film flows
     * @param active tiles whose pressure is unknown
     */
    void prepare(double[] yield, double[] flow, boolean[] active) {
        int samples = 0;
        int stride = Math.max(1, size / sample.length);
        double flowSum = 0;
        int flowCount = 0;
        for (int i = 0; i < size; i++) {
            if (active[i]) {
                if (i % stride == 0 && samples < sample.length) {
                    sample[samples++] = yield[i];
                }
                if (flow[i] > 0) {
                    flowSum += flow[i];
                    flowCount++;
                }
            }
        }
        Arrays.sort(sample, 0, samples);
        double base = samples == 0 ? meanCompliance : sample[samples / 10];
        double perLaplace = flowCount == 0 ? 0 : flowSum / flowCount / 4;
        double typical = SMOOTH * meanCompliance + 4 * perLaplace + base;
        if (!(typical > 0)) {
            base = Double.MIN_NORMAL;
            typical = base;
        }
        least = base;
        this.perLaplace = perLaplace;
        this.typical = typical;
        this.yield = yield;
        this.flow = flow;
        this.active = active;
        team.run(invert, inverse.length);
        if (compliance[0] == 0 && inverse.length > 1) {
            // The uniform pressure is held by the force; any finite value serves.
            inverse[0] = inverse[1];
        }
        team.run(split, size);
    }

    private void invert(int from, int to, int member) {
        for (int k = from; k < to; k++) {
            inverse[k] = 1 / (compliance[k] + least + perLaplace * laplace[k]);
        }
    }

    private void split(int from, int to, int member) {
        for (int i = from; i < to; i++) {
            if (active[i]) {
                double diagonal = yield[i] + flow[i];
                double w2 = Math.min(1, typical / (meanCompliance + diagonal));
                weight[i] = Math.sqrt(w2);
                local[i] = (1 - w2) / (meanCompliance + diagonal);
            } else {
                weight[i] = 0;
                local[i] = 0;
            }
        }
    }

    void apply(double[] from, double[] to) {
        in = from;
        out = to;
        team.run(before, size);
        filter.apply(work, inverse, work);
        team.run(after, size);
    }

    private void weigh(int from, int to, int member) {
        for (int i = from; i < to; i++) {
            work[i] = weight[i] * in[i];
        }
    }

    private void combine(int from, int to, int member) {
        for (int i = from; i < to; i++) {
            out[i] = weight[i] * work[i] + local[i] * in[i];
        }
    }
}
