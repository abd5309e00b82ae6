package org.evenstamp.analysis.film.solve;

import java.util.Arrays;
import org.evenstamp.analysis.film.stamp.StampCompliance;
import org.evenstamp.analysis.numeric.ThreadTeam;
import org.jspecify.annotations.Nullable;

/** What another input does otherwise in a step: load, lengths of steps, and the stamp's elastic answer. */
final class OtherInput {
    private static final double INSIDE = 1e-6; // share of a step before its end: a load may jump there

    final SolverInput other;
    private final SolverInput input;
    private final StepWarp warp;
    private final @Nullable StampCompliance stamp; // null where it is the same
    private final double[] otherApplied;
    private final double[] applied;
    private final double[] bend;
    private final double[] otherBend;
    private final double[] logViscosities; // of each tile; none where neither input tells them apart
    private final double[] otherFluidity;
    private double logViscosity;
    private double logStep;

    OtherInput(SolverInput input, SolverInput other, ThreadTeam team) {
        this.input = input;
        this.other = other;
        warp = new StepWarp(input.load, other.load);
        stamp = input.stamp.equals(other.stamp)
                ? null
                : new StampCompliance(other.stamp, other.grid, other.surround, team);
        int size = input.grid.size();
        applied = new double[size];
        otherApplied = new double[size];
        boolean differs = input.load.differsByTile() || other.load.differsByTile();
        logViscosities = new double[differs ? size : 0];
        otherFluidity = new double[differs ? size : 0];
        bend = new double[stamp == null ? 0 : size];
        otherBend = new double[stamp == null ? 0 : size];
    }

    /** Turns to a step. */
    void turnTo(FilmTape.Step step, StampCompliance own, double[] pressure, double[] appliedOwn) {
        double start = step.startSeconds();
        double dt = step.stepSeconds();
        double begins = warp.at(start);
        double lasts = warp.at(start + dt) - begins;
        logStep = Math.log(lasts / dt);
        if (logViscosities.length > 0) {
            input.load.fluidity(start, start + dt, logViscosities);
            other.load.fluidity(begins, begins + lasts, otherFluidity);
            // Where film sets in one of them within the step it counts in proportion to how far it flows before.
            Arrays.setAll(logViscosities, i -> logarithm(logViscosities[i], otherFluidity[i]));
        } else {
            logViscosity = Math.log(other.load.viscosityPascalSeconds(begins + lasts / 2)
                    / input.load.viscosityPascalSeconds(start + dt / 2));
        }
        input.load.pressurePascal(start + dt * (1 - INSIDE), applied);
        other.load.pressurePascal(begins + lasts * (1 - INSIDE), otherApplied);
        for (int i = 0; i < applied.length; i++) {
            applied[i] = otherApplied[i] - applied[i];
        }
        if (stamp != null) {
            difference(own, pressure, appliedOwn, stamp);
        }
    }

    private static double logarithm(double fluidity, double others) {
        if (fluidity == 0) {
            return 0;
        }
        return others == 0 ? 1 : Math.log(fluidity / others);
    }

    /** What the other stamp bends more than this one under the same pressures. */
    private void difference(StampCompliance own, double[] pressure, double[] back, StampCompliance others) {
        double[] work = new double[bend.length];
        own.apply(pressure, bend);
        own.applyBack(back, work);
        add(bend, work);
        others.apply(pressure, otherBend);
        others.applyBack(back, work);
        add(otherBend, work);
        Arrays.setAll(bend, i -> otherBend[i] - bend[i]);
    }

    private static void add(double[] sum, double[] more) {
        for (int i = 0; i < sum.length; i++) {
            sum[i] += more[i];
        }
    }

    /** Returns the change of a goal by what differs in the step: viscosity of all tiles or of each, length, pressures, stamp. */
    double change(double ofViscosity, double[] ofViscosities, double ofStep, double[] ofPressure, double[] body) {
        double sum = ofViscosity * logViscosity + ofStep * logStep;
        for (int i = 0; i < logViscosities.length; i++) {
            sum += ofViscosities[i] * logViscosities[i];
        }
        for (int i = 0; i < applied.length; i++) {
            sum += ofPressure[i] * applied[i];
        }
        for (int i = 0; i < bend.length; i++) {
            sum -= body[i] * bend[i];
        }
        return sum;
    }
}
