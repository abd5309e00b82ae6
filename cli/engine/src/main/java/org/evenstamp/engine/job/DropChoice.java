package org.evenstamp.engine.job;

import java.util.List;
import java.util.OptionalDouble;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/**
 * The section {@code drops} of a job: how the film is dispensed.
 *
 * @param residualMetres wanted residual layer
 * @param dropCubicMetres volume of a drop as it leaves the nozzle
 * @param pitchMetres step of the raster on which drops can be put, in both directions
 * @param evaporation share of a drop's volume that is lost before the stamp closes over it
 * @param seconds time in which the drops have to meet; empty not to check it
 * @param startMetres height of the stamp above the substrate from which the spreading counts
 */
public record DropChoice(
        double residualMetres,
        double dropCubicMetres,
        double pitchMetres,
        double evaporation,
        OptionalDouble seconds,
        double startMetres) {
    private static final Quantity RESIDUAL =
            Quantity.optional("drops.residual", "nm", 0, 1e6, "wanted residual layer; evenstamp drops needs it");
    static final Quantity VOLUME = Quantity.optional(
            "drops.volume", "pL", 1e-6, 1e9, "volume of one drop as dispensed; evenstamp drops needs it");
    private static final Quantity PITCH = Quantity.optional(
            "drops.pitch", "um", 1e-3, 1e6, "step of the raster that nozzles can reach; evenstamp drops needs it");
    static final Quantity EVAPORATION = Quantity.standard(
            "drops.evaporation",
            "%",
            0,
            0,
            99,
            "share of a drop that evaporates before the stamp closes over it; the default loses none (assumption)");
    private static final Quantity TIME = Quantity.optional(
            "drops.time", "s", 1e-6, 1e6, "time in which the drops have to meet; not checked when left out");
    private static final Quantity START = Quantity.standard(
            "drops.start",
            "um",
            1,
            1e-3,
            1e4,
            "height of the stamp from which the spreading counts (it hardly matters: the last stretch takes the time)");

    static final List<Parameter> PARAMETERS = List.of(RESIDUAL, VOLUME, PITCH, EVAPORATION, TIME, START);

    /**
     * Reads the section of a job.
     *
     * @throws org.evenstamp.shared.problem.InputException when a number is missing
     */
    public static DropChoice of(Job job) {
        Parameters p = job.settings();
        Problems problems = new Problems();
        for (Quantity needed : List.of(RESIDUAL, VOLUME, PITCH)) {
            if (p.find(needed.id()).isEmpty()) {
                problems.add(job.lacks(needed));
            }
        }
        problems.throwIfAny();
        return new DropChoice(
                p.quantity(RESIDUAL.id()),
                p.quantity(VOLUME.id()),
                p.quantity(PITCH.id()),
                p.quantity(EVAPORATION.id()),
                p.find(TIME.id()),
                p.quantity(START.id()));
    }
}
