package org.evenstamp.analysis.rheology;

import java.util.Optional;

/**
 * All that process and solve need to know of a film's flow: one value for one film.
 *
 * <p>Solvent acts through the glass temperature alone: the swollen film at T flows as the dry film at the same distance
 * from its own glass temperature (free-volume picture). The dilution itself lowers the viscosity further and is left out,
 * which errs towards a slower flow.
 *
 * @param viscosity zero-shear viscosity of the dry film
 * @param plasticizer what solvent does to the glass temperature; empty when the film takes up none
 * @param decompositionKelvin temperature above which the film breaks down; empty when not known
 * @param thinning how the viscosity falls under shear
 */
public record FilmLaw(
        ViscosityLaw viscosity,
        Optional<Plasticizer> plasticizer,
        Optional<Double> decompositionKelvin,
        ShearThinning thinning) {

    /** Returns the law of a film of which nothing but the viscosity is known. */
    public static FilmLaw of(ViscosityLaw viscosity) {
        return new FilmLaw(viscosity, Optional.empty(), Optional.empty(), new ShearThinning.None());
    }

    /** Returns this film with another thinning under shear. */
    public FilmLaw withThinning(ShearThinning law) {
        return new FilmLaw(viscosity, plasticizer, decompositionKelvin, law);
    }

    /**
     * Returns the glass temperature in K at a solvent fraction.
     *
     * @throws IllegalStateException when there is solvent but no plasticizer
     */
    public double glassKelvin(double solventFraction) {
        return solventFraction == 0
                ? viscosity.glassKelvin()
                : plasticizer
                        .orElseThrow(() -> new IllegalStateException("solvent in a film without a plasticizer"))
                        .glassKelvin(solventFraction);
    }

    /**
     * Returns the viscosity with its validity, stated at the temperature at which the dry film flows alike.
     *
     * @throws org.evenstamp.shared.problem.InputException when the film is a solid there
     */
    public Viscosity at(double kelvin, double solventFraction) {
        double glass = glassKelvin(solventFraction);
        ViscosityLaw.requireFlow(kelvin, glass);
        double dryGlass = viscosity.glassKelvin();
        // At the glass temperature itself rounding must not push the dry film below its own.
        return viscosity.at(Math.max(dryGlass, kelvin + (dryGlass - glass)));
    }
}
