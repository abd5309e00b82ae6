package org.evenstamp.geometry.dummy;

import java.util.List;
import java.util.Locale;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;

/** What was asked and what was placed, tile by tile in the order of {@link TileGrid}. */
public final class Placement {
    private static final String ORIGIN = "dummies";

    private final TileGrid grid;
    private final double[] asked;
    private final double[] placed;
    private final double[] capacity;
    private final long dummies;
    private final double dummyArea;

    Placement(TileGrid grid, double[] asked, double[] placed, double[] capacity, long dummies, long dummyArea) {
        this.grid = grid;
        this.asked = asked;
        this.placed = placed;
        this.capacity = capacity;
        this.dummies = dummies;
        this.dummyArea = Steps.squareMetres(dummyArea);
    }

    /** Returns the area that was asked of every tile, in square metres. */
    public double[] askedSquareMetres() {
        return asked.clone();
    }

    /** Returns the dummy area that was placed in every tile, in square metres: the exact area of the polygons. */
    public double[] placedSquareMetres() {
        return placed.clone();
    }

    /** Returns how many dummies were placed. */
    public long dummies() {
        return dummies;
    }

    /** Returns whether more was asked of a tile than it can take, by half a dummy or more. */
    public boolean isShort(int tile) {
        return asked[tile] - capacity[tile] >= dummyArea / 2;
    }

    /** Returns one warning when tiles could not be served, with the worst of them as its place; else none. */
    public List<Finding.Warning> warnings() {
        int tiles = 0;
        int worst = 0;
        double missing = 0;
        for (int tile = 0; tile < asked.length; tile++) {
            if (isShort(tile)) {
                tiles++;
                missing += asked[tile] - placed[tile];
                worst = asked[tile] - placed[tile] > asked[worst] - placed[worst] ? tile : worst;
            }
        }
        if (tiles == 0) {
            return List.of();
        }
        String message = String.format(
                Locale.ROOT,
                "%d tiles have too few free sites for the dummy area asked of them: %.4g um^2 are missing in all, %.4g of"
                        + " %.4g um^2 in the worst",
                tiles,
                missing * 1e12,
                (asked[worst] - placed[worst]) * 1e12,
                asked[worst] * 1e12);
        return List.of(new Finding.Warning(ORIGIN, "dummies.not-served", message, Place.Tile.of(grid, worst)));
    }
}
