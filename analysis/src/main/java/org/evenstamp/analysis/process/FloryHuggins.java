package org.evenstamp.analysis.process;

import org.evenstamp.shared.spi.Parameter.Quantity;

/**
 * How much solvent a film of long chains takes from a vapour: {@code ln a = ln f + (1 - f) + chi (1 - f)²}, with the volume share f of solvent.
 *
 * <p>Source: P.J. Flory, J. Chem. Phys. 10 (1942) 51, and M.L. Huggins, the same year (from memory). Validity: chains without cross-links, much longer
 * than a molecule of the solvent; chi that does not change with the share, though real ones do (Schuld and Wolf, Polymer Handbook, 4th ed., 1999, abstract); a film that flows, as a glass
 * takes less or more by its past.
 *
 * @param chi interaction parameter of solvent and film, below 1/2 where they mix in all shares
 */
public record FloryHuggins(double chi) {
    /** Interaction parameter. */
    public static final Quantity CHI = Quantity.optional(
            "film.solvent-chi",
            "1",
            -5,
            5,
            "interaction parameter chi of solvent and film (Flory and Huggins); needed for process.vapour-activity");
    /** Activity of the vapour. */
    public static final Quantity ACTIVITY = Quantity.optional(
            "process.vapour-activity",
            "%",
            0.1,
            99.99,
            "pressure of the solvent's vapour over that of its liquid at the same temperature, in place of process.solvent-share");

    private static final int HALVINGS = 100;

    /** Returns the activity of the vapour over a film with a volume share of solvent in (0, 1]. */
    public double activity(double share) {
        double chains = 1 - share;
        return share * Math.exp(chains + chi * chains * chains);
    }

    /** Returns the volume share of solvent that a dry film takes up from a vapour of an activity in (0, 1); the smallest, where several have it. */
    public double share(double activity) {
        double low = 0;
        double high = chi > 0.5 ? 1 / (2 * chi) : 1; // the activity rises until there
        for (int i = 0; i < HALVINGS; i++) {
            double half = 0.5 * (low + high);
            if (activity(half) < activity) {
                low = half;
            } else {
                high = half;
            }
        }
        return high;
    }
}
