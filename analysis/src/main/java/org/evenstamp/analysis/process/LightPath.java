package org.evenstamp.analysis.process;

import java.util.List;
import java.util.OptionalDouble;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.spi.Parameter.Choice;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/**
 * The way of UV light to the film: through the stamp or through the substrate.
 *
 * @param transmission share of the light that reaches the film, above {@link #DARK}; 1 where nothing says it
 * @param through what the light passes, {@code stamp} or {@code substrate}
 * @param known whether the job or its materials say the transmission
 */
public record LightPath(double transmission, String through, boolean known) {
    /** What lets through a smaller share is opaque: a lamp would shine a million times as long (this tool's choice). */
    public static final double DARK = 1e-6;

    /** Code of the problem that no light reaches the film. */
    public static final String NO_LIGHT = "process.no-light";

    private static final String STAMP = "stamp";
    private static final String SUBSTRATE = "substrate";

    /** Where the lamp is. */
    public static final Choice SIDE = new Choice(
            "process.lamp-side",
            List.of("either", STAMP, SUBSTRATE),
            "what the light passes on its way to the film; either is the one that lets more through");
    /** Transmission of the stamp. */
    public static final Quantity STAMP_TRANSMISSION = Quantity.optional(
            "stamp.transmission",
            "%",
            0,
            100,
            "share of the light at the lamp's wavelength that the whole stamp lets through, 0 for opaque; else from stamp.absorption and thickness");
    /** Transmission of the substrate. */
    public static final Quantity SUBSTRATE_TRANSMISSION = Quantity.optional(
            "process.substrate-transmission",
            "%",
            0,
            100,
            "share of the light at the lamp's wavelength that the substrate lets through, 0 for opaque; else from process.substrate-absorption and"
                    + " thickness");

    /**
     * Returns the way of a job's light. Where the side is left open, it is the one that is known to let more through; else one of which
     * nothing is known, counted as clear.
     *
     * @throws InputException when no light reaches the film
     */
    public static LightPath of(Parameters p) {
        OptionalDouble stamp = p.find(STAMP_TRANSMISSION.id());
        OptionalDouble substrate = p.find(SUBSTRATE_TRANSMISSION.id());
        String side = p.choice(SIDE.id());
        boolean darkStamp = stamp.orElse(1) < DARK;
        boolean darkSubstrate = substrate.orElse(1) < DARK;
        if (side.equals(STAMP) && darkStamp) {
            throw dark(
                    "the stamp is opaque for the lamp, and the lamp is on its side",
                    darkSubstrate ? "a stamp or a substrate that lets the light through" : "set it to substrate");
        }
        if (side.equals(SUBSTRATE) && darkSubstrate) {
            throw dark(
                    "the substrate is opaque for the lamp, and the lamp is on its side",
                    darkStamp ? "a stamp or a substrate that lets the light through" : "set it to stamp");
        }
        if (darkStamp && darkSubstrate) {
            throw dark(
                    "no light reaches the film: stamp and substrate are both opaque for the lamp",
                    "a stamp or a substrate that lets the light through, such as fused silica");
        }
        if (side.equals(STAMP) || (side.equals("either") && !darkStamp && stampIsBetter(stamp, substrate))) {
            return new LightPath(stamp.orElse(1), STAMP, stamp.isPresent());
        }
        return new LightPath(substrate.orElse(1), SUBSTRATE, substrate.isPresent());
    }

    private static boolean stampIsBetter(OptionalDouble stamp, OptionalDouble substrate) {
        if (substrate.isEmpty() || substrate.getAsDouble() < DARK) {
            return true;
        }
        return stamp.isPresent() && stamp.getAsDouble() >= substrate.getAsDouble();
    }

    private static InputException dark(String message, String fix) {
        return new InputException(NO_LIGHT, "", message, fix);
    }
}
