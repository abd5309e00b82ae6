package org.evenstamp.engine.calibrate;

import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.grid.TileGrid;

/** Reads a field between the centres of its tiles. */
public final class PlaceValue {
    private PlaceValue() {}

    /**
     * Returns a field's value at a place, linear between the four tile centres around it; where one of these has no value, that of
     * the tile itself. NaN outside the tiles and in a tile without value.
     */
    public static double at(Field field, double xMetres, double yMetres) {
        TileGrid grid = field.grid();
        double column = (xMetres - grid.originXMetres()) / grid.pitchMetres() - 0.5;
        double row = (yMetres - grid.originYMetres()) / grid.pitchMetres() - 0.5;
        int own = (int) Math.floor(column + 0.5);
        int ownRow = (int) Math.floor(row + 0.5);
        if (own < 0 || ownRow < 0 || own >= grid.columns() || ownRow >= grid.rows()) {
            return Double.NaN;
        }
        int left = Math.max(0, Math.min((int) Math.floor(column), grid.columns() - 2));
        int low = Math.max(0, Math.min((int) Math.floor(row), grid.rows() - 2));
        double a = Math.max(0, Math.min(1, column - left));
        double b = Math.max(0, Math.min(1, row - low));
        double sum = 0;
        for (int dy = 0; dy < 2; dy++) {
            for (int dx = 0; dx < 2; dx++) {
                double weight = (dx == 0 ? 1 - a : a) * (dy == 0 ? 1 - b : b);
                int at = grid.index(Math.min(left + dx, grid.columns() - 1), Math.min(low + dy, grid.rows() - 1));
                if (weight > 0 && !field.known(at)) {
                    int tile = grid.index(own, ownRow);
                    return field.known(tile) ? field.at(tile) : Double.NaN;
                }
                sum += weight > 0 ? weight * field.at(at) : 0;
            }
        }
        return sum;
    }
}
