package org.evenstamp.analysis.drops;

import java.util.Arrays;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.progress.Stage;

/**
 * The film that dispensed drops make: every drop spreads until it meets its neighbours.
 *
 * <p>Rule (an assumption of this tool, no source): a drop covers the places that are nearer to it than to any other drop, its
 * Voronoi cell, evenly, but nothing that is more than {@value #REACH} mean drop spacings away from it along x or y; what no drop
 * covers stays dry. It holds for drops of about one size. Volume is kept: the tiles hold what the drops on the stamp hold, to
 * rounding; a tile that reaches over the stamp's rim has the film of its part on the stamp. Drops at one place are one drop.
 * Immutable.
 */
public final class DispensedFilm {
    /** How far a drop spreads at most, in mean drop spacings. */
    public static final int REACH = 5;

    private final double[] film;
    private final double spacing;
    private final double cubicMetres;
    private final int outside;
    private final int firstOutside;

    private DispensedFilm(double[] film, double spacing, double cubicMetres, int outside, int firstOutside) {
        this.film = film;
        this.spacing = spacing;
        this.cubicMetres = cubicMetres;
        this.outside = outside;
        this.firstOutside = firstOutside;
    }

    /**
     * Spreads drops over tiles.
     *
     * @param x places in m, as many as there are drops
     * @param y places in m
     * @param cubicMetres volumes, positive
     * @param grid the tiles, from the lower left corner of the stamp
     * @param width extent of the stamp along x in m, which ends in the last column
     * @param height extent of the stamp along y in m, which ends in the last row
     * @param stage counts drops
     */
    public static DispensedFilm of(
            double[] x, double[] y, double[] cubicMetres, TileGrid grid, double width, double height, Stage stage) {
        Integer[] order = new Integer[x.length];
        int inside = 0;
        int firstOutside = -1;
        for (int i = 0; i < x.length; i++) {
            double u = x[i] - grid.originXMetres();
            double v = y[i] - grid.originYMetres();
            if (u >= 0 && u <= width && v >= 0 && v <= height) {
                order[inside++] = i;
            } else if (firstOutside < 0) {
                firstOutside = i;
            }
        }
        Arrays.sort(order, 0, inside, (i, j) -> {
            int byY = Double.compare(y[i], y[j]);
            return byY != 0 ? byY : Double.compare(x[i], x[j]);
        });
        double[] u = new double[inside];
        double[] v = new double[inside];
        double[] volume = new double[inside];
        int count = 0;
        double sum = 0;
        for (int n = 0; n < inside; n++) {
            int i = order[n];
            boolean same = count > 0
                    && x[i] - grid.originXMetres() == u[count - 1]
                    && y[i] - grid.originYMetres() == v[count - 1];
            if (!same) {
                u[count] = x[i] - grid.originXMetres();
                v[count] = y[i] - grid.originYMetres();
                count++;
            }
            volume[count - 1] += cubicMetres[i];
            sum += cubicMetres[i];
        }
        double spacing = count == 0 ? 0 : Math.sqrt(width * height / count);
        double[] film = new double[grid.size()];
        if (count > 0) {
            Neighbours neighbours = new Neighbours(Arrays.copyOf(u, count), Arrays.copyOf(v, count));
            Cell cell = new Cell(grid, width, height);
            for (int n = 0; n < count; n++) {
                cell.open(u[n], v[n], REACH * spacing);
                neighbours.cut(n, cell);
                cell.pour(volume[n], film);
                stage.advance(1);
            }
        }
        return new DispensedFilm(film, spacing, sum, x.length - inside, firstOutside);
    }

    /** Returns the film's thickness by tile, in m, 0 where it stays dry. */
    public double[] metres() {
        return film.clone();
    }

    /** Returns the mean spacing of the drops inside: the root of the stamp's area over their number, in m; 0 without drops. */
    public double spacingMetres() {
        return spacing;
    }

    /** Returns the volume of the drops inside, in m³. */
    public double cubicMetres() {
        return cubicMetres;
    }

    /** Returns how many drops lie outside the stamp; they are left out. */
    public int outside() {
        return outside;
    }

    /** Returns the index of the first drop outside the stamp, -1 when there is none. */
    public int firstOutside() {
        return firstOutside;
    }

    /** Drops in square boxes, about one drop a box. */
    private static final class Neighbours {
        private final double[] x;
        private final double[] y;
        private final double left;
        private final double bottom;
        private final double side;
        private final int columns;
        private final int rows;
        private final int[] first;
        private final int[] drops;

        Neighbours(double[] x, double[] y) {
            this.x = x;
            this.y = y;
            left = Arrays.stream(x).min().orElseThrow();
            bottom = Arrays.stream(y).min().orElseThrow();
            double width = Arrays.stream(x).max().orElseThrow() - left;
            double height = Arrays.stream(y).max().orElseThrow() - bottom;
            double longer = Math.max(width, height);
            side = longer == 0 ? 1 : Math.max(Math.sqrt(width * height / x.length), longer / x.length);
            columns = 1 + (int) (width / side);
            rows = 1 + (int) (height / side);
            first = new int[columns * rows + 1];
            drops = new int[x.length];
            for (int i = 0; i < x.length; i++) {
                first[box(i) + 1]++;
            }
            for (int b = 0; b < columns * rows; b++) {
                first[b + 1] += first[b];
            }
            int[] next = first.clone();
            for (int i = 0; i < x.length; i++) {
                drops[next[box(i)]++] = i;
            }
        }

        private int column(int drop) {
            return Math.min(columns - 1, (int) ((x[drop] - left) / side));
        }

        private int row(int drop) {
            return Math.min(rows - 1, (int) ((y[drop] - bottom) / side));
        }

        private int box(int drop) {
            return row(drop) * columns + column(drop);
        }

        /** Takes away from a drop's cell what is nearer to others: boxes ring by ring, until none can matter. */
        void cut(int drop, Cell cell) {
            int column = column(drop);
            int row = row(drop);
            for (int ring = 0; ring <= Math.max(columns, rows); ring++) {
                if ((ring - 1) * side > 2 * cell.radius()) {
                    return;
                }
                for (int r = Math.max(0, row - ring); r <= Math.min(rows - 1, row + ring); r++) {
                    int step = Math.abs(r - row) == ring ? 1 : Math.max(1, 2 * ring);
                    for (int c = column - ring; c <= column + ring; c += step) {
                        if (c >= 0 && c < columns) {
                            cut(drop, r * columns + c, cell);
                        }
                    }
                }
            }
        }

        private void cut(int drop, int box, Cell cell) {
            for (int n = first[box]; n < first[box + 1]; n++) {
                int other = drops[n];
                if (other != drop) {
                    cell.leaveTo(x[other] - x[drop], y[other] - y[drop]);
                }
            }
        }
    }

    /** The convex cell of one drop, in coordinates from the drop. */
    private static final class Cell {
        private final TileGrid grid;
        private final double width;
        private final double height;
        private double[] x = new double[64];
        private double[] y = new double[64];
        private double[] nextX = new double[64];
        private double[] nextY = new double[64];
        private int corners;
        private double squaredRadius;
        private double leastX;
        private double mostX;
        private double leastY;
        private double mostY;
        private double dropX;
        private double dropY;

        Cell(TileGrid grid, double width, double height) {
            this.grid = grid;
            this.width = width;
            this.height = height;
        }

        /** Starts with what the drop can reach on the stamp. */
        void open(double atX, double atY, double reach) {
            dropX = atX;
            dropY = atY;
            double left = Math.max(-reach, -atX);
            double right = Math.min(reach, width - atX);
            double bottom = Math.max(-reach, -atY);
            double top = Math.min(reach, height - atY);
            corners = 4;
            x[0] = left;
            y[0] = bottom;
            x[1] = right;
            y[1] = bottom;
            x[2] = right;
            y[2] = top;
            x[3] = left;
            y[3] = top;
            measure();
        }

        private void measure() {
            squaredRadius = 0;
            leastX = 0; // the drop itself is always in its cell
            mostX = 0;
            leastY = 0;
            mostY = 0;
            for (int i = 0; i < corners; i++) {
                leastX = Math.min(leastX, x[i]);
                mostX = Math.max(mostX, x[i]);
                leastY = Math.min(leastY, y[i]);
                mostY = Math.max(mostY, y[i]);
                squaredRadius = Math.max(squaredRadius, x[i] * x[i] + y[i] * y[i]);
            }
        }

        double radius() {
            return Math.sqrt(squaredRadius);
        }

        /** Leaves what is nearer to another drop, which lies at this offset. */
        void leaveTo(double dx, double dy) {
            double squared = dx * dx + dy * dy;
            if (squared < 4 * squaredRadius && keep(dx, dy, squared / 2)) {
                measure();
            }
        }

        /** Keeps where {@code a x + b y <= c}; returns whether that takes anything away. */
        private boolean keep(double a, double b, double c) {
            int kept = 0;
            boolean changed = false;
            if (nextX.length < corners + 2) {
                nextX = new double[2 * corners + 2];
                nextY = new double[2 * corners + 2];
            }
            for (int i = 0; i < corners; i++) {
                int j = i + 1 < corners ? i + 1 : 0;
                double here = a * x[i] + b * y[i] - c;
                double there = a * x[j] + b * y[j] - c;
                if (here <= 0) {
                    nextX[kept] = x[i];
                    nextY[kept++] = y[i];
                } else {
                    changed = true;
                }
                if ((here < 0 && there > 0) || (here > 0 && there < 0)) {
                    double t = here / (here - there);
                    nextX[kept] = x[i] + t * (x[j] - x[i]);
                    nextY[kept++] = y[i] + t * (y[j] - y[i]);
                }
            }
            if (changed) {
                double[] swap = x;
                x = nextX;
                nextX = swap;
                swap = y;
                y = nextY;
                nextY = swap;
                corners = kept;
            }
            return changed;
        }

        /** Puts a volume evenly over the cell into tiles; where the cell has no area, into the tile of the drop. */
        void pour(double volume, double[] film) {
            double pitch = grid.pitchMetres();
            int left = tile(dropX + leastX, grid.columns());
            int right = tile(dropX + mostX, grid.columns());
            int bottom = tile(dropY + leastY, grid.rows());
            int top = tile(dropY + mostY, grid.rows());
            double[] wholeX = Arrays.copyOf(x, corners);
            double[] wholeY = Arrays.copyOf(y, corners);
            double[] shares = new double[(right - left + 1) * (top - bottom + 1)];
            double sum = 0;
            for (int column = left, n = 0; column <= right; column++) {
                set(wholeX, wholeY);
                keep(1, 0, (column + 1) * pitch - dropX);
                keep(-1, 0, dropX - column * pitch);
                double[] stripX = Arrays.copyOf(x, corners);
                double[] stripY = Arrays.copyOf(y, corners);
                for (int row = bottom; row <= top; row++, n++) {
                    set(stripX, stripY);
                    keep(0, 1, (row + 1) * pitch - dropY);
                    keep(0, -1, dropY - row * pitch);
                    shares[n] = Math.max(0, area(x, y, corners));
                    sum += shares[n];
                }
            }
            if (!(sum > 0)) {
                int column = tile(dropX, grid.columns());
                int row = tile(dropY, grid.rows());
                film[grid.index(column, row)] += volume / areaOnStamp(column, row);
                return;
            }
            for (int column = left, n = 0; column <= right; column++) {
                for (int row = bottom; row <= top; row++, n++) {
                    film[grid.index(column, row)] += volume * (shares[n] / sum) / areaOnStamp(column, row);
                }
            }
        }

        private double areaOnStamp(int column, int row) {
            double pitch = grid.pitchMetres();
            return Math.min(pitch, width - column * pitch) * Math.min(pitch, height - row * pitch);
        }

        private void set(double[] fromX, double[] fromY) {
            corners = fromX.length;
            if (x.length < corners) {
                x = new double[corners];
                y = new double[corners];
            }
            System.arraycopy(fromX, 0, x, 0, corners);
            System.arraycopy(fromY, 0, y, 0, corners);
        }

        private int tile(double along, int tiles) {
            return Math.max(0, Math.min(tiles - 1, (int) Math.floor(along / grid.pitchMetres())));
        }

        private static double area(double[] x, double[] y, int corners) {
            double twice = 0;
            for (int i = 0; i < corners; i++) {
                int j = i + 1 < corners ? i + 1 : 0;
                twice += x[i] * y[j] - x[j] * y[i];
            }
            return twice / 2;
        }
    }
}
