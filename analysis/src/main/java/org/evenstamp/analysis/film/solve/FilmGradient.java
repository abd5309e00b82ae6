package org.evenstamp.analysis.film.solve;

import java.util.List;

/**
 * How one goal, a number made of the residual layer at the end of a solve, goes with everything that went into the solve: its
 * derivatives, with the lengths of the time steps and the states of the tiles in each held as they were. Maps are in the order
 * of {@link org.evenstamp.shared.grid.TileGrid}, in units of the goal over SI; read the arrays, keep copies.
 */
public final class FilmGradient {
    final double[] volume;
    final double[] fraction;
    final double[] moment;
    final double[] edges;
    final double[] own;
    final double[] reach;
    final double[] sag;
    final double[] ownMoment;
    final double[] thickness;
    final double[] capillary;
    final double[] logViscosity; // of each step
    final double[] logStep; // of each step's length
    final double[] logPressure; // on the back, in each step
    double wedgeX;
    double wedgeY;
    final double[] changes; // of the goal, for each of the other inputs
    double rate = 1; // that it was divided by
    private final SolverInput input;

    FilmGradient(SolverInput input, int steps, int others) {
        this.input = input;
        int size = input.grid.size();
        volume = new double[size];
        fraction = new double[size];
        moment = new double[size];
        edges = new double[size];
        own = new double[size];
        reach = new double[size];
        sag = new double[size];
        ownMoment = new double[size];
        thickness = new double[size];
        capillary = new double[size];
        logViscosity = new double[steps];
        logStep = new double[steps];
        logPressure = new double[steps];
        changes = new double[others];
    }

    /** Returns the derivative by the cavity volume of each tile, its share of cavities as it is: deeper cavities. */
    public double[] byVolume() {
        return volume.clone();
    }

    /** Returns the derivative by the cavity share of each tile, its cavity volume and the links of its land as they are. */
    public double[] byFraction() {
        double[] all = fraction.clone();
        for (int i = 0; i < all.length; i++) {
            all[i] -= input.landReach[i] > 0 ? reach[i] / input.edgeDensity[i] : 0;
        }
        return all;
    }

    /** Returns the derivative by the squeeze moment of each tile, the links of its land as they are. */
    public double[] byMoment() {
        double[] all = moment.clone();
        for (int i = 0; i < all.length; i++) {
            double alone = input.ownMoment[i] / Math.max(input.squeezeMoment[i], 1e-300);
            all[i] += input.ownMoment[i] > 0 ? ownMoment[i] * input.ownShare[i] * alone * alone : 0;
        }
        return all;
    }

    /** Returns the derivative by the film thickness of each tile. */
    public double[] byThickness() {
        return thickness.clone();
    }

    /** Returns the derivative by the pull of the menisci of each tile, in Pa. */
    public double[] byCapillaryPressure() {
        return capillary.clone();
    }

    /** Returns the derivative by the logarithm of the viscosity in each step. */
    public double[] byLogViscosity() {
        return logViscosity.clone();
    }

    /** Returns the derivative by the logarithm of the length of each step, its viscosity and pressure as they are. */
    public double[] byLogStep() {
        return logStep.clone();
    }

    /** Returns the derivative by the logarithm of the pressure on the stamp's back in each step. */
    public double[] byLogPressure() {
        return logPressure.clone();
    }

    /** Returns the derivative by the slope of the stamp along x. */
    public double byWedgeX() {
        return wedgeX;
    }

    /** Returns the derivative by the slope of the stamp along y. */
    public double byWedgeY() {
        return wedgeY;
    }

    /** Returns the change of the goal, to first order, from the input to one of the others the gradient was asked for. */
    public double change(int other) {
        return changes[other];
    }

    /** Divides all of it by the rate at which the goal grows. */
    void divide(double byRate) {
        rate = byRate;
        for (double[] map : List.of(
                volume,
                fraction,
                moment,
                edges,
                own,
                reach,
                sag,
                ownMoment,
                thickness,
                capillary,
                logViscosity,
                logStep,
                logPressure,
                changes)) {
            for (int i = 0; i < map.length; i++) {
                map[i] /= byRate;
            }
        }
        wedgeX /= byRate;
        wedgeY /= byRate;
    }

    /** Adds to the changes what the others' maps differ in. */
    void addMaps(int number, SolverInput other) {
        double sum = wedgeX * (other.wedgeX - input.wedgeX) + wedgeY * (other.wedgeY - input.wedgeY);
        for (int i = 0; i < volume.length; i++) {
            sum += volume[i] * (other.cavityVolume[i] - input.cavityVolume[i])
                    + fraction[i] * (other.cavityFraction[i] - input.cavityFraction[i])
                    + moment[i] * (other.squeezeMoment[i] - input.squeezeMoment[i])
                    + edges[i] * (other.edgeDensity[i] - input.edgeDensity[i])
                    + own[i] * (other.ownShare[i] - input.ownShare[i])
                    + reach[i] * (other.landReach[i] - input.landReach[i])
                    + sag[i] * (other.sag[i] - input.sag[i])
                    + ownMoment[i] * (other.ownMoment[i] - input.ownMoment[i])
                    + thickness[i] * (other.thickness[i] - input.thickness[i])
                    + capillary[i] * (other.capillaryPressure[i] - input.capillaryPressure[i]);
        }
        changes[number] += sum;
    }
}
