package org.evenstamp.analysis.drops;

import java.util.Optional;
import org.evenstamp.analysis.process.Capillarity;
import org.evenstamp.analysis.process.Drop;

/**
 * How long drops take to meet under a flat stamp: each spreads as a disc under its share of the force until it covers its
 * share of the area ({@link Drop}). A film per area H from drops of volume V leaves each an area V/H and a force p V/H.
 *
 * <p>Corners between discs fill later, cavities and gas between the drops delay them: the time is a lower bound.
 */
public final class DropSpreading {
    private DropSpreading() {}

    /**
     * Returns the time in s from a height of the stamp down to where the drops cover everything.
     *
     * @param dropCubicMetres volume of a drop when the stamp closes, positive
     * @param viscosityPascalSeconds viscosity, positive
     * @param pressurePascal pressure on the stamp, positive
     * @param filmMetres wanted film per area, positive
     * @param startMetres height from which the spreading counts; zero time when it is below the film
     * @param capillarity of the liquid, if it is known: its own surface draws it out too
     */
    public static double seconds(
            double dropCubicMetres,
            double viscosityPascalSeconds,
            double pressurePascal,
            double filmMetres,
            double startMetres,
            Optional<Capillarity> capillarity) {
        if (startMetres <= filmMetres) {
            return 0;
        }
        double force = pressurePascal * dropCubicMetres / filmMetres;
        Drop drop = new Drop(dropCubicMetres, viscosityPascalSeconds);
        return capillarity
                .filter(one -> one.contactAngleRadians() < Math.PI / 2)
                .map(one -> drop.secondsUnderForceAndCapillarity(force, one, startMetres, filmMetres))
                .orElseGet(() -> drop.secondsUnderForce(force, startMetres, filmMetres));
    }
}
