package org.evenstamp.analysis.feature;

/**
 * How high film stands in the cavities of a tile, before it dries or cures: conservation of volume with one level in all of
 * them, none above its own roof.
 *
 * <p>Validity: the level is a mean. In a cavity much wider than deep film stands at the walls up to the roof and in the
 * middle not at all. A tile with more than two depths counts as one with its least and its largest, mixed to the same volume.
 *
 * @param least height in the shallowest cavities, m
 * @param mean mean height over all cavities, m
 * @param most height in the deepest cavities, m
 */
public record FilmLevel(double least, double mean, double most) {
    /**
     * Returns the level of a tile.
     *
     * @param fraction share of the tile's area that is cavity, above 0
     * @param volume cavity volume over the tile's area, m, not negative
     * @param shallow depth of the shallowest cavities, m
     * @param deep depth of the deepest ones, m, not below that of the shallowest
     * @param filled share of the cavity volume that holds film, 0..1
     */
    public static FilmLevel of(double fraction, double volume, double shallow, double deep, double filled) {
        double mean = filled * volume / fraction;
        if (mean <= shallow || deep <= shallow) {
            return new FilmLevel(mean, mean, mean);
        }
        double deepFraction = (volume - fraction * shallow) / (deep - shallow);
        double level = shallow + (filled * volume - fraction * shallow) / deepFraction;
        return new FilmLevel(shallow, mean, Math.min(deep, level));
    }
}
