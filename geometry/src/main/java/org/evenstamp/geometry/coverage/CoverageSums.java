package org.evenstamp.geometry.coverage;

import java.io.DataInput;
import java.io.DataOutput;
import java.io.IOException;
import java.util.Arrays;
import java.util.function.IntUnaryOperator;
import org.evenstamp.geometry.layout.PackedPolygon;
import org.evenstamp.shared.grid.TileGrid;

/**
 * Covered area and edge length of every cell of a grid: feed polygons, then ask. Not for use by several threads; give each
 * its own and {@link #merge} them, which loses nothing.
 *
 * <p>Cells are those of {@link org.evenstamp.shared.grid.TileGrid}: column 0 left, row 0 lowest, index {@code row * columns
 * + column}. Geometry outside the grid is left out correctly, whatever part of it lies inside.
 *
 * <p>Validity: polygons that do not overlap themselves or each other; where they overlap, area and edges count as often as
 * they are fed. Error: below 1e-12 of a cell's area for every thousand edges in the cell. A cell may be covered at most {@value
 * #MOST_COVER} times and hold at most {@value #MOST_LENGTH} of its sides as edge length before the sums wrap; {@link #coarse}
 * sums tell whether that is so.
 */
public final class CoverageSums {
    /** How often a cell may be covered: half of what 63 bits hold. */
    public static final int MOST_COVER = 1 << 12;
    /** How many of its sides a cell may hold as edge length: half of what 63 bits hold. */
    public static final int MOST_LENGTH = 1 << 22;

    private static final int FINE = 50;
    /** Coarse sums hold 2^24 times as much. */
    private static final int COARSE = 26;

    private static final int COVER = 0;
    private static final int AREA = 1;
    private static final int LENGTH = 2;
    private static final int STRIDE = 3;

    private final int columns;
    /** Rows from this one on are summed; 0 but for part of a grid. */
    private final int firstRow;

    private final int rows;
    private double originX;
    private double originY;
    private double perPitch;
    /** One cell's area, or one cell's height, in fixed point. */
    private final double areaOne;
    /** One cell's side as edge length in fixed point. */
    private final double lengthOne;

    /**
     * Cover, area and length of each cell side by side, with one more column on the left for what lies left of the grid:
     * an edge touches one cache line a cell.
     */
    private final long[] sums;

    /**
     * Creates empty sums.
     *
     * @param columns cells along x, at least 1
     * @param rows cells along y, at least 1
     * @param originXMetres left end of the grid
     * @param originYMetres lower end of the grid
     * @param pitchMetres side of a cell, positive
     */
    public CoverageSums(int columns, int rows, double originXMetres, double originYMetres, double pitchMetres) {
        this(columns, 0, rows, originXMetres, originYMetres, pitchMetres, FINE);
    }

    private CoverageSums(
            int columns,
            int firstRow,
            int rows,
            double originXMetres,
            double originYMetres,
            double pitchMetres,
            int bits) {
        areaOne = Math.scalb(1.0, bits);
        lengthOne = Math.scalb(1.0, bits - 10);
        long length = STRIDE * (columns + 1L) * rows;
        if (columns < 1 || rows < 1 || length > Integer.MAX_VALUE - 8) {
            throw new IllegalArgumentException("no sums for " + columns + " x " + rows + " cells");
        }
        this.columns = columns;
        this.firstRow = firstRow;
        this.rows = rows;
        this.sums = new long[(int) length];
        place(originXMetres, originYMetres, pitchMetres);
    }

    /** Creates empty sums with an error of 1e-5 of a cell for every thousand edges, which wrap only at 16 million times as much. */
    public static CoverageSums coarse(TileGrid grid) {
        return new CoverageSums(
                grid.columns(), 0, grid.rows(), grid.originXMetres(), grid.originYMetres(), grid.pitchMetres(), COARSE);
    }

    /**
     * Creates empty sums of some rows of a grid, which are those of the whole grid bit for bit.
     *
     * @param firstRow first of the rows
     * @param endRow end of the rows
     */
    public static CoverageSums ofRows(TileGrid grid, int firstRow, int endRow) {
        return new CoverageSums(
                grid.columns(),
                firstRow,
                endRow - firstRow,
                grid.originXMetres(),
                grid.originYMetres(),
                grid.pitchMetres(),
                FINE);
    }

    /** Writes the sums. */
    void write(DataOutput out) throws IOException {
        for (long sum : sums) {
            out.writeLong(sum);
        }
    }

    /** Adds sums of some rows that were written. */
    void addRows(int from, int end, DataInput in) throws IOException {
        int stride = STRIDE * (columns + 1);
        for (int i = (from - firstRow) * stride; i < (end - firstRow) * stride; i++) {
            sums[i] += in.readLong();
        }
    }

    /** Forgets everything that was fed and moves the grid. */
    public void restart(double originXMetres, double originYMetres, double pitchMetres) {
        Arrays.fill(sums, 0);
        place(originXMetres, originYMetres, pitchMetres);
    }

    private void place(double originXMetres, double originYMetres, double pitchMetres) {
        if (!(pitchMetres > 0)) {
            throw new IllegalArgumentException("no cells with a side of " + pitchMetres + " m");
        }
        originX = originXMetres;
        originY = originYMetres;
        perPitch = 1 / pitchMetres;
    }

    /** Adds a polygon: its outline counts up, its holes down, however they turn. */
    public void add(PackedPolygon polygon) {
        add(polygon, 0, 0);
    }

    /** Adds a polygon shifted by so many metres. */
    public void add(PackedPolygon polygon, double shiftX, double shiftY) {
        double[] xy = polygon.xy;
        double dx = shiftX - originX;
        double dy = shiftY - originY;
        for (int ring = 0; ring < polygon.rings; ring++) {
            double turn = polygon.twiceSignedArea(ring);
            // An edge that climbs has the inside on its left when the ring turns counterclockwise, and what an edge
            // covers lies on its right: hence the minus.
            int sign = (turn > 0) == (ring == 0) ? -1 : 1;
            int start = polygon.ringStart(ring);
            int end = polygon.ringEnd[ring];
            double x0 = (xy[2 * end - 2] + dx) * perPitch;
            double y0 = (xy[2 * end - 1] + dy) * perPitch;
            for (int i = start; i < end; i++) {
                double x1 = (xy[2 * i] + dx) * perPitch;
                double y1 = (xy[2 * i + 1] + dy) * perPitch;
                edge(x0, y0, x1, y1, sign);
                x0 = x1;
                y0 = y1;
            }
        }
    }

    /** Adds a stretch of edge that bounds no area, metres. */
    public void addLength(double x0, double y0, double x1, double y1) {
        edge(
                (x0 - originX) * perPitch,
                (y0 - originY) * perPitch,
                (x1 - originX) * perPitch,
                (y1 - originY) * perPitch,
                0);
    }

    /** Edges run upwards here, whichever way they were drawn, so that two polygons' common edge gives the same terms twice. */
    private void edge(double x0, double y0, double x1, double y1, int sign) {
        if (y0 <= y1) {
            upward(x0, y0, x1, y1, sign);
        } else {
            upward(x1, y1, x0, y0, -sign);
        }
    }

    private void upward(double x0, double y0, double x1, double y1, int sign) {
        int endRow = firstRow + rows;
        if (y1 < firstRow || y0 >= endRow) {
            return;
        }
        int row0 = floor(y0);
        int row1 = floor(y1);
        if (row0 == row1) {
            piece(row0, x0, y0 - row0, x1, y1 - row0, sign);
            return;
        }
        double slope = (x1 - x0) / (y1 - y0);
        double low = Math.min(x0, x1);
        double high = Math.max(x0, x1);
        double x = x0;
        int row = row0;
        double y = y0;
        if (row0 < firstRow) {
            row = firstRow;
            y = firstRow;
            x = clamp(x0 + slope * (firstRow - y0), low, high);
        }
        int last = Math.min(row1, endRow - 1);
        for (; row <= last; row++) {
            boolean ends = row == row1;
            double nextX = ends ? x1 : clamp(x0 + slope * (row + 1 - y0), low, high);
            piece(row, x, y - row, nextX, ends ? y1 - row : 1, sign);
            x = nextX;
            y = row + 1;
        }
    }

    /** A stretch of edge within one row, climbing from {@code y0} to {@code y1}, both from 0 to 1 within the row. */
    private void piece(int row, double x0, double y0, double x1, double y1, int sign) {
        long from = (long) (y0 * areaOne);
        long to = (long) (y1 * areaOne);
        int base = STRIDE * (columns + 1) * (row - firstRow) + STRIDE;
        int column0 = floor(x0);
        int column1 = floor(x1);
        double width = x1 - x0;
        double height = y1 - y0;
        if (column0 == column1) {
            if (column0 >= 0 && column0 < columns) {
                double right = 1 - (0.5 * (x0 + x1) - column0);
                double length = Math.sqrt(width * width + height * height);
                deposit(base + STRIDE * column0, sign * (to - from), right, length);
            } else if (column0 < 0) {
                sums[base - STRIDE + COVER] += sign * (to - from);
            }
            return;
        }
        // Across columns, left to right: y runs from the left end's to the right end's.
        double left = Math.min(x0, x1);
        double rightEnd = Math.max(x0, x1);
        long yLeft = width > 0 ? from : to;
        long yRight = width > 0 ? to : from;
        double climb = (double) (yRight - yLeft) / (rightEnd - left);
        double lengthPerX = Math.sqrt(1 + (height / width) * (height / width));
        // Left to right, the edge climbs if width > 0; the sums want the climb along the edge's own direction.
        int along = width > 0 ? sign : -sign;
        double x = left;
        long y = yLeft;
        int column = column0 < column1 ? column0 : column1;
        if (column < 0) {
            long cut = rightEnd <= 0 ? yRight : yLeft + (long) (climb * (0 - left));
            sums[base - STRIDE + COVER] += along * (cut - yLeft);
            x = 0;
            y = cut;
            column = 0;
        }
        int lastColumn = column0 < column1 ? column1 : column0;
        int last = Math.min(lastColumn, columns - 1);
        for (; column <= last; column++) {
            boolean ends = column == lastColumn;
            double nextX = ends ? rightEnd : column + 1;
            long nextY = ends ? yRight : yLeft + (long) (climb * (nextX - left));
            deposit(
                    base + STRIDE * column,
                    along * (nextY - y),
                    1 - (0.5 * (x + nextX) - column),
                    lengthPerX * (nextX - x));
            x = nextX;
            y = nextY;
        }
    }

    private void deposit(int at, long cover, double right, double length) {
        sums[at + COVER] += cover;
        sums[at + AREA] += (long) Math.rint(cover * right);
        sums[at + LENGTH] += (long) Math.rint(length * lengthOne);
    }

    /**
     * Adds the sums of another part of the layout.
     *
     * @throws IllegalArgumentException when it is on another grid
     */
    public void merge(CoverageSums other) {
        if (other.columns != columns
                || other.rows != rows
                || other.firstRow != firstRow
                || other.originX != originX
                || other.originY != originY
                || other.perPitch != perPitch) {
            throw new IllegalArgumentException("sums of different grids cannot be added");
        }
        for (int i = 0; i < sums.length; i++) {
            sums[i] += other.sums[i];
        }
    }

    /** Returns covered area over cell area for every cell. */
    public double[] coverage() {
        double[] coverage = new double[columns * rows];
        coverageInto(coverage);
        return coverage;
    }

    /** Writes covered area over cell area into an array of {@code columns * rows}. */
    public void coverageInto(double[] coverage) {
        for (int row = 0; row < rows; row++) {
            int at = STRIDE * (columns + 1) * row;
            long cover = sums[at + COVER];
            for (int column = 0; column < columns; column++) {
                at += STRIDE;
                coverage[row * columns + column] = (cover + sums[at + AREA]) / areaOne;
                cover += sums[at + COVER];
            }
        }
    }

    /** Returns the edge length in every cell, in cell sides. */
    public double[] edgeLength() {
        double[] length = new double[columns * rows];
        for (int row = 0; row < rows; row++) {
            int at = STRIDE * (columns + 1) * row + STRIDE + LENGTH;
            for (int column = 0; column < columns; column++) {
                length[row * columns + column] = sums[at] / lengthOne;
                at += STRIDE;
            }
        }
        return length;
    }

    /**
     * Lets every cell hold what was summed in another one.
     *
     * @param from for every cell, by its index, the cell to take from
     */
    public void spread(IntUnaryOperator from) {
        long[] area = new long[columns * rows];
        long[] length = new long[columns * rows];
        for (int row = 0; row < rows; row++) {
            int at = STRIDE * (columns + 1) * row;
            long cover = sums[at + COVER];
            for (int column = 0; column < columns; column++) {
                at += STRIDE;
                area[row * columns + column] = cover + sums[at + AREA];
                length[row * columns + column] = sums[at + LENGTH];
                cover += sums[at + COVER];
            }
        }
        Arrays.fill(sums, 0);
        for (int row = 0; row < rows; row++) {
            for (int column = 0; column < columns; column++) {
                int at = STRIDE * ((columns + 1) * row + column + 1);
                int other = from.applyAsInt(row * columns + column);
                sums[at + AREA] = area[other];
                sums[at + LENGTH] = length[other];
            }
        }
    }

    private static double clamp(double value, double low, double high) {
        return Math.max(low, Math.min(high, value));
    }

    /** Floor as far as the grid needs it: -1 for everything below 0, and saturated far above the grid. */
    private static int floor(double value) {
        return value < 0 ? -1 : (int) value;
    }
}
