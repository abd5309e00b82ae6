package org.evenstamp.shared.field;

import org.evenstamp.shared.grid.TileGrid;

/**
 * A part of the stamp that matters, known by how much of every tile it fills. Numbers over it count every tile by that share.
 * Immutable.
 */
public final class NamedRegion {
    /** The region that every layout has: what its own features cover, dummies left out. */
    public static final String FEATURES = "features";

    /** Less of a tile is rounding of the map. */
    private static final double SOME = 1e-9;

    private final String name;
    private final double weight;
    private final double[] shares;

    /**
     * Copies the shares.
     *
     * @param name its name
     * @param weight how much it counts beside others, zero or more
     * @param shares of every tile's area, 0 to 1, in the order of the grid
     */
    public NamedRegion(String name, double weight, double[] shares) {
        if (!(weight >= 0) || Double.isInfinite(weight)) {
            throw new IllegalArgumentException("the region " + name + " has the weight " + weight);
        }
        this.name = name;
        this.weight = weight;
        this.shares = shares.clone();
    }

    /** Returns its name. */
    public String name() {
        return name;
    }

    /** Returns how much it counts beside other regions, zero or more. */
    public double weight() {
        return weight;
    }

    /** Returns the share that it fills of a tile, 0 to 1. */
    public double share(int tile) {
        return shares[tile];
    }

    /** Returns whether it has a part of a tile. */
    public boolean meets(int tile) {
        return shares[tile] > SOME;
    }

    /** Returns its area. */
    public double areaSquareMetres(TileGrid grid) {
        double sum = 0;
        for (double share : shares) {
            sum += share;
        }
        return sum * grid.tileAreaSquareMetres();
    }

    /** Returns whether it is the one that every layout has. */
    public boolean isFeatures() {
        return name.equals(FEATURES);
    }
}
