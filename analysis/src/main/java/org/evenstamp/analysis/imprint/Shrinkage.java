package org.evenstamp.analysis.imprint;

import java.util.List;
import java.util.OptionalDouble;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.analysis.rheology.FilmParameters;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;

/**
 * By which strain a film that has set would shrink until release if nothing held it: by cooling against stamp or substrate, and by a third
 * of the volume that it loses to curing and to drying. Negative where what holds it shrinks more.
 *
 * <p>A film that solvent swells sets while solvent is left in it: as much as puts its glass temperature, by Fox's rule, at the
 * temperature of the press. What leaves before is made up by flow, what leaves afterwards shrinks a solid (S.G. Croll, J. Appl. Polym. Sci.
 * 23 (1979) 847, abstract read, place from memory: the stress of cast films follows from the solvent lost after
 * they solidify, and does not depend on thickness or first concentration). Shares of mass and volume count as alike.
 *
 * @param againstStamp thermal strain against the stamp
 * @param againstSubstrate thermal strain against the substrate, 0 where its expansion is not given
 * @param cure strain by curing
 * @param drying strain by the solvent that leaves after the film has set
 */
public record Shrinkage(double againstStamp, double againstSubstrate, double cure, double drying) {
    /** Returns the parameters that {@link #of} reads, those of a substrate left out. */
    public static List<Parameter> parameters() {
        return List.of(
                Materials.FILM_EXPANSION,
                Materials.SET_TEMPERATURE,
                Materials.CURE_SHRINKAGE,
                Materials.STAMP_EXPANSION,
                CommonParameters.RELEASE_TEMPERATURE,
                ProcessParameters.KIND,
                ProcessParameters.SOLVENT_SHARE,
                ProcessParameters.TEMPERATURE,
                FilmParameters.GLASS,
                FilmParameters.SOLVENT_GLASS);
    }

    /** Returns the strains of a job. */
    public static Shrinkage of(Parameters p) {
        double expansion = p.quantity(Materials.FILM_EXPANSION.id());
        double cooling = Materials.cooling(p);
        OptionalDouble substrate = p.find(Materials.SUBSTRATE_EXPANSION.id());
        return new Shrinkage(
                (expansion - p.quantity(Materials.STAMP_EXPANSION.id())) * cooling,
                substrate.isPresent() ? (expansion - substrate.getAsDouble()) * cooling : 0,
                p.quantity(Materials.CURE_SHRINKAGE.id()) / 3,
                solventWhenItSets(p) / 3);
    }

    /** Returns the share of solvent in the film when it sets: 0 but for a solvent press. */
    public static double solventWhenItSets(Parameters p) {
        double swollen = ProcessParameters.solventShare(p);
        OptionalDouble glass = p.find(FilmParameters.GLASS.id());
        OptionalDouble solvent = p.find(FilmParameters.SOLVENT_GLASS.id());
        OptionalDouble press = p.find(ProcessParameters.TEMPERATURE.id());
        if (swollen == 0 || glass.isEmpty() || solvent.isEmpty() || press.isEmpty()) {
            return 0;
        }
        double dry = 1 / glass.getAsDouble();
        double share = (1 / press.getAsDouble() - dry) / (1 / solvent.getAsDouble() - dry);
        return Math.min(swollen, Math.max(0, share));
    }

    /** Returns the strain of film against the stamp that it surrounds. */
    public double onStamp() {
        return againstStamp + cure + drying;
    }

    /** Returns the strain of film against the substrate that it is tied to. */
    public double onSubstrate() {
        return againstSubstrate + cure + drying;
    }
}
