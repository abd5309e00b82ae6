package org.evenstamp.analysis.film.solve;

import org.evenstamp.analysis.rheology.ShearThinning;
import org.evenstamp.analysis.rheology.SqueezeStress;

/**
 * At which gap a tile with room in its cavities bears a pressure, over one time step.
 *
 * <p>Squeezing film out from under the protrusions takes {@code η T (-ḣ)/h³} (Stefan 1874, Reynolds 1886); at constant
 * pressure over a step this is exactly {@code s = ((h_n/h)² - 1)/a} with {@code a = 2 Δt h_n²/(η T)}. To it comes what the
 * cavities do: the meniscus pulls on the film, the sealed gas pushes (Boyle at constant temperature, less what the film
 * dissolves by Henry's law at equilibrium).
 */
final class TileLaw {
    private final SolverInput input;
    private final boolean gas;
    private final double[] touch; // gap at which the step's squeezing starts
    private final double[] inverseA; // 1/a
    private final boolean[] clear; // the film did not rise into the cavities yet when the step began

    TileLaw(SolverInput input) {
        this.input = input;
        gas = input.gasPressure > 0;
        int size = input.grid.size();
        touch = new double[size];
        inverseA = new double[size];
        clear = new boolean[size];
    }

    /**
     * Begins a step of tiles {@code from .. to - 1}.
     *
     * @param eta the film's viscosity at rest, in Pa s
     * @param squeeze pressure that has squeezed the film in each tile until now, in Pa: tells how far it thins
     */
    void begin(double dt, double eta, double[] squeeze, double[] gap, double[] film, int from, int to) {
        boolean thins = !(input.thinning instanceof ShearThinning.None);
        for (int i = from; i < to; i++) {
            touch[i] = Math.min(gap[i], film[i]);
            double viscosity = thins ? input.thinning.underStress(eta, stress(i, squeeze[i])) : eta;
            inverseA[i] = viscosity * input.squeezeMoment[i] / (2 * dt * touch[i] * touch[i]);
            clear[i] = gap[i] >= film[i] * (1 - 1e-12);
        }
    }

    private double stress(int i, double squeeze) {
        return SqueezeStress.pascals(squeeze, touch[i], input.cavityFraction[i], input.squeezeMoment[i]);
    }

    /** Returns whether the tile bears a pressure before it is full: it has land to squeeze under, or gas. */
    boolean bears(int i) {
        return input.squeezeMoment[i] > 0 || gas;
    }

    /** Returns the gap at which the stamp meets the film. */
    double touch(int i) {
        return touch[i];
    }

    /** Returns whether film already in the cavities holds the stamp when it is pulled: suction instead of a void. */
    boolean holds(int i) {
        return !clear[i];
    }

    /** Returns the squeeze pressure at a gap, zero when it is not below where the step began. */
    double squeeze(int i, double h) {
        return h > 0 && h < touch[i] ? excess(i, h) : 0;
    }

    private double excess(int i, double h) {
        double ratio = touch[i] / h;
        return (ratio * ratio - 1) * inverseA[i];
    }

    private double gasPressure(int i, double h, double film) {
        if (!gas) {
            return 0;
        }
        double volume = input.cavityVolume[i];
        if (volume == 0) {
            return 0;
        }
        double room = Math.min(volume, Math.max(0, volume - film + h)) + input.gasSolubility * film;
        return input.gasPressure * (volume / Math.max(room, 1e-9 * volume) - 1);
    }

    /** Returns the film's pressure at the meniscus in a tile that is not full. */
    double meniscus(int i, double h, double film) {
        return h > film * (1 + 1e-12) ? 0 : gasPressure(i, h, film) - input.capillaryPressure[i];
    }

    /** Returns the pressure below which a full tile's cavities empty. */
    double meniscusWhenFull(int i, double film) {
        return input.cavityVolume[i] == 0 ? 0 : meniscus(i, film - input.cavityVolume[i], film);
    }

    /** Returns by how much the pressure on the stamp is above the film's in a tile that has just filled. */
    double heldWhenFilled(int i, double film) {
        double brim = film - input.cavityVolume[i];
        double above = pressure(i, brim, film) - meniscusWhenFull(i, film);
        return clear[i] ? Math.max(0, above) : above;
    }

    /** Returns the pressure on the stamp without squeezing: film at the meniscus' pressure below land, gas below roofs. */
    double base(int i, double h, double film) {
        if (h >= film) {
            return 0; // out of touch
        }
        double share = input.cavityFraction[i];
        return gasPressure(i, h, film) - (1 - share) * input.capillaryPressure[i];
    }

    /** Returns the pressure on the stamp at a gap, positive. */
    double pressure(int i, double h, double film) {
        return base(i, Math.min(h, film * (1 - 1e-15)), film) + excess(i, h);
    }

    /** Returns the pressure at which the stamp comes down to a particle's top. */
    double pressureAtStop(int i, double top, double film) {
        return top >= touch[i] ? 0 : base(i, top, film) + squeeze(i, top);
    }

    /** Returns a pressure that some gap answers to, as near to q as may be. */
    double admissible(int i, double q, double film) {
        double low = base(i, film * (1 - 1e-15), film) - 0.5 * inverseA[i];
        return Math.max(q, low);
    }

    /** Returns the gap that bears q. */
    double gap(int i, double q, double film) {
        if (!gas) {
            double s = q - base(i, 0, film);
            return inverseA[i] == 0 ? touch[i] : touch[i] / Math.sqrt(1 + s / inverseA[i]);
        }
        // Falls strictly with h: a bracket and Newton's method inside it.
        double low = Math.max(0, film * (1 - input.gasSolubility) - input.cavityVolume[i]);
        double high = touch[i];
        for (int n = 0; n < 60 && pressure(i, high, film) > q; n++) {
            high *= 2;
        }
        double h = Math.min(touch[i], high);
        for (int n = 0; n < 200; n++) {
            double over = pressure(i, h, film) - q;
            if (over > 0) {
                low = h;
            } else {
                high = h;
            }
            double move = over * compliance(i, h, film);
            if (Math.abs(move) <= 1e-14 * touch[i]) {
                return h;
            }
            double next = h + move;
            if (!(next > low && next < high)) {
                next = (low + high) / 2;
            }
            h = next;
        }
        return h;
    }

    /** Returns by how much the gap falls per pressure, at a gap. */
    double compliance(int i, double h, double film) {
        double stiffness = 2 * inverseA[i] * touch[i] * touch[i] / (h * h * h);
        if (gas) {
            double volume = input.cavityVolume[i];
            double room = volume - film + h;
            if (room < volume) {
                double all = Math.max(Math.max(0, room) + input.gasSolubility * film, 1e-9 * volume);
                stiffness += input.gasPressure * volume / (all * all);
            }
        }
        return 1 / Math.max(stiffness, 1e-300);
    }
}
