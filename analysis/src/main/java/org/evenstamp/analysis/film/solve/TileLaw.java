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
    static final double[] GAUSS_AT = {0.3399810435848563, 0.8611363115940526};
    static final double[] GAUSS_WEIGHT = {0.6521451548625461, 0.3478548451374538};

    private final SolverInput input;
    private final boolean gas;
    final double[] touch; // gap at which the step's squeezing starts
    final double[] inverseA; // 1/a
    final double[] filmBefore; // H when the step began
    final double[] roofFactor; // 12 η/(own share of the outflow times Δt); 0 where no way under a roof is known
    private final boolean[] clear; // the film did not rise into the cavities yet when the step began

    TileLaw(SolverInput input) {
        this.input = input;
        gas = input.gasPressure > 0;
        int size = input.grid.size();
        touch = new double[size];
        inverseA = new double[size];
        filmBefore = new double[size];
        roofFactor = new double[size];
        clear = new boolean[size];
    }

    /**
     * Begins a step of tiles {@code from .. to - 1}.
     *
     * @param rest the film's viscosity at rest; of tiles that have set nothing but their gap is taken
     * @param squeeze pressure that has squeezed the film in each tile until now, in Pa: tells how far it thins
     */
    void begin(double dt, StepViscosity rest, double[] squeeze, double[] gap, double[] film, int from, int to) {
        boolean thins = !(input.thinning instanceof ShearThinning.None);
        for (int i = from; i < to; i++) {
            touch[i] = Math.min(gap[i], film[i]);
            filmBefore[i] = film[i];
            clear[i] = gap[i] >= film[i] * (1 - 1e-12);
            if (rest.hasSet(i)) {
                inverseA[i] = 0;
                roofFactor[i] = 0;
                continue;
            }
            double eta = rest.of(i);
            double viscosity = thins ? input.thinning.underStress(eta, stress(i, squeeze[i])) : eta;
            inverseA[i] = viscosity * input.squeezeMoment[i] / (2 * dt * touch[i] * touch[i] * input.ownShare[i]);
            roofFactor[i] =
                    input.landReach[i] > 0 && input.cavityVolume[i] > 0 ? 12 * viscosity / (dt * input.ownShare[i]) : 0;
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
        double land = (ratio * ratio - 1) * inverseA[i];
        return roofFactor[i] == 0 ? land : land + roofFactor[i] * underRoof(i, h);
    }

    /** Returns the integral of the way under the roof over the cubed height of the roof, from a gap to where the step began. */
    private double underRoof(int i, double h) {
        double middle = (touch[i] + h) / 2;
        double half = (touch[i] - h) / 2;
        double sum = 0;
        for (int n = 0; n < GAUSS_AT.length; n++) {
            sum += GAUSS_WEIGHT[n]
                    * (roofResistance(i, middle - half * GAUSS_AT[n]) + roofResistance(i, middle + half * GAUSS_AT[n]));
        }
        return sum * half;
    }

    /**
     * Returns what the film on its way from the edge to its front under the roof adds to 12 times the mean torsion function
     * over the cubed gap, over the cubed height of the roof: exact for a grating.
     */
    private double roofResistance(int i, double h) {
        double share = input.cavityFraction[i];
        double land = 1 - share;
        double roof = h + input.cavityVolume[i] / share;
        double way = share / input.edgeDensity[i];
        double untouched = input.thickness[i]; // film ahead of the front
        double behind = filmBefore[i] - land * h - share * untouched;
        double room = share * (roof - untouched);
        double front = behind <= 0 ? 0 : behind >= room ? way : way * behind / room;
        double reach = input.landReach[i];
        double line = reach * front + front * front / 2;
        double area = reach * front * front / 2 + front * front * front / 3;
        return (land * line + input.edgeDensity[i] * area) / (roof * roof * roof);
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
        return input.cavityVolume[i] == 0 || h > film * (1 + 1e-12)
                ? 0
                : gasPressure(i, h, film) - input.capillaryPressure[i];
    }

    /**
     * Returns the pressure below which a full tile's cavities empty. Land without any lets go of the stamp at the suction of a
     * meniscus in the gap: until then it is wetted, and sucked at by the menisci around it.
     */
    double meniscusWhenFull(int i, double film) {
        return input.cavityVolume[i] == 0
                ? -input.capillaryPressure[i]
                : meniscus(i, film - input.cavityVolume[i], film);
    }

    /**
     * Returns by how much the pressure on the stamp is above the film's in a tile that has just filled.
     *
     * @param aside by how much the flow to and from the neighbours' land moved the gap
     */
    double heldWhenFilled(int i, double film, double aside) {
        double brim = film - input.cavityVolume[i];
        double above = pressureAtMean(i, brim, film, aside) - meniscusWhenFull(i, film);
        return clear[i] ? Math.max(0, above) : above;
    }

    /** Returns the pressure at which the mean of a tile's face, which sags between its protrusions, stands at a height. */
    private double pressureAtMean(int i, double mean, double film, double aside) {
        double sag = input.sag[i];
        if (sag == 0) {
            return pressure(i, mean - aside, film);
        }
        // Pressed, the face stands lower than the land; where the tile is pulled, higher.
        double low = Math.max(1e-3 * touch[i], Math.min(touch[i], mean - aside));
        double high = Math.max(touch[i], mean - aside);
        for (int n = 0; n < 60 && high - low > 1e-13 * touch[i]; n++) {
            double h = (low + high) / 2;
            if (h + aside - sag * pressure(i, h, film) > mean) {
                high = h;
            } else {
                low = h;
            }
        }
        return pressure(i, (low + high) / 2, film);
    }

    /** Returns the pressure on the stamp without squeezing: film at the meniscus' pressure below land, gas below roofs. */
    double base(int i, double h, double film) {
        if (h >= film || input.cavityVolume[i] == 0) {
            return 0; // out of touch, or no meniscus while it is in touch
        }
        double share = input.cavityFraction[i];
        return gasPressure(i, h, film) - (1 - share) * input.capillaryPressure[i];
    }

    /** Returns the same of a tile that touches its film, also where its face stands on average above it: the meniscus pulls until the land lets go. */
    double baseInTouch(int i, double h, double film) {
        return base(i, Math.min(h, film * (1 - 1e-15)), film);
    }

    /** Returns the pressure on the stamp at a gap, positive. */
    double pressure(int i, double h, double film) {
        return baseInTouch(i, h, film) + excess(i, h);
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
            if (roofFactor[i] > 0 && s < 0) {
                return search(i, q, film, touch[i], above(i, q, film), touch[i]);
            }
            double free = inverseA[i] == 0 ? touch[i] : touch[i] / Math.sqrt(1 + s / inverseA[i]);
            return roofFactor[i] == 0 || free == touch[i] ? free : search(i, q, film, free, touch[i], free);
        }
        double low = Math.max(0, film * (1 - input.gasSolubility) - input.cavityVolume[i]);
        double high = above(i, q, film);
        return search(i, q, film, low, high, Math.min(touch[i], high));
    }

    /** Returns a gap at which the tile bears less than q: film on its way under the roof sucks beyond what the land's alone can. */
    private double above(int i, double q, double film) {
        double high = touch[i];
        for (int n = 0; n < 60 && pressure(i, high, film) > q; n++) {
            high *= 2;
        }
        return high;
    }

    /** Returns the gap that bears q, also where film that sucks at the roofs leaves less than {@link #gap} takes. */
    double gapInSuction(int i, double q, double film) {
        double low = 1e-3 * touch[i];
        double high = touch[i];
        for (int n = 0; n < 10 && pressure(i, high, film) > q; n++) {
            high *= 2;
        }
        for (int n = 0; n < 60; n++) {
            double middle = (low + high) / 2;
            if (pressure(i, middle, film) > q) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }

    /** The pressure falls strictly with the gap: Newton's method inside a bracket. */
    private double search(int i, double q, double film, double least, double most, double start) {
        double low = least;
        double high = most;
        double h = start;
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
            if (!(next >= low && next <= high)) {
                next = (low + high) / 2;
            }
            h = next;
        }
        return h;
    }

    /** Returns by how much the gap falls per pressure, at a gap. */
    double compliance(int i, double h, double film) {
        double stiffness = 2 * inverseA[i] * touch[i] * touch[i] / (h * h * h);
        if (roofFactor[i] > 0) {
            stiffness += roofFactor[i] * roofResistance(i, h);
        }
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
