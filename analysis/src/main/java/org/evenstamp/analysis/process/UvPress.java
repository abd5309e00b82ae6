package org.evenstamp.analysis.process;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.evenstamp.shared.problem.InputException;

/**
 * UV imprint of a liquid resin: press, fill, expose, release, at one temperature. Under an even lamp the film is taken to set as it goes
 * on, since gelling takes a small part of the exposure; {@link #steps(double)} lets it gel later.
 *
 * @param kelvin temperature of the resin
 * @param pascals pressure on the stamp
 * @param rampSeconds time to build the pressure up, and to take it off
 * @param fillSeconds time at full pressure before the lamp goes on
 * @param exposureSeconds time of exposure
 * @param irradianceWattsPerSquareMetre irradiance at the resin in the middle of the stamp, behind what the light passes
 * @param doseJoulesPerSquareMetre dose that the resin needs
 */
public record UvPress(
        double kelvin,
        double pascals,
        double rampSeconds,
        double fillSeconds,
        double exposureSeconds,
        double irradianceWattsPerSquareMetre,
        double doseJoulesPerSquareMetre)
        implements ProcessKind {

    /** Checks that the exposure cures the film; the rest is checked with the film. */
    public UvPress {
        ProcessKind.requirePositive("the irradiance", irradianceWattsPerSquareMetre, "W/m^2");
        ProcessKind.requirePositive("the dose", doseJoulesPerSquareMetre, "J/m^2");
        ProcessKind.requirePositive("the exposure", exposureSeconds, "s");
        if (exposureSeconds * irradianceWattsPerSquareMetre < doseJoulesPerSquareMetre) {
            throw new InputException(
                    "process.underexposed",
                    ProcessParameters.EXPOSURE.id(),
                    String.format(
                            Locale.ROOT,
                            "%.6g s of exposure give %.6g mJ/cm^2, the resin needs %.6g mJ/cm^2",
                            exposureSeconds,
                            exposureSeconds * irradianceWattsPerSquareMetre * 0.1,
                            doseJoulesPerSquareMetre * 0.1),
                    String.format(
                            Locale.ROOT,
                            "expose for at least %.6g s",
                            doseJoulesPerSquareMetre / irradianceWattsPerSquareMetre));
        }
    }

    @Override
    public String id() {
        return "uv-press";
    }

    @Override
    public List<ProcessStep> steps() {
        StepProfile temperature = StepProfile.constant(kelvin);
        StepProfile full = StepProfile.constant(pascals);
        return List.of(
                ProcessStep.of("press", rampSeconds, temperature, new StepProfile.Ramp(0, pascals)),
                ProcessStep.of("fill", fillSeconds, temperature, full),
                ProcessStep.of("expose", exposureSeconds, temperature, full).curing(),
                ProcessStep.of("release", rampSeconds, temperature, new StepProfile.Ramp(pascals, 0)));
    }

    /**
     * Returns the steps of a place that stays liquid under the lamp for some time.
     *
     * @param liquidSeconds until it gels, positive; where that is the whole exposure, it is followed until the lamp goes off
     */
    public List<ProcessStep> steps(double liquidSeconds) {
        List<ProcessStep> steps = new ArrayList<>(steps());
        int lit = 2;
        ProcessStep expose = steps.get(lit);
        ProcessStep release = steps.get(lit + 1);
        steps.set(lit, ProcessStep.of("light", liquidSeconds, expose.kelvin(), expose.pascals()));
        if (liquidSeconds < exposureSeconds) {
            steps.add(
                    lit + 1,
                    ProcessStep.of("expose", exposureSeconds - liquidSeconds, expose.kelvin(), expose.pascals())
                            .curing());
        } else {
            steps.set(lit + 1, release.curing());
        }
        return List.copyOf(steps);
    }
}
