package org.evenstamp.shared.field;

import java.util.Arrays;
import org.evenstamp.shared.grid.TileGrid;

/**
 * One value a tile, in SI, read-only, indexed as {@link TileGrid} says.
 *
 * <p>A tile may have no value, where the question has no answer there (the fill time of a tile that never fills). Such a
 * tile says so by {@link #known}; its stored number is 0. Every known value is finite.
 */
public final class Field {
    private final FieldName name;
    private final TileGrid grid;
    private final double[] values;

    private Field(FieldName name, TileGrid grid, double[] values) {
        this.name = name;
        this.grid = grid;
        this.values = values;
    }

    /**
     * Makes a field from a copy of the values. A {@link Double#NaN} in {@code values} means "no value in this tile".
     *
     * @param values SI, length {@code grid.size()}
     * @throws IllegalArgumentException on a wrong length or an infinite value
     */
    public static Field of(FieldName name, TileGrid grid, double[] values) {
        if (values.length != grid.size()) {
            throw new IllegalArgumentException(
                    name.id() + " has " + values.length + " values, the grid " + grid.size() + " tiles");
        }
        for (int i = 0; i < values.length; i++) {
            if (Double.isInfinite(values[i])) {
                throw new IllegalArgumentException(
                        name.id() + " is infinite in column " + grid.column(i) + ", row " + grid.row(i));
            }
        }
        return new Field(name, grid, values.clone());
    }

    /** Returns id, unit and meaning. */
    public FieldName name() {
        return name;
    }

    /** Returns the grid. */
    public TileGrid grid() {
        return grid;
    }

    /** Returns whether the tile with this index has a value. */
    public boolean known(int index) {
        return !Double.isNaN(values[index]);
    }

    /** Returns the SI value at an index, 0 where there is none. */
    public double at(int index) {
        double value = values[index];
        return Double.isNaN(value) ? 0 : value;
    }

    /** Returns the SI value of a tile, 0 where there is none. */
    public double at(int column, int row) {
        return at(grid.index(column, row));
    }

    /** Returns the SI values as a new array, 0 where there is none. */
    public double[] toArray() {
        double[] copy = values.clone();
        for (int i = 0; i < copy.length; i++) {
            if (Double.isNaN(copy[i])) {
                copy[i] = 0;
            }
        }
        return copy;
    }

    /** Returns the number of tiles with a value. */
    public int knownCount() {
        int count = 0;
        for (double value : values) {
            if (!Double.isNaN(value)) {
                count++;
            }
        }
        return count;
    }

    /** Returns the known SI values in ascending order. */
    public double[] sorted() {
        return Arrays.stream(values).filter(v -> !Double.isNaN(v)).sorted().toArray();
    }
}
