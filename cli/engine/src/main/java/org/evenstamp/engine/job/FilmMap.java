package org.evenstamp.engine.job;

import java.nio.file.Path;
import java.util.Arrays;
import org.evenstamp.geometry.scatter.PointValues;
import org.jspecify.annotations.Nullable;

/** The film of a job, told place by place in a file instead of by one thickness. */
public sealed interface FilmMap {
    /** Returns the file. */
    Path file();

    /** Returns how the job names it. */
    String asWritten();

    /** Returns about how thick the film is on average, in m, before the tiles are known; positive. */
    double roughlyMetres();

    /**
     * Thickness measured at points.
     *
     * @param file the file
     * @param asWritten how the job names it
     * @param points the points, thickness in m
     * @param roughlyMetres mean of the points
     */
    record Measured(Path file, String asWritten, PointValues points, double roughlyMetres) implements FilmMap {}

    /**
     * Dispensed drops. Of row {@code i} of the file the place is {@code x[i]}, {@code y[i]} and the volume that evaporation
     * leaves {@code cubicMetres[i]}; it stands on line {@code lines[i]}.
     */
    record Dispensed(
            Path file,
            String asWritten,
            @SuppressWarnings("ArrayRecordComponent") double[] x,
            @SuppressWarnings("ArrayRecordComponent") double[] y,
            @SuppressWarnings("ArrayRecordComponent") double[] cubicMetres,
            @SuppressWarnings("ArrayRecordComponent") int[] lines)
            implements FilmMap {
        @Override
        public boolean equals(@Nullable Object other) {
            return other instanceof Dispensed that
                    && file.equals(that.file)
                    && asWritten.equals(that.asWritten)
                    && Arrays.equals(x, that.x)
                    && Arrays.equals(y, that.y)
                    && Arrays.equals(cubicMetres, that.cubicMetres)
                    && Arrays.equals(lines, that.lines);
        }

        @Override
        public int hashCode() {
            return Arrays.hashCode(cubicMetres);
        }

        @Override
        public double roughlyMetres() {
            double width =
                    Arrays.stream(x).max().orElse(1) - Arrays.stream(x).min().orElse(0);
            double height =
                    Arrays.stream(y).max().orElse(1) - Arrays.stream(y).min().orElse(0);
            double area = Math.max(width * height, Double.MIN_NORMAL);
            return Math.min(1e-3, Math.max(1e-9, Arrays.stream(cubicMetres).sum() / area));
        }
    }
}
