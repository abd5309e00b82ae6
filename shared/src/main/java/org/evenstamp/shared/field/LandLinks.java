package org.evenstamp.shared.field;

import java.util.Arrays;

/**
 * How the land of a map lets film out: into a tile's own cavities, into its neighbours' land, and into cavities that begin at
 * its sides. From the torsion function u of the whole map, {@code -laplace(u) = 1} on land and 0 at cavities, so that land
 * that sinks evenly everywhere is exact however large the tiles are. One value a tile, in the order of the grid; those of
 * faces belong to the right and to the upper face of the tile. Read the arrays, do not change them.
 *
 * @param own share of what sinking displaces in the tile that leaves into the tile's own cavities, the sinking of their roofs
 *     included: 1 where nothing crosses the sides, 0 in land without cavities
 * @param linkRight flow between the land of both tiles per difference of their mean u over land, times the tile's area: 1
 *     between two tiles without cavities
 * @param linkUp the same upwards
 * @param wallRight flow from land through an edge on the face into the other tile's cavity, per mean u of the land's tile,
 *     times the tile's area; negative where the land lies beyond the face
 * @param wallUp the same upwards
 * @param cavityRight share of the face with cavities, or features finer than the map resolves, on both sides
 * @param cavityUp the same upwards
 * @param fraction cavity share of the tile's area as film sees it that flows freely within half a feature pitch: features that
 *     a side cuts count for both tiles
 * @param volume cavity volume per area likewise, m
 * @param edges length of the cavities' edges over area likewise, 1/m
 * @param moment squeeze moment likewise, 12 times the mean of u, m²
 */
@SuppressWarnings("ArrayRecordComponent") // large, and read alone
public record LandLinks(
        double[] own,
        double[] linkRight,
        double[] linkUp,
        double[] wallRight,
        double[] wallUp,
        double[] cavityRight,
        double[] cavityUp,
        double[] fraction,
        double[] volume,
        double[] edges,
        double[] moment) {
    /** Returns the links of the same features in a stamp whose every depth is so many times as large. */
    public LandLinks withVolumeTimes(double scale) {
        double[] scaled = Arrays.stream(volume).map(v -> scale * v).toArray();
        return new LandLinks(
                own, linkRight, linkUp, wallRight, wallUp, cavityRight, cavityUp, fraction, scaled, edges, moment);
    }
}
