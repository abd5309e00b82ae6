package org.evenstamp.analysis.film.load;

import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import org.evenstamp.analysis.process.ProcessHistory;

/**
 * A process as the film under the stamp lives through it, from the start of the process until the film
 * sets, or until the pressure is off for good and the stamp with it. Its times are those of the process. It is cut into pieces short enough that one time step may cross a piece: the
 * viscosity changes little in each, and the pressure of a piece is that of its middle.
 */
final class ProcessLoad implements PressLoad {
    private static final double LOG_VISCOSITY_STEP = 0.4; // found by refinement against Stefan's sink
    private static final double UNPRESSED_LOG_VISCOSITY_STEP = 2; // only capillarity moves the film then
    private static final double PRESSURE_STEP_SHARE = 1 / 16.0;
    private static final double LEAST_FLUIDITY_SHARE = 1e-3; // what flows less than this moves nothing

    private final ProcessHistory history;
    private final double[] cuts;
    private final double end;

    ProcessLoad(ProcessHistory history) {
        this(history, Math.min(history.flowEndSeconds(), history.lastPressedSeconds()));
    }

    /** Takes a process until a time at which the film has not set yet or just sets. */
    ProcessLoad(ProcessHistory history, double end) {
        this.history = history;
        this.end = end;
        double[] breaks = history.breakSeconds();
        double mostFluid = Arrays.stream(breaks).map(history::fluidity).max().orElseThrow();
        double mostPressure = history.steps().stream()
                .mapToDouble(step -> step.pascals().most())
                .max()
                .orElseThrow();
        var builder = DoubleStream.builder().add(0);
        for (int i = 0; i + 1 < breaks.length && breaks[i] < end; i++) {
            cut(breaks[i], breaks[i + 1], mostFluid, mostPressure, builder);
        }
        cuts = builder.build().toArray();
    }

    private void cut(double start, double end, double mostFluid, double mostPressure, DoubleStream.Builder into) {
        double first = viscosityPascalSeconds(start);
        double last = viscosityPascalSeconds(end);
        double middle = 0.5 * (start + end);
        double atStart = history.pressurePascals(start);
        double atMiddle = history.pressurePascals(middle);
        double atEnd = history.pressurePascals(end);
        // The middle counts too: a roller's pressure starts and ends at nothing.
        double pressureChange = Math.max(Math.abs(atEnd - atStart), 2 * Math.abs(atMiddle - atStart));
        boolean flows = 1 / Math.min(first, last) > LEAST_FLUIDITY_SHARE * mostFluid;
        double logStep = atStart == 0 && atMiddle == 0 ? UNPRESSED_LOG_VISCOSITY_STEP : LOG_VISCOSITY_STEP;
        if (flows
                && middle - start > 1e-6 * history.flowEndSeconds()
                && (Math.abs(Math.log(last / first)) > logStep
                        || pressureChange > PRESSURE_STEP_SHARE * mostPressure)) {
            cut(start, middle, mostFluid, mostPressure, into);
            cut(middle, end, mostFluid, mostPressure, into);
        } else {
            into.add(end);
        }
    }

    @Override
    public double endSeconds() {
        return end;
    }

    /** Before the film flows nothing presses on it, so any viscosity serves: that of the film as it softens. */
    @Override
    public double viscosityPascalSeconds(double seconds) {
        double flowing = Math.min(history.flowEndSeconds(), Math.max(history.flowStartSeconds(), seconds));
        return history.viscosity(flowing).pascalSeconds();
    }

    @Override
    public void pressurePascal(double seconds, double[] into) {
        int found = Arrays.binarySearch(cuts, seconds);
        int end = Math.min(cuts.length - 1, Math.max(1, found >= 0 ? found : -found - 1));
        Arrays.fill(into, history.pressurePascals(0.5 * (cuts[end - 1] + cuts[end])));
    }

    @Override
    public OptionalDouble temperatureKelvin(double seconds) {
        return OptionalDouble.of(history.temperatureKelvin(Math.min(seconds, history.durationSeconds())));
    }

    @Override
    public double[] breaks() {
        return cuts.clone();
    }
}
