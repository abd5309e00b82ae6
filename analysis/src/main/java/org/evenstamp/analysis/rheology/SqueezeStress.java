package org.evenstamp.analysis.rheology;

/**
 * The shear stress that stands for all stresses in a film squeezed out from under strips of land: their width w is that which
 * has the tile's squeeze moment, and a film with one viscosity at {@code 1.6 p h/w}, p the pressure on the land, is squeezed
 * as fast as one that thins after Cross, within 2.5 % for exponents from 0.3 on and 11 % at 0.21 (compared with the flow
 * between plates, integrated).
 */
public final class SqueezeStress {
    private SqueezeStress() {}

    /**
     * Returns it in Pa; 0 where nothing is squeezed.
     *
     * @param pascals mean pressure on the tile that squeezes the film
     * @param gapMetres gap under the land
     * @param cavityFraction share of the tile without land
     * @param squeezeMoment of the tile, m²
     */
    public static double pascals(double pascals, double gapMetres, double cavityFraction, double squeezeMoment) {
        double land = 1 - cavityFraction;
        return squeezeMoment > 0 && land > 0 && pascals > 0
                ? 1.6 * pascals * gapMetres / Math.sqrt(land * squeezeMoment)
                : 0;
    }
}
