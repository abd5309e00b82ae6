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
        logViscosity = Math.log(other.load.viscosityPascalSeconds(begins + lasts / 2)
                / input.load.viscosityPascalSeconds(start + dt / 2));
        input.load.pressurePascal(start + dt * (1 - INSIDE), applied);
        other.load.pressurePascal(begins + lasts * (1 - INSIDE), otherApplied);
        for (int i = 0; i < applied.length; i++) {
            applied[i] = otherApplied[i] - applied[i];
        }
        if (stamp != null) {
            difference(own, pressure, appliedOwn, stamp);
        }
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

    /** Returns the change of a goal by what differs in the step. */
    double change(double ofViscosity, double ofStep, double[] ofPressure, double[] body) {
        double sum = ofViscosity * logViscosity + ofStep * logStep;
        for (int i = 0; i < applied.length; i++) {
            sum += ofPressure[i] * applied[i];
        }
        for (int i = 0; i < bend.length; i++) {
            sum -= body[i] * bend[i];
        }
        return sum;
    }
}
