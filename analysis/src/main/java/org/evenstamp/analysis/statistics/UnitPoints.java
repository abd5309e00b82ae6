package org.evenstamp.analysis.statistics;

/** Points in the unit cube. A point depends on its number alone, so that any of them can be computed anywhere. */
public interface UnitPoints {
    /** Returns the number of coordinates of a point. */
    int dimensions();

    /**
     * Returns a point.
     *
     * @param index its number, from 0
     * @return coordinates in the open interval (0, 1)
     */
    double[] point(int index);
}
