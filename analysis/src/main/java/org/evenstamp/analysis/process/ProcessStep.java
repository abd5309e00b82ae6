package org.evenstamp.analysis.process;

/**
 * One step of a process. Holds whatever the user wrote; {@link ProcessHistory#of} checks it.
 *
 * @param name a word for people, such as {@code hold}
 * @param seconds how long it lasts
 * @param kelvin temperature of the film
 * @param pascals mean pressure on the back of the stamp
 * @param solvent share of solvent in the film, in [0, 1)
 * @param cures whether the film sets at the start of this step because it is cured
 */
public record ProcessStep(
        String name, double seconds, StepProfile kelvin, StepProfile pascals, StepProfile solvent, boolean cures) {

    /** Returns a step of a film without solvent that does not cure. */
    public static ProcessStep of(String name, double seconds, StepProfile kelvin, StepProfile pascals) {
        return new ProcessStep(name, seconds, kelvin, pascals, StepProfile.constant(0), false);
    }

    /** Returns this step with solvent in the film. */
    public ProcessStep withSolvent(StepProfile share) {
        return new ProcessStep(name, seconds, kelvin, pascals, share, cures);
    }

    /** Returns this step with the film curing at its start. */
    public ProcessStep curing() {
        return new ProcessStep(name, seconds, kelvin, pascals, solvent, true);
    }
}
