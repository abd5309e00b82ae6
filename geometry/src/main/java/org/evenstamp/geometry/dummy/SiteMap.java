package org.evenstamp.geometry.dummy;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;

/**
 * Two bits for every site in some rows of a lattice: whether it is blocked, and whether it is inside a pad. Bits are only ever
 * set, by any number of threads: what is set in the end does not depend on them.
 */
final class SiteMap {
    private static final VarHandle WORD = MethodHandles.arrayElementVarHandle(long[].class);

    final Lattice lattice;
    final int firstRow;
    final int endRow;

    private final int wordsPerRow;
    private final long[] blocked;
    private final long[] pad;

    SiteMap(Lattice lattice, int firstRow, int endRow) {
        this.lattice = lattice;
        this.firstRow = firstRow;
        this.endRow = endRow;
        wordsPerRow = (lattice.columns + 63) >> 6;
        int words = Math.multiplyExact(wordsPerRow, Math.max(0, endRow - firstRow));
        blocked = new long[words];
        pad = new long[words];
    }

    /** Blocks every site whose dummy would come nearer to an edge than {@code spacing}; ends in steps. */
    void blockNear(double x0, double y0, double x1, double y1, double spacing) {
        Template template = lattice.template;
        double reachX = template.halfX + spacing;
        double reachY = template.halfY + spacing;
        int from = Math.max(firstRow, lattice.rowFrom(Math.min(y0, y1) - reachY));
        int end = Math.min(endRow, lattice.rowFrom(Math.nextUp(Math.max(y0, y1) + reachY)));
        double slope = (x1 - x0) / (y1 - y0);
        for (int row = from; row < end; row++) {
            if (!lattice.within(row)) {
                continue;
            }
            double y = lattice.y(row);
            double low = Math.min(x0, x1);
            double high = Math.max(x0, x1);
            if (Math.abs(y1 - y0) > 2 * reachY) {
                // Only the part of the edge as high as the row is.
                double a = x0 + slope * (y - reachY - y0);
                double b = x0 + slope * (y + reachY - y0);
                low = Math.max(low, Math.min(a, b) - 1);
                high = Math.min(high, Math.max(a, b) + 1);
            }
            int column = lattice.columnFrom(row, low - reachX);
            int endColumn = lattice.columnFrom(row, Math.nextUp(high + reachX));
            for (; column < endColumn; column++) {
                int word = word(row, column);
                long bit = 1L << column;
                if (((long) WORD.getOpaque(blocked, word) & bit) == 0) {
                    double x = lattice.x(row, column);
                    if (template.tooNear(x0 - x, y0 - y, x1 - x, y1 - y, spacing)) {
                        WORD.getAndBitwiseOr(blocked, word, bit);
                    }
                }
            }
        }
    }

    /** Sets the blocked bits of a stretch of columns. */
    void block(int row, int column, int endColumn) {
        set(blocked, row, column, endColumn);
    }

    /** Sets the pad bits of a stretch of columns. */
    void pad(int row, int column, int endColumn) {
        set(pad, row, column, endColumn);
    }

    private void set(long[] bits, int row, int column, int endColumn) {
        int at = column;
        while (at < endColumn) {
            int next = Math.min(endColumn, (at | 63) + 1);
            long mask = (-1L << at) & (-1L >>> -next);
            WORD.getAndBitwiseOr(bits, word(row, at), mask);
            at = next;
        }
    }

    private int word(int row, int column) {
        return (row - firstRow) * wordsPerRow + (column >> 6);
    }

    /** Ends the marking with what holds of sites inside and outside of pads; from now on {@link #free} answers. */
    void settle(boolean insideFree, boolean outsideFree) {
        for (int word = 0; word < blocked.length; word++) {
            blocked[word] |= (insideFree ? 0 : pad[word]) | (outsideFree ? 0 : ~pad[word]);
        }
    }

    /** Returns whether a dummy may stand on a site, of those marked here. */
    boolean free(int row, int column) {
        return (blocked[word(row, column)] >>> column & 1) == 0 && lattice.within(row, column);
    }

    /** Blocks the free sites of this map that come nearer than {@code gap} to a free site of the other one. */
    void blockBeside(SiteMap other, double gap) {
        Lattice theirs = other.lattice;
        double reachX = lattice.template.halfX + theirs.template.halfX + gap;
        double reachY = lattice.template.halfY + theirs.template.halfY + gap;
        for (int row = firstRow; row < endRow; row++) {
            double y = lattice.y(row);
            int from = Math.max(other.firstRow, theirs.rowFrom(y - reachY));
            int end = Math.min(other.endRow, theirs.rowFrom(y + reachY));
            for (int column = 0; column < lattice.columns; column++) {
                if (free(row, column)
                        && other.occupies(from, end, (double) lattice.x(row, column), y, reachX, this, gap)) {
                    blocked[word(row, column)] |= 1L << column;
                }
            }
        }
    }

    private boolean occupies(int from, int end, double x, double y, double reachX, SiteMap of, double gap) {
        for (int row = from; row < end; row++) {
            int endColumn = lattice.columnFrom(row, x + reachX);
            for (int column = lattice.columnFrom(row, x - reachX); column < endColumn; column++) {
                if (free(row, column)
                        && lattice.template.tooNear(
                                of.lattice.template, lattice.x(row, column) - x, lattice.y(row) - y, gap)) {
                    return true;
                }
            }
        }
        return false;
    }
}
