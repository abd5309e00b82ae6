package org.evenstamp.analysis.film.solve;

/**
 * How cavities and protrusions of a tile share a film's flow along the tile. With the cavity share φ, the gap h under
 * protrusions and h + d under cavities, the flow per pressure gradient is {@code M = H/(12 η)}, H a mean of the cubed gaps.
 */
public enum Mobility {
    /**
     * The geometric mean of both bounds: exact for a 50:50 pattern that looks alike in both phases (A.M. Dykhne, Sov.
     * Phys. JETP 32 (1971) 63, quoted from memory), an estimate otherwise.
     */
    MEAN,
    /** Side by side, as along the lines of a grating: the upper bound. */
    PARALLEL,
    /** One after the other, as across the lines: the lower bound. */
    SERIES;

    /** Returns the mean cubed gap in m³ for a cavity share, a gap and a cavity depth; both gaps positive. */
    public double cubedGap(double share, double gap, double depth) {
        double low = gap * gap * gap;
        if (share <= 0) {
            return low;
        }
        double deep = gap + depth;
        double high = deep * deep * deep;
        if (share >= 1) {
            return high;
        }
        double parallel = share * high + (1 - share) * low;
        if (this == PARALLEL) {
            return parallel;
        }
        double series = 1 / (share / high + (1 - share) / low);
        return this == SERIES ? series : Math.sqrt(parallel * series);
    }
}
