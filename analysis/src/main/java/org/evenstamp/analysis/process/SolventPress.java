package org.evenstamp.analysis.process;

import java.util.ArrayList;
import java.util.List;

/**
 * Solvent-vapour imprint at one temperature: swell, press, hold, dry under pressure, release. Solvent comes and goes at a
 * steady rate; {@link #steps(Drying, double)} lets it go by diffusion.
 *
 * @param kelvin temperature, between the glass temperatures of the swollen and the dry film
 * @param pascals pressure on the stamp
 * @param solventFraction share of solvent in the swollen film, in [0, 1)
 * @param swellSeconds time of swelling before the pressure
 * @param rampSeconds time to build the pressure up, and to take it off
 * @param holdSeconds time at full pressure before drying
 * @param drySeconds time in which the solvent leaves under pressure
 */
public record SolventPress(
        double kelvin,
        double pascals,
        double solventFraction,
        double swellSeconds,
        double rampSeconds,
        double holdSeconds,
        double drySeconds)
        implements ProcessKind {

    @Override
    public String id() {
        return "solvent-press";
    }

    @Override
    public List<ProcessStep> steps() {
        StepProfile temperature = StepProfile.constant(kelvin);
        StepProfile full = StepProfile.constant(pascals);
        StepProfile swollen = StepProfile.constant(solventFraction);
        return List.of(
                ProcessStep.of("swell", swellSeconds, temperature, StepProfile.constant(0))
                        .withSolvent(new StepProfile.Ramp(0, solventFraction)),
                ProcessStep.of("press", rampSeconds, temperature, new StepProfile.Ramp(0, pascals))
                        .withSolvent(swollen),
                ProcessStep.of("hold", holdSeconds, temperature, full).withSolvent(swollen),
                ProcessStep.of("dry", drySeconds, temperature, full)
                        .withSolvent(new StepProfile.Ramp(solventFraction, 0)),
                ProcessStep.of("release", rampSeconds, temperature, new StepProfile.Ramp(pascals, 0)));
    }

    /** Returns when the drying starts, s. */
    public double dryStartSeconds() {
        return swellSeconds + rampSeconds + holdSeconds;
    }

    /** Returns the steps of a place from which solvent has to go so far, m. What is soft at the end of the drying is followed until then. */
    public List<ProcessStep> steps(Drying drying, double reach) {
        List<ProcessStep> steps = new ArrayList<>(steps());
        int dry = 3;
        steps.set(dry, steps.get(dry).withSolvent(drying.course(solventFraction, drySeconds, reach)));
        return List.copyOf(steps);
    }
}
