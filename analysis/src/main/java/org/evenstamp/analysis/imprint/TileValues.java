package org.evenstamp.analysis.imprint;

import java.util.Arrays;
import java.util.OptionalInt;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.grid.TileGrid;

/** A field while it is being computed: every tile without a value until one is set. Not for use by several threads. */
public final class TileValues {
    private final FieldName name;
    private final TileGrid grid;
    private final double[] values;

    /** Makes a field without values. */
    public TileValues(FieldName name, TileGrid grid) {
        this.name = name;
        this.grid = grid;
        this.values = new double[grid.size()];
        Arrays.fill(values, Double.NaN);
    }

    /** Sets the SI value of a tile. */
    public void set(int tile, double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(name.id() + " is " + value + " in tile " + tile);
        }
        values[tile] = value;
    }

    /** Returns the SI value of a tile that was set. */
    public double at(int tile) {
        return values[tile];
    }

    /** Returns the first tile with the largest value, if any tile has one. */
    public OptionalInt worst() {
        int worst = -1;
        for (int i = 0; i < values.length; i++) {
            if (!Double.isNaN(values[i]) && (worst < 0 || values[i] > values[worst])) {
                worst = i;
            }
        }
        return worst < 0 ? OptionalInt.empty() : OptionalInt.of(worst);
    }

    /** Returns how many tiles have a value above a bound. */
    public int countAbove(double boundSi) {
        return (int) Arrays.stream(values).filter(v -> v > boundSi).count();
    }

    /** Returns the finished field. */
    public Field field() {
        return Field.of(name, grid, values);
    }
}
