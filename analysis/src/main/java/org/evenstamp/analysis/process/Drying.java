package org.evenstamp.analysis.process;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.analysis.numeric.Slab;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.spi.Parameter.Choice;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;

/**
 * Loss of solvent by diffusion out of a pressed film.
 *
 * <p>Film under land dries towards the cavities beside it, as a slab as wide as the land: a strip, the slowest shape of its width. Film that vapour reaches
 * from above dries through its height.
 *
 * @param diffusivity of the solvent in the film, m²/s
 * @param towardsEdges whether film under land dries through its edges; otherwise through the stamp
 */
public record Drying(double diffusivity, boolean towardsEdges) {
    /** How fast solvent moves. */
    public static final Quantity DIFFUSIVITY = Quantity.optional(
            "film.solvent-diffusivity",
            "um^2/s",
            1e-12,
            1e6,
            "diffusivity of the solvent in the film, of its shares from swollen to set; without it the film dries at a steady rate everywhere");

    /** Where vapour leaves. */
    public static final Choice THROUGH = new Choice(
            "process.dries-through",
            List.of("land-edges", "stamp"),
            "where solvent leaves the pressed film: into cavities that lead the vapour out, or through a stamp that lets it pass");

    /** Returns that of a job; empty where nothing says how fast solvent moves. */
    public static Optional<Drying> of(Parameters p) {
        OptionalDouble diffusivity = p.find(DIFFUSIVITY.id());
        return diffusivity.isEmpty()
                ? Optional.empty()
                : Optional.of(new Drying(
                        diffusivity.getAsDouble(), p.choice(THROUGH.id()).equals("land-edges")));
    }

    /**
     * Returns how far solvent has to go from the slowest place of each tile, m.
     *
     * @param height of the swollen film in each tile, m
     */
    public double[] reach(FieldSet fields, double[] height) {
        double[] reach = height.clone();
        Optional<Field> path = fields.find(TileFields.FLOW_PATH_MAX.id());
        for (int i = 0; i < reach.length && towardsEdges && path.isPresent(); i++) {
            reach[i] = Math.max(reach[i], path.get().known(i) ? path.get().at(i) : 0);
        }
        return reach;
    }

    /** Returns the step of a process in which film dries so far: its mean share of solvent. */
    StepProfile course(double swollen, double seconds, double reach) {
        return new Course(swollen, diffusivity * seconds / (reach * reach));
    }

    /**
     * Mean share of solvent over the time of drying.
     *
     * @param swollen share at its beginning
     * @param tau its time in reaches squared over the diffusivity
     */
    record Course(double swollen, double tau) implements StepProfile {
        @Override
        public double at(double share) {
            return swollen * Slab.mean(share * tau);
        }

        @Override
        public double least() {
            return at(1);
        }

        @Override
        public double most() {
            return swollen;
        }
    }
}
