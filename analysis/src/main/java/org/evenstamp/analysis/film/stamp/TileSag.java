package org.evenstamp.analysis.film.stamp;

/**
 * How far the protrusions of a tile yield against the tile's mean when they alone bear its load, the roofs of its cavities
 * hanging down between them.
 *
 * <p>The load is {@code q/θ} on land of share θ and nothing on cavities. Its waves of order m, of a grating with the tile's land
 * share and edge density, have the amplitude {@code 2 q sin(mπθ)/(mπθ)}; the land's mean displacement under them is {@code κ q},
 * {@code κ = 2 Σ G(2πm/pitch) (sin(mπθ)/(mπθ))²} with the stamp's compliance G. Waves longer than a tile are left to the solve
 * from tile to tile. Derived; exact for gratings finer than a tile, an estimate for dots and holes.
 */
public final class TileSag {
    private static final int MOST_WAVES = 200;

    private TileSag() {}

    /**
     * Returns κ in m/Pa.
     *
     * @param fraction cavity share of the tile's area
     * @param edgePerMetre length of the cavities' edges over area, 1/m
     * @param tileMetres side of the tile
     */
    public static double metresPerPascal(Stamp stamp, double fraction, double edgePerMetre, double tileMetres) {
        double land = 1 - fraction;
        if (stamp instanceof Stamp.Rigid || !(edgePerMetre > 0) || !(fraction > 0) || !(land > 0)) {
            return 0;
        }
        double pitch = 2 / edgePerMetre;
        int first = (int) Math.max(1, Math.ceil(pitch / tileMetres * (1 - 1e-9)));
        double sum = 0;
        for (int m = first; m < first + MOST_WAVES; m++) {
            double phase = Math.PI * m * land;
            double amplitude = Math.sin(phase) / phase;
            sum += 2 * stamp.compliance(2 * Math.PI * m / pitch) * amplitude * amplitude;
        }
        return sum;
    }
}
