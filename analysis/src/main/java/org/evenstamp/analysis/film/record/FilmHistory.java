package org.evenstamp.analysis.film.record;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.evenstamp.analysis.feature.Unfilled;
import org.evenstamp.analysis.film.solve.FilmObserver;
import org.evenstamp.analysis.film.solve.FilmState;
import org.evenstamp.analysis.film.solve.SolverInput;

/**
 * Keeps of a run what a report needs: the last maps, when each tile filled, the largest pressure and flow each tile saw,
 * figures over time, and the film at some times.
 */
public final class FilmHistory implements FilmObserver {
    // Of a film that is not squeezed the compressibility moves the gap, by the pressure over some GPa.
    private static final double COMPRESSED = 1e-3;
    // Share of its cavities that a tile holds where its roofs have come down on the film before this rose to them.
    private static final double SAGGED = 0.9;

    private final SolverInput input;
    private final double[] fillTime;
    private final double[] peakPressure;
    private final double[] peakFlux;
    private final UnrelaxedFill filling;
    private final double[] intake; // of film in the last step, thickness over time
    private final double[] squeezedShare; // of it, from under the tile's own land
    private final double[] squeezeRate; // of 1/h² in the last step
    private final boolean[] wasFull;
    private int touched;
    private final double[] lastPressure;
    private final double[] lastGap;
    private final double[] lastFilled;
    private final double[] lastDeflection;
    private final double[] beforeGap;
    private final double[] beforeFilled;
    private final List<double[]> rows = new ArrayList<>();
    private final FilmSnapshots snapshots;
    private final long hollow;

    /**
     * Starts an empty history.
     *
     * @param input what is solved
     * @param snapshots where states of the film are kept; the solver must be asked to stop at times asked for
     * @param plateauModulus of the film, Pa, if it is known: then what the film's stress remembers is kept too
     */
    public FilmHistory(SolverInput input, FilmSnapshots snapshots, OptionalDouble plateauModulus) {
        this.input = input;
        this.snapshots = snapshots;
        int size = input.grid().size();
        hollow = IntStream.range(0, size).filter(i -> input.cavityVolume(i) > 0).count();
        fillTime = new double[size];
        Arrays.fill(fillTime, Double.NaN);
        peakPressure = new double[size];
        peakFlux = new double[size];
        filling = new UnrelaxedFill(size, plateauModulus);
        intake = new double[size];
        squeezedShare = new double[size];
        squeezeRate = new double[size];
        wasFull = new boolean[size];
        lastPressure = new double[size];
        lastGap = new double[size];
        lastFilled = new double[size];
        lastDeflection = new double[size];
        beforeGap = new double[size];
        beforeFilled = new double[size];
    }

    @Override
    public void accepted(FilmState state) {
        int size = lastGap.length;
        System.arraycopy(lastGap, 0, beforeGap, 0, size);
        System.arraycopy(lastFilled, 0, beforeFilled, 0, size);
        double step = state.stepSeconds();
        for (int i = 0; i < size; i++) {
            // Where the stamp stands clear, the film; where a roof without protrusions hangs lower than these, none.
            double gap = Math.max(0, Math.min(state.residual()[i], state.film()[i]));
            double pressure = state.pressure()[i];
            lastGap[i] = gap;
            lastFilled[i] = state.filled()[i];
            lastDeflection[i] = state.deflection()[i];
            if (state.stepSeconds() > 0) {
                peakPressure[i] = Math.max(peakPressure[i], pressure);
                peakFlux[i] = Math.max(peakFlux[i], state.flux()[i]);
            }
            double open = step; // how long the tile had room
            if (state.full()[i]) {
                open = wasFull[i] || step == 0 ? 0 : step * fillingShare(state, i);
                if (!wasFull[i] && Double.isNaN(fillTime[i])) {
                    touched += lastFilled[i] < SAGGED * input.cavityVolume(i) ? 1 : 0;
                    fillTime[i] = state.seconds() - step + open;
                }
            }
            if (step > 0) {
                filling.fade(i, step, state.viscosity(i));
            }
            if (step > 0 && !wasFull[i]) {
                double taken = lastFilled[i] - beforeFilled[i];
                // A roof without protrusions that comes down on the film moves none.
                double flowed = input.squeezeMoment(i) > 0 ? taken : Math.min(taken, state.inflow()[i]);
                filling.take(i, flowed, open, step, state.viscosity(i), pressure);
            }
            wasFull[i] = state.full()[i];
            lastPressure[i] = pressure;
            keepIntake(i, step);
        }
        addRow(state);
        snapshots.offer(state.seconds(), lastGap, lastFilled);
    }

    /** Adds the figures of a state. */
    private void addRow(FilmState state) {
        int size = lastGap.length;
        double mean = 0;
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        double force = 0;
        double peak = Double.NEGATIVE_INFINITY;
        int full = 0;
        for (int i = 0; i < size; i++) {
            double gap = lastGap[i];
            double pressure = state.pressure()[i];
            mean += gap / size;
            least = Math.min(least, gap);
            most = Math.max(most, gap);
            force += pressure / size;
            peak = Math.max(peak, pressure);
            double volume = input.cavityVolume(i);
            full += volume > 0 && lastFilled[i] >= volume * Unfilled.FULL_SHARE ? 1 : 0;
        }
        double variance = 0;
        for (int i = 0; i < size; i++) {
            variance += (lastGap[i] - mean) * (lastGap[i] - mean) / size;
        }
        rows.add(new double[] {
            state.seconds(),
            mean,
            least,
            most,
            3 * Math.sqrt(variance),
            hollow == 0 ? 1 : full / (double) hollow,
            force,
            peak,
            state.viscosity(),
            state.stepSeconds()
        });
    }

    /**
     * Returns at which share of the step a tile filled: as it would have if it had gone on as before the step, or as things
     * stand at its end, or between (geometric mean) where both say that it filled. What its land has to bear to fill it within
     * the step tells it of a tile that filled by squeezing: at another pressure it takes as much longer as that is lower.
     */
    private double fillingShare(FilmState state, int i) {
        double squeezed = Math.min(1, state.shareUntilFull(i, state.pressure()[i]));
        if (squeezed > 0) {
            double earlier = state.shareUntilFull(i, lastPressure[i]);
            return earlier > 0 && earlier < 1 ? Math.sqrt(earlier * squeezed) : squeezed;
        }
        double before = asBefore(i) / state.stepSeconds();
        double atEnd = asAtEnd(state, i);
        return before < 1 ? Math.sqrt(before * atEnd) : atEnd;
    }

    /** Returns after which time a tile fills that goes on as in the step before, in s: its own film by Stefan's law. */
    private double asBefore(int i) {
        double room = input.cavityVolume(i) - beforeFilled[i];
        double squeezed = squeezedShare[i] * room;
        double h = beforeGap[i] - squeezed;
        if (squeezed > 0 && h > 0) {
            return (1 / (h * h) - 1 / (beforeGap[i] * beforeGap[i])) / squeezeRate[i];
        }
        return intake[i] > 0 ? room / intake[i] : Double.POSITIVE_INFINITY;
    }

    /**
     * Returns at which share of the step a tile filled if all flowed as at its end: when both its own film was squeezed into
     * its cavities, by Stefan's law, and what these lacked had come in. What comes in later passes on. Where the stamp sinks
     * without land to squeeze under, it sinks all through the step.
     */
    private double asAtEnd(FilmState state, int i) {
        double h = state.residual()[i];
        double before = beforeGap[i];
        double moment = input.squeezeMoment(i);
        double squeezed = Math.max(0, before - h);
        double pressure = state.pressure()[i];
        double share = 0;
        if (moment > 0 && h > 0 && squeezed > 0 && pressure > 0) {
            double needed = (1 / (h * h) - 1 / (before * before)) * state.viscosity(i) * moment / 2;
            share = Math.min(1, needed / (pressure * state.stepSeconds()));
        } else if (squeezed > COMPRESSED * lastFilled[i]) {
            return 1;
        }
        double lacking = lastFilled[i] - beforeFilled[i] - squeezed;
        if (lacking > COMPRESSED * lastFilled[i]) {
            double inflow = state.inflow()[i];
            share = Math.max(share, lacking < inflow ? lacking / inflow : 1);
        }
        return share;
    }

    /** Keeps how a tile with room took in film during a step. */
    private void keepIntake(int i, double step) {
        double taken = lastFilled[i] - beforeFilled[i];
        double h = lastGap[i];
        double before = beforeGap[i];
        intake[i] = step > 0 ? taken / step : 0;
        boolean squeezes = step > 0 && taken > 0 && h > 0 && h < before;
        squeezedShare[i] = squeezes ? Math.min(1, (before - h) / taken) : 0;
        squeezeRate[i] = squeezes ? (1 / (h * h) - 1 / (before * before)) / step : 0;
    }

    /** Returns in how many tiles the roofs of the cavities sagged onto the film before it had filled nine tenths of them. */
    public int touched() {
        return touched;
    }

    /** Returns the film under the protrusions at the end, in m. */
    public double[] residual() {
        return lastGap.clone();
    }

    /** Returns the filled cavity volume per area at the end, in m. */
    public double[] filled() {
        return lastFilled.clone();
    }

    /** Returns the elastic displacement of the stamp's face at the end against its mean, in m. */
    public double[] deflection() {
        return lastDeflection.clone();
    }

    /** Returns when film first met all roofs of each tile's cavities, in s; NaN where it never did. Roofs that sag come down on it earlier. */
    public double[] fillTime() {
        return fillTime.clone();
    }

    /** Returns the largest pressure each tile bore, in Pa. */
    public double[] peakPressure() {
        return peakPressure.clone();
    }

    /** Returns what the filling leaves behind. */
    public UnrelaxedFill filling() {
        return filling;
    }

    /** Returns the largest flow through each tile, in m²/s. */
    public double[] peakFlux() {
        return peakFlux.clone();
    }

    /** Returns the number of accepted states, the first one at time 0 included. */
    public int length() {
        return rows.size();
    }

    /** Returns one figure over time. */
    public double[] column(Column column) {
        return rows.stream().mapToDouble(row -> row[column.place]).toArray();
    }

    /** Returns the states kept, in order of time. */
    public List<FilmSnapshots.State> states() {
        return snapshots.all();
    }

    /** The figures kept over time; lengths in m, times in s, pressures in Pa. */
    public enum Column {
        /** Time. */
        TIME(0),
        /** Mean gap. */
        MEAN(1),
        /** Smallest gap. */
        LEAST(2),
        /** Largest gap. */
        MOST(3),
        /** Three standard deviations of the gap over the tiles. */
        SIGMA3(4),
        /** Share of the tiles with cavities that are full; 1 where there are none. */
        FULL(5),
        /** Mean pressure of the film on the stamp. */
        FORCE(6),
        /** Largest pressure of the film on the stamp. */
        PEAK(7),
        /** Viscosity. */
        VISCOSITY(8),
        /** Time step. */
        STEP(9);

        private final int place;

        Column(int place) {
            this.place = place;
        }
    }
}
