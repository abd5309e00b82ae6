package org.evenstamp.analysis.process;

import java.util.ArrayList;
import java.util.List;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.rheology.TemperatureRange;
import org.evenstamp.shared.problem.InputException;

/**
 * Hot imprint: heat, press, hold, cool under pressure, release.
 *
 * @param startKelvin temperature of film and stamp before heating
 * @param pressKelvin temperature while pressing
 * @param releaseKelvin temperature at which the pressure is taken off, below the pressing temperature
 * @param heatingKelvinPerSecond rate of heating, positive
 * @param coolingKelvinPerSecond rate of cooling, positive
 * @param pascals pressure of the hold
 * @param rampSeconds time to build the pressure up, and to take it off
 * @param holdSeconds time at full pressure before cooling
 */
public record HotPress(
        double startKelvin,
        double pressKelvin,
        double releaseKelvin,
        double heatingKelvinPerSecond,
        double coolingKelvinPerSecond,
        double pascals,
        double rampSeconds,
        double holdSeconds)
        implements ProcessKind {

    /** Checks the rates and that cooling cools; the rest is checked with the film. */
    public HotPress {
        ProcessKind.requirePositive("the heating rate", heatingKelvinPerSecond, "K/s");
        ProcessKind.requirePositive("the cooling rate", coolingKelvinPerSecond, "K/s");
        String press = TemperatureRange.celsius(pressKelvin);
        if (!(startKelvin <= pressKelvin)) {
            throw new InputException(
                    "process.hot-press-temperatures",
                    ProcessParameters.START.id(),
                    "it starts at " + TemperatureRange.celsius(startKelvin) + " and presses at " + press,
                    "press at more than it starts at");
        }
        if (!(releaseKelvin < pressKelvin)) {
            throw new InputException(
                    "process.hot-press-temperatures",
                    CommonParameters.RELEASE_TEMPERATURE.id(),
                    "it releases at " + TemperatureRange.celsius(releaseKelvin) + " and presses at " + press,
                    "release at less than it presses at");
        }
    }

    @Override
    public String id() {
        return "hot-press";
    }

    @Override
    public List<ProcessStep> steps() {
        StepProfile none = StepProfile.constant(0);
        StepProfile full = StepProfile.constant(pascals);
        StepProfile hot = StepProfile.constant(pressKelvin);
        List<ProcessStep> steps = new ArrayList<>();
        if (pressKelvin > startKelvin) {
            steps.add(ProcessStep.of(
                    "heat",
                    (pressKelvin - startKelvin) / heatingKelvinPerSecond,
                    new StepProfile.Ramp(startKelvin, pressKelvin),
                    none));
        }
        steps.add(ProcessStep.of("press", rampSeconds, hot, new StepProfile.Ramp(0, pascals)));
        steps.add(ProcessStep.of("hold", holdSeconds, hot, full));
        steps.add(ProcessStep.of(
                "cool",
                (pressKelvin - releaseKelvin) / coolingKelvinPerSecond,
                new StepProfile.Ramp(pressKelvin, releaseKelvin),
                full));
        steps.add(ProcessStep.of(
                "release", rampSeconds, StepProfile.constant(releaseKelvin), new StepProfile.Ramp(pascals, 0)));
        return List.copyOf(steps);
    }
}
