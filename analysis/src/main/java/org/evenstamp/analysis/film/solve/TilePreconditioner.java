package org.evenstamp.analysis.film.solve;

import java.util.Arrays;
import org.evenstamp.analysis.film.stamp.StampCompliance;
import org.evenstamp.analysis.numeric.SpectralFilter;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.evenstamp.shared.grid.TileGrid;

/**
 * An approximate inverse of {@code G + C + Δt L}: {@code W N⁻ᵀ F⁻¹[f] F N⁻¹ W + (1 - W²)/D}.
 *
 * <p>The stamp's G is plain in waves, the film's C and Δt L in tiles. N is the {@link FlowFactor} of {@code α + g0 + Δt L},
 * with g0 the compliance of a stiff tile. The Fourier filter {@code f = (α + g0 + Δt M k²)/(Ĝ + g0 + Δt M k²)} with the
 * mean flow M makes the product exact where the flow is that mean; elsewhere the long waves still feel the stamp alone
 * and the short ones the film's own flow, however much it differs from tile to tile. α is in proportion to the small flows (their harmonic mean), so that N
 * couples few tiles and is nearly exact. Tiles that yield more than the stamp does on a
 * middle scale are left to their own compliance D by the weight W.
 */
final class TilePreconditioner {
    // Multiple of the stamp's mean compliance that is stiff beside a tile in any case; fewest iterations in trials.
    private static final double SMOOTH = 3;
    // Waves along the map whose compliance tells long from short; fewest iterations in trials on 128² to 512² tiles.
    private static final int LONG_WAVES = 3;
    // Share of the harmonic mean flow that α is at least: less suits strong flows, more suits even ones.
    private static final double OF_SMALL_FLOWS = 1 / 3.0;

    private final int size;
    private final ThreadTeam team;
    private final SpectralFilter filter;
    private final FlowFactor factor;
    private final double[] compliance;
    private final double[] laplace;
    private final double meanCompliance;
    private final double middleCompliance;
    private final double[] symbol;
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
    private double shift;
    private final ThreadTeam.Task symbolTask = this::symbol;
    private final ThreadTeam.Task splitTask = this::split;
    private final ThreadTeam.Task beforeTask = this::before;
    private final ThreadTeam.Task afterTask = this::after;
    private final double[] work;

    TilePreconditioner(StampCompliance stamp, TileGrid grid, ThreadTeam team) {
        size = grid.size();
        this.team = team;
        filter = new SpectralFilter(grid.columns(), grid.rows(), team);
        factor = new FlowFactor(grid, team);
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
        double alongX = half > LONG_WAVES ? compliance[LONG_WAVES * rows] : 0;
        double alongY = rows > 2 * LONG_WAVES ? compliance[LONG_WAVES] : 0;
        middleCompliance = Math.max(SMOOTH * meanCompliance, Math.sqrt(meanCompliance * Math.max(alongX, alongY)));
        symbol = new double[compliance.length];
        weight = new double[size];
        local = new double[size];
        work = new double[size];
    }

    /**
     * Prepares for a Newton step.
     *
     * @param yield a tile's own compliance C, in m/Pa
     * @param filmFlow the film's Δt L
     * @param active tiles whose pressure is unknown
     */
    void prepare(double[] yield, TileFlow filmFlow, boolean[] active) {
        this.yield = yield;
        this.flow = filmFlow.diagonal;
        this.active = active;
        int samples = 0;
        int stride = Math.max(1, size / sample.length);
        double flowSum = 0;
        double resistance = 0;
        int flowCount = 0;
        for (int i = 0; i < size; i++) {
            if (active[i]) {
                if (i % stride == 0 && samples < sample.length) {
                    sample[samples++] = yield[i];
                }
                if (flow[i] > 0) {
                    flowSum += flow[i];
                    resistance += 1 / flow[i];
                    flowCount++;
                }
            }
        }
        Arrays.sort(sample, 0, samples);
        least = samples == 0 ? meanCompliance : sample[samples / 10];
        perLaplace = flowCount == 0 ? 0 : flowSum / flowCount / 4;
        double small = flowCount == 0 ? 0 : flowCount / resistance / 4;
        shift = Math.max(middleCompliance, OF_SMALL_FLOWS * small) + least;
        if (!(shift > 0)) {
            least = Double.MIN_NORMAL;
            shift = least;
        }
        team.run(symbolTask, symbol.length);
        if (compliance[0] == 0 && symbol.length > 1) {
            // The uniform pressure is held by the force; any finite value serves.
            symbol[0] = symbol[1];
        }
        team.run(splitTask, size);
        factor.prepare(shift, filmFlow, weight);
    }

    private void symbol(int from, int to, int member) {
        for (int k = from; k < to; k++) {
            double flows = perLaplace * laplace[k];
            symbol[k] = (shift + flows) / (compliance[k] + least + flows);
        }
    }

    private void split(int from, int to, int member) {
        for (int i = from; i < to; i++) {
            if (active[i]) {
                double w2 = Math.min(1, (middleCompliance + least) / (meanCompliance + yield[i]));
                weight[i] = Math.sqrt(w2);
                local[i] = (1 - w2) / (meanCompliance + yield[i] + flow[i]);
            } else {
                weight[i] = 0;
                local[i] = 0;
            }
        }
    }

    void apply(double[] from, double[] to) {
        in = from;
        out = to;
        team.run(beforeTask, factor.strips());
        filter.apply(work, symbol, work);
        team.run(afterTask, factor.strips());
    }

    private void before(int from, int to, int member) {
        factor.solve(in, work, from, to);
    }

    private void after(int from, int to, int member) {
        factor.solveTransposed(work, local, in, out, from, to);
    }
}
