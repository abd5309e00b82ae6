package org.evenstamp.geometry.tile;

import java.util.Arrays;
import org.evenstamp.geometry.layout.Role;
import org.evenstamp.shared.grid.TileGrid;
import org.jspecify.annotations.Nullable;

/**
 * A part of the stamp that is alike: its land, its cavities of one depth, those within textures among them, or what the
 * features of one role cover. Land and depths fill the stamp; what a role covers, textures as a whole, lies across them.
 *
 * <p>It has no outline of its own; what is known is how much of every tile it fills.
 */
public final class Region {
    private final @Nullable Role role;
    private final double leastDepthMetres;
    private final double mostDepthMetres;
    private final double[] shares;

    /**
     * Copies the shares.
     *
     * @param role the features' role; null for land and depths
     * @param leastDepthMetres depth of its shallowest cavity; 0 for the land
     * @param mostDepthMetres depth of its deepest; that of the shallowest unless several depths are put together
     * @param shares of every tile's area, from 0 to 1
     */
    public Region(@Nullable Role role, double leastDepthMetres, double mostDepthMetres, double[] shares) {
        this.role = role;
        this.leastDepthMetres = leastDepthMetres;
        this.mostDepthMetres = mostDepthMetres;
        this.shares = shares.clone();
    }

    /** Returns the role of its features; null for land and depths. */
    public @Nullable Role role() {
        return role;
    }

    /** Returns the depth of its shallowest cavity; 0 for the land. */
    public double leastDepthMetres() {
        return leastDepthMetres;
    }

    /** Returns the depth of its deepest cavity; 0 for the land. */
    public double mostDepthMetres() {
        return mostDepthMetres;
    }

    /** Returns the share that it fills of a tile. */
    public double share(int tile) {
        return shares[tile];
    }

    /** Returns the sum of its shares: its area in tiles. */
    public double tiles() {
        return Arrays.stream(shares).sum();
    }

    /** Returns its area on the tiles of a map. */
    public double areaSquareMetres(TileGrid grid) {
        return tiles() * grid.tileAreaSquareMetres();
    }
}
