package org.evenstamp.analysis.film.solve;

import static org.evenstamp.analysis.film.solve.TileStates.FULL;
import static org.evenstamp.analysis.film.solve.TileStates.STOPPED;

import org.evenstamp.analysis.rheology.ShearThinning;

/**
 * How easily each tile lets film pass along during a time step: the cubed gap, taken at the gap that its rate so far leads
 * to, raised where the film thins, and how far its cavities are filled when the step begins.
 */
final class GapMobility {
    // Share of the wall's stress at which a film between plates flows as one with one viscosity: 0.73 to 0.78 for power
    // laws of exponents 0.7 to 0.3, by the slit integral of Rabinowitsch.
    private static final double FLOW_STRESS = 0.75;

    final double[] cubedX; // mean cubed gap along x, m³
    final double[] cubedY;
    final double[] cubedLand; // cubed gap under the protrusions, m³
    final double[] cubedRoof; // cubed gap under the cavities' roofs, m³
    final double[] share; // of the cavities that is filled

    private final SolverInput input;
    private final boolean thins;

    GapMobility(SolverInput input) {
        this.input = input;
        thins = !(input.thinning instanceof ShearThinning.None);
        int size = input.grid.size();
        cubedX = new double[size];
        cubedY = new double[size];
        cubedLand = new double[size];
        cubedRoof = new double[size];
        share = new double[size];
    }

    /**
     * Begins a step of tiles {@code from .. to - 1}: cubed gaps, filled shares, and which tiles are full or blocked. The cubed gaps
     * go with the viscosity of the most fluid tile.
     */
    void begin(double dt, StepViscosity rest, TileStates tiles, double[] rate, TileFlow flow, int from, int to) {
        for (int i = from; i < to; i++) {
            double gap = tiles.landGap[i];
            double predicted = Math.min(1.5 * gap, Math.max(0.6 * gap, gap + dt * rate[i]));
            cubedX[i] = cubedGap(i, predicted, false);
            cubedY[i] = cubedGap(i, predicted, true);
            double open = Math.max(predicted, 1e-12);
            double deep = open + (input.cavityFraction[i] > 0 ? input.cavityVolume[i] / input.cavityFraction[i] : 0);
            cubedLand[i] = open * open * open;
            cubedRoof[i] = deep * deep * deep;
            if (thins && !rest.hasSet(i)) {
                double stress = 0.5 * Math.cbrt(Math.max(cubedX[i], cubedY[i])) * flow.slope(tiles.pressure, i);
                double eta = rest.of(i);
                ease(i, eta / input.thinning.underStress(eta, FLOW_STRESS * stress));
            }
            if (rest.share(i) < 1) {
                ease(i, rest.share(i));
            }
            tiles.full[i] = tiles.state[i] == FULL;
            flow.blocked[i] = tiles.state[i] == STOPPED || rest.hasSet(i);
            share[i] = front(i, tiles.film[i], gap);
        }
    }

    private void ease(int i, double factor) {
        cubedX[i] *= factor;
        cubedY[i] *= factor;
        cubedLand[i] *= factor;
        cubedRoof[i] *= factor;
    }

    /** Returns the share of a tile's cavities in which the film has met the roof: ahead of its front it is as thick as at first. */
    private double front(int i, double film, double gap) {
        double fraction = input.cavityFraction[i];
        if (fraction == 0) {
            return 0;
        }
        double behind = film - (1 - fraction) * gap - fraction * input.thickness[i];
        double room = fraction * (gap - input.thickness[i]) + input.cavityVolume[i];
        return behind <= 0 ? 0 : behind >= room ? 1 : behind / room;
    }

    private double cubedGap(int i, double h, boolean alongY) {
        double fraction = input.cavityFraction[i];
        double depth = fraction > 0 ? input.cavityVolume[i] / fraction : 0;
        double floor = 1e-3 * input.filmThickness; // a roof that hangs down between protrusions
        double open = Math.max(h, fraction < 1 ? 1e-12 : floor - depth);
        double angle = input.lineAngle[i];
        if (Double.isNaN(angle)) {
            return input.mobility.cubedGap(fraction, open, depth);
        }
        double cos = alongY ? Math.sin(angle) : Math.cos(angle);
        double along = Mobility.PARALLEL.cubedGap(fraction, open, depth);
        double across = Mobility.SERIES.cubedGap(fraction, open, depth);
        return across + (along - across) * cos * cos;
    }

    /** Returns whether a full tile lost so much film in the step that the mobility it was given no longer fits. */
    boolean drainedTooFar(TileStates tiles, StepViscosity rest) {
        for (int i = 0; i < share.length; i++) {
            if (tiles.state[i] == FULL
                    && tiles.newFilm[i] < tiles.film[i] - 1e-3 * input.filmThickness
                    && rest.share(i) * cubedGap(i, tiles.newGap[i], false) < 0.1 * cubedX[i]) {
                return true;
            }
        }
        return false;
    }
}
