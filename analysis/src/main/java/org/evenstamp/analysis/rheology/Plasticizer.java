package org.evenstamp.analysis.rheology;

import java.util.Locale;
import org.evenstamp.shared.problem.InputException;

/** How a solvent in the film lowers its glass temperature. */
public sealed interface Plasticizer {

    /**
     * Returns the glass temperature of the swollen film in K.
     *
     * @param solventFraction share of solvent in the swollen film, in [0, 1): of mass for {@link Fox}, of volume for
     *     {@link KelleyBueche}
     */
    double glassKelvin(double solventFraction);

    /**
     * Fox (Bull. Am. Phys. Soc. 1 (1956) 123): {@code 1/Tg = (1-w)/Tg_film + w/Tg_solvent}, w the mass fraction.
     *
     * @param filmGlassKelvin glass temperature of the dry film
     * @param solventGlassKelvin glass temperature of the solvent
     */
    record Fox(double filmGlassKelvin, double solventGlassKelvin) implements Plasticizer {
        /** Checks the temperatures. */
        public Fox {
            requireGlass(filmGlassKelvin, solventGlassKelvin);
        }

        @Override
        public double glassKelvin(double solventFraction) {
            double w = requireFraction(solventFraction);
            return 1 / ((1 - w) / filmGlassKelvin + w / solventGlassKelvin);
        }
    }

    /**
     * Kelley and Bueche (J. Polym. Sci. 50 (1961) 549): mean of the glass temperatures weighted by volume fraction times
     * expansion {@code a}.
     *
     * @param filmGlassKelvin glass temperature of the dry film
     * @param solventGlassKelvin glass temperature of the solvent
     * @param filmExpansionPerKelvin jump of the volume expansion of the polymer at its glass temperature, usually 4.8e-4
     * @param solventExpansionPerKelvin volume expansion of the solvent, usually about 1e-3
     */
    record KelleyBueche(
            double filmGlassKelvin,
            double solventGlassKelvin,
            double filmExpansionPerKelvin,
            double solventExpansionPerKelvin)
            implements Plasticizer {
        /** Checks temperatures and expansions. */
        public KelleyBueche {
            requireGlass(filmGlassKelvin, solventGlassKelvin);
            ViscosityLaw.requirePositive("the expansion of the film", filmExpansionPerKelvin, "1/K");
            ViscosityLaw.requirePositive("the expansion of the solvent", solventExpansionPerKelvin, "1/K");
        }

        @Override
        public double glassKelvin(double solventFraction) {
            double phi = requireFraction(solventFraction);
            double film = filmExpansionPerKelvin * (1 - phi);
            double solvent = solventExpansionPerKelvin * phi;
            return (film * filmGlassKelvin + solvent * solventGlassKelvin) / (film + solvent);
        }
    }

    private static void requireGlass(double filmGlassKelvin, double solventGlassKelvin) {
        ViscosityLaw.requirePositive("the glass temperature of the film", filmGlassKelvin, "K");
        ViscosityLaw.requirePositive("the glass temperature of the solvent", solventGlassKelvin, "K");
    }

    private static double requireFraction(double solventFraction) {
        if (!(solventFraction >= 0 && solventFraction < 1)) {
            throw new InputException(
                    "rheology.solvent-fraction",
                    "",
                    String.format(Locale.ROOT, "the solvent fraction is %.6g", solventFraction),
                    "give a share of at least 0 and less than 1");
        }
        return solventFraction;
    }
}
