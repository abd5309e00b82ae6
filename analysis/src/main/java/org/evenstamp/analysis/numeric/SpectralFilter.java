package org.evenstamp.analysis.numeric;

import org.jspecify.annotations.Nullable;

/**
 * Multiplies a real periodic map by a real symbol, even in both wavenumbers: {@code out = F⁻¹[symbol · F[in]]}.
 *
 * <p>Conventions. Sign: the forward transform is {@code F[x](k) = Σ x[r] exp(-2πi k r/n)} along each side, the way back has the
 * opposite sign. Normalisation: forward none, back {@code 1/n} along each side, so that a symbol of ones changes nothing and a
 * symbol is the plain factor on a wave. The symbol of a kernel ({@link #symbolOf}) is its forward transform, without a factor:
 * the sum of the kernel at wavenumber zero.
 *
 * <p>Any size works and nothing is allocated in use, but for sides with a prime factor above 5, which are also slower.
 *
 * <p>A symbol is an array of {@link #symbolSize()} values, the one of wavenumber numbers (kx, ky) at {@code kx * rows +
 * ky} with {@code 0 <= kx <= columns / 2} and ky counted cyclically ({@code ky > rows / 2} stands for {@code ky - rows}).
 */
public final class SpectralFilter {
    private final int columns;
    private final int rows;
    private final ThreadTeam team;
    private final @Nullable StripFilter strips;
    private final @Nullable LineFilter lines;

    /** Plans transforms of maps with this many columns and rows, to be run by the team. */
    public SpectralFilter(int columns, int rows, ThreadTeam team) {
        this.columns = columns;
        this.rows = rows;
        this.team = team;
        boolean smooth = ColumnFourier.serves(columns) && ColumnFourier.serves(rows);
        strips = smooth ? new StripFilter(columns, rows, team) : null;
        lines = smooth ? null : new LineFilter(columns, rows, team);
    }

    /** Returns the length of a symbol. */
    public int symbolSize() {
        return (columns / 2 + 1) * rows;
    }

    /** Returns the signed wavenumber number along y of index {@code ky}. */
    public static int signed(int index, int count) {
        return index <= count / 2 ? index : index - count;
    }

    /**
     * Filters a map.
     *
     * @param in length {@code columns * rows}
     * @param by the symbol
     * @param out may be {@code in}
     * @throws IllegalArgumentException when an array has another length
     */
    public void apply(double[] in, double[] by, double[] out) {
        requireLength("the map", in, columns * rows);
        requireLength("the symbol", by, symbolSize());
        requireLength("the filtered map", out, columns * rows);
        if (strips != null) {
            strips.apply(in, by, out);
        } else if (lines != null) {
            lines.apply(in, by, out);
        }
    }

    /**
     * Returns the symbol of the cyclic convolution with a kernel that is even in both directions.
     *
     * @param kernel kernel value at the offset (column, row), cyclic, length {@code columns * rows}
     * @throws IllegalArgumentException when it has another length
     */
    public double[] symbolOf(double[] kernel) {
        requireLength("the kernel", kernel, columns * rows);
        return new LineFilter(columns, rows, team).symbolOf(kernel);
    }

    private static void requireLength(String what, double[] values, int wanted) {
        if (values.length != wanted) {
            throw new IllegalArgumentException(what + " has " + values.length + " values, not " + wanted);
        }
    }
}
