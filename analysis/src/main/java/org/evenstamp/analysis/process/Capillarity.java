package org.evenstamp.analysis.process;

import org.evenstamp.shared.problem.InputException;

/**
 * A liquid drawn into a cavity by its own surface. Pressures after Laplace, filling after Lucas (Kolloid-Z. 23 (1918) 15)
 * and Washburn (Phys. Rev. 17 (1921) 273): open far end, no gas behind, no inertia.
 *
 * @param surfaceTensionNewtonsPerMetre of the liquid against the gas
 * @param contactAngleRadians of the liquid on the wall; above a right angle it is pushed out
 */
public record Capillarity(double surfaceTensionNewtonsPerMetre, double contactAngleRadians) {

    /** Checks the numbers. */
    public Capillarity {
        ProcessKind.requirePositive("the surface tension", surfaceTensionNewtonsPerMetre, "N/m");
        if (!(contactAngleRadians >= 0 && contactAngleRadians <= Math.PI)) {
            throw new InputException(
                    "process.contact-angle",
                    "",
                    "the contact angle is " + Math.toDegrees(contactAngleRadians) + " deg",
                    "give 0 deg to 180 deg");
        }
    }

    private double pull() {
        return surfaceTensionNewtonsPerMetre * Math.cos(contactAngleRadians);
    }

    /** Returns the pressure in Pa that fills a slot between parallel walls: {@code 2 gamma cos(theta)/w}. */
    public double slotPascals(double widthMetres) {
        return 2 * pull() / widthMetres;
    }

    /** Returns the pressure in Pa that fills a round hole: {@code 4 gamma cos(theta)/d}. */
    public double holePascals(double diameterMetres) {
        return 4 * pull() / diameterMetres;
    }

    /** Returns how far the liquid has run in a round tube, m: {@code sqrt(gamma r cos(theta) t/(2 eta))}; 0 if it does not wet. */
    public double tubeLengthMetres(double radiusMetres, double pascalSeconds, double seconds) {
        return Math.sqrt(Math.max(0, pull()) * radiusMetres * seconds / (2 * pascalSeconds));
    }

    /** Returns how far the liquid has run in a slot, m: {@code sqrt(gamma w cos(theta) t/(3 eta))}; 0 if it does not wet. */
    public double slotLengthMetres(double widthMetres, double pascalSeconds, double seconds) {
        return Math.sqrt(Math.max(0, pull()) * widthMetres * seconds / (3 * pascalSeconds));
    }
}
